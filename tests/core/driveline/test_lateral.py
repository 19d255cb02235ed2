"""Where the driven wheels may stand for bought shafts, and where the unit must hang."""

import dataclasses
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.driveline.lateral import (
    LateralRange,
    Shift,
    unit_shift,
    wheel_plane_interval,
)
from core.driveline.shaft import ShaftDoesNotReachError, shaft_pose
from core.driveline.sides import DriveSide
from core.driveline.width import wheel_plane
from core.geometry.types import Array
from tests.oracles.ranges import common_range

CARS: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "reference" / "drive_shafts_of_two_cars.json").read_text()
)
LEAN = math.radians(1.0)
LEFT = DriveSide(
    side="left",
    bell_housing_face_y=20.0,
    inner_joint=(-2390.0, 170.0, 300.0),
    slide_axis=(0.0, 1.0, 0.0),
    outer_joint=(-2400.0, 650.0, 281.0),
    spin_axis=(0.0, 1.0, 0.0),
    shaft_length=480.48,
    joint_to_hub_face=82.0,
    spacer=0.0,
    wheel_offset=32.0,
)
RIGHT = dataclasses.replace(
    LEFT,
    side="right",
    inner_joint=(-2390.0, -250.0, 300.0),
    slide_axis=(0.0, -1.0, 0.0),
    outer_joint=(-2400.0, -650.0, 281.0),
    spin_axis=(0.0, -1.0, 0.0),
    shaft_length=400.58,
)
LEANING = dataclasses.replace(LEFT, spin_axis=(0.0, math.cos(LEAN), math.sin(LEAN)))


def outer_over_travel(drive: DriveSide) -> Array:
    """Outer joint of the demo car over travel: its place on the spin axis behind the wheel."""
    toe, camber = (
        np.radians([row[key] for row in CARS["demo"]["travel"]])
        for key in ("toe_in_deg", "camber_deg")
    )
    spin = np.column_stack(
        [np.cos(camber) * np.sin(toe), np.cos(camber) * np.cos(toe), -np.sin(camber)]
    )
    moved = [[*row["wheel_centre_dx_dy"], row["bump"]] for row in CARS["demo"]["travel"]]
    outer: Array = np.array([-2400.0, 700.0, 281.0]) + np.array(moved) - 50.0 * spin
    outer[:, 1] *= 1.0 if drive.side == "left" else -1.0
    return outer


def plunge_with_wheel_at(drive: DriveSide, plane: float, travel: Array | None) -> Array:
    """Plunge over travel with the whole corner moved so that its wheel plane stands at `plane`."""
    sign = 1.0 if drive.side == "left" else -1.0
    outer = np.atleast_2d(np.array(drive.outer_joint) if travel is None else travel)
    move = np.array([0.0, sign * (plane - wheel_plane(drive)), 0.0])
    pose = shaft_pose(
        np.array(drive.inner_joint),
        np.array(drive.slide_axis),
        outer + move,
        np.array(drive.spin_axis),
        drive.shaft_length,
    )
    return pose.plunge


def test_design_position_alone_leaves_the_whole_stroke() -> None:
    # By hand: L 480.48, r^2 = 10^2 + 19^2 -> sqrt(L^2 - r^2) = 480.000; 170 + 480 + 50 = 700.
    found = wheel_plane_interval(LEFT, 18.0, 18.0)

    assert (found.lower, found.upper) == pytest.approx((682.0, 718.0), abs=0.005)
    assert found.width == pytest.approx(36.0)
    assert (found.governs_lower, found.governs_upper) == (0, 0)


def test_travel_takes_its_spread_of_plunge_from_the_range() -> None:
    left = wheel_plane_interval(LEFT, 18.0, 18.0, outer_over_travel(LEFT))
    right = wheel_plane_interval(RIGHT, 18.0, 18.0, outer_over_travel(RIGHT))

    # A separate program has plunge -7.46 (full bump) to +0.05 on the left, -7.04 to +0.14 right.
    assert (left.lower, left.upper) == pytest.approx((682.0 + 7.46, 718.0 - 0.05), abs=0.02)
    assert (right.lower, right.upper) == pytest.approx((682.0 + 7.04, 718.0 - 0.14), abs=0.02)
    bumps = [row["bump"] for row in CARS["demo"]["travel"]]
    assert (bumps[left.governs_lower], bumps[left.governs_upper]) == (70, -10)


