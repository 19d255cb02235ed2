"""The engine on its mounts in both cars, against their own independent check (tests/cars/*.json).

That check is in numpy alone and shares no code with this program; its figures are printed to 0.01
mm, 0.001 degree, 1 N, 0.1 Hz, and they are met to the last digit.
"""

from collections.abc import Callable
from typing import Any

import msgspec
import numpy as np
import pytest

from core.assess.clearance import gaps_at_rest
from core.assess.mount_loads import asked, bounds, loads_told, tyre_bound
from core.assess.mount_moves import case_moved, envelope, gaps_moved
from core.assess.mounts import Which, bush_of, mounts_of_unit, roll_axis, static_sag, unit_shakes
from core.balance.masses import GRAVITY
from core.document.base import Ref, Vec3
from core.document.power import Mount, PowerUnit
from core.document.project import Document, Project
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.powerunit.cases import CASES, Way
from tests.cars.stored import demo, expected, second
from tests.core.assess.weighed_cars import changed

Car = Callable[[], Project]
CARS = pytest.mark.parametrize(("name", "project"), [("demo-car", demo), ("second-car", second)])

WHICH: tuple[Which, Which] = ("fitted", "softest")
WAYS: tuple[Way, Way] = ("ahead", "back")

NAMES = {
    "first_gear": "first_gear_engine_limit",
    "reverse": "reverse_engine_limit",
    "grip_1.0": "first_gear_grip_mu_1.0",
    "grip_1.5": "first_gear_grip_mu_1.5",
    "clutch": "clutch_limit",
    "braking": "braking_1g",
    "driving": "drive_off_1g",
    "left": "cornering_left_1g",
    "right": "cornering_right_1g",
    "bump": "bump_3g",
}
MM, DEG, N, HZ = 0.00501, 0.000501, 0.501, 0.0501  # half of the last digit printed


def wanted(name: str) -> dict[str, Any]:
    found: dict[str, Any] = expected(name)["mounts"]
    return found


def with_inserts(document: Document, name: str) -> Document:
    """Other inserts put in by the edit that a person makes."""
    for mount in document.mounts:
        document = change(document, Address(Ref(mount.id), "fitted"), name)
    return document


def unit_changed(document: Document, **values: Any) -> Document:  # noqa: ANN401
    return changed(document, document.power_units[0].name, **values)


def test_every_load_of_the_check_is_looked_at() -> None:
    assert set(NAMES.values()) == set(wanted("demo-car")["cases"])
    assert set(NAMES) <= {each.key for each in CASES}


@CARS
@pytest.mark.parametrize("key", NAMES)
def test_moves_turns_and_forces_of_each_load(name: str, project: Car, key: str) -> None:
    row = wanted(name)["cases"][NAMES[key]]

    found = compute(project().drawn, {}, case_moved, key, "fitted")

    assert found.asked.torque_nm == pytest.approx(row["axle_torque_Nm"], abs=N)
    assert found.moved.move == pytest.approx(row["move_of_cg"], abs=MM)
    assert found.moved.turn_deg == pytest.approx(row["turn_deg"], abs=DEG)
    for number, mount in enumerate(row["mounts"].values()):
        assert found.moved.forces[number] == pytest.approx(mount["force_on_frame"], abs=N)
        assert found.moved.own_moves[number] == pytest.approx(mount["own_axis_move"], abs=MM)
    assert [f"{ref.id} {axis}" for ref, axis in found.stops_met] == row["stops_met"] == []


@CARS
@pytest.mark.parametrize("key", NAMES)
def test_least_gap_moved_by_each_load(name: str, project: Car, key: str) -> None:
    document = project().drawn
    mm, tube, part = wanted(name)["cases"][NAMES[key]]["least_gap_moved"]

    gap = compute(document, {}, gaps_moved, key, "fitted", 1.0)[0]

    assert gap.gap == pytest.approx(mm, abs=0.0501)
    assert (_name(document, gap.tube.id, gap.tube.side), gap.part) == (tube, part)


def _name(document: Document, thing_id: str, side: str) -> str:
    (name,) = [tube.name for tube in document.tubes if tube.id == thing_id]
    return name + {"left": "_L", "right": "_R"}.get(side, "")


