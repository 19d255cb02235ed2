"""A rigid axle at every position: as a body with two wheels, and as each of them sees it."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import Linkage, Side
from core.suspension.poses import BodyPoses, Poses
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_travel import AxleTravel
from core.suspension.screw import Motion, cross
from core.suspension.travel import Travel
from core.suspension.turning import LEVER

Drive = Literal["heave", "roll", "alone"]
"""What the other wheel does while one rises: the same, the opposite, or nothing."""


@dataclass(frozen=True, eq=False)
class AxlePoses(BodyPoses):
    """The axle at every position; `inverse` ends with the heights of the left and right wheel.

    Attributes:
        axle: at design.
        travel: what was asked for.
    """

    axle: RigidAxle
    travel: AxleTravel

    @property
    def centre_at_design(self) -> Array:
        """Midway between the wheel centres, (..., 3) mm, car frame."""
        return self.axle.centre

    @cached_property
    def across(self) -> Array:
        """From the right wheel centre to the left one, (..., 3) unit."""
        drawn = self.axle.left.centre - self.axle.right.centre
        return self.turned(drawn / self.axle.span[..., None])

    @cached_property
    def by_wheel(self) -> Array:
        """Motions (..., 6, 2), as in `inverse`, for each mm a wheel centre rises, left and right.

        The other one stays at its height over the chassis, on a road too.
        """
        columns = self.inverse[..., 4:]
        if self.travel.road is None:
            return columns
        arms = [self._arm(side) for side in ("left", "right")]
        rises = np.stack([_moved_to(arm, columns)[..., 2, :] for arm in arms], axis=-2)
        return np.asarray(columns @ np.linalg.inv(rises))

    @cached_property
    def per_heave(self) -> Motion:
        """How the axle moves for each mm that both wheel centres rise."""
        return self.motion(self.by_wheel.sum(axis=-1))

    @cached_property
    def per_roll(self) -> Motion:
        """How it moves for each degree that the left side of the body goes up against it.

        The mean height of the wheel centres stays.
        """
        level = np.sqrt(1.0 - self.across[..., 2] ** 2)
        fall = np.radians(0.5 * self.axle.span * level)
        return self.motion((self.by_wheel[..., 1] - self.by_wheel[..., 0]) * fall[..., None])

    def wheel(self, side: Side, drive: Drive = "heave") -> Poses:
        """The axle as one of its wheels sees it, for every reading of a wheel.

        Args:
            side: of the wheel.
            drive: what the other wheel does while this one rises, so what all slopes with wheel
                height are read for.

        Returns:
            Poses without links and steering axis: those are the axle's. Its row before the last
            is what the other wheel does besides.
        """
        wheel, travel, arm = self.axle.wheel(side), self.travel, self._arm(side)
        inverse = np.concatenate([self.inverse[..., :4], self._drive(side, drive)], axis=-1)
        height = travel.left if side == "left" else travel.right
        return Poses(
            self.rotation,
            self.centre + arm,
            _moved_to(arm, inverse),
            self.error,
            self.margin,
            self.is_reached,
            self.share,
            linkage=Linkage((), wheel),
            travel=Travel(height, np.zeros(()), travel.road),
        )

    def _drive(self, side: Side, drive: Drive) -> Array:
        """Columns (..., 6, 2): of what the other wheel does besides, and of the drive."""
        left, right = self.by_wheel[..., 0], self.by_wheel[..., 1]
        own, other = (left, right) if side == "left" else (right, left)
        besides, chosen = {
            "alone": (other, own),
            "heave": (own - other, own + other),
            "roll": (own + other, own - other),
        }[drive]
        return np.stack([besides, chosen], axis=-1)

    def _arm(self, side: Side) -> Array:
        """From `centre` to a wheel centre, (..., 3) mm."""
        return self.turned(self.axle.wheel(side).centre - self.axle.centre)


def _moved_to(arm: Array, columns: Array) -> Array:
    """Motions (..., 6, n) as a place of the axle sees them, `arm` (..., 3) mm from its centre."""
    turn = np.moveaxis(columns[..., 3:, :], -1, -2) / LEVER
    carried = np.moveaxis(cross(turn, arm[..., None, :]), -1, -2)
    return np.concatenate([columns[..., :3, :] + carried, columns[..., 3:, :]], axis=-2)
