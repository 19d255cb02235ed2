"""The steering axis, how far the wheels steer, and the circle they turn in."""

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import SteeringAxis, outboard
from core.suspension.poses import Poses
from core.suspension.screw import Screw, screw
from core.suspension.wheel import contact, road_normal, toe_in_deg


def axis_points(poses: Poses) -> tuple[Array, Array]:
    """Return the lower and upper point of the steering axis, (..., 3) mm each, car frame.

    Raises:
        ValueError: if the linkage has no two points that are its steering axis.
    """
    axis = _axis(poses)
    lower = poses.at(axis.lower)
    return lower, poses.at(axis.upper) if axis.upper_on == "upright" else _still(axis.upper, lower)


def castor_deg(poses: Poses) -> Array:
    """Return the side-view tilt (...) of the steering axis, top rearward positive.

    Source: M. Blundell, D. Harty, The Multibody Systems Approach to Vehicle Dynamics, Elsevier
    2004, 4.5.5, p. 165.
    """
    up = _upward(poses)
    return np.asarray(np.degrees(np.arctan2(-up[..., 0], up[..., 2])))


def kingpin_inclination_deg(poses: Poses) -> Array:
    """Return the front-view tilt (...) of the steering axis, top inboard positive.

    Source: the same book, 4.5.6, p. 165.
    """
    up = _upward(poses)
    return np.asarray(np.degrees(np.arctan2(-up[..., 1], up[..., 2])))


def trail(poses: Poses) -> Array:
    """Return how far (...) mm the axis meets the road ahead of the contact, along the wheel."""
    return _offsets(poses)[0]


def scrub_radius(poses: Poses) -> Array:
    """Return how far (...) mm the contact is outboard of where the axis meets the road."""
    return _offsets(poses)[1]


def steering_screw(poses: Poses) -> Screw:
    """Return the line in space that the upright turns about for each mm of the rack to the left.

    It needs no ball joints: with single links this line is the steering axis.
    """
    return screw(poses.per_rack)


def steer_deg(poses: Poses) -> Array:
    """Return how far (...) the wheel is turned to the left, on either side of the car.

    Source of the sign: ISO 8855:2011, 7.1.8 (read in an excerpt).
    """
    toe = toe_in_deg(poses)
    return -toe if poses.linkage.side == "left" else toe


def ackermann_share(left_deg: Array, right_deg: Array, wheelbase: float, track: float) -> Array:
    """Return how much of the geometric difference of steer the wheels have: 1 all, 0 parallel.

    (inner - outer) / (inner that meets the outer wheel's turning centre on the rear axle line -
    outer), from cot outer - cot inner = track / wheelbase. Source: the Ackermann condition, as in
    T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992 (from memory); the share is common
    practice, no source.

    Args:
        left_deg: (...) steer of the left wheel, to the left.
        right_deg: (...) of the right wheel, to the left.
        wheelbase: mm.
        track: between the steering axes at the road, mm.

    Returns:
        (...); nan straight ahead.
    """
    left, right = np.radians(left_deg), np.radians(right_deg)
    turns_left = left + right > 0.0
    inner, outer = np.where(turns_left, left, -right), np.where(turns_left, right, -left)
    with np.errstate(divide="ignore", invalid="ignore"):
        wanted = np.arctan2(np.sin(outer), np.cos(outer) - track / wheelbase * np.sin(outer))
        return np.asarray(np.where(outer > 0.0, (inner - outer) / (wanted - outer), np.nan))


def turning_circle(left_deg: Array, right_deg: Array, wheelbase: float, track: float) -> Array:
    """Return the diameter (...) mm of the circle of the outer front wheel, at creeping speed.

    The car turns about a place on the rear axle line. Each front wheel asks for a turn of its own:
    with r the radius to the left of the middle of the rear axle, cot left = (r - track / 2) /
    wheelbase and cot right = (r + track / 2) / wheelbase. Where they do not agree, the mean of both
    1 / r is taken, in which toe cancels out. Common practice, no source.

    Args:
        left_deg: (...) steer of the left wheel, to the left.
        right_deg: (...) of the right wheel, to the left.
        wheelbase: mm.
        track: at the front, mm.

    Returns:
        (...); infinite straight ahead.
    """
    left, right = np.tan(np.radians(left_deg)), np.tan(np.radians(right_deg))
    half = 0.5 * track
    bends = 0.5 * (left / (wheelbase + half * left) + right / (wheelbase - half * right))
    straight = np.abs(bends) < LEAST_BEND
    radius = np.where(straight, np.inf, 1.0 / np.where(straight, 1.0, np.abs(bends)))
    return np.asarray(2.0 * np.hypot(wheelbase, radius + half))


LEAST_BEND = 1e-9
"""A path that bends less, 1/mm, is straight: its circle would be thousands of km across."""


def _axis(poses: Poses) -> SteeringAxis:
    axis = poses.linkage.steering_axis
    if axis is None:
        raise ValueError("no two points of this linkage are its steering axis")
    return axis


def _still(place: Array, like: Array) -> Array:
    """A place of the chassis, nan where there is no pose."""
    return np.asarray(np.where(np.isnan(like), np.nan, place))


def _upward(poses: Poses) -> Array:
    """From the lower to the upper point, y outboard."""
    lower, upper = axis_points(poses)
    return outboard(upper - lower, poses.linkage.side)


def _offsets(poses: Poses) -> tuple[Array, Array]:
    """Along the wheel's heading and across it, from the contact to where the axis meets the road.

    Source of the signs: Blundell and Harty 2004, 4.5.5 and 4.5.6 (distances read, signs from
    memory).
    """
    lower, upper = axis_points(poses)
    normal, touch = road_normal(poses), contact(poses)
    up = upper - lower
    share = _dot(touch - lower, normal) / _dot(up, normal)
    meets = lower + share[..., None] * up - touch
    lean = _dot(poses.spin, normal)
    across = poses.spin - lean[..., None] * normal
    across = across / np.sqrt(1.0 - lean**2)[..., None]
    ahead = np.cross(across, normal)
    sign = 1.0 if poses.linkage.side == "left" else -1.0
    return sign * _dot(meets, ahead), -_dot(meets, across)


def _dot(one: Array, other: Array) -> Array:
    return np.asarray(np.sum(one * other, axis=-1), dtype=np.float64)
