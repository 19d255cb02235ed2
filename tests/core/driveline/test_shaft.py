"""The exact shaft against hand-worked values, a root finder, and two whole cars."""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from core.driveline.shaft import ShaftPose, shaft_pose
from core.geometry.types import Array

CARS: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "reference" / "drive_shafts_of_two_cars.json").read_text()
)
SHAFTS = [(car, side) for car in ("demo", "second") for side in ("left", "right")]
LEFT = np.array([0.0, 1.0, 0.0])


def outer_places(car: dict[str, Any], side: str) -> tuple[Array, Array]:
    """Outer joint and spin axis over travel, from wheel centre, toe-in and camber.

    The outer joint lies on the spin axis, so that its turn about the axis does not matter.
    """
    toe = np.radians([row["toe_in_deg"] for row in car["travel"]])
    camber = np.radians([row["camber_deg"] for row in car["travel"]])
    rise = -np.sin(camber)
    flat = np.cos(camber)
    spin = np.column_stack([flat * np.sin(toe), flat * np.cos(toe), rise])
    moved = [[*row["wheel_centre_dx_dy"], row["bump"]] for row in car["travel"]]
    depth = car["joint_to_hub_face"] + car["spacer"] - car["wheel_offset"]
    outer = np.array(car["wheel_centre_left"]) + np.array(moved) - depth * spin
    mirror = np.array([1.0, 1.0 if side == "left" else -1.0, 1.0])
    return outer * mirror, spin * mirror


def pose_over_travel(car: str, side: str, longer: float = 0.0, shift: float = 0.0) -> ShaftPose:
    outer, spin = outer_places(CARS[car], side)
    shaft = CARS[car]["shafts"][side]
    axis = LEFT if side == "left" else -LEFT
    inner = np.array(shaft["inner_joint"]) + shift * LEFT
    return shaft_pose(inner, axis, outer, spin, shaft["length"] + longer)


@pytest.mark.parametrize(("car", "side"), SHAFTS)
def test_plunge_and_angles_over_travel_agree_with_a_separate_linkage_program(
    car: str, side: str
) -> None:
    rows = np.array(CARS[car]["shafts"][side]["rows_bump_plunge_inner_outer"])

    pose = pose_over_travel(car, side)

    # The wheel centre is given to 0.01 mm and the angles to 0.001 deg; 0.02 covers both.
    assert pose.plunge == pytest.approx(rows[:, 1], abs=0.02)
    assert pose.inner_angle_deg == pytest.approx(rows[:, 2], abs=0.01)
    assert pose.outer_angle_deg == pytest.approx(rows[:, 3], abs=0.01)


@pytest.mark.parametrize(("car", "side"), SHAFTS)
def test_design_position_agrees_to_the_printed_digit(car: str, side: str) -> None:
    shaft = CARS[car]["shafts"][side]
    printed = next(row for row in shaft["rows_bump_plunge_inner_outer"] if row[0] == 0)
    axis = LEFT if side == "left" else -LEFT

    pose = shaft_pose(
        np.array(shaft["inner_joint"]), axis, np.array(shaft["outer_joint"]), axis, shaft["length"]
    )

    assert float(pose.plunge) == pytest.approx(printed[1], abs=0.0051)
    assert float(pose.inner_angle_deg) == pytest.approx(printed[2], abs=0.0051)
    assert float(pose.outer_angle_deg) == pytest.approx(printed[3], abs=0.0051)


def test_a_shaft_20_too_long_pushes_its_joint_in_by_more_than_20() -> None:
    pose = pose_over_travel("demo", "left", longer=20.0)

    # Separate program: -20.02 at design, -27.57 at full bump.
    assert float(pose.plunge[5]) == pytest.approx(-20.02, abs=0.01)
    assert float(pose.plunge[-1]) == pytest.approx(-27.57, abs=0.02)


