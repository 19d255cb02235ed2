"""How far an arm on the chassis has turned, and the places and directions that go with it."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array, unit
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.screw import Motion, cross


@dataclass(frozen=True, eq=False, slots=True)
class ArmPoses:
    """An arm at every position.

    Attributes:
        hinge: (..., 3) mm, a point of its axis on the chassis.
        axis: (..., 3) unit, of the hinge, so that a turn about it lifts the ball at design.
        angle_rad: (...), turn from design, positive upwards at design.
        outer: (..., 3) mm, where its ball stands.
    """

    hinge: Array
    axis: Array
    angle_rad: Array
    outer: Array

    def turned(self, direction: Array) -> Array:
        """Direction (..., 3) of the arm, given at design, as it is now (Rodrigues)."""
        cosine, sine = np.cos(self.angle_rad)[..., None], np.sin(self.angle_rad)[..., None]
        along = np.sum(direction * self.axis, axis=-1, keepdims=True) * self.axis
        return np.asarray(cosine * (direction - along) + sine * cross(self.axis, direction) + along)

    def at(self, place: Array) -> Array:
        """Where a place (..., 3) mm of the arm, given at design, is now."""
        return self.hinge + self.turned(place - self.hinge)

    def turned_back(self, direction: Array) -> Array:
        """Direction (..., 3) of now as it lies in the arm, by the axes of design."""
        back = ArmPoses(self.hinge, self.axis, -self.angle_rad, self.outer)
        return back.turned(direction)

    def moves(self, motion: Motion, place: Array) -> Array:
        """Movement (..., 3) of a place of now on the arm, in a motion of the upright."""
        ahead = cross(self.axis, self.outer - self.hinge)
        rate = np.sum(ahead * motion.at(self.outer), axis=-1) / np.sum(ahead**2, axis=-1)
        return np.asarray(rate[..., None] * cross(self.axis, place - self.hinge))


def arm_poses(poses: Poses, arm: Arm) -> ArmPoses:
    """Return the arm at every position, its turn by where its outer ball has gone.

    Args:
        poses: of the upright that has the ball.
        arm: at design.
    """
    axis = unit(arm.front - arm.rear)
    outer = poses.at(arm.outer)
    drawn, now = arm.outer - arm.front, outer - arm.front
    lifts = cross(axis, drawn)[..., 2:] >= 0.0
    axis = np.asarray(np.where(lifts, axis, -axis))
    square = cross(axis, drawn)
    flat = cross(square, axis)  # drawn, less what lies along the axis
    angle = np.arctan2(np.sum(now * square, axis=-1), np.sum(now * flat, axis=-1))
    return ArmPoses(arm.front, axis, np.asarray(angle), outer)
