"""Places that go with the upright or with an arm: where they stand, and how they move."""

from core.geometry.frames import mirror
from core.geometry.types import Array
from core.suspension.arms import arm_poses
from core.suspension.makers import Arm
from core.suspension.poses import Poses


def carried_place(poses: Poses, place: Array, arm: Arm | None) -> Array:
    """Return where a place stands, (..., 3) mm, car frame.

    Args:
        poses: of the upright.
        place: (..., 3) mm, at design.
        arm: that carries it; None, the upright does.
    """
    return poses.at(place) if arm is None else arm_poses(poses, arm).at(place)


def carried_per_bump(poses: Poses, now: Array, arm: Arm | None) -> Array:
    """Return how a place moves for each mm that the wheel centre rises, (..., 3).

    Args:
        poses: of the upright.
        now: (..., 3) mm, where it stands.
        arm: that carries it; None, the upright does.
    """
    motion = poses.per_bump
    return motion.at(now) if arm is None else arm_poses(poses, arm).moves(motion, now)


def mirrored_arm(arm: Arm | None) -> Arm | None:
    """Return the same arm on the other side of the car."""
    return arm and Arm(mirror(arm.front), mirror(arm.rear), mirror(arm.outer))
