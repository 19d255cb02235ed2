"""The usual linkages, made from their points.

Every place: (..., 3) mm at the design position, car frame.
"""

from dataclasses import dataclass

from core.geometry.types import Array
from core.suspension.constraints import Constraint, HArm, Held, Hinge, Rod, Slide
from core.suspension.linkage import Linkage, SteeringAxis, WheelAtDesign


@dataclass(frozen=True, eq=False, slots=True)
class Arm:
    """A wishbone: two inner points on the chassis, one ball on the upright."""

    front: Array
    rear: Array
    outer: Array

    def legs(self, name: str) -> tuple[Rod, Rod]:
        """Its two legs as rods, called front and rear."""
        front = Rod(f"{name}, front leg", self.front, self.outer)
        return front, Rod(f"{name}, rear leg", self.rear, self.outer)


@dataclass(frozen=True, eq=False, slots=True)
class TrackRod:
    """The rod that steers: its end on the rack or, where nothing steers, on the chassis."""

    inner: Array
    outer: Array
    on_rack: bool = True

    def rod(self) -> Rod:
        """The rod of that name."""
        return Rod(
            "track rod" if self.on_rack else "toe link", self.inner, self.outer, self.on_rack
        )


def double_wishbone(lower: Arm, upper: Arm, rod: TrackRod, wheel: WheelAtDesign) -> Linkage:
    """Return a corner on two wishbones and a track rod or toe link."""
    held = (*lower.legs("lower arm"), *upper.legs("upper arm"), rod.rod())
    return Linkage(held, wheel, SteeringAxis(lower.outer, upper.outer))


def strut(
    lower: Arm, strut_lower: Array, top: Array, rod: TrackRod, wheel: WheelAtDesign
) -> Linkage:
    """Return a corner on a strut, one lower arm and a track rod or toe link.

    Args:
        lower: the arm.
        strut_lower: a point of the strut's line, on the upright.
        top: where the strut is held to the chassis.
        rod: the track rod or toe link.
        wheel: at the design position.
    """
    held = (*lower.legs("lower arm"), Slide("strut", strut_lower, top), rod.rod())
    return Linkage(held, wheel, SteeringAxis(lower.outer, top, "chassis"))


def five_links(links: tuple[Rod, ...], wheel: WheelAtDesign) -> Linkage:
    """Return a corner on single links; more or fewer than five are told when it is asked."""
    return Linkage(links, wheel)


def trailing_arm_two_lateral_links(
    pivot: Array, lower: Rod, upper: Rod, wheel: WheelAtDesign
) -> Linkage:
    """Return a corner whose upright is one piece with a trailing arm on one ball, and two links."""
    return Linkage((Held("arm pivot", pivot), lower, upper), wheel)


def semi_trailing_arm(first: Array, second: Array, wheel: WheelAtDesign) -> Linkage:
    """Return a corner that only turns about two points of the chassis.

    The hinge may lie across the car (trailing arm), along it (swing axle) or between.
    """
    return Linkage((Hinge("arm hinge", first, second),), wheel)


def upper_link_lower_h_arm(arm: HArm, upper: Rod, wheel: WheelAtDesign) -> Linkage:
    """Return a corner on a stiff lower arm with two outer points, and one upper link."""
    return Linkage((arm, upper), wheel)


def any_five(
    constraints: tuple[Constraint, ...], wheel: WheelAtDesign, axis: SteeringAxis | None = None
) -> Linkage:
    """Return a corner on anything that leaves the upright one motion."""
    return Linkage(constraints, wheel, axis)
