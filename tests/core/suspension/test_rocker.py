"""Rockers against closed forms, a general root finder and finite differences."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from core.geometry.types import Array, unit
from core.suspension.carried import carried_place
from core.suspension.damper import (
    DamperAtDesign,
    damper_length,
    damper_per_wheel_travel,
    mirrored_damper,
)
from core.suspension.linkage import mirrored
from core.suspension.rocker import (
    CUT_OFF,
    NO_POSE,
    TOO_LONG,
    TOO_SHORT,
    Rocker,
    mirrored_rocker,
    rocker_poses,
)
from core.suspension.solve import solve
from core.suspension.travel import at, grid, rolled
from tests.core.suspension.corners import vec
from tests.core.suspension.spring_corners import (
    ACROSS,
    LONG,
    PIVOT,
    pushed,
    trailing,
    turn_at,
    wishbones,
)

BUMPS = np.linspace(-60.0, 60.0, 13)


def general_angle(rocker: Rocker, outer: Array, start: float) -> float:
    """Angle that keeps the rod's length, by a general solver over a general rotation."""
    axis = unit(rocker.axis)
    rod = float(np.linalg.norm(rocker.rod_outer - rocker.rod_inner))

    def error(angle: Array) -> Array:
        turn = Rotation.from_rotvec(angle[0] * axis)
        inner = turn.apply(rocker.rod_inner - rocker.pivot) + rocker.pivot
        return np.array([float(np.linalg.norm(outer - inner)) - rod])

    found = least_squares(error, [start], xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale=0.01)
    assert abs(found.fun[0]) < 1e-9
    return float(found.x[0])


def test_the_angle_is_that_of_a_general_solver_gone_on_step_by_step() -> None:
    damper = pushed(wishbones())
    assert damper.rocker is not None
    poses = solve(wishbones().linkage, at(BUMPS))

    found = rocker_poses(poses, damper.rocker)

    outer = carried_place(poses, damper.rocker.rod_outer, damper.rocker.arm)
    expected, angle = {6: 0.0}, 0.0
    for way in (range(7, 13), range(5, -1, -1)):
        angle = 0.0
        for k in way:
            expected[k] = angle = general_angle(damper.rocker, outer[k], angle)
    assert found.angle_rad == pytest.approx([expected[k] for k in range(13)], abs=1e-9)
    assert found.angle_rad[6] == pytest.approx(0.0, abs=1e-15)
    assert np.ptp(found.angle_rad) > 0.5
    assert (found.why == "").all()


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_rod_keeps_its_length_and_slopes_are_those_of_differences(seed: int) -> None:
    random = np.random.default_rng(seed)
    example = wishbones()
    plain = pushed(example, random.uniform(-0.3, 0.3, 3) + vec(1.0, 0.0, 0.0))
    assert plain.rocker is not None
    moved = replace(plain.rocker, rod_inner=plain.rocker.rod_inner + random.uniform(-15, 15, 3))
    damper = replace(plain, rocker=moved)
    near = 1e-3

    poses = solve(example.linkage, at(BUMPS[:, None] + near * vec(-1.0, 0.0, 1.0), 8.0))
    rocker = rocker_poses(poses, moved)
    lengths = damper_length(poses, damper)

    inner, outer = rocker.at(moved.rod_inner), carried_place(poses, moved.rod_outer, moved.arm)
    rod = np.linalg.norm(moved.rod_inner - moved.rod_outer)
    assert np.linalg.norm(inner - outer, axis=-1) == pytest.approx(rod + 0.0 * lengths, abs=1e-9)
    change = (lengths[:, 0] - lengths[:, 2]) / (2.0 * near)
    assert damper_per_wheel_travel(poses, damper)[:, 1] == pytest.approx(change, abs=1e-7)
    turned = (rocker.angle_rad[:, 2] - rocker.angle_rad[:, 0]) / (2.0 * near)
    assert rocker.per_bump_rad[:, 1] == pytest.approx(turned, abs=1e-9)


@given(inner=st.floats(40.0, 120.0), outer=st.floats(40.0, 120.0), along=st.floats(150.0, 450.0))
def test_a_square_bell_crank_is_the_ratio_of_its_arms(
    inner: float, outer: float, along: float
) -> None:
    """Closed form: upright rod at `along` of a level arm, rocker arm level, damper square to it."""
    rod = PIVOT - vec(along, 0.0, 0.0)
    top = rod + vec(0.0, 0.0, 250.0)
    pivot = top + vec(inner, 0.0, 0.0)
    eye = pivot + vec(0.0, 0.0, outer)
    rocker = Rocker(pivot, ACROSS, rod, top)
    damper = DamperAtDesign(eye, eye + vec(280.0, 0.0, 0.0), None, rocker)

    found = damper_per_wheel_travel(solve(trailing(), at()), damper)

    assert float(found) == pytest.approx(along / LONG * outer / inner, rel=1e-12)