def test_the_unit_20_to_the_right_pulls_the_left_joint_and_pushes_the_right() -> None:
    left = pose_over_travel("demo", "left", shift=-20.0)
    right = pose_over_travel("demo", "right", shift=-20.0)

    assert float(left.plunge[5]) == pytest.approx(20.0, abs=0.01)
    assert float(right.plunge[5]) == pytest.approx(-20.0, abs=0.01)


@pytest.mark.parametrize(("angle_deg", "shortcut"), [(14.5, 19.39), (22.0, 18.61)])
def test_distance_minus_length_is_not_the_plunge(angle_deg: float, shortcut: float) -> None:
    # Worked by hand: L = 400, plunge 20, so the outer joint is 20 + 400 cos b along and 400 sin b
    # aside. Distance minus length would give 19.39 at 14.5 deg and 18.61 at 22 deg.
    angle = math.radians(angle_deg)
    outer = np.array([400.0 * math.sin(angle), 20.0 + 400.0 * math.cos(angle), 0.0])

    pose = shaft_pose(np.zeros(3), LEFT, outer, LEFT, 400.0)

    assert float(pose.plunge) == pytest.approx(20.0, abs=1e-9)
    assert float(pose.inner_angle_deg) == pytest.approx(angle_deg, abs=1e-9)
    assert np.linalg.norm(outer) - 400.0 == pytest.approx(shortcut, abs=0.005)


def test_outer_angle_is_between_shaft_and_spin_axis() -> None:
    tilt = math.radians(30.0)
    spin = np.array([0.0, math.cos(tilt), math.sin(tilt)])

    straight = shaft_pose(np.zeros(3), LEFT, np.array([0.0, 400.0, 0.0]), spin, 400.0)

    assert float(straight.outer_angle_deg) == pytest.approx(30.0, abs=1e-12)
    assert float(straight.inner_angle_deg) == 0.0


def test_out_of_reach_is_marked_with_the_shortfall_and_never_looks_fine() -> None:
    outer = np.array([[0.0, 300.0, 0.0], [410.0, 300.0, 0.0]])

    pose = shaft_pose(np.zeros(3), LEFT, outer, LEFT, 400.0)

    assert pose.reaches.tolist() == [True, False]
    assert pose.shortfall.tolist() == [0.0, 10.0]
    assert np.isposinf(pose.plunge[1])
    assert np.isposinf([pose.inner_angle_deg[1], pose.outer_angle_deg[1]]).all()
    assert pose.direction[1].tolist() == [0.0, 0.0, 0.0]
    assert float(pose.plunge[0]) == pytest.approx(-100.0)


def test_just_in_reach_the_shaft_stands_square_to_its_slide() -> None:
    pose = shaft_pose(np.zeros(3), LEFT, np.array([400.0, 5.0, 0.0]), LEFT, 400.0)

    assert bool(pose.reaches)
    assert float(pose.plunge) == pytest.approx(5.0)
    assert float(pose.inner_angle_deg) == pytest.approx(90.0)


@pytest.mark.parametrize(
    ("axis", "outer", "length"),
    [
        ([0.0, 0.0, 0.0], [0.0, 400.0, 0.0], 400.0),
        ([0.0, 1.0, 0.0], [0.0, math.nan, 0.0], 400.0),
        ([0.0, 1.0, 0.0], [0.0, 400.0, 0.0], 0.0),
        ([0.0, 1.0, 0.0], [0.0, 400.0, 0.0], math.inf),
        ([0.0, math.nan, 0.0], [0.0, 400.0, 0.0], 400.0),
    ],
)
def test_nonsense_is_refused(axis: list[float], outer: list[float], length: float) -> None:
    with pytest.raises(ValueError, match="."):
        shaft_pose(np.zeros(3), np.array(axis), np.array(outer), LEFT, length)


def test_poses_are_equal_when_their_numbers_are() -> None:
    one, same, other = (pose_over_travel("demo", "left", longer=by) for by in (0.0, 0.0, 1.0))

    assert one == same
    assert one != other
    assert one != "a pose"


