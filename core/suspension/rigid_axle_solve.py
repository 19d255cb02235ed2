"""The poses of a rigid axle at all positions at once, and the ends of its travel."""

import numpy as np

from core.geometry.types import Array
from core.suspension.ends import End
from core.suspension.linkage import Side
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_poses import AxlePoses
from core.suspension.rigid_axle_travel import AxleTravel, heave_and_roll, wheels_at
from core.suspension.solve import Asked, is_more_than_drives, reached


def solve_axle(axle: RigidAxle, travel: AxleTravel) -> AxlePoses:
    """Return the axle at every position, each one reached from design on an unbroken way.

    Args:
        axle: its geometries broadcast against the positions.
        travel: where its wheels are wanted.

    Raises:
        NotHeldError: if the conditions are not four, or the only geometry does not leave the axle
            just its two motions at design. Of many, such a one reaches no position.
    """
    shape = np.broadcast_shapes(axle.rows.shape, travel.shape)
    drives = None if is_more_than_drives(travel) else (travel.left, travel.right)
    radii = (axle.left.tyre_radius, axle.right.tyre_radius)
    pose = reached(Asked(axle.held, travel, radii, drives, shape))
    return AxlePoses(*pose, axle=axle, travel=travel)


def heave_ends(axle: RigidAxle, reach: float = 300.0) -> tuple[End, End]:
    """Return the ends of travel down and up with both wheels alike, mm.

    Args:
        axle: one geometry.
        reach: how far to look, mm.
    """
    asked = np.array([-reach, reach])
    return _ends(axle, heave_and_roll(axle, asked), asked)


def one_wheel_ends(axle: RigidAxle, side: Side, reach: float = 300.0) -> tuple[End, End]:
    """Return the ends of travel of one wheel down and up, mm, the other at its design height."""
    asked = np.array([-reach, reach])
    travel = wheels_at(left=asked) if side == "left" else wheels_at(right=asked)
    return _ends(axle, travel, asked)


def roll_ends(axle: RigidAxle, reach_deg: float = 45.0) -> tuple[End, End]:
    """Return the ends of roll of the body, right side up and left side up, degrees."""
    asked = np.array([-reach_deg, reach_deg])
    travel = heave_and_roll(axle, roll_deg=asked)
    shares = solve_axle(axle, travel).share
    gone = axle.lean + shares * (travel.left - travel.right) / axle.span
    angles = np.degrees(np.arcsin(axle.lean) - np.arcsin(gone))
    first, last = (
        End(float(angle), bool(share < 1.0)) for angle, share in zip(angles, shares, strict=True)
    )
    return first, last


def _ends(axle: RigidAxle, travel: AxleTravel, asked: Array) -> tuple[End, End]:
    shares = solve_axle(axle, travel).share
    first, last = (
        End(float(share * way), bool(share < 1.0)) for share, way in zip(shares, asked, strict=True)
    )
    return first, last
