"""The property that guards all: re-using what a change left alone gives what a fresh pass gives."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.checks.rules import assess_all
from core.document.project import Document, Project
from core.document.rules import check_document
from core.engine.assess import Assessment
from core.engine.cells import When
from core.engine.same import same
from core.history import History, begin, record, redo, undo
from tests.core.edits.any_edit import Choice, choices, tried
from tests.core.edits.cars import TubeCar, demo_car, demo_meshes, empty_car, second_car

NO_MESHES: Mapping[str, bytes] = {}


class Step(NamedTuple):
    """One thing a person does, and how far the assessment goes after it."""

    what: str
    choice: Choice
    upto: When


def steps() -> st.SearchStrategy[Step]:
    """Mostly edits, now and then one taken back or brought back."""
    what = st.sampled_from(("edit", "edit", "edit", "edit", "undo", "redo"))
    return st.builds(Step, what, choices(), st.sampled_from(When))


def always(max_examples: int) -> settings:
    """The same examples every time, however slow the machine is."""
    slow = (HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example)
    return settings(
        max_examples=max_examples,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=slow,
    )


class Session:
    """A car under edit with its history, assessed after every step from the assessment before."""

    def __init__(self, document: Document, meshes: Mapping[str, bytes]) -> None:
        self.meshes = meshes
        self.history = begin(Project(drawn=document))
        self.last: Assessment | None = None

    @property
    def document(self) -> Document:
        return self.history.present.drawn

    def do(self, step: Step) -> None:
        self.history = self._after(step)
        self.last = assess_all(self.document, self.meshes, self.last, step.upto)

    def _after(self, step: Step) -> History:
        if step.what == "undo":
            return undo(self.history)
        if step.what == "redo":
            return redo(self.history)
        findings = self.last.findings() if self.last else ()
        after = tried(self.document, step.choice, findings)
        project = msgspec.structs.replace(self.history.present, drawn=after)
        return record(self.history, project, "edit")

    def fresh(self) -> Assessment:
        return assess_all(self.document, self.meshes, None)

    def caught_up(self) -> Assessment:
        return assess_all(self.document, self.meshes, self.last)


def hold(start: Document, meshes: Mapping[str, bytes], done: list[Step]) -> None:
    """Do the steps; in the middle and at the end all must be as if assessed afresh."""
    session = Session(start, meshes)
    for number, step in enumerate(done, 1):
        session.do(step)
        assert check_document(session.document) == []
        if number == len(done) // 2:
            assert_what_is_not_behind_is_true(session)
    caught_up, fresh = session.caught_up(), session.fresh()
    assert caught_up.agrees_with(fresh)
    assert caught_up.findings() == fresh.findings()


def assert_what_is_not_behind_is_true(session: Session) -> None:
    last, fresh = session.last, session.fresh()
    assert last is not None
    for key, entry in last.entries.items():
        if key not in last.behind:
            assert same(entry.value, fresh.entries[key].value), key
    for rule in last.rules:
        if not last.is_behind(rule):
            assert last.findings_of(rule) == fresh.findings_of(rule)
        else:
            assert "fine" not in {finding.verdict for finding in last.findings_of(rule)}


@given(st.lists(steps(), min_size=1, max_size=25))
@always(60)
def test_an_empty_car_is_assessed_as_if_afresh_after_any_edits(done: list[Step]) -> None:
    hold(empty_car(), NO_MESHES, done)


@given(st.lists(steps(), min_size=4, max_size=20))
@always(120)
def test_a_car_of_tubes_is_assessed_as_if_afresh_after_any_edits(done: list[Step]) -> None:
    hold(TubeCar().document, NO_MESHES, done)


@pytest.mark.parametrize("car", [second_car, demo_car])
@given(done=st.lists(steps(), min_size=8, max_size=20))
@always(5)
def test_a_whole_car_is_assessed_as_if_afresh_after_any_edits(
    car: Callable[[], Document], done: list[Step]
) -> None:
    hold(car(), demo_meshes() if car is demo_car else NO_MESHES, done)


def test_meshes_that_come_while_slow_rules_wait_are_seen() -> None:
    car = demo_car()
    unit = msgspec.structs.replace(car.power_units[0], solids=())
    bare = msgspec.structs.replace(car, power_units=(unit,))

    first = assess_all(bare, {}, None)
    second = assess_all(bare, demo_meshes(), first, When.LIVE)
    third = assess_all(bare, demo_meshes(), second)

    assert not first.agrees_with(third)
    assert third.agrees_with(assess_all(bare, demo_meshes(), None))


def test_one_car_can_be_assessed_from_the_assessment_of_another() -> None:
    first = assess_all(demo_car(), demo_meshes(), None)

    second = assess_all(second_car(), {}, first)

    assert second.agrees_with(assess_all(second_car(), {}, None))