def test_inner_places_and_axes_may_differ_from_position_to_position() -> None:
    inner = np.array([[0.0, 0.0, 0.0], [0.0, 5.0, 0.0]])
    outer = np.array([0.0, 400.0, 0.0])

    pose = shaft_pose(inner, np.array([LEFT, LEFT]), outer, np.array([LEFT, LEFT]), 400.0)

    assert pose.plunge.tolist() == [0.0, -5.0]
    assert pose.direction.shape == (2, 3)


aside = st.floats(-180.0, 180.0)
lengths = st.floats(260.0, 600.0)


def slides_to(inner: Array, axis: Array, outer: Array, length: float) -> float:
    """The plunge by a general root finder: the sliding centre at distance `length` from outer."""

    def excess(slide: float) -> float:
        return float(np.linalg.norm(outer - inner - slide * axis)) - length

    along = float((outer - inner) @ axis)
    return float(brentq(excess, along - 2.0 * length, along, xtol=1e-10, rtol=1e-14))


@given(x=aside, z=aside, y=st.floats(200.0, 800.0), length=lengths, tilt=st.floats(-0.3, 0.3))
def test_a_root_finder_slides_the_joint_to_the_same_place(
    x: float, z: float, y: float, length: float, tilt: float
) -> None:
    axis = np.array([math.sin(tilt), math.cos(tilt), 0.0])
    inner, outer = np.array([10.0, 50.0, -20.0]), np.array([x, y, z])

    pose = shaft_pose(inner, axis, outer, LEFT, length)

    if bool(pose.reaches):
        assert float(pose.plunge) == pytest.approx(slides_to(inner, axis, outer, length), abs=1e-6)
        sliding_centre = inner + pose.plunge * axis
        assert sliding_centre + length * pose.direction == pytest.approx(outer, abs=1e-9)
    else:
        across = outer - inner - ((outer - inner) @ axis) * axis
        assert float(pose.shortfall) == pytest.approx(float(np.linalg.norm(across)) - length)


@given(x=aside, z=aside, y=st.floats(200.0, 800.0), length=lengths)
def test_left_and_right_mirror(x: float, z: float, y: float, length: float) -> None:
    mirror = np.array([1.0, -1.0, 1.0])
    inner, outer, spin = np.array([0.0, 100.0, 5.0]), np.array([x, y, z]), np.array([0.1, 1.0, 0.2])

    left = shaft_pose(inner, LEFT, outer, spin, length)
    right = shaft_pose(inner * mirror, -LEFT, outer * mirror, spin * mirror, length)

    assert right.plunge == pytest.approx(left.plunge, abs=1e-9)
    assert right.outer_angle_deg == pytest.approx(left.outer_angle_deg, abs=1e-9)
    assert right.direction * mirror == pytest.approx(left.direction, abs=1e-12)


@given(x=aside, z=aside, length=lengths, move=st.floats(-100.0, 100.0))
def test_moving_everything_across_the_car_changes_nothing(
    x: float, z: float, length: float, move: float
) -> None:
    inner, outer = np.array([0.0, 100.0, 5.0]), np.array([x, 500.0, z])

    here = shaft_pose(inner, LEFT, outer, LEFT, length)
    there = shaft_pose(inner + move * LEFT, LEFT, outer + move * LEFT, LEFT, length)

    assert there.plunge == pytest.approx(here.plunge, abs=1e-9)
    assert there.inner_angle_deg == pytest.approx(here.inner_angle_deg, abs=1e-9)


@given(x=aside, z=aside, length=lengths, move=st.floats(-100.0, 100.0))
def test_a_sideways_move_of_the_wheel_spends_plunge_and_no_angle(
    x: float, z: float, length: float, move: float
) -> None:
    outer = np.array([x, 500.0, z])

    here = shaft_pose(np.zeros(3), LEFT, outer, LEFT, length)
    there = shaft_pose(np.zeros(3), LEFT, outer + move * LEFT, LEFT, length)

    if bool(here.reaches):
        assert there.inner_angle_deg == pytest.approx(here.inner_angle_deg, abs=1e-9)
        assert float(there.plunge) - float(here.plunge) == pytest.approx(move, abs=1e-9)
