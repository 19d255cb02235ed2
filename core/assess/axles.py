"""What both corners of an axle do together: track, roll centre, steering, turning circle."""

from dataclasses import dataclass

import numpy as np

from core.assess.beams import solve_beam
from core.assess.pairs import axle_at, is_rigid, pair_of
from core.assess.travels import over_steer, over_travel
from core.assess.wheels import wheel_centre
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.centres import roll_centre_of_pair
from core.suspension.poses import Poses
from core.suspension.rigid_axle_read import roll_centre as axle_roll_centre
from core.suspension.rigid_axle_travel import wheels_at
from core.suspension.steering import ackermann_share, axis_points, steer_deg, turning_circle
from core.suspension.wheel import contact


@cell(When.LIVE)
def wheelbase(read: Reader) -> float:
    """Distance fore and aft of the wheel centres, mm, the mean of both sides."""
    ends = [
        np.mean([read(wheel_centre, ref).x for ref in read(pair_of, read(axle_at, end))])
        for end in ("front", "rear")
    ]
    return float(ends[0] - ends[1])


@cell(When.LIVE)
def track(read: Reader, axle: Ref) -> float:
    """Distance sideways of both contacts at the design position, mm."""
    left, right = (_at_design(read(over_travel, ref)) for ref in read(pair_of, axle))
    return float(left[1] - right[1])


def _at_design(poses: Poses) -> Array:
    return np.asarray(contact(poses)[int(np.abs(poses.travel.bump).argmin())])


@cell(When.LIVE)
def roll_centre(read: Reader, axle: Ref) -> tuple[float, float]:
    """Roll centre of an axle at the design position: sideways and height, mm, car frame.

    Where the lines from both contacts square to their true motions meet in the front view; of a
    rigid axle by its own motion as the body rolls.

    Raises:
        NotComputedError: its corners do not travel alike.
    """
    if read(is_rigid, axle):
        return _of_beam(read, axle)
    left, right = (read(over_travel, ref) for ref in read(pair_of, axle))
    if left.shape != right.shape:
        msg = f"the corners of {read.label(axle)} do not travel alike"
        raise NotComputedError(msg)
    at = int(np.abs(left.travel.bump).argmin())
    y, z = (float(value) for value in roll_centre_of_pair(left, right)[at])
    return y, z


def _of_beam(read: Reader, axle: Ref) -> tuple[float, float]:
    found = axle_roll_centre(solve_beam(read, axle, wheels_at()))
    return float(found[0]), float(found[1])


@cell(When.LIVE)
def ground(read: Reader, axle: Ref) -> float:
    """Height of the ground under an axle at the design position, z of its contacts, mm, their mean.

    A car need not be drawn with the ground at z = 0.
    """
    left, right = (_at_design(read(over_travel, ref)) for ref in read(pair_of, axle))
    return float(left[2] + right[2]) / 2.0


@dataclass(frozen=True, eq=False)
class Steering:
    """Both wheels of a steered axle as the rack goes from side to side.

    Attributes:
        rack: (n,) mm to the left.
        left_deg: (n,) steer of the left wheel, to the left above zero.
        right_deg: (n,) of the right wheel.
        ackermann: (n,) share of the geometric difference of steer; nan straight ahead.
        circle: (n,) diameter of the circle of the outer front wheel, mm; infinite straight ahead.
    """

    rack: Array
    left_deg: Array
    right_deg: Array
    ackermann: Array
    circle: Array

    @property
    def smallest_circle(self) -> float:
        """The smaller of both locks' circles, mm."""
        return float(np.nanmin(self.circle))


@cell(When.LIVE)
def steering(read: Reader, axle: Ref) -> Steering:
    """How both wheels of an axle steer."""
    left, right = (read(over_steer, ref) for ref in read(pair_of, axle))
    angles = steer_deg(left), steer_deg(right)
    base, across = read(wheelbase), _steered_track(left, right)
    return Steering(
        np.asarray(left.travel.rack),
        *angles,
        ackermann_share(*angles, base, across),
        turning_circle(*angles, base, read(track, axle)),
    )


def _steered_track(left: Poses, right: Poses) -> float:
    """Distance of the steering axes at wheel height, mm: of the wheels where there are none."""
    at = int(np.abs(left.travel.rack).argmin())
    if left.linkage.steering_axis is None or right.linkage.steering_axis is None:
        return float(left.centre[at, 1] - right.centre[at, 1])
    places = [_axis_at_road(poses, at) for poses in (left, right)]
    return places[0] - places[1]


def _axis_at_road(poses: Poses, at: int) -> float:
    """Y of where the steering axis meets the height of the contact, mm."""
    lower, upper = (points[at] for points in axis_points(poses))
    share = (contact(poses)[at, 2] - lower[2]) / (upper[2] - lower[2])
    return float(lower[1] + share * (upper[1] - lower[1]))