def test_a_rocker_that_makes_a_parallelogram_turns_as_the_arm_does() -> None:
    """Closed form: rod end at as far from the rocker's axis as from the arm's, both level."""
    rod = PIVOT - vec(200.0, 0.0, 0.0)
    rocker = Rocker(PIVOT + vec(0.0, 0.0, 220.0), -ACROSS, rod, rod + vec(0.0, 0.0, 220.0))
    bumps = np.linspace(-240.0, 240.0, 25)

    found = rocker_poses(solve(trailing(), at(bumps)), rocker)

    assert found.angle_rad == pytest.approx(-turn_at(bumps), abs=1e-12)
    # The rod stays upright; the rocker leans by its turn.
    square = 90.0 - np.degrees(np.abs(turn_at(bumps)))
    assert found.rod_from_dead_centre_deg == pytest.approx(square, abs=1e-6)


def pulled_straight(rod: float, arm: float) -> Rocker:
    """A rocker above the trailing arm whose rod and arm come into one line on the way down."""
    outer = PIVOT - vec(250.0, 0.0, 0.0)
    pivot = outer + vec(0.0, 0.0, 260.0)
    drop = (rod**2 - arm**2 + 260.0**2) / (2.0 * 260.0)
    inner = outer + vec(math.sqrt(rod**2 - drop**2), 0.0, drop)
    return Rocker(pivot, ACROSS, outer, inner)


def test_past_dead_centre_there_is_no_place_and_it_says_why() -> None:
    """The end of the rod goes round the pivot; it is lost where it is rod plus arm away."""
    rocker = pulled_straight(220.0, 80.0)
    bumps = np.linspace(-120.0, 120.0, 961)
    poses = solve(trailing(), at(bumps))

    found = rocker_poses(poses, rocker)

    away = np.linalg.norm(poses.at(rocker.rod_outer) - rocker.pivot, axis=-1)
    lost = away > 300.0
    assert 100 < lost.sum() < 500
    assert ((found.why == TOO_SHORT) == lost).all()
    assert (np.isnan(found.angle_rad) == lost).all()
    assert (np.isnan(found.per_bump_rad) == lost).all()
    # Law of cosines at the end of the rod: the angle between rod and arm of the rocker.
    cosine = (220.0**2 + 80.0**2 - away[~lost] ** 2) / (2.0 * 220.0 * 80.0)
    between = np.degrees(np.arccos(cosine))
    square = np.minimum(between, 180.0 - between)
    assert found.rod_from_dead_centre_deg[~lost] == pytest.approx(square, abs=1e-6)
    assert square.min() < 5.0


def test_a_rod_pushed_through_to_dead_centre_is_too_long() -> None:
    """Rod 330 and arm 80: 250 apart at the end, which the arm reaches on its way up."""
    rocker = pulled_straight(330.0, 80.0)
    poses = solve(trailing(), at(np.linspace(-40.0, 60.0, 201)))

    found = rocker_poses(poses, rocker)

    away = np.linalg.norm(poses.at(rocker.rod_outer) - rocker.pivot, axis=-1)
    assert ((found.why == TOO_LONG) == (away < 250.0)).all()
    assert (away < 250.0).any()


def test_a_place_behind_dead_centre_is_cut_off_though_the_rod_would_reach() -> None:
    """The arm's end goes round below: far away in the middle of the way, and near again after."""
    outer = PIVOT - vec(250.0, 0.0, 0.0)
    # Seen from here the end of the arm is furthest away where the arm has turned down 12 degrees.
    turn = math.radians(12.0)
    out = vec(-math.cos(turn), 0.0, -math.sin(turn))
    pivot = PIVOT - 120.0 * out
    rod, arm = 300.0, 69.99
    away = float(np.linalg.norm(outer - pivot))
    ahead = (away**2 + arm**2 - rod**2) / (2.0 * away)
    to_outer = (outer - pivot) / away
    beside = vec(to_outer[2], 0.0, -to_outer[0])
    inner = pivot + ahead * to_outer + math.sqrt(arm**2 - ahead**2) * beside
    rocker = Rocker(pivot, ACROSS, outer, inner)
    down = -LONG * np.sin(math.radians(1.0) * vec(0.0, 6.0, 11.9, 12.1, 18.0, 22.0))

    found = rocker_poses(solve(trailing(), at(down)), rocker)

    assert found.why.tolist() == ["", "", TOO_SHORT, TOO_SHORT, CUT_OFF, CUT_OFF]
    assert np.isnan(found.angle_rad[2:]).all()
    # The far ones alone are found out too.
    alone = rocker_poses(solve(trailing(), at(down[4:5])), rocker)
    assert alone.why.tolist() == [CUT_OFF]


def test_where_the_linkage_has_no_pose_the_rocker_says_that() -> None:
    rocker = pulled_straight(300.0, 120.0)

    found = rocker_poses(solve(trailing(), at(vec(0.0, 600.0))), rocker)

    assert found.why.tolist() == ["", NO_POSE]


