"""A wheel on a rigid axle as a linkage of its own: solved with the axle and the other wheel.

So whatever follows one wheel from design, such as a damper, a spring or a joint, follows it here
too.
"""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import Side
from core.suspension.poses import Poses, WheelOfBody
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_poses import AxlePoses, Drive
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import AxleTravel
from core.suspension.travel import Travel


@dataclass(frozen=True, eq=False)
class AxleWheelPoses(Poses):
    """A wheel of an axle at every position.

    Attributes:
        axle_poses: of the axle it is on.
    """

    axle_poses: AxlePoses

    @property
    def others_height(self) -> Array:
        """Rise of the other wheel's centre from design, (...) mm; nan where there is no pose."""
        return _rises(self.axle_poses, _other(self.linkage.side))


@dataclass(frozen=True, eq=False, kw_only=True)
class AxleWheel(WheelOfBody):
    """One wheel of an axle, with what the other one does while it rises.

    Attributes:
        axle: at design.
        drive: what the other wheel does; `Travel.apart` comes on top.
    """

    axle: RigidAxle
    drive: Drive = "heave"

    def poses_at(self, travel: Travel) -> AxleWheelPoses:
        """Return the wheel at every position.

        Raises:
            NotHeldError: if the axle is not held.
        """
        other = self._others_height(travel)
        left, right = (travel.bump, other) if self.side == "left" else (other, travel.bump)
        asked = AxleTravel(left, right, travel.road, travel.ends_moved, travel.lengthened)
        found = solve_axle(self.axle, asked)
        seen = found.wheel(self.side, self.drive)
        return AxleWheelPoses(
            seen.rotation,
            seen.centre,
            seen.inverse,
            seen.error,
            seen.margin,
            seen.is_reached,
            seen.share,
            linkage=self,
            travel=self._gone(travel, found),
            axle_poses=found,
        )

    def _others_height(self, travel: Travel) -> Array:
        apart = np.zeros(()) if travel.apart is None else travel.apart
        return np.asarray(apart + _SIGN[self.drive] * travel.bump)

    def _gone(self, travel: Travel, found: AxlePoses) -> Travel:
        """The same positions; on a road, how far apart the wheels come is read off."""
        bump = np.broadcast_to(travel.bump, found.shape)
        if travel.road is None:
            apart = np.broadcast_to(self._others_height(travel), found.shape)
            apart = apart - _SIGN[self.drive] * bump
        else:
            own, other = (_rises(found, side) for side in (self.side, _other(self.side)))
            apart = np.where(found.is_reached, other - _SIGN[self.drive] * own, 0.0)
        return Travel(
            bump,
            np.zeros(found.shape),
            travel.road,
            travel.ends_moved,
            travel.lengthened,
            np.asarray(apart),
        )


_SIGN = {"heave": 1.0, "roll": -1.0, "alone": 0.0}
"""How far the other wheel rises for each mm of this one."""


def wheel_of(axle: RigidAxle, side: Side, drive: Drive = "heave") -> AxleWheel:
    """Return a wheel of an axle as a linkage of its own."""
    return AxleWheel((), axle.wheel(side), axle=axle, drive=drive)


def _other(side: Side) -> Side:
    return "right" if side == "left" else "left"


def _rises(found: AxlePoses, side: Side) -> Array:
    drawn = found.axle.wheel(side).centre
    return np.asarray((found.at(drawn) - drawn)[..., 2])
