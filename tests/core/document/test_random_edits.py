"""Edits at random, sound and unsound: what an edit is told must be what a fresh look would find."""

from typing import Any, NamedTuple

import msgspec
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.document.base import Entity
from core.document.codec import decode_project, encode_project
from core.document.layers import add_thing, replace_thing, without_things
from core.document.lookup import entities
from core.document.project import KINDS, Document, Project
from core.document.rules import changed_entities, check_change, check_document, check_project
from tests.core.document.small_car import DEMO, small_car, small_project

CARS = (small_car(), decode_project(DEMO.read_bytes()).drawn)
SIDES = ("one", "left", "right")


class Edit(NamedTuple):
    """A document before and after; shown by what differs, for whole documents are long."""

    before: Document
    after: Document

    def __repr__(self) -> str:
        return f"Edit({list(changed_entities(*self))}, {self.after.next_number})"


@st.composite
def edits(draw: st.DrawFn) -> Edit:
    """A sound document, and what one to three edits that no rule looked at made of it."""
    before = draw(st.sampled_from(CARS))
    after = before
    for _ in range(draw(st.integers(1, 3))):
        after = draw(st.sampled_from(EDITS))(draw, after)
    return Edit(before, after)


def _any_thing(draw: st.DrawFn, document: Document) -> Entity:
    return draw(st.sampled_from(list(entities(document))))


def leaf_changed(draw: st.DrawFn, document: Document) -> Document:
    """A thing with one value in it changed, if the thing itself bears it."""
    thing = _any_thing(draw, document)
    plain = msgspec.to_builtins(thing)
    spots = list(_spots(plain))
    holder, key = draw(st.sampled_from(spots))
    holder[key] = _other(draw, holder[key], document)
    try:
        return replace_thing(document, msgspec.convert(plain, type(thing)))
    except ValueError:
        return document


def _spots(plain: Any) -> Any:  # noqa: ANN401 - walks plain data
    """Every place in plain data at which a single value stands."""
    items = plain.items() if isinstance(plain, dict) else enumerate(plain)
    for key, value in items:
        if isinstance(value, dict | list):
            yield from _spots(value)
        if key not in ("id", "kind"):
            yield plain, key


def _other(draw: st.DrawFn, value: Any, document: Document) -> Any:  # noqa: ANN401 - plain data
    """Another value of the same sort."""
    if isinstance(value, list):
        is_ref = len(value) == 2 and value[1] in SIDES
        other = [_any_thing(draw, document).id, draw(st.sampled_from(SIDES))]
        return other if is_ref else value[: draw(st.integers(0, len(value)))]
    if isinstance(value, float):
        return draw(st.floats(-2000.0, 2000.0))
    if isinstance(value, str):
        words = (_any_thing(draw, document).name, "front", "at", "along", "", *SIDES)
        return draw(st.sampled_from(SIDES if value in SIDES else words))
    return not value if isinstance(value, bool) else None


def renamed(draw: st.DrawFn, document: Document) -> Document:
    things: tuple[Entity, ...] = getattr(document, draw(st.sampled_from(["points", "tubes"])))
    name = draw(st.sampled_from([things[0].name, "new", "\u00e9"]))
    return replace_thing(
        document, msgspec.structs.replace(draw(st.sampled_from(things)), name=name)
    )


def pair_turned(draw: st.DrawFn, document: Document) -> Document:
    thing = _any_thing(draw, document)
    try:
        return replace_thing(
            document, msgspec.structs.replace(thing, pair=not thing.pair, right=())
        )
    except ValueError:
        return document


def taken_out(draw: st.DrawFn, document: Document) -> Document:
    return without_things(document, frozenset({_any_thing(draw, document).id}))


def copied(draw: st.DrawFn, document: Document) -> Document:
    thing = _any_thing(draw, document)
    word = thing.id.rstrip("0123456789")
    number = draw(st.sampled_from([1, max(document.next_number - 1, 1), 40]))
    name = draw(st.sampled_from([thing.name, "a copy"]))
    copy = msgspec.structs.replace(thing, id=f"{word}{number}", name=name)
    return add_thing(document, copy)


def reordered(draw: st.DrawFn, document: Document) -> Document:
    field = draw(st.sampled_from([f for f in KINDS if len(getattr(document, f)) > 1] or ["cars"]))
    return msgspec.structs.replace(document, **{field: getattr(document, field)[::-1]})


def number_turned_back(draw: st.DrawFn, document: Document) -> Document:
    return msgspec.structs.replace(document, next_number=draw(st.sampled_from([1, 39, 40, 500])))


EDITS = (
    *(leaf_changed,) * 6,
    renamed,
    pair_turned,
    taken_out,
    copied,
    reordered,
    number_turned_back,
)


@settings(max_examples=400, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(edits())
def test_an_edit_is_told_of_faults_when_and_only_when_the_document_has_some(
    edit: Edit,
) -> None:
    before, after = edit

    told, found = check_change(before, after), check_document(after)

    assert bool(told) == bool(found), (told, found)
    assert set(told) <= set(found)


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(edits())
def test_a_project_that_keeps_the_rules_is_read_as_it_was_written(edit: Edit) -> None:
    readings = small_project().readings if edit.before is CARS[0] else ()
    project = Project(drawn=edit.after, readings=readings)
    if check_project(project):
        return

    data = encode_project(project)

    assert decode_project(data) == project
    assert encode_project(decode_project(data)) == data
