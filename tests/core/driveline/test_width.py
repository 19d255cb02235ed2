"""The chain of lengths across the driven wheels of two cars."""

import dataclasses
import json
import math
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.driveline.shaft import ShaftDoesNotReachError
from core.driveline.sides import DriveSide, Side
from core.driveline.width import joint_to_wheel_plane, wheel_plane, width_chain

CARS: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "reference" / "drive_shafts_of_two_cars.json").read_text()
)
SIDES: list[tuple[str, Side]] = [
    ("demo", "left"),
    ("demo", "right"),
    ("second", "left"),
    ("second", "right"),
]


def drive_side(car: str, side: Side) -> DriveSide:
    whole, shaft = CARS[car], CARS[car]["shafts"][side]
    axis = (0.0, 1.0, 0.0) if side == "left" else (0.0, -1.0, 0.0)
    return DriveSide(
        side=side,
        bell_housing_face_y=whole["bell_housing_face_y"],
        inner_joint=tuple(shaft["inner_joint"]),
        slide_axis=axis,
        outer_joint=tuple(shaft["outer_joint"]),
        spin_axis=axis,
        shaft_length=shaft["length"],
        joint_to_hub_face=whole["joint_to_hub_face"],
        spacer=whole["spacer"],
        wheel_offset=whole["wheel_offset"],
    )


@pytest.mark.parametrize(("car", "side"), SIDES)
def test_the_chain_ends_at_half_the_track(car: str, side: Side) -> None:
    drive = drive_side(car, side)

    chain = width_chain(drive)

    # Wheels stand upright at design position, so wheel plane and track agree.
    assert chain[-1].to_what == "wheel plane"
    assert chain[-1].total == pytest.approx(CARS[car]["track"] / 2, abs=1e-9)
    assert wheel_plane(drive) == pytest.approx(chain[-1].total, abs=1e-9)


@pytest.mark.parametrize(
    ("side", "expected"),
    [
        # By hand: faces and joints as drawn; 480.48 at 2.56 deg spans 480.00, 400.58 spans 400.00.
        ("left", [20.0, 150.0, 0.0, 480.0, 82.0, 0.0, -32.0]),
        ("right", [-20.0, 270.0, 0.0, 400.0, 82.0, 0.0, -32.0]),
    ],
)
def test_every_link_of_the_demo_car_is_as_worked_by_hand(side: Side, expected: list[float]) -> None:
    assert [link.y for link in width_chain(drive_side("demo", side))] == pytest.approx(
        expected, abs=0.005
    )


@pytest.mark.parametrize(("car", "side"), SIDES)
def test_each_total_is_the_one_before_with_its_own_length(car: str, side: Side) -> None:
    chain = width_chain(drive_side(car, side))

    assert chain[0].total == chain[0].y
    assert all(after.total == before.total + after.y for before, after in pairwise(chain))
    assert all(after.from_what == before.to_what for before, after in pairwise(chain))


def test_a_shaft_20_too_long_shows_as_plunge_and_moves_no_wheel() -> None:
    drive = drive_side("demo", "left")

    chain = width_chain(dataclasses.replace(drive, shaft_length=drive.shaft_length + 20.0))

    slid = next(link for link in chain if link.name == "plunge as drawn")
    assert slid.y == pytest.approx(-20.02, abs=0.01)
    assert chain[-1].total == pytest.approx(700.0, abs=1e-9)


def test_a_spacer_moves_the_wheel_out_and_more_offset_moves_it_in() -> None:
    drive = drive_side("demo", "right")

    spaced = wheel_plane(dataclasses.replace(drive, spacer=5.0))
    offset = wheel_plane(dataclasses.replace(drive, wheel_offset=40.0))

    assert spaced == pytest.approx(705.0)
    assert offset == pytest.approx(692.0)


def test_hub_lengths_lie_along_the_spin_axis_and_count_by_their_share_across() -> None:
    lean = math.radians(-1.0)
    spin = (0.0, math.cos(lean), -math.sin(lean))
    drive = dataclasses.replace(drive_side("demo", "left"), spin_axis=spin)

    assert joint_to_wheel_plane(drive) == pytest.approx(50.0 * math.cos(lean), abs=1e-12)
    assert width_chain(drive)[-1].total == pytest.approx(650.0 + 50.0 * math.cos(lean), abs=1e-9)


def test_a_shaft_that_cannot_span_says_by_how_much() -> None:
    drive = dataclasses.replace(drive_side("demo", "left"), outer_joint=(-2400.0, 650.0, 900.0))

    with pytest.raises(ShaftDoesNotReachError) as caught:
        width_chain(drive)

    assert caught.value.shortfalls[0] == pytest.approx(math.hypot(10.0, 600.0) - 480.48)


@given(move=st.floats(-300.0, 300.0), x=st.floats(-80.0, 80.0), z=st.floats(-80.0, 80.0))
def test_moving_the_whole_car_across_moves_only_the_first_length(
    move: float, x: float, z: float
) -> None:
    drive = dataclasses.replace(
        drive_side("demo", "right"), outer_joint=(-2390 + x, -650.0, 300 + z)
    )
    inner, outer = drive.inner_joint, drive.outer_joint

    here = width_chain(drive)
    there = width_chain(
        dataclasses.replace(
            drive,
            bell_housing_face_y=drive.bell_housing_face_y + move,
            inner_joint=(inner[0], inner[1] + move, inner[2]),
            outer_joint=(outer[0], outer[1] + move, outer[2]),
        )
    )

    assert there[0].y == pytest.approx(here[0].y - move, abs=1e-9)
    assert [link.y for link in there[1:]] == pytest.approx([link.y for link in here[1:]], abs=1e-9)


@given(x=st.floats(-80.0, 80.0), y=st.floats(-30.0, 30.0), z=st.floats(-80.0, 80.0))
def test_a_mirrored_side_has_the_same_chain(x: float, y: float, z: float) -> None:
    left = dataclasses.replace(
        drive_side("demo", "left"), outer_joint=(-2390 + x, 650 + y, 300 + z), spin_axis=(x, 900, z)
    )
    right = dataclasses.replace(
        left,
        side="right",
        bell_housing_face_y=-left.bell_housing_face_y,
        inner_joint=(left.inner_joint[0], -left.inner_joint[1], left.inner_joint[2]),
        slide_axis=(0.0, -1.0, 0.0),
        outer_joint=(left.outer_joint[0], -left.outer_joint[1], left.outer_joint[2]),
        spin_axis=(left.spin_axis[0], -left.spin_axis[1], left.spin_axis[2]),
    )

    assert width_chain(right) == width_chain(left)
