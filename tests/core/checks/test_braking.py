"""Brakes of the cars against their own independent check (tests/cars/*.json), and the rules."""

import msgspec
import pytest

from core.assess.braking import axle_brakes, brakes, braking, slope_held
from core.checks.braking import RULES
from core.document.base import Ref
from core.document.project import Document
from core.document.running_gear import BrakeSystem
from core.edits.things import make
from core.engine.assess import assess, compute
from core.engine.finding import Finding
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second
from tests.core.assess.weighed_cars import changed, weighed_car

WANTED = expected("demo-car")["brakes"]


def found(document: Document, rule: str | None = None) -> list[Finding]:
    table = assess(document, {}, None, RULES)
    return [each for each in table.findings() if rule in (None, each.rule)]


@pytest.mark.parametrize("case", ["driver alone", "two people, full tank"])
def test_brakes_of_the_demo_car_in_each_load(case: str) -> None:
    document, wanted = demo().drawn, WANTED[case]

    table = compute(document, {}, braking, ref(document, case))

    assert table.front_share == pytest.approx(WANTED["front_share_of_brake_force"], abs=5e-5)
    for row, (grip, axle, g, used) in zip(table.rows, wanted["rows"], strict=True):
        assert (row.grip, row.axle) == (grip, axle)
        assert row.deceleration_g == pytest.approx(g, abs=6e-4)
        assert row.deceleration_g / row.grip == pytest.approx(used, abs=6e-4)
    assert table.foot_for_1_g == pytest.approx(wanted["pedal_force_for_1g_N"], abs=0.51)
    pressures = list(wanted["pressure_for_1g_MPa"].values())
    assert table.pressures_for_1_g == pytest.approx(pressures, abs=0.006)
    slope = compute(document, {}, slope_held, ref(document, case))
    assert slope == pytest.approx(wanted["handbrake_slope_percent"], abs=0.06)


def test_piston_areas_of_the_demo_car() -> None:
    for end, area in WANTED["piston_area_one_side_mm2"].items():
        assert compute(demo().drawn, {}, axle_brakes, end).piston_area == pytest.approx(
            area, abs=0.06
        )


def test_the_drawn_load_is_that_of_the_driver_alone() -> None:
    document = demo().drawn

    drawn, case = (compute(document, {}, braking, c) for c in (None, ref(document, "driver alone")))

    assert drawn.rows == case.rows


def test_both_cars_have_no_fault_of_brakes() -> None:
    assert {f.verdict for f in found(demo().drawn)} == {"fine"}
    assert len(found(demo().drawn, "front_locks")) == 3
    for document in (second().drawn, empty(), only_tubes()):
        assert found(document) == []


def test_rear_calipers_of_50_mm_lock_the_rear_first() -> None:
    """Its own check: from a grip of 0.8 with the driver alone, 0.7 with two, on steps of 0.1."""
    car = changed(demo().drawn, "rear brakes", piston_diameter=50.0)

    assert compute(car, {}, brakes).front_share == pytest.approx(0.5329, abs=5e-5)
    by_load = {f.governing: f for f in found(car, "front_locks")}
    assert {f.verdict for f in by_load.values()} == {"no"}
    assert 0.7 < (by_load["driver alone"].measured or 0.0) < 0.8
    assert 0.6 < (by_load["two people, full tank"].measured or 0.0) < 0.7


def test_the_bar_moves_the_grip_at_which_both_lock() -> None:
    table = compute(demo().drawn, {}, braking, None)
    at_least = changed(demo().drawn, "brakes", front_share_of_rod_force=0.42)

    assert table.both_lock_by_bar is not None
    low, high = table.both_lock_by_bar
    assert low < table.both_lock_at < high
    assert compute(at_least, {}, braking, None).both_lock_at == pytest.approx(low)


def test_a_weak_hand_brake_is_told_of() -> None:
    document = demo().drawn
    hand = document.brake_systems[0].handbrake
    assert hand is not None
    weak = msgspec.structs.replace(hand, hand_force=150.0)

    verdicts = {f.verdict for f in found(changed(document, "brakes", handbrake=weak), "hand_brake")}

    assert verdicts == {"no"}


def test_what_is_not_entered_is_unknown() -> None:
    document = demo().drawn
    no_hand = changed(document, "brakes", handbrake=None)
    unweighed = changed(document, "seats_belts", mass_kg=None)
    pedal, _ = make(
        weighed_car(), BrakeSystem, "pedal", pad_friction=0.4, pedal_ratio=5.0,
        front_share_of_rod_force=0.5,
    )  # fmt: skip

    assert [f.verdict for f in found(no_hand, "hand_brake")] == ["unknown"]
    assert {f.verdict for f in found(unweighed)} == {"unknown"}
    assert "seats_belts" in found(unweighed)[0].sentence
    assert [f.verdict for f in found(pedal)] == ["unknown", "unknown"]
    assert "no brakes on front axle" in found(pedal, "front_locks")[0].sentence


def test_every_case_is_told_of_apart() -> None:
    subjects = [f.subjects for f in found(demo().drawn, "front_locks")]

    assert len(set(subjects)) == 3
    assert all(isinstance(each, Ref) for group in subjects for each in group)
