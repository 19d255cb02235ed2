"""Instant centres, roll centre and the lift of braking and driving forces.

All of them come from the true motion in space, track rod or toe link included, and not from the
lines of the arms in a view: on a front corner the two differ by a few mm.
"""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import outboard
from core.suspension.poses import Poses
from core.suspension.wheel import contact

ROLL_CENTRE_HOW = "from the true motion of the contact in space, track rod or toe link included"
"""The construction of the roll centre, for where it is shown."""


@dataclass(frozen=True, eq=False, slots=True)
class InstantCentre:
    """Place of a plane through the contact that does not move in that plane as the wheel rises.

    Attributes:
        first: (...) mm, y outboard in the front view, x in the side view; infinite where the
            wheel goes straight.
        height: (...) mm, z.
        per_distance: (...) 1/mm, 1 / (distance from the contact): 0 where it is infinite.
    """

    first: Array
    height: Array
    per_distance: Array


def front_view_centre(poses: Poses) -> InstantCentre:
    """Return the instant centre seen from the front; `first` is y outboard."""
    place, speed, turn = _at_contact(poses)
    with np.errstate(divide="ignore"):
        per_turn = 1.0 / turn[..., 0]
    return InstantCentre(
        place[..., 1] - _times(speed[..., 2], per_turn),
        place[..., 2] + _times(speed[..., 1], per_turn),
        np.abs(turn[..., 0]) / np.hypot(speed[..., 1], speed[..., 2]),
    )


def side_view_centre(poses: Poses) -> InstantCentre:
    """Return the instant centre seen from the side, of the upright's own motion; `first` is x."""
    place, speed, turn = _at_contact(poses)
    with np.errstate(divide="ignore"):
        per_turn = 1.0 / turn[..., 1]
    return InstantCentre(
        place[..., 0] + _times(speed[..., 2], per_turn),
        place[..., 2] - _times(speed[..., 0], per_turn),
        np.abs(turn[..., 1]) / np.hypot(speed[..., 0], speed[..., 2]),
    )


def roll_centre_height(poses: Poses) -> Array:
    """Return the height (...) mm of the roll centre over the contact, see ROLL_CENTRE_HOW.

    The line from the contact square to its motion, read at the centre plane: y vy / vz. SAE J670
    defines a roll centre by forces instead (from memory).
    """
    place, speed, _ = _at_contact(poses)
    return np.asarray(place[..., 1] * speed[..., 1] / speed[..., 2])


def roll_centre_of_pair(left: Poses, right: Poses) -> Array:
    """Return the roll centre (..., 2) of two corners: y, z mm, car frame.

    Where the lines from both contacts square to their motions meet in the front view. Where they
    are parallel, infinite or nan.
    """
    lines = [_line_to_roll_centre(each) for each in (left, right)]
    (height, slope), (other_height, other_slope) = lines
    with np.errstate(divide="ignore", invalid="ignore"):
        across = np.asarray((other_height - height) / (slope - other_slope))
        return np.stack([across, height + slope * across], axis=-1)


def contact_slope(poses: Poses) -> Array:
    """Return dx/dz (...) of the upright's own point at the contact, as with brakes on it."""
    _, speed, _ = _at_contact(poses)
    return np.asarray(speed[..., 0] / speed[..., 2])


def wheel_centre_slope(poses: Poses) -> Array:
    """Return dx/dz (...) of the wheel centre, as where the chassis takes the driving torque."""
    return poses.per_bump.velocity[..., 0]


def anti_dive_percent(poses: Poses, share: float, wheelbase: float, height: float) -> Array:
    """Return how much of the dive under braking a front corner takes away, (...) percent.

    100 tan(a) share wheelbase / height, a the slope of the contact's path; positive if it moves
    forward on bump. From virtual work, derived here; the same form in M. Blundell, D. Harty, 2004
    (from memory).

    Args:
        poses: of a front corner, brakes on the upright.
        share: of the braking force at this axle, 0 to 1.
        wheelbase: mm.
        height: of the centre of gravity, mm.
    """
    return 100.0 * contact_slope(poses) * share * wheelbase / height


def anti_lift_percent(poses: Poses, share: float, wheelbase: float, height: float) -> Array:
    """Return the same for the lift of a rear corner under braking, (...) percent.

    Positive if the contact moves rearward on bump; arguments as for `anti_dive_percent`.
    """
    return -anti_dive_percent(poses, share, wheelbase, height)


def anti_squat_percent(poses: Poses, wheelbase: float, height: float, share: float = 1.0) -> Array:
    """Return how much of the squat of a driven rear corner it takes away, (...) percent.

    For a differential on the chassis, so from the path of the wheel centre; positive if it moves
    rearward on bump. Derived as in D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering,
    Springer 2018, eqs. (3.63) to (3.69), p. 197.

    Args:
        poses: of a rear corner.
        wheelbase: mm.
        height: of the centre of gravity, mm.
        share: of the driving force at this axle, 0 to 1.
    """
    return -100.0 * wheel_centre_slope(poses) * share * wheelbase / height


def _line_to_roll_centre(poses: Poses) -> tuple[Array, Array]:
    """In the front view: its height at the centre plane, mm, and its slope dz/dy, car frame."""
    place = contact(poses)
    speed = poses.per_bump.at(place)
    slope = -speed[..., 1] / speed[..., 2]
    return place[..., 2] - slope * place[..., 1], slope


def _at_contact(poses: Poses) -> tuple[Array, Array, Array]:
    """Contact, speed of the upright there, and turn, each (..., 3) with y outboard.

    A turn is mirrored as a place is, and turned round.
    """
    side, place = poses.linkage.side, contact(poses)
    turn = outboard(poses.per_bump.turn, side)
    speed = outboard(poses.per_bump.at(place), side)
    return outboard(place, side), speed, turn if side == "left" else -turn


def _times(speed: Array, per_turn: Array) -> Array:
    """Their product; 0 where nothing moves, even with the centre at infinity."""
    with np.errstate(invalid="ignore"):
        return np.asarray(np.where(speed == 0.0, 0.0, speed * per_turn))
