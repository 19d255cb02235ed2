"""How a rigid axle stands and moves: heave, roll, shift, steer, wind-up, roll centre, roll axis.

What one of its wheels does is read from `AxlePoses.wheel` by the functions for any wheel.
"""

import numpy as np

from core.geometry.types import Array, unit
from core.suspension.constraints import Rod
from core.suspension.rigid_axle_poses import AxlePoses
from core.suspension.screw import Motion, Screw, screw
from core.suspension.wheel import contact

ROLL_CENTRE_HOW = (
    "from the true motion of the axle in space as the body rolls, in the plane across the car "
    "midway between the contacts"
)
"""The construction of the roll centre, for where it is shown."""

_FORWARD = np.array([1.0, 0.0, 0.0])
_FORWARD.setflags(write=False)


def heave(poses: AxlePoses) -> Array:
    """Return the mean rise of both wheel centres from design, (...) mm."""
    return (poses.centre - poses.centre_at_design)[..., 2]


def roll_deg(poses: AxlePoses) -> Array:
    """Return how far the body is rolled against the axle from design, (...), left side up."""
    now = np.arcsin(poses.across[..., 2])
    return np.asarray(np.degrees(np.arcsin(poses.axle.lean) - now))


def lateral_shift(poses: AxlePoses) -> Array:
    """Return how far the axle has gone to the left of design, (...) mm, by the car's own axes."""
    return (poses.centre - poses.centre_at_design)[..., 1]


def forward_shift(poses: AxlePoses) -> Array:
    """Return how far the middle of the axle has gone ahead of design, (...) mm."""
    return (poses.centre - poses.centre_at_design)[..., 0]


def axle_steer_deg(poses: AxlePoses) -> Array:
    """Return how far (...) the line through both wheel centres is turned to the left."""
    across = poses.across
    return np.asarray(np.degrees(np.arctan2(-across[..., 0], across[..., 1])))


def roll_steer_slope(poses: AxlePoses) -> Array:
    """Return the turn of the axle to the left for each degree the body rolls, left side up, (...).

    In a turn to the left that side goes up; so a rear axle with a positive slope follows the turn
    and understeers, a front axle with one oversteers (common practice, no source).
    """
    return _steer_slope(poses, poses.per_roll)


def heave_steer_slope(poses: AxlePoses) -> Array:
    """Return the turn of the axle to the left as both wheels rise, (...) deg/mm."""
    return _steer_slope(poses, poses.per_heave)


def nose_up_deg(poses: AxlePoses, forward: Array = _FORWARD) -> Array:
    """Return the rise (...) of a direction of the axle over level: its wind-up from design.

    Args:
        poses: of the axle.
        forward: (3,) of any length, at design: that of the pinion gives the pinion's own angle.
    """
    return np.asarray(np.degrees(np.arcsin(poses.turned(unit(forward))[..., 2])))


def wind_up_slope(poses: AxlePoses, forward: Array = _FORWARD) -> Array:
    """Return the change of `nose_up_deg` as both wheels rise, (...) deg/mm."""
    now = poses.turned(unit(forward))
    rise = poses.per_heave.of(now)[..., 2]
    return np.asarray(np.degrees(rise / np.sqrt(1.0 - now[..., 2] ** 2)))


def roll_centre(poses: AxlePoses) -> Array:
    """Return y and z of the roll centre, (..., 2) mm, car frame, see ROLL_CENTRE_HOW.

    The place of that plane that a small roll does not move in it: with m midway between the
    contacts, y = m_y - v_z / w_x and z = m_z + v_y / w_x (derived here).
    """
    middle = _middle(poses)
    speed, turn = poses.per_roll.at(middle), poses.per_roll.turn[..., 0]
    return np.stack(
        [middle[..., 1] - speed[..., 2] / turn, middle[..., 2] + speed[..., 1] / turn], axis=-1
    )


def roll_centre_height(poses: AxlePoses) -> Array:
    """Return the height (...) mm of the roll centre over midway between the contacts."""
    return np.asarray(roll_centre(poses)[..., 1] - _middle(poses)[..., 2])


def roll_axis(poses: AxlePoses) -> Screw:
    """Return the line in space the axle turns about for each degree the body rolls.

    Only an axle and a position that are their own mirror image turn about it without sliding.
    """
    return screw(poses.per_roll)


def stretch(poses: AxlePoses, rod: Rod) -> Array:
    """Return how much longer than drawn a rod would have to be at every position, (...) mm.

    For a rod that is not among the constraints: what the bushes of one link too many must give.
    """
    reach = np.linalg.norm(poses.at(rod.outer) - rod.inner, axis=-1)
    return np.asarray(reach - np.linalg.norm(rod.outer - rod.inner, axis=-1))


def _steer_slope(poses: AxlePoses, motion: Motion) -> Array:
    across, change = poses.across, motion.of(poses.across)
    turn = across[..., 0] * change[..., 1] - across[..., 1] * change[..., 0]
    return np.asarray(np.degrees(turn / (across[..., 0] ** 2 + across[..., 1] ** 2)))


def _middle(poses: AxlePoses) -> Array:
    """Midway between both contacts, (..., 3) mm, car frame."""
    return np.asarray(0.5 * (contact(poses.wheel("left")) + contact(poses.wheel("right"))))
