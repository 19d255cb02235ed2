"""Steer, turning circle, screws and the instant steering axis."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.suspension.linkage import WheelAtDesign
from core.suspension.makers import semi_trailing_arm
from core.suspension.screw import Motion, screw
from core.suspension.solve import solve
from core.suspension.steering import (
    ackermann_share,
    castor_deg,
    steer_deg,
    steering_screw,
    turning_circle,
)
from core.suspension.travel import at
from tests.core.suspension.corners import made_up, of_car, vec

WHEELBASE, TRACK = 2400.0, 1380.0


@given(outer_deg=st.floats(1.0, 35.0), left=st.booleans())
def test_wheels_that_agree_on_a_centre_have_the_whole_of_the_difference(
    outer_deg: float, *, left: bool
) -> None:
    """cot outer - cot inner = track / wheelbase, the Ackermann condition."""
    outer = math.radians(outer_deg)
    inner = math.atan2(1.0, 1.0 / math.tan(outer) - TRACK / WHEELBASE)
    steer = np.degrees([inner, outer] if left else [-outer, -inner])

    share = ackermann_share(steer[0], steer[1], WHEELBASE, TRACK)
    circle = turning_circle(steer[0], steer[1], WHEELBASE, TRACK)

    assert float(share) == pytest.approx(1.0, abs=1e-9)
    assert float(circle) == pytest.approx(2.0 * WHEELBASE / math.sin(outer), rel=1e-9)


@given(steer=st.floats(1.0, 35.0))
def test_parallel_wheels_have_none_of_the_difference(steer: float) -> None:
    angle = np.array(steer)

    assert float(ackermann_share(angle, angle, WHEELBASE, TRACK)) == pytest.approx(0.0, abs=1e-12)


def test_straight_ahead_has_no_share_and_no_circle() -> None:
    nothing = np.zeros(1)

    assert np.isnan(ackermann_share(nothing, nothing, WHEELBASE, TRACK)).all()
    assert np.isinf(turning_circle(nothing, nothing, WHEELBASE, TRACK)).all()


def test_toe_alone_bends_no_path() -> None:
    toe = np.array([0.5, 1e-17])

    assert np.isinf(turning_circle(-toe, toe, WHEELBASE, TRACK)).all()


def test_a_rack_ahead_and_one_behind_steer_opposite_ways() -> None:
    ahead, behind = (of_car(car, "front").linkage for car in ("demo", "second"))

    assert float(steer_deg(solve(ahead, at(0.0, 20.0)))) > 8.0
    assert float(steer_deg(solve(behind, at(0.0, 20.0)))) < -7.0


def test_a_corner_without_two_balls_has_no_castor() -> None:
    poses = solve(of_car("demo", "rear").linkage, at())

    with pytest.raises(ValueError, match="no two points"):
        castor_deg(poses)


def test_the_line_that_the_rack_turns_the_wheel_about_passes_by_both_balls() -> None:
    """With the height held the arms turn a little, so that it does not run through them."""
    example = made_up("double_wishbone_front")
    poses = solve(example.linkage, at())

    found = steering_screw(poses)

    for ball in ("lower_outer", "upper_outer"):
        away = np.cross(example.points[ball] - found.point, found.direction)
        assert np.linalg.norm(away) < 12.0


def test_the_screw_of_a_hinge_is_its_line() -> None:
    hinge, other = vec(400.0, 500.0, 280.0), vec(300.0, 200.0, 290.0)
    wheel = WheelAtDesign(vec(0.0, 700.0, 300.0), vec(0.0, 1.0, 0.0), 300.0)
    poses = solve(semi_trailing_arm(hinge, other, wheel), at(np.linspace(-60.0, 60.0, 5)))

    found = screw(poses.per_bump)

    along = (other - hinge) / np.linalg.norm(other - hinge)
    assert np.abs(found.direction @ along) == pytest.approx(np.ones(5), abs=1e-12)
    away = np.cross(found.point - hinge, along)
    assert np.linalg.norm(away, axis=1) == pytest.approx(np.zeros(5), abs=1e-8)
    assert found.slide == pytest.approx(np.zeros(5), abs=1e-12)


@given(turn=st.tuples(*[st.floats(-0.1, 0.1)] * 3), velocity=st.tuples(*[st.floats(-1.0, 1.0)] * 3))
def test_places_of_the_screw_only_slide_along_it(
    turn: tuple[float, ...], velocity: tuple[float, ...]
) -> None:
    motion = Motion(vec(*velocity), vec(*turn), vec(0.0, 700.0, 300.0))
    if np.linalg.norm(motion.turn) < 1e-3:
        return

    found = screw(motion)

    assert motion.at(found.point) == pytest.approx(found.slide * found.direction, abs=1e-9)


def test_a_motion_without_turn_is_a_slide() -> None:
    found = screw(Motion(vec(0.0, 3.0, 4.0), np.zeros(3), np.zeros(3)))

    assert found.direction == pytest.approx([0.0, 0.6, 0.8])
    assert (float(found.turn_deg), float(found.slide)) == (0.0, 5.0)
    assert np.isnan(found.point).all()