@CARS
@pytest.mark.parametrize("insert", ["soft", "standard", "firm"])
@pytest.mark.parametrize("key", ["first_gear", "bump"])
def test_moves_with_each_insert(name: str, project: Car, insert: str, key: str) -> None:
    row = wanted(name)["inserts"][insert][NAMES[key]]
    document = with_inserts(project().drawn, insert)

    found = compute(document, {}, case_moved, key, "fitted")

    assert found.moved.move == pytest.approx(row["move_of_cg"], abs=MM)
    assert found.moved.turn_deg == pytest.approx(row["turn_deg"], abs=DEG)
    gap = compute(document, {}, gaps_moved, key, "fitted", 1.0)[0]
    assert gap.gap == pytest.approx(row["least_gap_moved"][0], abs=0.0501)


@CARS
def test_the_softest_inserts_are_the_soft_ones(name: str, project: Car) -> None:
    row = wanted(name)["inserts"]["soft"]["bump_3g"]

    found = compute(project().drawn, {}, case_moved, "bump", "softest")

    assert found.moved.move == pytest.approx(row["move_of_cg"], abs=MM)


@CARS
def test_frequencies_roll_axis_and_sag(name: str, project: Car) -> None:
    document, row = project().drawn, wanted(name)

    assert compute(document, {}, unit_shakes).frequencies == pytest.approx(
        row["rigid_body_frequencies_Hz"], abs=HZ
    )
    assert compute(document, {}, roll_axis) == pytest.approx(row["torque_roll_axis"], abs=DEG)
    assert compute(document, {}, static_sag).move == pytest.approx(row["static_sag"], abs=MM)


@CARS
def test_softer_inserts_move_farther_in_every_load(name: str, project: Car) -> None:
    document = project().drawn

    fitted, soft = (compute(document, {}, envelope, which) for which in WHICH)

    assert (soft.low <= fitted.low).all()
    assert (soft.high >= fitted.high).all()
    assert fitted.past == ()
    assert soft.past  # over 3 degrees in first gear, by the check too
    assert name


def test_what_engine_clutch_and_tyres_give_and_what_slips_first() -> None:
    """Engine 2521 and clutch 3782 N m by the check; tyres 2756 at a grip of 1.5."""
    document = demo().drawn

    most = compute(document, {}, bounds, "ahead")

    assert (most.engine, most.clutch, most.tyres) == pytest.approx((2521, 3782, 2756), abs=0.5)
    assert [compute(document, {}, asked, key).slips for key in ("first_gear", "clutch")] == [
        "",
        "tyres",
    ]
    snapped = compute(document, {}, asked, "snap")
    assert snapped.torque_nm == most.tyres
    # F / m: what pushes the car ahead is the torque over the radius of its tyres.
    assert snapped.acceleration_g[0] == pytest.approx(2756.0 / 0.281 / (874.5 * GRAVITY), rel=1e-3)


def test_tyres_of_a_front_driven_car_give_more_in_reverse() -> None:
    """Load moves onto the end that trails: mu f / (1 + mu h/l) ahead, mu f / (1 - mu h/l) back."""
    document, row = second().drawn, expected("second-car")["mass"]
    lever = 1.5 * row["cg"][2] / 1900.0

    ahead, back = (compute(document, {}, tyre_bound, 1.5, way) for way in WAYS)

    assert back / ahead == pytest.approx((1.0 + lever) / (1.0 - lever), rel=1e-3)


def test_what_slips_first_does_not_count_and_what_bounds_it_does() -> None:
    told = compute(demo().drawn, {}, loads_told)

    assert told.slip == ("reverse", "clutch")
    assert {"snap", "snap_back"} <= set(told.count)
    assert told.unknown == ()


def test_a_car_not_weighed_is_bounded_by_its_clutch_alone() -> None:
    document = changed(demo().drawn, "seats_belts", mass_kg=None)

    told = compute(document, {}, loads_told)

    assert {key for key, _ in told.unknown} == {"kerb_left", "kerb_right"}
    snapped = compute(document, {}, asked, "snap")
    assert snapped.torque_nm == pytest.approx(3782.0, abs=0.5)
    assert snapped.left_out.startswith("the speed gained")


