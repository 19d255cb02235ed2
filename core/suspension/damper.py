"""Length of a damper or spring over the travel, and what it gives at the wheel."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.arms import arm_poses
from core.suspension.makers import Arm
from core.suspension.poses import Poses


@dataclass(frozen=True, eq=False, slots=True)
class DamperAtDesign:
    """A damper between the chassis and what moves.

    Attributes:
        lower: (..., 3) mm, at design, on the upright or on the arm.
        upper: (..., 3) mm, on the chassis.
        arm: that carries the lower eye; None, the upright does.
    """

    lower: Array
    upper: Array
    arm: Arm | None = None


def lower_eye(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return where the lower eye is, (..., 3) mm, car frame."""
    if damper.arm is None:
        return poses.at(damper.lower)
    return arm_poses(poses, damper.arm).at(damper.lower)


def damper_length(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return the length (...) mm between both eyes."""
    return np.asarray(np.linalg.norm(lower_eye(poses, damper) - damper.upper, axis=-1))


def damper_per_wheel_travel(poses: Poses, damper: DamperAtDesign) -> Array:
    """Return how many mm the damper shortens for each mm the wheel centre rises, (...).

    This is the motion ratio damper per wheel; some texts use the inverse.
    """
    eye = lower_eye(poses, damper)
    along = eye - damper.upper
    if damper.arm is None:
        speed = poses.per_bump.at(eye)
    else:
        speed = arm_poses(poses, damper.arm).moves(poses.per_bump, eye)
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
