"""What holds an upright or a rigid axle: rods, balls, hinges, slides and more, as data.

Every place is where it stands at the design position, car frame, mm, shape (..., 3): leading axes
are different geometries solved together. Each constraint has a name, by which it is told when it
fights another.
"""

from dataclasses import dataclass

from core.geometry.types import Array


@dataclass(frozen=True, eq=False, slots=True)
class Rod:
    """A rod with a ball at each end: keeps its length. One condition.

    Attributes:
        name: as the builder calls it.
        inner: end on the chassis.
        outer: end on the upright.
        on_rack: whether the inner end moves sideways with the steering rack.
    """

    name: str
    inner: Array
    outer: Array
    on_rack: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Held:
    """A point of the upright held by one ball on the chassis. Three conditions."""

    name: str
    place: Array


@dataclass(frozen=True, eq=False, slots=True)
class Hinge:
    """Two points of the upright held on the chassis: it can only turn about them. Five."""

    name: str
    first: Array
    second: Array


@dataclass(frozen=True, eq=False, slots=True)
class Slide:
    """A strut: the line of the upright through both points slides through the top. Two.

    Attributes:
        name: as the builder calls it.
        lower: a point of that line, on the upright.
        top: the point of the chassis that stays on the line.
    """

    name: str
    lower: Array
    top: Array


@dataclass(frozen=True, eq=False, slots=True)
class Guide:
    """A point of the upright that slides along a straight line of the chassis. Two."""

    name: str
    point: Array
    direction: Array


@dataclass(frozen=True, eq=False, slots=True)
class HArm:
    """A stiff arm hinged to the chassis at two points and to the upright at two. Four.

    Four rods in its place would not do: lying in one plane they leave the upright free to wind up
    about the arm, which a stiff arm does not.

    Attributes:
        name: as the builder calls it.
        first_inner: on the chassis.
        second_inner: on the chassis.
        first_outer: on the upright.
        second_outer: on the upright.
    """

    name: str
    first_inner: Array
    second_inner: Array
    first_outer: Array
    second_outer: Array


@dataclass(frozen=True, eq=False, slots=True)
class Slot:
    """A point of the body that stays in a plane of the chassis, as a block in a slot. One."""

    name: str
    point: Array
    normal: Array


@dataclass(frozen=True, eq=False, slots=True)
class Watt:
    """Watt's linkage: a rocker that turns about a pivot on the body, and two rods to it. One.

    The rocker is followed as far as the first rod and it come in line; past that there is no pose.

    Attributes:
        name: as the builder calls it.
        pivot: of the rocker, on the body.
        axis: it turns about, goes with the body.
        first_rod: its outer end is on the rocker.
        second_rod: likewise.
    """

    name: str
    pivot: Array
    axis: Array
    first_rod: Rod
    second_rod: Rod


Constraint = Rod | Held | Hinge | Slide | Guide | HArm
"""What may hold an upright."""

AxleConstraint = Constraint | Slot | Watt
"""What may hold a rigid axle."""
