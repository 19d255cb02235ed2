"""Rigid axles against closed forms and their own mirror images."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.frames import mirror
from core.suspension.centres import roll_centre_of_pair
from core.suspension.constraints import Held, Rod, Slot
from core.suspension.rigid_axle import mirrored_axle
from core.suspension.rigid_axle_read import (
    axle_steer_deg,
    forward_shift,
    lateral_shift,
    nose_up_deg,
    roll_axis,
    roll_centre,
    roll_centre_height,
    roll_deg,
    roll_steer_slope,
    wind_up_slope,
)
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import (
    axle_on_road,
    heave_and_roll,
    wheels_at,
)
from core.suspension.wheel import (
    camber_deg,
    camber_to_road_deg,
    contact,
    toe_in_deg,
)
from tests.core.suspension.axles import (
    AXLE_X,
    HALF,
    HEAVES,
    LEFT,
    LINK,
    NAMES,
    PANHARD,
    RADIUS,
    Y,
    axle,
    endless,
    kinds,
    meets,
    three_parallel,
    trailing,
    triangulated,
    watt_linkage,
)
from tests.core.suspension.corners import vec


@given(length=st.floats(300.0, 1300.0), rise=st.floats(-150.0, 150.0))
def test_a_panhard_rod_takes_the_axle_sideways_along_its_circle(length: float, rise: float) -> None:
    """L - sqrt(L^2 - h^2) towards its chassis end, where nothing else moves the axle along."""
    end = vec(AXLE_X, -400.0, 280.0)
    rod = Rod("Panhard rod", end + length * Y, end)

    poses = solve_axle(axle(*endless(), rod), heave_and_roll(axle(*endless(), rod), rise))

    assert float(lateral_shift(poses)) == pytest.approx(
        length - math.sqrt(length**2 - rise**2), abs=1e-9
    )
    assert float(forward_shift(poses)) == pytest.approx(0.0, abs=1e-9)


def test_equal_parallel_links_take_the_axle_round_without_winding_up() -> None:
    drawn = axle(*three_parallel(), PANHARD)

    poses = solve_axle(drawn, heave_and_roll(drawn, HEAVES))

    ahead, aside = forward_shift(poses), lateral_shift(poses)
    # It goes along without turning, on the balls about one end of a link and one of the rod.
    assert ahead == pytest.approx(LINK - np.sqrt(LINK**2 - HEAVES**2 - aside**2), abs=1e-9)
    assert aside == pytest.approx(900.0 - np.sqrt(900.0**2 - HEAVES**2 - ahead**2), abs=1e-9)
    assert ahead[0] == pytest.approx(LINK - math.sqrt(LINK**2 - 80.0**2), abs=0.02)
    for angle in (nose_up_deg(poses), axle_steer_deg(poses), roll_deg(poses)):
        assert angle == pytest.approx(np.zeros(9), abs=1e-10)
    assert wind_up_slope(poses) == pytest.approx(np.zeros(9), abs=1e-12)


def test_a_torque_tube_winds_up_about_its_ball() -> None:
    drawn = axle(
        Held("ball", vec(AXLE_X + 800.0, 0.0, RADIUS)), Slot("peg", LEFT.centre * [1, 0, 1], Y)
    )

    poses = solve_axle(drawn, heave_and_roll(drawn, HEAVES))

    assert nose_up_deg(poses) == pytest.approx(-np.degrees(np.arcsin(HEAVES / 800.0)), abs=1e-10)
    at_design = solve_axle(drawn, wheels_at())
    assert float(wind_up_slope(at_design)) == pytest.approx(-math.degrees(1.0 / 800.0), abs=1e-12)


@given(inner=st.floats(150.0, 450.0), outer=st.floats(150.0, 450.0), y=st.floats(-650.0, -20.0))
def test_the_roll_centre_of_a_panhard_rod_is_where_it_crosses_the_centre_plane(
    inner: float, outer: float, y: float
) -> None:
    """Common construction, as in W. F. Milliken, D. L. Milliken, Race Car Vehicle Dynamics, SAE
    1995, chapter 17 (from memory).
    """
    drawn = axle(*endless(), Rod("Panhard rod", vec(AXLE_X, 700.0, inner), vec(AXLE_X, y, outer)))

    height = roll_centre(solve_axle(drawn, wheels_at()))[1]

    assert float(height) == pytest.approx(np.interp(0.0, [y, 700.0], [outer, inner]), abs=1e-8)


@given(upper=st.floats(120.0, 400.0), lower=st.floats(20.0, 300.0), ahead=st.booleans())
def test_the_roll_axis_of_four_links_goes_through_where_each_pair_meets(
    upper: float, lower: float, *, ahead: bool
) -> None:
    """T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, chapter 7 (from memory)."""
    drawn = triangulated(upper, -lower if ahead else lower)

    line = roll_axis(solve_axle(drawn, wheels_at()))

    for rod in drawn.constraints[:2]:
        assert isinstance(rod, Rod)
        place = meets(rod)
        assert place[1] == pytest.approx(0.0, abs=1e-8)
        missed = np.linalg.norm(np.cross(place - line.point, line.direction))
        assert missed < 1e-10 * np.linalg.norm(place - line.point) + 1e-7
    assert float(line.slide) == pytest.approx(0.0, abs=1e-9)


def test_with_level_lower_links_the_roll_centre_is_as_high_as_the_upper_ones_meet() -> None:
    rods = [rod for rod in triangulated().constraints if isinstance(rod, Rod)]
    level = [trailing(f"lower {y}", y, 180.0) for y in (500.0, -500.0)]
    drawn = axle(*level, rods[1], rods[3])

    poses = solve_axle(drawn, wheels_at())

    height = meets(rods[1])[2]
    assert roll_centre(poses) == pytest.approx([0.0, height], abs=1e-8)
    assert float(roll_centre_height(poses)) == pytest.approx(height, abs=1e-8)
    assert float(roll_steer_slope(poses)) == pytest.approx(0.0, abs=1e-10)


@given(ahead=st.floats(300.0, 1500.0), height=st.floats(150.0, 500.0))
def test_roll_steer_is_the_slope_of_the_roll_axis(ahead: float, height: float) -> None:
    """The axis through ball and peg; nose down, the axle follows the turn: Gillespie 1992,
    chapter 7 (from memory)."""
    peg = vec(AXLE_X, 0.0, 320.0)
    drawn = axle(Held("ball", vec(AXLE_X + ahead, 0.0, height)), Slot("peg", peg, Y))

    poses = solve_axle(drawn, wheels_at())

    assert float(roll_steer_slope(poses)) == pytest.approx((320.0 - height) / ahead, abs=1e-10)
    assert float(roll_centre_height(poses)) == pytest.approx(320.0, abs=1e-8)


def test_the_roll_centre_of_a_watts_linkage_is_its_pivot() -> None:
    """Common practice, no source; and the pivot goes nearly straight up and down."""
    drawn = axle(*endless(), watt_linkage(vec(AXLE_X, 0.0, 330.0)))

    poses = solve_axle(drawn, heave_and_roll(drawn, HEAVES))

    assert float(roll_centre_height(poses)[4]) == pytest.approx(330.0, abs=1e-8)
    assert lateral_shift(poses) == pytest.approx(-lateral_shift(poses)[::-1], abs=1e-9)
    panhard = 420.0 - np.sqrt(420.0**2 - HEAVES**2)
    assert np.abs(lateral_shift(poses)).max() < 0.1 * np.abs(panhard).max()


def test_a_beam_stays_level_to_the_road_while_both_tyres_touch_it() -> None:
    rolls = np.linspace(-5.0, 5.0, 7)
    for drawn in kinds().values():
        poses = solve_axle(drawn, axle_on_road(rolls))
        assert poses.is_reached.all()
        assert roll_deg(poses)[3] == pytest.approx(0.0, abs=1e-10)
        for side in ("left", "right"):
            view = poses.wheel(side)
            assert camber_to_road_deg(view) == pytest.approx(np.zeros(7), abs=1e-9)
            road = poses.travel.road
            assert road is not None
            over = np.sum((contact(view) - road.point) * road.normal, axis=-1)
            assert over == pytest.approx(np.zeros(7), abs=1e-9)


def test_the_body_rolls_against_the_axle_as_far_as_against_the_road() -> None:
    drawn = axle(*endless(), Slot("peg", vec(AXLE_X, 0.0, 300.0), Y))

    poses = solve_axle(drawn, axle_on_road(vec(-6.0, 2.0, 9.0)))

    assert roll_deg(poses) == pytest.approx([-6.0, 2.0, 9.0], abs=1e-9)


def test_both_wheels_turn_and_lean_as_the_one_axle_they_are_on() -> None:
    drawn = triangulated()

    poses = solve_axle(drawn, heave_and_roll(drawn, 20.0, vec(-4.0, 3.0)))

    left, right = poses.wheel("left"), poses.wheel("right")
    assert toe_in_deg(left) == pytest.approx(-axle_steer_deg(poses), abs=1e-9)
    assert toe_in_deg(right) == pytest.approx(axle_steer_deg(poses), abs=1e-9)
    assert camber_deg(left) == pytest.approx(roll_deg(poses), abs=1e-9)
    assert camber_deg(right) == pytest.approx(-roll_deg(poses), abs=1e-9)
    assert poses.at(LEFT.centre) == pytest.approx(left.centre, abs=1e-9)


def test_the_roll_centre_is_where_both_contacts_say_it_is() -> None:
    """The construction for two corners, read as both wheels roll: exact at design."""
    for drawn in kinds().values():
        poses = solve_axle(drawn, wheels_at())
        pair = roll_centre_of_pair(poses.wheel("left", "roll"), poses.wheel("right", "roll"))
        assert roll_centre(poses) == pytest.approx(pair, abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_a_mirrored_axle_goes_the_mirrored_way(name: str) -> None:
    drawn = kinds()[name]
    here = solve_axle(drawn, heave_and_roll(drawn, 30.0, 3.0))

    there = solve_axle(mirrored_axle(drawn), heave_and_roll(mirrored_axle(drawn), 30.0, -3.0))

    assert there.centre == pytest.approx(mirror(here.centre), abs=1e-9)
    assert float(axle_steer_deg(there)) == pytest.approx(-float(axle_steer_deg(here)), abs=1e-9)
    assert float(roll_steer_slope(there)) == pytest.approx(float(roll_steer_slope(here)), abs=1e-9)
    assert roll_centre(there) == pytest.approx(roll_centre(here) * [-1.0, 1.0], abs=1e-7)
    assert float(nose_up_deg(there)) == pytest.approx(float(nose_up_deg(here)), abs=1e-9)


def test_the_left_wheel_goes_down_in_a_body_whose_left_side_is_up() -> None:
    asked = heave_and_roll(triangulated(), 10.0, 3.0)

    assert float(asked.left) == pytest.approx(10.0 - HALF * math.sin(math.radians(3.0)), abs=1e-9)
    assert float(asked.right) == pytest.approx(10.0 + HALF * math.sin(math.radians(3.0)), abs=1e-9)