@pytest.mark.parametrize("drive", [LEFT, RIGHT, LEANING])
def test_at_each_edge_the_joint_just_meets_its_limit(drive: DriveSide) -> None:
    travel = outer_over_travel(drive)

    found = wheel_plane_interval(drive, 17.0, 15.0, travel)
    inside, outside = (plunge_with_wheel_at(drive, y, travel) for y in (found.lower, found.upper))

    assert float(inside.min()) == pytest.approx(-17.0, abs=1e-9)
    assert float(outside.max()) == pytest.approx(15.0, abs=1e-9)
    assert int(inside.argmin()) == found.governs_lower
    assert int(outside.argmax()) == found.governs_upper


@given(
    moves=st.lists(
        st.tuples(st.floats(-20, 20), st.floats(-15, 15), st.floats(-90, 90)),
        min_size=1,
        max_size=6,
    ),
    drive=st.sampled_from([LEFT, RIGHT, LEANING]),
    inwards=st.floats(0.0, 25.0),
    outwards=st.floats(0.0, 25.0),
    share=st.floats(-0.5, 1.5),
)
def test_a_wheel_plane_is_within_the_range_just_when_every_plunge_is_within_limits(
    moves: list[tuple[float, float, float]],
    drive: DriveSide,
    inwards: float,
    outwards: float,
    share: float,
) -> None:
    travel = np.array(drive.outer_joint) + np.array(moves)
    found = wheel_plane_interval(drive, inwards, outwards, travel)
    plane = found.lower + share * (abs(found.width) + 1.0)
    assume(min(abs(plane - found.lower), abs(plane - found.upper)) > 1e-6)

    plunge = plunge_with_wheel_at(drive, plane, travel)

    within = found.lower <= plane <= found.upper
    assert within == bool((plunge >= -inwards).all() and (plunge <= outwards).all())


def test_no_place_at_all_says_how_much_is_missing_and_between_which_positions() -> None:
    travel = np.array(LEFT.outer_joint) + np.array([[0, 0, 0], [0, 9, 0], [0, -8, 0]])

    found = wheel_plane_interval(LEFT, 6.0, 6.0, travel)

    assert found.width == pytest.approx(12.0 - 17.0)
    assert (found.governs_lower, found.governs_upper) == (2, 1)


def test_a_shaft_too_short_for_the_height_is_refused_with_the_positions() -> None:
    travel = np.array(LEFT.outer_joint) + np.array([[0, 0, 0], [0, 0, 600]])

    with pytest.raises(ShaftDoesNotReachError) as caught:
        wheel_plane_interval(LEFT, 18.0, 18.0, travel)

    assert caught.value.positions == (1,)
    assert caught.value.shortfalls == pytest.approx((math.hypot(10.0, 581.0) - 480.48,))


@pytest.mark.parametrize("axis", [(0.0, -1.0, 0.0), (0.01, 1.0, 0.0), (0.0, 0.0, 0.0)])
def test_an_inner_joint_that_does_not_slide_straight_outboard_is_refused(
    axis: tuple[float, float, float],
) -> None:
    with pytest.raises(ValueError, match="."):
        wheel_plane_interval(dataclasses.replace(LEFT, slide_axis=axis), 18.0, 18.0)


@pytest.mark.parametrize("limits", [(-1.0, 18.0), (18.0, -1.0), (math.nan, 18.0)])
def test_limits_below_zero_are_refused(limits: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="limits"):
        wheel_plane_interval(LEFT, *limits)


def both_sides(left: DriveSide, right: DriveSide) -> Shift:
    return unit_shift(
        wheel_plane_interval(left, 18.0, 18.0, outer_over_travel(left)),
        wheel_plane(left),
        wheel_plane_interval(right, 18.0, 18.0, outer_over_travel(right)),
        wheel_plane(right),
    )


def test_as_drawn_the_demo_car_needs_no_move_of_its_unit() -> None:
    shift = both_sides(LEFT, RIGHT)

    # From the printed plunges: left lets the unit go -17.95 to +10.54, right -10.96 to +17.86.
    assert shift.allowed == pytest.approx((-10.96, 10.54), abs=0.03)
    assert shift.least_move == 0.0
    assert (shift.too_wide, shift.too_narrow) == (0.0, 0.0)
    assert (shift.left_excess, shift.right_excess) == (0.0, 0.0)


def test_a_unit_hung_20_to_the_right_must_come_back_to_the_left() -> None:
    hung = [
        dataclasses.replace(
            side, inner_joint=(side.inner_joint[0], side.inner_joint[1] - 20.0, 300.0)
        )
        for side in (LEFT, RIGHT)
    ]

    shift = both_sides(hung[0], hung[1])

    assert shift.allowed == pytest.approx((20.0 - 10.96, 20.0 + 10.54), abs=0.03)
    assert shift.least_move == pytest.approx(9.04, abs=0.03)
    # Left plane beyond its range by what the plunge exceeds 18: 20.05; right -27.04 likewise.
    assert shift.left_excess == pytest.approx(2.05, abs=0.02)
    assert shift.right_excess == pytest.approx(-9.04, abs=0.02)


