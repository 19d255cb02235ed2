"""What cars weigh, against their own independent check (tests/cars/*.json) and plain sums."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.masses import weighed_things
from core.assess.stands import on_stands
from core.assess.weights import (
    contacts,
    corner_load,
    loads_at_design,
    loads_of_case,
    scales,
    sprung_load,
    summed_load,
    weight_at_design,
    weight_of_case,
    wheel_order,
    whole,
)
from core.document.base import Own, Ref, Vec3
from core.document.layers import replace_thing
from core.document.power import PowerUnit
from core.document.project import Document, Project
from core.document.records import Aboard, LoadCase, Part
from core.document.steel import Bracket, Point
from core.edits.things import make
from core.engine.assess import assess, compute
from core.engine.cells import NotComputedError
from core.engine.run import cell_key
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second
from tests.core.assess.weighed_cars import changed, on_scales, weighed_car

KG = 0.051  # printed to 0.1 kg
MM = 0.06  # printed to 0.1 mm; joints are stored to 0.01 mm
BOTH = [("demo-car", demo), ("second-car", second)]
G = 9.80665  # m/s2, standard


def group(document: Document, name: str) -> float:
    return dict(compute(document, {}, weight_at_design).groups)[name]


@pytest.mark.parametrize(("name", "project"), BOTH)
def test_whole_car_at_the_design_load(name: str, project: Callable[[], Project]) -> None:
    wanted = expected(name)["mass"]

    loads = compute(project().drawn, {}, loads_at_design)

    assert loads.mass_kg == pytest.approx(wanted["total_kg"], abs=KG)
    assert loads.centre == pytest.approx(wanted["cg"], abs=MM)
    assert loads.rear_percent == pytest.approx(wanted["rear_percent"], abs=0.05)
    assert group(project().drawn, "tubes") == pytest.approx(wanted["tubes_kg"], abs=0.006)
    for end, left in (("front", 0), ("rear", 2)):
        mean = sum(loads.corners[left : left + 2]) / 2.0
        assert mean == pytest.approx(wanted[end]["corner_kg"], abs=KG)


def test_sheets_of_the_demo_car_one_by_one() -> None:
    document, wanted = demo().drawn, expected("demo-car")["panels"]
    items = {item.ref: item for item in compute(document, {}, weighed_things)}

    for name, figures in wanted.items():
        item = items[ref(document, name)]
        assert item.group == "sheets"
        assert item.mass_kg == pytest.approx(figures["mass_kg"], abs=0.006)


def test_brackets_sheets_and_firewall_of_the_demo_car_together() -> None:
    document, wanted = demo().drawn, expected("demo-car")["mass"]
    named = ref(document, "brackets_and_fixings")
    items = compute(document, {}, weighed_things)
    together = [item for item in items if item.group == "sheets" or item.ref == named]
    masses = np.array([item.mass_kg for item in together])

    assert masses.sum() == pytest.approx(wanted["brackets_sheet_firewall_kg"], abs=0.006)
    places = np.array([item.centre for item in together])
    at = masses @ places / masses.sum()
    assert at == pytest.approx(wanted["brackets_sheet_firewall_cg"], abs=MM)


def test_load_cases_of_the_demo_car_replace_what_is_aboard() -> None:
    document = demo().drawn

    for case in document.load_cases:
        wanted = expected("demo-car")["brakes"][case.name]
        mass, centre = whole(compute(document, {}, weight_of_case, Ref(case.id)))
        assert mass == pytest.approx(wanted["mass_kg"], abs=KG)
        assert centre == pytest.approx(wanted["cg"], abs=MM)


def test_all_five_states_of_the_lift_of_the_demo_car() -> None:
    document, wanted = demo().drawn, expected("demo-car")["lift_states"]
    (lift,) = document.lifts
    front = {ref(document, f"C_low_{side}") for side in "LR"}

    for number, state in enumerate(lift.states):
        figures, found = wanted[state.name], compute(document, {}, on_stands, Ref(lift.id), number)
        assert found.mass_kg == pytest.approx(figures["mass_kg"], abs=KG)
        assert found.centre == pytest.approx(figures["cg"], abs=MM)
        pairs = _pair_loads(found.loads, front)
        assert pairs[0] == pytest.approx(figures["front_stands_kg"], abs=KG)
        assert pairs[1] == pytest.approx(figures["rear_stands_kg"], abs=KG)
        spare = min(figures["cg_ahead_of_rear_stands"], figures["cg_behind_front_stands"])
        assert found.margin == pytest.approx(spare, abs=MM)
    assert len(wanted) == len(lift.states) == 5


def _pair_loads(loads: Any, front: set[Ref]) -> tuple[float, float]:  # noqa: ANN401
    at_front = sum(load.alike_kg for load in loads if load.stand in front)
    return at_front, sum(load.alike_kg for load in loads) - at_front


def test_axles_of_each_state_if_it_stood_on_its_wheels() -> None:
    """The same states as load cases, on wheels."""
    document, wanted = demo().drawn, expected("demo-car")["lift_states"]

    for state in document.lifts[0].states:
        cased, case = make(document, LoadCase, state.name, without=state.without)
        loads = compute(cased, {}, loads_of_case, Ref(case.id))
        assert loads.front_kg == pytest.approx(wanted[state.name]["front_axle_kg"], abs=KG)
        assert loads.rear_kg == pytest.approx(wanted[state.name]["rear_axle_kg"], abs=KG)


def test_an_empty_car_and_one_of_tubes_alone_say_that_they_are_not_known_whole() -> None:
    for document in (empty(), only_tubes()):
        with pytest.raises(NotComputedError, match="parts list"):
            whole(compute(document, {}, weight_at_design))
        with pytest.raises(NotComputedError):
            compute(document, {}, loads_at_design)
    tubes = compute(only_tubes(), {}, weight_at_design)
    assert tubes.least_kg == pytest.approx(group(only_tubes(), "tubes"))
    assert tubes.least_kg > 1.0


def test_a_car_of_parts_and_wheels_alone() -> None:
    """By hand: (400 1800 + 80 1000) / 480 = 1666.7 behind; 80 300 / 480 = 50 to the left."""
    document = weighed_car()

    loads = compute(document, {}, loads_at_design)

    assert loads.mass_kg == 480.0
    assert loads.centre == pytest.approx((-1666.667, 50.0, 375.0), abs=0.001)
    assert (loads.front_kg, loads.rear_kg) == pytest.approx((80.0, 400.0))
    share = 0.5 + 50.0 / 1400.0
    assert loads.corners == pytest.approx(
        (80 * share, 80 * (1 - share), 400 * share, 400 * (1 - share))
    )


def test_the_driver_is_on_the_left_and_so_are_the_heavier_wheels() -> None:
    document = weighed_car()
    left, right = (ref(document, f"rear corner {side}") for side in ("left", "right"))

    assert compute(document, {}, wheel_order)[2:] == (left, right)
    assert compute(document, {}, corner_load, left) > compute(document, {}, corner_load, right)
    assert (compute(document, {}, contacts)[[0, 2], 1] > 0.0).all()


def test_wheels_that_lean_stand_further_out_or_in() -> None:
    """Top leaned in by 2 degrees: the contact is R sin 2 further out than the centre."""
    lean = np.radians(2.0)
    car = weighed_car()
    upright = car.corners[0].upright
    leaned = changed(
        car,
        "front corner left",
        upright=type(upright)(
            hub_face=upright.hub_face, spin_axis=Vec3(0.0, np.cos(lean), np.sin(lean))
        ),
    )

    before, after = (compute(each, {}, contacts)[0, 1] for each in (car, leaned))

    moved = 20.0 * (1.0 - np.cos(lean))  # the wheel plane is 20 inboard along the axis
    assert after - before == pytest.approx(280.0 * np.sin(lean) + moved, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.tuples(*[st.floats(-400.0, 400.0)] * 3), st.floats(1.0, 500.0))
def test_moving_a_part_moves_the_whole_by_its_share(by: tuple[float, ...], mass: float) -> None:
    at = Vec3(-900.0, 0.0, 300.0)
    car, _ = make(weighed_car(), Part, "tank", mass_kg=mass, centre_of_gravity=at)
    moved = changed(car, "tank", centre_of_gravity=Vec3(*(np.array(at) + by).tolist()))

    (kg, before), (_, after) = (whole(compute(d, {}, weight_at_design)) for d in (car, moved))

    assert np.array(after) - before == pytest.approx(np.array(by) * mass / kg, abs=1e-9)


def test_a_tube_that_a_part_stands_for_is_weighed_once() -> None:
    document = demo().drawn
    tube = ref(document, "M20_screen_header")
    by_itself = next(i for i in compute(document, {}, weighed_things) if i.ref == tube)
    bought, _ = make(document, Part, "bought header", stands_for=tube)
    weighed, _ = make(document, Part, "weighed header", stands_for=tube, mass_kg=5.0)
    before = compute(document, {}, weight_at_design).least_kg
    assert by_itself.mass_kg is not None

    assert compute(bought, {}, weight_at_design).least_kg == pytest.approx(before)
    found = compute(weighed, {}, weight_at_design).least_kg
    assert found == pytest.approx(before - by_itself.mass_kg + 5.0)


def test_an_engine_counts_once_whether_or_not_a_part_stands_for_it() -> None:
    document = demo().drawn
    alone = replace_thing(document, _without_stand_in(document))
    part = ref(document, "power_unit_wet")
    alone = changed(alone, "power_unit_wet", mass_kg=0.0)

    with_part, by_itself = (compute(d, {}, weight_at_design) for d in (document, alone))

    assert by_itself.least_kg == pytest.approx(with_part.least_kg)
    assert by_itself.centre == pytest.approx(with_part.centre)
    assert part in {item.ref for item in compute(document, {}, weighed_things)}


def _without_stand_in(document: Document) -> Part:
    (part,) = (p for p in document.parts if p.name == "power_unit_wet")
    return Part(id=part.id, name=part.name)


def test_of_two_parts_for_one_thing_only_one_takes_its_weight() -> None:
    document = demo().drawn
    unit = ref(document, "PU-4T transverse four-cylinder with end-on five-speed gearbox")
    doubled, _ = make(document, Part, "engine again", stands_for=unit)

    weight = compute(doubled, {}, weight_at_design)

    assert weight.least_kg == pytest.approx(compute(document, {}, weight_at_design).least_kg)
    assert weight.missing[0][1] == "the weight of engine again"


def test_a_bracket_with_a_weight_counts_half_way_along_it() -> None:
    document = empty()
    document, foot = make(document, Point, "foot", at=Vec3(0.0, 0.0, 100.0))
    document, eye = make(document, Point, "eye", at=Vec3(60.0, 0.0, 140.0))
    ends = {"carries": Ref(eye.id), "on": Ref(foot.id)}
    document, _ = make(document, Bracket, "bracket", mass_kg=0.4, **ends)

    weight = compute(document, {}, weight_at_design)

    assert weight.least_kg == pytest.approx(0.4)
    assert weight.centre == pytest.approx((30.0, 0.0, 120.0))
    assert weight.unweighed_brackets == 0
    unweighed = compute(changed(document, "bracket", mass_kg=None), {}, weight_at_design)
    assert (unweighed.least_kg, unweighed.unweighed_brackets) == (0.0, 1)


def test_a_part_on_the_unit_moves_with_it() -> None:
    car, unit = make(weighed_car(), PowerUnit, "unit", origin=Vec3(-1800.0, 0.0, 300.0))
    car, part = make(
        car, Part, "pump", carrier="unit", mass_kg=2.0, centre_of_gravity=Vec3(10.0, 20.0, 30.0)
    )

    (item,) = (i for i in compute(car, {}, weighed_things) if i.ref == Ref(part.id))

    assert item.centre == pytest.approx((-1790.0, 20.0, 330.0))
    missing = compute(car, {}, weight_at_design).missing
    assert missing == ((Ref(unit.id), "the weight of unit"),)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"centre_of_gravity": Vec3(0.0, 0.0, 0.0)}, "the weight of radiator"),
        ({"mass_kg": 9.0}, "the centre of gravity of radiator"),
        (
            {"mass_kg": 9.0, "centre_of_gravity": Vec3(0.0, 0.0, 0.0), "carrier": "table"},
            "the centre of gravity of radiator",
        ),
    ],
)
def test_a_part_without_a_figure_is_named_and_the_rest_is_a_least(
    values: dict[str, object], words: str
) -> None:
    car, _ = make(weighed_car(), Part, "radiator", **values)

    weight = compute(car, {}, weight_at_design)

    assert weight.least_kg == 480.0
    with pytest.raises(NotComputedError, match=f"{words} is not known"):
        whole(weight)
    with pytest.raises(NotComputedError, match="radiator"):
        compute(car, {}, sprung_load, ref(car, "front corner left"))


def test_a_load_case_gives_a_weight_that_was_not_known() -> None:
    car, part = make(weighed_car(), Part, "fuel", centre_of_gravity=Vec3(-1000.0, 0.0, 300.0))
    car, case = make(car, LoadCase, "full", aboard=(Aboard(part=Ref(part.id), mass_kg=20.0),))

    assert whole(compute(car, {}, weight_of_case, Ref(case.id)))[0] == 500.0


def test_a_pair_of_parts_weighs_twice_and_is_mirrored() -> None:
    car, _ = make(
        weighed_car(), Part, "seat", pair=True, mass_kg=10.0,
        centre_of_gravity=Vec3(-1000.0, 250.0, 300.0),
    )  # fmt: skip

    mass, centre = whole(compute(car, {}, weight_at_design))

    assert mass == 500.0
    assert centre.y == pytest.approx(80.0 * 300.0 / 500.0)


def test_a_wheel_on_scales_goes_before_the_sum() -> None:
    car = on_scales(weighed_car(), {"front corner left": 50.0})
    left = ref(car, "front corner left")

    assert compute(car, {}, corner_load, left) == 50.0
    assert compute(car, {}, summed_load, left) == pytest.approx(80.0 * (0.5 + 50.0 / 1400.0))
    assert compute(car, {}, sprung_load, left) == pytest.approx(20.0 * G)


def test_a_wheel_on_scales_needs_no_parts_list() -> None:
    car = changed(weighed_car(), "engine", mass_kg=None)
    car = on_scales(car, {"front corner left": 50.0, "front corner right": 45.0})

    for side, kg in (("left", 50.0), ("right", 45.0)):
        sprung = compute(car, {}, sprung_load, ref(car, f"front corner {side}"))
        assert sprung == pytest.approx((kg - 30.0) * G)
    with pytest.raises(NotComputedError, match="engine"):
        compute(car, {}, sprung_load, ref(car, "rear corner left"))


def test_sprung_load_leaves_out_what_is_unsprung() -> None:
    document = demo().drawn
    corner = ref(document, "rear corner left")

    load = compute(document, {}, corner_load, corner)

    assert compute(document, {}, sprung_load, corner) == pytest.approx((load - 44.0) * G)


@pytest.mark.parametrize(("unsprung", "words"), [(None, "unsprung mass of front"), (90.0, "more")])
def test_no_sprung_load_without_a_fitting_unsprung_mass(unsprung: float | None, words: str) -> None:
    car = changed(weighed_car(), "front corner left", unsprung_mass_kg=unsprung)

    with pytest.raises(NotComputedError, match=words):
        compute(car, {}, sprung_load, ref(car, "front corner left"))


def test_scales_under_all_wheels_find_the_centre_of_gravity() -> None:
    loads = compute(weighed_car(), {}, loads_at_design)
    names = [f"{end} corner {side}" for end in ("front", "rear") for side in ("left", "right")]
    car = on_scales(weighed_car(), dict(zip(names, loads.corners, strict=True)))

    found = compute(car, {}, scales)

    assert found is not None
    assert found.at == pytest.approx(loads.centre[:2], abs=1e-9)
    assert compute(on_scales(car, {names[0]: 60.0}), {}, scales) is None


def test_a_centre_of_gravity_beyond_the_wheels_is_told() -> None:
    car = changed(weighed_car(), "engine", centre_of_gravity=Vec3(-2600.0, 0.0, 300.0))

    with pytest.raises(NotComputedError, match="not between the wheels"):
        compute(car, {}, loads_at_design)


def test_right_hand_part_of_a_pair_may_weigh_its_own() -> None:
    car, part = make(
        weighed_car(), Part, "seat", pair=True, mass_kg=10.0,
        centre_of_gravity=Vec3(-1000.0, 250.0, 300.0),
    )  # fmt: skip
    car = changed(car, "seat left", right=(Own(of="mass_kg", value=14.0),))

    items = {item.ref: item.mass_kg for item in compute(car, {}, weighed_things)}

    assert items[Ref(part.id, "left")] == 10.0
    assert items[Ref(part.id, "right")] == 14.0


def test_a_new_weight_runs_again_no_tube() -> None:
    document = demo().drawn
    first = assess(document, {}, None, (), also=(loads_at_design,))
    heavier = changed(document, "seats_belts", mass_kg=20.0)

    after = assess(heavier, {}, first, (), also=(loads_at_design,))

    ran = {key.cell.name for key in after.ran}
    assert cell_key(loads_at_design) in after.ran
    assert ran <= {
        "weight_of_part", "weighed_things", "weight_at_design", "loads_at_design",
        "parts_that_stand",
    }  # fmt: skip
