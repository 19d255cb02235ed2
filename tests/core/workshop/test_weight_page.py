"""What is gathered of weight and brakes to be shown, on no car, a frame alone and both cars."""

import pytest

from core.document.records import LoadCase, Part, Weighing
from core.edits.deletions import delete
from core.edits.things import make
from core.engine.assess import compute
from core.workshop.brakes_page import SHARES_AT, brakes_page
from core.workshop.weight_page import AS_DRAWN, weight_page
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second
from tests.core.assess.weighed_cars import changed, weighed_car


def test_of_no_car_nothing_is_known() -> None:
    page, stop = compute(empty(), {}, weight_page), compute(empty(), {}, brakes_page)

    assert [load.found for load in page.loads] == [None]
    assert (page.heavy, page.missing, page.stands, page.scales) == ((), (), (), ())
    assert page.moving.corner is None
    assert page.moving.why_no_corner
    assert all(raising.found is None and raising.why for raising in page.raising)
    assert stop.is_empty
    assert stop.lacks == "brakes"
    assert [load.braking for load in stop.loads] == [None]


def test_of_a_frame_alone_its_tubes_are_one() -> None:
    page = compute(only_tubes(), {}, weight_page)

    (tubes,) = page.heavy
    assert (tubes.ref, tubes.count) == (None, len(only_tubes().tubes))
    assert tubes.kg == pytest.approx(page.weight.least_kg)
    assert page.loads[0].found is None


def test_both_cars_are_known_whole_with_the_heaviest_first() -> None:
    for name, project in (("demo-car", demo), ("second-car", second)):
        page = compute(project().drawn, {}, weight_page)

        assert page.missing == ()
        assert sum(each.kg for each in page.heavy) == pytest.approx(
            expected(name)["mass"]["total_kg"], abs=0.051
        )
        weights = [each.kg for each in page.heavy]
        assert weights == sorted(weights, reverse=True)
        assert page.loads[0].name == AS_DRAWN


def test_every_state_of_a_lift_names_its_stands() -> None:
    page, wanted = compute(demo().drawn, {}, weight_page), expected("demo-car")["lift_states"]

    assert [state.state for state in page.stands] == list(wanted)
    for state in page.stands:
        assert state.found is not None
        assert len(state.stands) == len(state.found.loads) == 4
        assert len(state.over) == 2


def test_what_is_missing_leads_to_its_field() -> None:
    car = changed(weighed_car(), "driver", mass_kg=None)
    car = changed(car, "engine", centre_of_gravity=None)

    page = compute(car, {}, weight_page)

    assert {each.ref: each.path for each in page.missing} == {
        ref(car, "driver"): "mass_kg",
        ref(car, "engine"): "centre_of_gravity",
    }


def test_a_weighing_stands_beside_the_sum() -> None:
    car, _ = make(weighed_car(), Weighing, "scales", front_left_kg=90.0)

    page = compute(car, {}, weight_page)

    by_name = {each.name: each for each in page.scales}
    left = by_name["front corner left"]
    assert left.weighed is not None
    assert left.weighed.kg == 90.0
    assert left.summed_kg is not None
    assert by_name["rear corner left"].weighed is None


def test_brakes_of_the_demo_car_in_every_load() -> None:
    document = demo().drawn
    page = compute(document, {}, brakes_page)

    assert page.lacks == ""
    assert len(page.loads) == 1 + len(document.load_cases)
    for load in page.loads:
        assert load.braking is not None
        assert len(load.load_shares) == len(SHARES_AT)
        rise = load.load_shares[2] - load.load_shares[0]
        road = 1.0 - load.load_shares[0], rise  # rear share, height over wheelbase
        assert load.braking.both_lock_at == pytest.approx(
            (load.braking.front_share - (1.0 - road[0])) / road[1]
        )
        assert load.slope_percent is not None


def test_what_is_lacking_is_named_one_after_the_other() -> None:
    document = demo().drawn
    system = document.brake_systems[0]
    no_pedal = delete(document, system.id)

    assert compute(no_pedal, {}, brakes_page).lacks == "brake_systems"
    assert compute(no_pedal, {}, brakes_page).front_share is None
    assert compute(second().drawn, {}, brakes_page).lacks == "brakes"


def test_load_cases_are_shown_under_their_names() -> None:
    car, driver = make(weighed_car(), Part, "spare", mass_kg=5.0)
    del driver
    car, _ = make(car, LoadCase, "two up")

    page = compute(car, {}, weight_page)

    assert [load.name for load in page.loads] == [AS_DRAWN, "two up"]
    assert "spare" in page.missing[0].words