def test_a_left_shaft_20_too_long_asks_for_the_unit_farther_right() -> None:
    shift = both_sides(dataclasses.replace(LEFT, shaft_length=500.48), RIGHT)

    # Left plunge -27.57 to -19.99 must come within -18: at least 9.57 to the right.
    assert shift.allowed == pytest.approx((-10.96, -9.57), abs=0.03)
    assert shift.least_move == pytest.approx(-9.57, abs=0.03)


def test_shafts_too_long_on_both_sides_leave_no_move_and_say_how_much_too_narrow() -> None:
    longer = [
        dataclasses.replace(side, shaft_length=side.shaft_length + 20.0) for side in (LEFT, RIGHT)
    ]

    shift = both_sides(longer[0], longer[1])

    assert shift.allowed is None
    assert shift.least_move is None
    assert shift.too_narrow == pytest.approx(9.57 + 9.16, abs=0.05)
    assert shift.too_wide == 0.0


def test_shafts_too_short_on_both_sides_say_how_much_too_wide() -> None:
    shorter = [
        dataclasses.replace(side, shaft_length=side.shaft_length - 25.0) for side in (LEFT, RIGHT)
    ]

    shift = both_sides(shorter[0], shorter[1])

    assert shift.allowed is None
    # 25 less than 18 to spare, twice; at up to 10 deg of joint angle length counts 1.5 % more.
    plain = 2 * 7.0 + 0.05 + 0.14
    assert plain < shift.too_wide < plain + 2 * 25.0 * 0.015
    assert shift.too_narrow == 0.0


def test_a_side_without_any_range_allows_no_move() -> None:
    none = LateralRange(lower=705.0, upper=695.0, governs_lower=0, governs_upper=1)
    wide = LateralRange(lower=680.0, upper=720.0, governs_lower=0, governs_upper=0)

    shift = unit_shift(none, 700.0, wide, 700.0)

    assert shift.allowed is None
    assert shift.full_width is None


ends = st.integers(600, 800).map(float)


@given(a=ends, b=ends, c=ends, d=ends, left=ends, right=ends)
def test_allowed_moves_are_just_those_that_bring_both_planes_within_reach(
    a: float, b: float, c: float, d: float, left: float, right: float
) -> None:
    left_range, right_range = (
        LateralRange(min(a, b), max(a, b), 0, 0),
        LateralRange(min(c, d), max(c, d), 0, 0),
    )

    shift = unit_shift(left_range, left, right_range, right)

    fits = [
        move
        for move in range(-420, 421)
        if left_range.lower + move <= left <= left_range.upper + move
        and right_range.lower - move <= right <= right_range.upper - move
    ]
    if shift.allowed is None:
        assert not fits
        assert max(shift.too_wide, shift.too_narrow) > 0.0
    else:
        assert (fits[0], fits[-1]) == shift.allowed
        assert shift.least_move == min(fits, key=abs)
        assert shift.too_wide == shift.too_narrow == 0.0


@given(a=ends, b=ends, c=ends, d=ends)
def test_the_narrower_side_keeps_its_full_width_just_within_the_given_moves(
    a: float, b: float, c: float, d: float
) -> None:
    left, right = LateralRange(min(a, b), max(a, b), 0, 0), LateralRange(min(c, d), max(c, d), 0, 0)
    full = min(left.width, right.width)

    low, high = unit_shift(left, 700.0, right, 700.0).full_width or (math.nan, math.nan)

    for move in (low, high, low - 0.5, high + 0.5):
        both = common_range(left, right, move)
        kept = both is not None and both[1] - both[0] == pytest.approx(full, abs=1e-9)
        assert kept == (low <= move <= high)


@given(a=ends, b=ends, c=ends, d=ends, left=ends, right=ends)
def test_swapping_the_sides_turns_the_move_round(
    a: float, b: float, c: float, d: float, left: float, right: float
) -> None:
    one, two = LateralRange(min(a, b), max(a, b), 0, 0), LateralRange(min(c, d), max(c, d), 0, 0)

    here, there = unit_shift(one, left, two, right), unit_shift(two, right, one, left)

    assert (here.left_excess, here.too_wide) == (there.right_excess, there.too_wide)
    if here.allowed is not None:
        assert there.allowed == (-here.allowed[1], -here.allowed[0])
