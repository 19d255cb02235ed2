"""Corners whose answer is exact geometry and needs no source."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.types import Array
from core.suspension.centres import (
    anti_dive_percent,
    anti_lift_percent,
    anti_squat_percent,
    front_view_centre,
    roll_centre_height,
    roll_centre_of_pair,
    side_view_centre,
)
from core.suspension.damper import DamperAtDesign, damper_per_wheel_travel, wheel_rate
from core.suspension.linkage import Linkage, WheelAtDesign, mirrored
from core.suspension.makers import Arm, TrackRod, double_wishbone, semi_trailing_arm
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import at, rolled
from core.suspension.wheel import (
    bump_steer_slope,
    camber_deg,
    camber_to_road_deg,
    contact,
    forward_change,
    half_track_change,
    path,
    toe_in_deg,
)
from tests.core.suspension.corners import made_up, vec

RADIUS = 300.0
CENTRE = vec(0.0, 700.0, RADIUS)
WHEEL = WheelAtDesign(CENTRE, vec(0.0, 1.0, 0.0), RADIUS)
BUMPS = np.linspace(-80.0, 80.0, 9)


def parallel_wishbones(length: float) -> Linkage:
    """Equal, level and parallel, with a track rod like them."""

    def arm(height: float) -> Arm:
        outer = vec(0.0, 640.0, height)
        inner = outer - vec(0.0, length, 0.0)
        return Arm(inner + vec(120.0, 0.0, 0.0), inner - vec(140.0, 0.0, 0.0), outer)

    rod_outer = vec(110.0, 650.0, 250.0)
    rod = TrackRod(rod_outer - vec(0.0, length, 0.0), rod_outer)
    return double_wishbone(arm(190.0), arm(410.0), rod, WHEEL)


def hinged(place: Array, direction: Array) -> Linkage:
    """A corner that turns about one line."""
    return semi_trailing_arm(place, place + 200.0 * direction, WHEEL)


@given(length=st.floats(200.0, 600.0))
def test_equal_parallel_level_wishbones_never_lean_or_steer(length: float) -> None:
    poses = solve(parallel_wishbones(length), at(BUMPS))
    rise = np.sqrt(length**2 - BUMPS**2)

    assert camber_deg(poses) == pytest.approx(0.0 * BUMPS, abs=1e-9)
    assert toe_in_deg(poses) == pytest.approx(0.0 * BUMPS, abs=1e-9)
    assert path(poses)[:, 1] == pytest.approx(rise - length, abs=1e-9)
    assert half_track_change(poses) == pytest.approx(rise - length, abs=1e-9)
    # 1 / distance, for the instant centre is at infinity.
    assert front_view_centre(poses).per_distance == pytest.approx(0.0 * BUMPS, abs=1e-12)
    wide = 700.0 + rise - length
    assert roll_centre_height(poses) == pytest.approx(wide * (-BUMPS / rise), abs=1e-7)


@given(length=st.floats(250.0, 600.0))
def test_a_pure_trailing_arm_never_leans_or_steers(length: float) -> None:
    linkage = hinged(CENTRE + vec(length, -150.0, 0.0), vec(0.0, 1.0, 0.0))

    poses = solve(linkage, at(BUMPS))

    assert camber_deg(poses) == pytest.approx(0.0 * BUMPS, abs=1e-9)
    assert toe_in_deg(poses) == pytest.approx(0.0 * BUMPS, abs=1e-9)
    assert roll_centre_height(poses) == pytest.approx(0.0 * BUMPS, abs=1e-7)
    forward = length - np.sqrt(length**2 - BUMPS**2)
    assert forward_change(poses) == pytest.approx(forward, abs=1e-9)


@given(across=st.floats(250.0, 700.0), height=st.floats(-100.0, 100.0))
def test_a_swing_axle_leans_by_its_turn_about_its_pivot(across: float, height: float) -> None:
    pivot = CENTRE - vec(0.0, across, height)
    linkage = hinged(pivot, vec(1.0, 0.0, 0.0))

    poses = solve(linkage, at(BUMPS))

    drawn = math.atan2(height, across)
    turn = np.arcsin((height + BUMPS) / math.hypot(across, height)) - drawn
    assert camber_deg(poses) == pytest.approx(-np.degrees(turn), abs=1e-7)
    centre = front_view_centre(poses)
    assert centre.first == pytest.approx(np.full(9, pivot[1]), abs=1e-6)
    assert centre.height == pytest.approx(np.full(9, pivot[2]), abs=1e-6)


@given(sweep_deg=st.floats(5.0, 60.0), turn_deg=st.floats(-10.0, 10.0))
def test_a_semi_trailing_arm_leans_and_steers_by_its_sweep(
    sweep_deg: float, turn_deg: float
) -> None:
    sweep, turn = math.radians(sweep_deg), math.radians(turn_deg)
    # Level, swept by s from across the car: the inboard end lies further back.
    direction = vec(math.sin(sweep), math.cos(sweep), 0.0)
    linkage = hinged(CENTRE + vec(400.0, -150.0, 0.0), direction)
    ahead = vec(math.cos(sweep), -math.sin(sweep), 0.0)
    lever = 400.0 * ahead[0] - 150.0 * ahead[1]

    poses = solve(linkage, at(lever * math.sin(turn)))

    sine = math.sin(math.radians(abs(float(camber_deg(poses)))))
    assert sine == pytest.approx(abs(math.sin(sweep) * math.sin(turn)), abs=1e-9)
    less = 1.0 - math.cos(turn)
    toe = less * math.sin(sweep) * math.cos(sweep)
    toe /= math.cos(turn) + less * math.cos(sweep) ** 2
    assert math.tan(math.radians(float(toe_in_deg(poses)))) == pytest.approx(toe, abs=1e-9)


@given(bump=st.floats(-50.0, 50.0), rack=st.floats(-30.0, 30.0), roll=st.floats(-3.0, 3.0))
def test_the_mirrored_corner_mirrors_everything(bump: float, rack: float, roll: float) -> None:
    left = made_up("double_wishbone_front").linkage
    right = mirrored(left)

    for one, other in (
        (solve(left, at(bump, rack)), solve(right, at(bump, -rack))),
        (solve(left, rolled(vec(roll))), solve(right, rolled(vec(-roll)))),
    ):
        assert other.centre == pytest.approx(one.centre * [1.0, -1.0, 1.0], abs=1e-9)
        for read in (
            camber_deg,
            toe_in_deg,
            camber_to_road_deg,
            bump_steer_slope,
            half_track_change,
            roll_centre_height,
        ):
            assert read(other) == pytest.approx(read(one), abs=1e-7), read
        for view in (front_view_centre, side_view_centre):
            # Heights of a few hundred mm are read off distances of some metres.
            assert view(other).height == pytest.approx(view(one).height, rel=1e-7, abs=1e-6)


def test_both_tyres_touch_the_road_under_a_rolled_body() -> None:
    left = made_up("double_wishbone_front").linkage
    roll = np.linspace(-3.0, 3.0, 7)
    travel = rolled(roll)
    assert travel.road is not None

    for linkage in (left, mirrored(left)):
        touch = contact(solve(linkage, travel))
        assert np.sum(touch * travel.road.normal, axis=1) == pytest.approx(0.0 * roll, abs=1e-9)


def test_the_roll_centre_of_a_level_pair_is_that_of_one_side() -> None:
    left = made_up("double_wishbone_front").linkage
    poses = solve(left, at()), solve(mirrored(left), at())

    across, height = roll_centre_of_pair(*poses)

    ground = contact(poses[0])[2]
    assert across == pytest.approx(0.0, abs=1e-9)
    assert height == pytest.approx(float(roll_centre_height(poses[0]) + ground), abs=1e-9)


def swing_arm(hinge: Array, spring_at: Array) -> tuple[Poses, DamperAtDesign]:
    linkage = hinged(hinge, vec(1.0, 0.0, 0.0))
    return solve(linkage, at()), DamperAtDesign(spring_at, spring_at + vec(0.0, 0.0, 300.0))


def test_rate_at_the_wheel_of_a_swing_arm() -> None:
    """D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, eq. (3.33), p. 179.

    kw = ks (c / b)^2 with the spring at c = 380 and the wheel at b = 580 from the pivot.
    """
    pivot = CENTRE - vec(0.0, 580.0, 0.0)

    ratio = damper_per_wheel_travel(*swing_arm(pivot, pivot + vec(0.0, 380.0, 0.0)))

    assert float(ratio) == pytest.approx(0.655172, abs=5.1e-7)
    assert float(wheel_rate(1.0, ratio)) == pytest.approx(0.429251, abs=5.1e-7)


def test_a_spring_that_stays_level_takes_all_squat() -> None:
    """The same book, eq. (3.69), p. 197: e / d = h / l for 100 percent, l = 2300, h = 450.

    The pole in the side view at height e over the contact and distance d ahead of it; forces at
    the contact, as of brakes on the upright, all of them at this axle.
    """
    ahead = 600.0
    pole = vec(ahead, 600.0, 0.195652174 * ahead)

    poses = solve(hinged(pole, vec(0.0, 1.0, 0.0)), at())

    assert float(anti_lift_percent(poses, 1.0, 2300.0, 450.0)) == pytest.approx(100.0, abs=1e-6)
    centre = side_view_centre(poses)
    assert float(centre.first) == pytest.approx(pole[0], abs=1e-9)
    assert float(centre.height) == pytest.approx(pole[2], abs=1e-9)


def test_a_quarter_of_the_dive() -> None:
    """Share 0.60, wheelbase 2550, height 600: 5.5993 deg give 25 percent (a builder's web page)."""
    behind = 900.0
    pole = vec(-behind, 600.0, behind * math.tan(math.radians(5.5993)))

    poses = solve(hinged(pole, vec(0.0, 1.0, 0.0)), at())

    found = float(anti_dive_percent(poses, 0.60, 2550.0, 600.0))
    assert found == pytest.approx(25.0, abs=1e-3)


def test_driving_forces_act_along_the_path_of_the_wheel_centre() -> None:
    """A trailing arm whose pivot lies higher than the wheel centre takes squat away."""
    pole = vec(500.0, 600.0, RADIUS + 100.0)

    poses = solve(hinged(pole, vec(0.0, 1.0, 0.0)), at())

    wanted = 100.0 * (100.0 / 500.0) * 2300.0 / 450.0
    assert float(anti_squat_percent(poses, 2300.0, 450.0)) == pytest.approx(wanted, abs=1e-9)
