"""Bought parts: what counts as one, and what says that it is in hand."""

from core.document.base import Fact, Ref
from core.document.power import PowerUnit
from core.document.project import Document, empty_project
from core.document.records import Candidate, Part
from core.document.running_gear import Hub, Wheel
from core.edits.things import make
from core.edits.values import set_fact
from core.engine.address import Address
from core.study.bought import bought_parts
from tests.core.edits.cars import demo_car


def car_with(*parts: dict[str, object]) -> Document:
    document = empty_project().drawn
    for fields in parts:
        document, _ = make(document, Part, str(fields["name"]), **{
            key: value for key, value in fields.items() if key != "name"
        })  # fmt: skip
    return document


def in_hand(document: Document) -> set[str]:
    return {part.name for part in bought_parts(document).parts if part.is_in_hand}


def test_a_part_is_in_hand_when_it_or_a_candidate_of_it_is() -> None:
    there = Candidate(name="from a breaker", state="in_hand")
    document = car_with(
        {"name": "rack", "in_hand": True},
        {"name": "hub", "candidates": (there,)},
        {"name": "shaft", "lead_days": 20.0},
        {"name": "mount rubber", "lead_days": 45.0},
        {"name": "frame", "how_got": "made"},
    )

    found = bought_parts(document)

    assert (found.wanted, found.in_hand) == (4, 2)
    assert in_hand(document) == {"rack", "hub"}
    assert found.chase_first is not None
    assert (found.chase_first.name, found.chase_first.days) == ("mount rubber", 45.0)


def test_a_fact_says_that_a_part_is_in_hand_and_a_weight_does_not() -> None:
    document = car_with({"name": "battery"}, {"name": "tank"})
    battery, tank = (Ref(part.id) for part in document.parts)
    document = set_fact(document, Address(battery, ""), Fact(source="in_hand", how="on the shelf"))
    weighed = Fact(source="measured", how="bathroom scale")
    document = set_fact(document, Address(tank, "mass_kg"), weighed)

    found = {part.name: part for part in bought_parts(document).parts}

    assert in_hand(document) == {"battery"}
    assert found["battery"].how == "on the shelf"


def test_running_gear_counts_as_bought_and_by_its_facts() -> None:
    document = empty_project().drawn
    document, hub = make(document, Hub, "hub")
    document, _ = make(document, Wheel, "wheel", rim_width_in=7.0, rim_in=15.0, offset=20.0)
    assert (bought_parts(document).wanted, bought_parts(document).in_hand) == (2, 0)

    document = set_fact(document, Address(Ref(hub.id), ""), Fact(source="in_hand"))

    assert in_hand(document) == {"hub"}


def test_a_part_that_stands_for_a_thing_counts_once_with_it() -> None:
    car = demo_car()
    unit = car.power_units[0]
    standing = next(p for p in car.parts if p.stands_for and p.stands_for.id == unit.id)

    refs = [part.ref.id for part in bought_parts(car).parts]

    assert unit.id in refs
    assert standing.id not in refs
    assert len(refs) == len(set(refs))


def test_an_engine_of_which_a_figure_was_read_off_is_in_hand() -> None:
    car = demo_car()
    unit = car.power_units[0]
    assert isinstance(unit, PowerUnit)
    assert any(fact.source == "in_hand" for fact in unit.facts)

    assert unit.name in in_hand(car)


def test_what_the_demo_car_has_in_hand_is_what_its_facts_say() -> None:
    names = in_hand(demo_car())

    assert {"front_hub", "rear_hub", "front wheel", "rear tyre", "drive_shaft"} <= names
    assert {"dampers of front corner", "dampers of rear corner"} <= names
    assert "battery" not in names


def test_what_is_in_hand_comes_last_and_what_is_awaited_longest_first() -> None:
    document = car_with(
        {"name": "a", "in_hand": True},
        {"name": "b", "lead_days": 3.0},
        {"name": "c", "lead_days": 30.0},
        {"name": "d"},
    )

    assert [part.name for part in bought_parts(document).parts] == ["c", "b", "d", "a"]


def test_an_order_under_way_is_told_with_its_time() -> None:
    ordered = Candidate(name="new, from a shop", state="ordered", lead_days=12.0)
    rejected = Candidate(name="bent one", state="rejected")
    document = car_with({"name": "rack", "candidates": (ordered, rejected)})

    (part,) = bought_parts(document).parts

    assert (part.is_in_hand, part.days, part.candidates) == (False, 12.0, 1)
    assert part.how == "ordered: new, from a shop"
