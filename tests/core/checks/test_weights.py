"""Rules on weight: on no car, a frame alone, both cars, and cars that break them."""

import pytest

from core.assess.weights import loads_at_design, loads_of_case
from core.checks.weights import RULES, radius_under_load
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.records import Lift, Limit, LoadCase, Part, Weighing
from core.document.steel import Point
from core.edits.things import make
from core.engine.assess import assess, compute
from core.engine.cells import Reader, When, cell
from core.engine.finding import Finding
from core.workshop.figure import Figure
from core.workshop.weight_figures import weight_figures
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second
from tests.core.assess.weighed_cars import changed, on_scales, weighed_car


def found(document: Document, rule: str | None = None) -> list[Finding]:
    table = assess(document, {}, None, RULES)
    return [each for each in table.findings() if rule in (None, each.rule)]


@cell(When.ASKED)
def figures(read: Reader) -> tuple[Figure, ...]:
    return tuple(weight_figures(read))


def standing_car(stands: dict[str, tuple[float, float]]) -> Document:
    """The small car on stands; its centre of gravity is at x -1666.7, y 50."""
    car, refs = weighed_car(), list[Ref]()
    for name, (x, y) in stands.items():
        car, point = make(car, Point, name, at=Vec3(x, y, 100.0))
        refs.append(Ref(point.id))
    car, _ = make(car, Lift, "lift", stands=tuple(refs))
    return car


def test_without_parts_nothing_is_fine() -> None:
    for document in (empty(), only_tubes()):
        verdicts = {finding.verdict for finding in found(document)}
        assert verdicts == {"unknown"}
        assert {f.rule for f in found(document)} == {"all_weighed", "loaded_radius"}


def test_both_cars_are_fine_throughout() -> None:
    for document in (demo().drawn, second().drawn):
        assert {finding.verdict for finding in found(document)} == {"fine"}
    assert {f.rule for f in found(demo().drawn)} == {"all_weighed", "stands", "loaded_radius"}


def test_the_state_nearest_to_tipping_governs() -> None:
    (stands,) = found(demo().drawn, "stands")
    wanted = expected("demo-car")["lift_states"]

    assert stands.governing == "driver out"
    assert stands.measured == pytest.approx(
        min(state["cg_ahead_of_rear_stands"] for state in wanted.values()), abs=0.06
    )
    assert "Shake it by hand" in stands.sentence


def test_each_part_without_weight_is_named() -> None:
    car, part = make(weighed_car(), Part, "radiator")
    car, _ = make(car, Part, "pump", mass_kg=3.0)

    radiator, pump = found(car, "all_weighed")

    assert radiator.verdict == pump.verdict == "unknown"
    assert radiator.subjects == (Ref(part.id),)
    assert radiator.sentence.startswith("The weight of radiator is not known; the car weighs 480")
    assert pump.sentence.startswith("The centre of gravity of pump is not known")


def test_brackets_that_may_not_be_counted_are_told_of() -> None:
    (fine,) = found(demo().drawn, "all_weighed")

    assert "27 brackets give no weight of their own" in fine.sentence


@pytest.mark.parametrize(("scales", "verdict"), [(80.5, "fine"), (82.0, "tight"), (90.0, "no")])
def test_scales_against_the_sum_of_an_axle(scales: float, verdict: str) -> None:
    """The front axle carries 80 kg by the sum, whichever side more."""
    car = on_scales(weighed_car(), {"front corner left": scales - 30.0, "front corner right": 30.0})

    (axle,) = found(car, "weighed_apart")

    assert axle.verdict == verdict
    assert axle.measured == pytest.approx(100.0 * (scales - 80.0) / scales)
    assert axle.unit == "%"
    assert len(axle.subjects) == 2


def test_one_wheel_on_scales_is_held_against_its_own_sum() -> None:
    (wheel,) = found(on_scales(weighed_car(), {"rear corner left": 300.0}), "weighed_apart")

    summed = compute(weighed_car(), {}, loads_at_design).corners[2]
    assert wheel.verdict == "no"
    assert wheel.measured == pytest.approx(100.0 * (300.0 - summed) / 300.0)


def test_scales_without_a_sum_are_not_fine() -> None:
    car = changed(on_scales(weighed_car(), {"rear corner left": 300.0}), "engine", mass_kg=None)

    (wheel,) = found(car, "weighed_apart")

    assert wheel.verdict == "unknown"
    assert "engine" in wheel.sentence


def test_a_car_that_tips_is_told_of_with_the_line_it_tips_over() -> None:
    car = standing_car({"a": (0.0, 400.0), "b": (0.0, -400.0), "c": (-1600.0, 0.0)})

    (stands,) = found(car, "stands")

    assert stands.verdict == "no"
    assert "tips off its stands" in stands.sentence
    assert stands.measured is not None
    assert stands.measured < 0.0
    assert ref(car, "c") in stands.subjects


def test_a_car_near_tipping_is_tight() -> None:
    car = standing_car(
        {"a": (0.0, 400.0), "b": (0.0, -400.0), "c": (-1690.0, 400.0), "d": (-1690.0, -400.0)}
    )

    (stands,) = found(car, "stands")

    assert stands.verdict == "tight"
    assert stands.measured == pytest.approx(1690.0 - 1666.667, abs=0.01)


