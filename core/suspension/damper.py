"""Length of a damper or spring over the travel, and what it gives at the wheel."""

from dataclasses import dataclass

import numpy as np

from core.geometry.frames import mirror
from core.geometry.types import Array
from core.suspension.carried import carried_per_bump, carried_place, mirrored_arm
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.rocker import Rocker, mirrored_rocker, rocker_poses


@dataclass(frozen=True, eq=False, slots=True)
class DamperAtDesign:
    """A damper between the chassis and what moves.

    Attributes:
        lower: (..., 3) mm, at design, on the upright, on the arm or on the rocker.
        upper: (..., 3) mm, on the chassis.
        arm: that carries the lower eye; None, the upright does.
        rocker: that carries it instead; the rod's own arm is told there.
    """

    lower: Array
    upper: Array
    arm: Arm | None = None
    rocker: Rocker | None = None

    def __post_init__(self) -> None:
        """Refuse an eye in two places."""
        if self.arm is not None and self.rocker is not None:
            raise ValueError("the eye of a damper is on an arm or on a rocker, not on both")

    @property
    def drawn_length(self) -> Array:
        """Between both eyes at design, (...) mm."""
        return np.asarray(np.linalg.norm(self.lower - self.upper, axis=-1))


def mirrored_damper(damper: DamperAtDesign) -> DamperAtDesign:
    """Return the same damper on the other side of the car."""
    rocker = damper.rocker and mirrored_rocker(damper.rocker)
    arm = mirrored_arm(damper.arm)
    return DamperAtDesign(mirror(damper.lower), mirror(damper.upper), arm, rocker)


def lower_eye(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return where the lower eye is, (..., 3) mm, car frame."""
    if damper.rocker is not None:
        return rocker_poses(poses, damper.rocker).at(damper.lower)
    return carried_place(poses, damper.lower, damper.arm)


def damper_length(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return the length (...) mm between both eyes."""
    return np.asarray(np.linalg.norm(lower_eye(poses, damper) - damper.upper, axis=-1))


def damper_per_wheel_travel(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return how many mm the damper shortens for each mm the wheel centre rises, (...).

    This is the motion ratio damper per wheel; some texts use the inverse.
    """
    if damper.rocker is not None:
        rocker = rocker_poses(poses, damper.rocker)
        eye = rocker.at(damper.lower)
        speed = rocker.per_bump(eye)
    else:
        eye = lower_eye(poses, damper)
        speed = carried_per_bump(poses, eye, damper.arm)
    along = eye - damper.upper
    return np.asarray(-np.sum(along * speed, axis=-1) / np.linalg.norm(along, axis=-1))


def wheel_rate(spring_rate: float, per_wheel: Array) -> Array:
    """Return the rate (...) N/mm of the spring at the wheel: its own, times the ratio squared.

    Left out: force times change of the ratio, which is nothing where the ratio is constant or the
    spring unloaded. Source: D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering,
    Springer 2018, eq. (3.33), p. 179, there with the inverse ratio.

    Args:
        spring_rate: N/mm.
        per_wheel: (...) travel of the spring for each mm of the wheel.
    """
    return np.asarray(spring_rate * per_wheel**2)