def test_without_clutch_and_weights_nothing_bounds_the_snap() -> None:
    document = changed(demo().drawn, "seats_belts", mass_kg=None)
    document = unit_changed(document, clutch_factor=None)

    told = compute(document, {}, loads_told)

    assert {"snap", "snap_back", "clutch", "grip_1.5"} <= {key for key, _ in told.unknown}
    assert "first_gear" in told.count


def test_an_engine_turned_about_in_the_car_still_lifts_its_front() -> None:
    """The torque follows the outputs: in a unit turned by half about z its own left is right."""
    document = demo().drawn
    outputs = document.power_units[0].outputs
    assert outputs is not None
    swapped = msgspec.structs.replace(
        outputs, left_axis=Vec3(0.0, -1.0, 0.0), right_axis=Vec3(0.0, 1.0, 0.0)
    )

    for unit_outputs in (outputs, swapped, None):
        turned = unit_changed(document, outputs=unit_outputs)
        found = compute(turned, {}, case_moved, "first_gear", "fitted")
        assert found.moved.turn_deg[1] == pytest.approx(-1.896, abs=DEG)


@CARS
@pytest.mark.parametrize("key", ["left", "bump", "kerb_right", "snap_back"])
def test_tubes_left_out_are_too_far_to_come_near(name: str, project: Car, key: str) -> None:
    """Brute force: the gap to every tube, whatever it is at rest, from a car with huge limits."""
    document = project().drawn
    few = compute(document, {}, gaps_moved, key, "fitted", 1.0)
    far = tuple(
        msgspec.structs.replace(limit, value=20000.0) if limit.rule == "unit_gap_moved" else limit
        for limit in document.limits
    )
    every = compute(
        msgspec.structs.replace(document, limits=far), {}, gaps_moved, key, "fitted", 1.0
    )

    assert len(every) == len(compute(document, {}, gaps_at_rest))
    assert len(few) < len(every)
    assert [gap for gap in every if gap.tube in {near.tube for near in few}] == list(few)
    assert min(gap.gap for gap in every if gap.tube not in {near.tube for near in few}) > 10.0
    assert name


def test_a_stay_pulls_along_its_two_ends_wherever_they_are() -> None:
    document = demo().drawn
    stay = document.mounts[2]
    assert stay.chassis_end is not None
    moved = msgspec.structs.replace(stay, chassis_end=stay.chassis_end._replace(z=128.0))
    document = msgspec.structs.replace(document, mounts=(*document.mounts[:2], moved))

    refs = compute(document, {}, mounts_of_unit)
    bush = compute(document, {}, bush_of, refs[2], "fitted")

    along = np.array([-88.0, 0.0, -60.0])
    assert bush.axes[:, 0] == pytest.approx(along / np.linalg.norm(along), abs=1e-9)


@pytest.mark.parametrize(
    ("kind", "values", "words"),
    [
        (PowerUnit, {"mass_kg": None}, "the weight of"),
        (PowerUnit, {"centre_of_gravity": None}, "the centre of gravity of"),
        (Mount, {"inserts": (), "fitted": ""}, "how stiff M1_right_engine is is not known"),
        (Mount, {"fitted": ""}, "which of its inserts is fitted in M1_right_engine is not known"),
    ],
)
def test_what_is_not_known_is_named(kind: type, values: dict[str, Any], words: str) -> None:
    document = demo().drawn
    thing = document.power_units[0] if kind is PowerUnit else document.mounts[0]
    document = changed(document, thing.name, **values)

    with pytest.raises(NotComputedError, match=words):
        compute(document, {}, case_moved, "bump", "fitted")


def test_an_engine_of_unknown_inertia_moves_but_does_not_shake() -> None:
    document = unit_changed(demo().drawn, inertia=None)

    assert compute(document, {}, case_moved, "bump", "fitted").holds == 1.0
    with pytest.raises(NotComputedError, match="moments of inertia"):
        compute(document, {}, unit_shakes)