def test_stands_of_a_car_not_weighed_are_unknown() -> None:
    car = standing_car({"a": (0.0, 400.0), "b": (0.0, -400.0), "c": (-2600.0, 0.0)})

    assert [f.verdict for f in found(car, "stands")] == ["fine"]
    assert [f.verdict for f in found(changed(car, "engine", mass_kg=None), "stands")] == ["unknown"]


def test_two_stands_are_no_stands() -> None:
    (stands,) = found(standing_car({"a": (0.0, 400.0), "b": (0.0, -400.0)}), "stands")

    assert stands.verdict == "unknown"
    assert "three or four" in stands.sentence


@pytest.mark.parametrize("end", ["front", "rear"])
def test_radius_under_load_of_the_demo_car(end: str) -> None:
    """Its own check gives it for the mean of both sides."""
    document = demo().drawn
    both = [
        compute(document, {}, radius_of, ref(document, f"{end} corner {side}"))
        for side in ("left", "right")
    ]

    wanted = expected("demo-car")["mass"][end]["loaded_radius_calc"]
    assert sum(both) / 2.0 == pytest.approx(wanted, abs=0.006)


@cell(When.ASKED)
def radius_of(read: Reader, corner: Ref) -> float:
    return radius_under_load(read, corner)


def test_lower_tyres_with_nothing_moved_are_told_of() -> None:
    """195/45R15 at the rear of the demo car: 266.3 by its own check, drawn at 281."""
    document = demo().drawn
    lower = changed(document, "rear tyre", size="195/45R15")

    wrong = [f for f in found(lower, "loaded_radius") if f.verdict == "no"]

    assert {f.subjects[0] for f in wrong} == {
        ref(document, f"rear corner {side}") for side in ("left", "right")
    }
    assert wrong[0].measured == pytest.approx(281.0 - 266.33, abs=0.4)


def test_a_tyre_of_unknown_stiffness_is_unknown_once() -> None:
    car = changed(demo().drawn, "rear tyre", vertical_stiffness=None)

    (unknown,) = (f for f in found(car, "loaded_radius") if f.verdict == "unknown")

    assert len(unknown.subjects) == 2
    assert "stiffness of rear tyre" in unknown.sentence


def test_a_limit_of_the_cars_own_counts() -> None:
    car, _ = make(demo().drawn, Limit, "margin", rule="stand_margin", value=100.0)

    (stands,) = found(car, "stands")

    assert stands.verdict == "no"
    assert stands.limit == 100.0


def test_figures_of_the_demo_car() -> None:
    listed = {figure.what: figure for figure in compute(demo().drawn, {}, figures)}

    assert listed["weight of the car"].value == pytest.approx(874.5, abs=0.05)
    assert listed["weight on the rear axle"].value == pytest.approx(58.2, abs=0.05)
    assert listed["weight of the car, two people, full tank"].value == pytest.approx(
        955.5, abs=0.05
    )
    assert "same share on their left" in listed["weight on the wheel, front corner left"].note
    assert "the body is not looked at" not in listed["weight of the car"].note


def test_figures_of_no_car_say_why() -> None:
    assert all(figure.value is None and figure.note for figure in compute(empty(), {}, figures))


def test_figures_of_a_car_with_a_gap_say_at_least() -> None:
    car = changed(weighed_car(), "driver", mass_kg=None)

    listed = {figure.what: figure for figure in compute(car, {}, figures)}

    assert listed["weight of the car"].value is None
    assert listed["weight of the car"].note.startswith("400.0 kg at least: the weight of driver")


def test_figures_off_scales() -> None:
    kg = {
        "front corner left": 42.0, "front corner right": 39.0,
        "rear corner left": 215.0, "rear corner right": 186.0,
    }  # fmt: skip
    listed = {f.what: f for f in compute(on_scales(weighed_car(), kg), {}, figures)}

    assert listed["weight of the car, off scales"].value == pytest.approx(482.0)
    assert listed["cross weight, off scales"].value == pytest.approx(100.0 * 228.0 / 482.0)
    assert listed["weight on the wheel, rear corner left"].note.startswith("off scales; by the sum")


def test_a_weighing_is_held_against_the_sum_of_its_own_load() -> None:
    """The engine out of the car in a load case, and 10 kg too much on each front scale."""
    car = weighed_car()
    car, case = make(car, LoadCase, "no engine", without=(ref(car, "engine"),))
    load = compute(car, {}, loads_of_case, Ref(case.id))
    front = {"front_left_kg": load.corners[0] + 10.0, "front_right_kg": load.corners[1] + 10.0}
    car, _ = make(car, Weighing, "scales", load_case=Ref(case.id), **front)

    (apart,) = found(car, "weighed_apart")

    assert apart.verdict == "no"
    assert apart.sentence.startswith("With no engine, front corner left and front corner right")
    assert apart.measured == pytest.approx(100.0 * 20.0 / (load.front_kg + 20.0))
