"""What must hold after any edits whatever, of any car."""

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from core.document.base import Ref, Vec3
from core.document.codec import decode_project, encode_project
from core.document.lookup import entities
from core.document.project import KINDS, Document, Project
from core.document.rules import check_document
from core.edits.acceptances import accept
from core.edits.values import release
from core.engine.finding import Finding, Remedy
from tests.core.edits.any_edit import EDITS, Choice, choices, tried
from tests.core.edits.cars import TubeCar, demo_car, empty_car, second_car

QUIET = (HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example)


def always(max_examples: int) -> settings:
    """The same examples every time, however slow the machine is."""
    return settings(
        max_examples=max_examples,
        derandomize=True,
        database=None,
        deadline=None,
        phases=(Phase.generate,),
        suppress_health_check=QUIET,
    )


def hold(document: Document, done: list[Choice]) -> None:
    for choice in done:
        before, document = document, tried(document, choice)
        assert check_document(document) == [], choice
        assert_what_is_equal_is_shared(before, document)
        assert document.next_number >= before.next_number
    project = Project(drawn=document)
    assert decode_project(encode_project(project)) == project


def assert_what_is_equal_is_shared(before: Document, after: Document) -> None:
    """Lists and things that an edit left equal are the very same objects."""
    known = {thing.id: thing for thing in entities(before)}
    for field in KINDS:
        old, new = getattr(before, field), getattr(after, field)
        assert (old == new) == (old is new), f"{field} was made anew, but is equal"
        for thing in new:
            if thing.id in known and thing == known[thing.id]:
                assert thing is known[thing.id], f"{thing.id} was made anew, but is equal"


@given(st.lists(choices(), max_size=30))
@always(60)
def test_an_empty_car_keeps_the_rules_through_any_edits(done: list[Choice]) -> None:
    hold(empty_car(), done)


@given(st.lists(choices(), min_size=5, max_size=30))
@always(150)
def test_a_car_of_tubes_keeps_the_rules_through_any_edits(done: list[Choice]) -> None:
    hold(TubeCar().document, done)


@pytest.mark.parametrize("car", [demo_car, second_car])
@given(done=st.lists(choices(), min_size=5, max_size=25))
@always(25)
def test_a_whole_car_keeps_the_rules_through_any_edits(
    car: Callable[[], Document], done: list[Choice]
) -> None:
    hold(car(), done)


@given(choices())
@always(300)
def test_an_edit_is_a_function_of_the_document_alone(choice: Choice) -> None:
    car = TubeCar()

    assert tried(car.document, choice) == tried(TubeCar().document, choice)
    assert car.document == TubeCar().document, "the document it was given is as it was"


def worked_on() -> Document:
    """A whole car in which there is something to do for every edit."""
    car = demo_car()
    ref = Ref(car.points[0].id, "left")
    car = release(car, ref, "at.x")
    finding = Finding("unit_gap", "tight", (ref,), "near", 12.0, 10.0)
    return accept(car, finding, "seen")


@pytest.mark.parametrize("number", range(len(EDITS)))
def test_every_edit_of_these_tests_is_done_sometimes(number: int) -> None:
    """Else the properties above would hold of refusals only."""
    car = worked_on()
    about = (Ref(car.tubes[0].id), Ref(car.tubes[1].id))
    mend = Remedy("merge_points", (("keep", Ref("point10")), ("drop", Ref("point10"))), "")
    unit = Remedy("move_unit", (("ref", Ref(car.power_units[0].id)), ("by", Vec3(0, 1, 0))), "")
    findings = [Finding("touching", "no", about, "near", remedies=(mend, unit))]

    done = [
        first
        for first in range(0, 400, 7)
        if tried(car, Choice(number, first, first // 3, first // 2, 3.0), findings) is not car
    ]

    assert done
