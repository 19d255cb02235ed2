"""How each rigid axle moves as both wheels rise, and as the body rolls."""

from dataclasses import dataclass

import numpy as np

from core.assess.beams import rigid_axle, solve_beam
from core.assess.pairs import pair_of
from core.assess.travels import EACH_WAY, heights
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.rigid_axle_poses import AxlePoses
from core.suspension.rigid_axle_read import (
    axle_steer_deg,
    forward_shift,
    lateral_shift,
    nose_up_deg,
    roll_steer_slope,
    wind_up_slope,
)
from core.suspension.rigid_axle_travel import AxleTravel, heave_and_roll, wheels_at


@cell(When.LIVE)
def travel_of_axle(read: Reader, axle: Ref) -> tuple[float, float]:
    """How far both wheels of an axle droop and bump together, mm: as far as the one that goes less.

    Raises:
        NotComputedError: an end of the travel is not given.
    """
    ends = [heights(read.thing(Corner, ref), read.label(ref))[[0, -1]] for ref in _pair(read, axle)]
    return float(min(-low for low, _ in ends)), float(min(high for _, high in ends))


def _pair(read: Reader, axle: Ref) -> tuple[Ref, Ref]:
    return read(pair_of, axle)


@dataclass(frozen=True, eq=False)
class AxleMotion:
    """A rigid axle over one kind of movement; nan where it cannot go.

    Attributes:
        along: (n,) rise of both wheels, mm, or roll of the body, left side up, deg.
        steer_deg: (n,) turn of the axle to the left, from design.
        aside: (n,) mm to the left of design.
        ahead: (n,) mm.
        nose_up_deg: (n,) wind-up from design.
    """

    along: Array
    steer_deg: Array
    aside: Array
    ahead: Array
    nose_up_deg: Array


@cell(When.LIVE)
def over_heave(read: Reader, axle: Ref) -> AxleMotion:
    """A rigid axle as both its wheels rise alike, from full droop to full bump, 41 positions."""
    droop, bump = read(travel_of_axle, axle)
    low = np.linspace(-droop, 0.0, EACH_WAY, endpoint=False)
    rises = np.concatenate([low, np.linspace(0.0, bump, EACH_WAY + 1)])
    poses = solve_beam(read, axle, wheels_at(rises, rises))
    return _motion(rises, poses, _steer_at_design(read, axle))


@cell(When.LIVE)
def over_roll(read: Reader, axle: Ref) -> AxleMotion:
    """A rigid axle as the body rolls, as far as one wheel at bump and the other at droop; 41.

    The mean height of both wheels stays.
    """
    droop, bump = read(travel_of_axle, axle)
    held = read(rigid_axle, axle)
    most = float(np.degrees(np.arcsin(min((droop + bump) / float(held.span), 0.5))))
    rolls = np.linspace(-most, most, 2 * EACH_WAY + 1)
    poses = solve_beam(read, axle, _rolled(read, axle, rolls))
    return _motion(rolls, poses, _steer_at_design(read, axle))


def _rolled(read: Reader, axle: Ref, rolls: Array) -> AxleTravel:
    try:
        return heave_and_roll(read(rigid_axle, axle), roll_deg=rolls)
    except ValueError as error:
        msg = f"{read.label(axle)}: {error}"
        raise NotComputedError(msg) from error


def _steer_at_design(read: Reader, axle: Ref) -> float:
    return float(axle_steer_deg(solve_beam(read, axle, wheels_at())))


def _motion(along: Array, poses: AxlePoses, drawn: float) -> AxleMotion:
    return AxleMotion(
        along,
        axle_steer_deg(poses) - drawn,
        lateral_shift(poses),
        forward_shift(poses),
        nose_up_deg(poses),
    )


@dataclass(frozen=True)
class AxleSlopes:
    """How a rigid axle starts to move from design.

    Attributes:
        roll_steer: its turn to the left for each degree the body rolls, left side up.
        wind_up: its turn nose up as both wheels rise, deg/mm.
    """

    roll_steer: float
    wind_up: float


@cell(When.LIVE)
def slopes_of(read: Reader, axle: Ref) -> AxleSlopes:
    """How a rigid axle starts to move from design; its travel need not be known."""
    poses = solve_beam(read, axle, wheels_at())
    return AxleSlopes(float(roll_steer_slope(poses)), float(wind_up_slope(poses)))
