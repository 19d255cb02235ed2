"""The whole chain on two invented cars, against figures computed by another method."""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.clearance.bodies import Body
from core.clearance.gaps import Gap, gaps, least_gap, swept_gap
from core.clearance.lifting import RollOut, lift_to_roll_out, lifts
from core.clearance.lines import Line, grouped, one_by_one
from core.geometry.frames import Frame
from core.geometry.meshes import box_mesh, joined
from core.geometry.types import Array, unit
from tests.oracles.gaps import least_of_all

CARS: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "reference" / "clearance_cars.json").read_text(encoding="utf-8")
)
ROUNDING = 0.05
"""The expected figures are rounded to 0.1."""

ONE_DEGREE = math.radians(1.0)
AT_REST = Frame(np.zeros(3), np.eye(3))


def body_of(car: dict[str, Any]) -> Body:
    mesh, part = joined([box_mesh(box["min"], box["max"]) for box in car["boxes"]])
    return Body(mesh, part)


def rounded_corner(before: Array, vertex: Array, after: Array, radius: float) -> Array:
    """Points on the arc of `radius` that rounds the corner at `vertex`, ends included."""
    to_before, to_after = unit(before - vertex), unit(after - vertex)
    turn = math.pi - math.acos(float(to_before @ to_after))
    centre = vertex + unit(to_before + to_after) * radius / math.cos(turn / 2)
    start = vertex + to_before * radius * math.tan(turn / 2) - centre
    # It sets out along the first straight, away from the point before.
    angles = np.linspace(0.0, turn, max(3, math.ceil(turn / ONE_DEGREE) + 1))[:, None]
    return np.asarray(centre + start * np.cos(angles) - to_before * radius * np.sin(angles))


def line_of(tube: dict[str, Any]) -> Line:
    vertices = np.array(tube["vertices"], dtype=np.float64)
    inner = zip(vertices, vertices[1:], vertices[2:], tube["bend_radii"], strict=False)
    bends = [rounded_corner(*corner) for corner in inner]
    return Line(np.concatenate([vertices[:1], *bends, vertices[-1:]]), tube["outside_diameter"] / 2)


def lines_of(tubes: list[dict[str, Any]]) -> list[Line]:
    return [line_of(tube) for tube in tubes]


def assert_is(
    found: Gap | None, expected: dict[str, Any], car: dict[str, Any], tubes: list[dict[str, Any]]
) -> None:
    assert found is not None
    assert found.gap == pytest.approx(expected["gap"], abs=ROUNDING)
    assert tubes[found.line]["id"] == expected["tube"]
    assert car["boxes"][found.part]["name"] == expected["part"]


@pytest.mark.parametrize("name", ["first", "second"])
def test_least_gap_at_rest(name: str) -> None:
    car = CARS[name]

    found = least_of_all(body_of(car), AT_REST, grouped(lines_of(car["tubes"])))

    assert_is(found, car["expected"]["rest"], car, car["tubes"])


@pytest.mark.parametrize(
    ("shift", "case"), [(0.0, "down_1200"), (-20.0, "down_1200_unit_20_to_the_right")]
)
def test_straight_down(shift: float, case: str) -> None:
    car = CARS["first"]
    body, place = body_of(car), Frame(np.array([0.0, shift, 0.0]), np.eye(3))

    found = min(
        (
            swept_gap(body, place, group, (0.0, 0.0, -1200.0))
            for group in grouped(lines_of(car["tubes"]))
        ),
        key=lambda gap: gap.gap,
    )

    assert_is(found, car["expected"][case], car, car["tubes"])


def test_unit_too_far_to_the_right_overlaps() -> None:
    car = CARS["first"]
    place = Frame(np.array([0.0, -20.0, 0.0]), np.eye(3))

    found = least_of_all(body_of(car), place, grouped(lines_of(car["tubes"])))

    assert_is(found, car["expected"]["rest_unit_20_to_the_right"], car, car["tubes"])


def test_cross_tube_below_blocks_the_way_down() -> None:
    car = CARS["first"]
    tubes = [*car["tubes"], car["cross_tube"]]
    expected = car["expected"]["down_1200_with_cross_tube"]
    sweep = (0.0, 0.0, -1200.0)

    found = [swept_gap(body_of(car), AT_REST, g, sweep) for g in one_by_one(lines_of(tubes))]

    least = min(found, key=lambda gap: gap.gap)
    assert least.gap == pytest.approx(expected["gap"], abs=ROUNDING)
    assert tubes[least.line]["id"] == expected["tube"]
    # Two parts cross the centre line on their way down, and any of them may be named.
    assert car["boxes"][least.part]["name"] in {expected["part"], "final_drive_housing"}


def test_rising_out_with_the_bolted_tube_away() -> None:
    car = CARS["second"]
    tubes = [tube for tube in car["tubes"] if tube["id"] != "N17_strut_cross"]
    groups = grouped(lines_of(tubes))

    found = [swept_gap(body_of(car), AT_REST, group, (0.0, 0.0, 900.0)) for group in groups]

    expected = car["expected"]["up_900_without_N17_strut_cross"]
    assert_is(min(found, key=lambda gap: gap.gap), expected, car, tubes)


def test_rising_out_is_blocked_by_the_bolted_tube() -> None:
    car = CARS["second"]

    found = [
        swept_gap(body_of(car), AT_REST, group, (0.0, 0.0, 900.0))
        for group in grouped(lines_of(car["tubes"]))
    ]

    least = min(found, key=lambda gap: gap.gap)
    assert car["tubes"][least.line]["id"] == "N17_strut_cross"
    assert least.gap == -car["tubes"][least.line]["outside_diameter"] / 2


def test_lift_to_roll_out_rearwards() -> None:
    car = CARS["first"]
    expected = car["expected"]["lift_rearwards_dolly_100_gap_20"]
    way = RollOut(dolly_height=100.0, wanted_gap=20.0)

    found = lift_to_roll_out(body_of(car), AT_REST, grouped(lines_of(car["tubes"])), way)

    assert found.height == pytest.approx(expected["height"], abs=ROUNDING)
    assert found.governed_by is not None
    assert found.governed_by.gap == pytest.approx(20.0, abs=2e-6)
    assert car["tubes"][found.governed_by.line]["id"] == expected["tube"]
    assert car["boxes"][found.governed_by.part]["name"] == expected["part"]


def test_lift_is_the_greatest_any_tube_asks() -> None:
    car = CARS["first"]
    body, lines = body_of(car), lines_of(car["tubes"])
    way = RollOut(dolly_height=100.0, wanted_gap=20.0)

    one_each = lifts(body, AT_REST, one_by_one(lines), way)
    found = lift_to_roll_out(body, AT_REST, grouped(lines), way)

    assert max(lift.height for lift in one_each) == pytest.approx(found.height, abs=3e-6)


def test_least_of_a_group_is_the_least_of_its_lines() -> None:
    car = CARS["first"]
    body, lines = body_of(car), lines_of(car["tubes"])

    alone = gaps(body, AT_REST, one_by_one(lines))

    for group in grouped(lines):
        least = least_gap(body, AT_REST, group)
        assert least == min((alone[n] for n in group.numbers), key=lambda gap: gap.gap)
