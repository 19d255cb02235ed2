"""Load-path rules on small changes of a car that has nothing amiss."""

import pytest

from core.checks.rules import assess_all
from core.document.base import Ref
from core.document.layers import replace_thing
from core.document.project import Document
from core.document.steel import Along, Bracket, Point
from core.edits.things import make
from core.edits.tubes import draw_tube, insert_bend
from core.engine.finding import Finding
from tests.cars.stored import only_tubes, ref


def amiss(document: Document) -> list[Finding]:
    """What the load-path rules say is not fine."""
    table = assess_all(document, {})
    rules = [rule for rule in table.rules if rule.room == "load paths"]
    return [f for rule in rules for f in table.findings_of(rule) if f.verdict != "fine"]


def rules_broken(document: Document) -> set[str]:
    return {finding.rule for finding in amiss(document)}


def section(document: Document) -> Ref:
    return Ref(document.sections[0].id)


def with_point(document: Document, name: str, at: tuple[float, float, float]) -> Document:
    return make(document, Point, name, at=at)[0]


def with_tube(document: Document, name: str, start: str, end: str) -> Document:
    ends = (ref(document, start), ref(document, end))
    return draw_tube(document, name, section(document), *ends)[0]


def test_a_tetrahedron_has_nothing_amiss() -> None:
    assert amiss(only_tubes()) == []


def test_a_tube_drawn_twice_is_told_of_and_only_once() -> None:
    findings = amiss(with_tube(only_tubes(), "again", "b", "a"))

    assert [f.rule for f in findings] == ["doubled_tube"]
    assert len(findings[0].subjects) == 2


def test_a_loose_end_names_its_tube() -> None:
    car = with_tube(with_point(only_tubes(), "e", (-300.0, 0.0, 100.0)), "out", "a", "e")

    (finding,) = amiss(car)

    assert (finding.rule, "out" in finding.sentence) == ("loose_joint", True)


def test_an_end_on_a_tube_without_a_joint_touches_and_a_joint_there_mends_it_to_a_tee() -> None:
    car = with_point(only_tubes(), "e", (250.0, 0.0, 100.0))  # half way along tube ab
    car = with_tube(car, "stray", "d", "e")

    broken = rules_broken(car)
    along = Along(tube=ref(car, "tube ab"), distance=250.0)
    stray = next(point for point in car.points if point.name == "e")
    joined = replace_thing(car, Point(id=stray.id, name="e", along=along))

    assert "touching" in broken
    assert rules_broken(joined) == {"mid_tube_tee"}


def test_two_tubes_ending_on_one_place_of_a_tube_hold_it() -> None:
    along = Along(tube=ref(only_tubes(), "tube ab"), distance=250.0)
    car = make(only_tubes(), Point, "e", along=along)[0]
    car = with_tube(with_tube(car, "one", "c", "e"), "two", "d", "e")

    assert rules_broken(car) == set()


def test_a_mark_on_a_tube_is_harmless_until_a_bracket_stands_on_it() -> None:
    along = Along(tube=ref(only_tubes(), "tube ab"), distance=250.0)
    marked = make(only_tubes(), Point, "e", along=along)[0]
    carrying = with_point(marked, "pick", (250.0, -30.0, 100.0))
    carrying = make(
        carrying,
        Bracket,
        "bracket",
        carries=ref(carrying, "pick"),
        on=ref(carrying, "e"),
    )[0]

    assert rules_broken(marked) == set()
    assert rules_broken(carrying) == {"mid_tube_tee"}


def test_an_unmet_bend_is_told_of() -> None:
    car = with_point(only_tubes(), "m", (250.0, -40.0, 100.0))
    car = insert_bend(car, ref(car, "tube ab"), ref(car, "m"), 0, radius=100.0)

    assert rules_broken(car) == {"unmet_bend", "loose_joint"}


def test_a_bend_that_cannot_be_laid_is_a_finding_and_not_an_error() -> None:
    car = with_point(only_tubes(), "m", (250.0, -40.0, 100.0))
    car = insert_bend(car, ref(car, "tube ab"), ref(car, "m"), 0, radius=9000.0)

    (shape,) = [f for f in amiss(car) if f.rule == "tube_shape"]
    assert (shape.verdict, "cannot be bent" in shape.sentence) == ("no", True)


def test_a_bend_without_a_die_says_that_none_is_named() -> None:
    car = with_point(only_tubes(), "m", (250.0, -40.0, 100.0))
    car = insert_bend(car, ref(car, "tube ab"), ref(car, "m"), 0)

    (shape,) = [f for f in amiss(car) if f.rule == "tube_shape"]

    assert (shape.verdict, "no die is named" in shape.sentence) == ("unknown", True)


def test_a_point_given_on_the_table_makes_its_tubes_unknown_not_wrong() -> None:
    car = only_tubes()
    a = next(point for point in car.points if point.name == "a")
    moved = replace_thing(car, Point(id=a.id, name="a", at=a.at, carrier="table"))

    shapes = [f for f in amiss(moved) if f.rule == "tube_shape"]
    assert [f.verdict for f in shapes] == ["unknown"] * 3
    assert all("table" in f.sentence for f in shapes)


@pytest.mark.parametrize(("reach", "verdict"), [(60.0, None), (75.0, "tight"), (90.0, "no")])
def test_reach_of_a_bracket_is_held_against_its_limit(reach: float, verdict: str | None) -> None:
    car = with_point(only_tubes(), "pick", (-reach, 0.0, 100.0))
    car = make(car, Bracket, "b1", carries=ref(car, "pick"), on=ref(car, "a"))[0]

    found = [f.verdict for f in amiss(car) if f.rule == "bracket_reach"]

    assert found == ([] if verdict is None else [verdict])


def test_a_bracket_on_a_bracket_is_told_of_but_not_on_a_bought_one() -> None:
    car = with_point(only_tubes(), "pick", (-40.0, 0.0, 100.0))
    car, first = make(car, Bracket, "first", carries=ref(car, "pick"), on=ref(car, "a"))
    car = with_point(car, "other", (-60.0, 0.0, 100.0))
    stacked = make(car, Bracket, "second", carries=ref(car, "other"), on=Ref(first.id))[0]
    bought = replace_thing(
        stacked,
        Bracket(id=first.id, name="first", carries=first.carries, on=first.on, bought=True),
    )

    assert rules_broken(stacked) == {"stacked_bracket"}
    assert rules_broken(bought) == set()
