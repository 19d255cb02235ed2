"""A corner as it is drawn: what holds the upright, its wheel and its steering axis."""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from core.geometry.frames import mirror
from core.geometry.types import Array, read_only, unit
from core.suspension.constraints import Constraint, Guide, HArm, Held, Hinge, Rod, Slide
from core.suspension.rows import Rows, rows_of
from core.suspension.start import AtDesign, at_design

Side = Literal["left", "right"]


def outboard(vectors: Array, side: Side) -> Array:
    """Return vectors in the side's own frame, in which y is positive away from the centre plane.

    Args:
        vectors: (..., 3), places or directions, car frame.
        side: the right side is mirrored at y = 0, the left one stays.

    Returns:
        Same shape as `vectors`.
    """
    return vectors if side == "left" else mirror(vectors)


@dataclass(frozen=True, eq=False, slots=True)
class WheelAtDesign:
    """The wheel at the design position.

    Attributes:
        centre: (..., 3) mm, car frame.
        spin_axis: (..., 3) outboard.
        tyre_radius: under load, mm; the tyre is taken for a thin disc of it.
        side: left or right.
    """

    centre: Array
    spin_axis: Array
    tyre_radius: float
    side: Side = "left"


@dataclass(frozen=True, eq=False, slots=True)
class SteeringAxis:
    """The two points the wheel turns about when it is steered.

    Attributes:
        lower: (..., 3) mm, on the upright.
        upper: (..., 3) mm.
        upper_on: the top of a strut stays with the chassis, a ball goes with the upright.
    """

    lower: Array
    upper: Array
    upper_on: Literal["upright", "chassis"] = "upright"


@dataclass(frozen=True, eq=False)
class Linkage:
    """One corner at the design position.

    Attributes:
        constraints: what holds the upright; five conditions leave it its travel.
        wheel: the wheel on it.
        steering_axis: None where no two points are the axis, as with five links.
    """

    constraints: tuple[Constraint, ...]
    wheel: WheelAtDesign
    steering_axis: SteeringAxis | None = None

    @cached_property
    def rows(self) -> Rows:
        """The conditions as arrays, ready to be solved."""
        return rows_of(self.constraints, self.centre, self.spin)

    @cached_property
    def design(self) -> AtDesign:
        """How the upright is held at design, and starts to move."""
        return at_design(self.rows.flat(self.rows.shape))

    @cached_property
    def centre(self) -> Array:
        """Wheel centre at design, (..., 3) mm, car frame."""
        return read_only(self.wheel.centre)

    @cached_property
    def spin(self) -> Array:
        """Spin axis at design, (..., 3) unit, outboard, car frame."""
        return unit(np.asarray(self.wheel.spin_axis, dtype=np.float64))

    @property
    def side(self) -> Side:
        """Left or right."""
        return self.wheel.side


def mirrored(linkage: Linkage) -> Linkage:
    """Return the same corner on the other side of the car."""
    wheel, axis = linkage.wheel, linkage.steering_axis
    return Linkage(
        tuple(mirrored_constraint(held) for held in linkage.constraints),
        replace(
            wheel,
            centre=mirror(wheel.centre),
            spin_axis=mirror(wheel.spin_axis),
            side="right" if wheel.side == "left" else "left",
        ),
        axis and replace(axis, lower=mirror(axis.lower), upper=mirror(axis.upper)),
    )


def mirrored_constraint(held: Constraint) -> Constraint:
    """Return the same constraint on the other side of the car."""
    match held:
        case Rod():
            return replace(held, inner=mirror(held.inner), outer=mirror(held.outer))
        case Held():
            return replace(held, place=mirror(held.place))
        case Hinge():
            return replace(held, first=mirror(held.first), second=mirror(held.second))
        case Slide():
            return replace(held, lower=mirror(held.lower), top=mirror(held.top))
        case Guide():
            return replace(held, point=mirror(held.point), direction=mirror(held.direction))
        case HArm():
            return HArm(
                held.name,
                mirror(held.first_inner),
                mirror(held.second_inner),
                mirror(held.first_outer),
                mirror(held.second_outer),
            )