def test_a_damper_passes_over_centre_where_its_ratio_is_nothing() -> None:
    damper = pushed(wishbones())
    assert damper.rocker is not None
    poses = solve(wishbones().linkage, at(BUMPS))
    rocker = rocker_poses(poses, damper.rocker)
    eye = rocker.at(damper.lower)
    # From a place on the line from the axis through the eye, the damper does not push.
    lever = eye[3] - damper.rocker.pivot
    over = replace(damper, upper=np.asarray(eye[3] + 2.0 * lever))

    angle = rocker.from_dead_centre_deg(eye, over.upper)
    ratio = damper_per_wheel_travel(poses, over)

    assert angle[3] == pytest.approx(0.0, abs=1e-6)
    assert ratio[3] == pytest.approx(0.0, abs=1e-9)
    assert angle[0] * angle[6] < 0.0
    assert ratio[0] * ratio[6] < 0.0


def test_the_other_side_reads_the_same() -> None:
    example = wishbones()
    damper = pushed(example)
    assert damper.rocker is not None
    left = solve(example.linkage, at(BUMPS, 10.0))
    right = solve(mirrored(example.linkage), at(BUMPS, -10.0))

    ours = rocker_poses(left, damper.rocker)
    theirs = rocker_poses(right, mirrored_rocker(damper.rocker))
    over = mirrored_damper(damper)

    assert theirs.angle_rad == pytest.approx(ours.angle_rad, abs=1e-10)
    assert theirs.per_bump_rad == pytest.approx(ours.per_bump_rad, abs=1e-12)
    assert damper_length(right, over) == pytest.approx(damper_length(left, damper), abs=1e-8)
    plain = mirrored_damper(example.damper)
    assert damper_length(right, plain) == pytest.approx(
        damper_length(left, example.damper), abs=1e-8
    )


def test_every_shape_of_positions_is_kept() -> None:
    damper = pushed(wishbones())
    assert damper.rocker is not None

    net = solve(wishbones().linkage, grid(BUMPS, vec(-20.0, 0.0, 20.0)))
    roll = solve(wishbones().linkage, rolled(vec(-2.0, 0.0, 2.0)))

    assert rocker_poses(net, damper.rocker).angle_rad.shape == (13, 3)
    assert rocker_poses(net, damper.rocker).why.shape == (13, 3)
    level = rocker_poses(solve(wishbones().linkage, at(BUMPS, 20.0)), damper.rocker).angle_rad
    assert rocker_poses(net, damper.rocker).angle_rad[:, 2] == pytest.approx(level, abs=1e-10)
    assert rocker_poses(roll, damper.rocker).angle_rad.shape == (3,)
    assert float(rocker_poses(solve(wishbones().linkage, at()), damper.rocker).angle_rad) == (
        pytest.approx(0.0, abs=1e-12)
    )


@given(turn_deg=st.floats(-170.0, 170.0))
def test_a_rocker_drawn_anywhere_but_at_dead_centre_stands_at_nought(turn_deg: float) -> None:
    assume(abs(math.sin(math.radians(turn_deg))) > 0.01)
    turn = math.radians(turn_deg)
    outer = PIVOT - vec(250.0, 0.0, 0.0)
    pivot = outer + vec(0.0, 0.0, 300.0)
    inner = pivot - 80.0 * vec(math.sin(turn), 0.0, math.cos(turn))

    found = rocker_poses(solve(trailing(), at()), Rocker(pivot, ACROSS, outer, inner))

    assert float(found.angle_rad) == pytest.approx(0.0, abs=1e-9)


def test_a_rod_drawn_at_dead_centre_or_without_length_is_refused() -> None:
    outer = PIVOT - vec(250.0, 0.0, 0.0)
    pivot = outer + vec(0.0, 0.0, 300.0)
    poses = solve(trailing(), at())

    with pytest.raises(ValueError, match="drawn at dead centre"):
        rocker_poses(poses, Rocker(pivot, ACROSS, outer, outer + vec(0.0, 0.0, 220.0)))
    with pytest.raises(ValueError, match="must have a length"):
        rocker_poses(poses, Rocker(pivot, ACROSS, outer, pivot + 30.0 * ACROSS))
    with pytest.raises(ValueError, match="must have a length"):
        rocker_poses(poses, Rocker(pivot, ACROSS, outer, outer))
    with pytest.raises(ValueError, match="no direction"):
        rocker_poses(poses, Rocker(pivot, 0.0 * ACROSS, outer, pivot + vec(80.0, 0.0, 0.0)))


def test_an_eye_cannot_be_on_an_arm_and_on_a_rocker() -> None:
    damper = pushed(wishbones())

    with pytest.raises(ValueError, match="not on both"):
        replace(damper, arm=wishbones().lower)
