"""What must hold for things of every kind, each made with the least that it needs."""

from collections.abc import Iterator

import msgspec
import pytest

from core.document.base import Entity, Ref
from core.document.codec import decode_project, encode_project
from core.document.lookup import Lookup, entities
from core.document.paths import number_paths, value_at
from core.document.project import FIELD_OF, KINDS, Document, Project
from core.document.records import Car, Limit
from core.document.rules import check_document
from core.document.running_gear import Axle, DriveShaft
from core.document.sides import on_side
from core.document.steel import Point
from core.edits.refusals import EditRefusedError
from core.edits.things import (
    delete,
    dependents,
    duplicate,
    goes_with,
    make,
    mirror,
    rename,
    thing_of,
)
from core.edits.values import change, rejoin, release
from core.engine.address import Address
from tests.core.edits.minimal import FIELDS, Maker, minimal

EVERY_KIND = sorted(KINDS.values(), key=lambda kind: kind.__name__)
every_kind = pytest.mark.parametrize("kind", EVERY_KIND)

ONE_OF_A_KIND = (Car, Axle, DriveShaft, Limit)
"""Kinds of which an exact copy would contradict the first: they say whose they are."""


def made(kind: type[Entity]) -> tuple[Document, Ref]:
    maker = Maker()
    ref = minimal(maker, kind)
    return maker.document, ref


def test_there_is_a_least_thing_of_every_kind() -> None:
    assert set(FIELDS) == set(KINDS.values())


@every_kind
def test_a_new_thing_keeps_the_rules_and_can_be_read_back(kind: type[Entity]) -> None:
    document, ref = made(kind)

    assert check_document(document) == []
    project = Project(drawn=document)
    assert decode_project(encode_project(project)) == project
    assert type(thing_of(document, ref.id)) is kind


@every_kind
def test_making_a_thing_leaves_all_others_the_very_same(kind: type[Entity]) -> None:
    before, _ = made(kind)

    after, thing = make(before, Point, "one more", at=(1.0, 2.0, 3.0))

    assert after.points[:-1] == before.points
    assert after.points[-1] is thing
    for field in KINDS:
        if field != "points":
            assert getattr(after, field) is getattr(before, field)


@every_kind
def test_a_thing_without_what_it_needs_is_refused_by_its_name(kind: type[Entity]) -> None:
    needed = {info.name for info in msgspec.structs.fields(kind) if info.required} - {"id", "name"}
    if needed:
        with pytest.raises(EditRefusedError, match="without"):
            make(Document(), kind, "without")


@every_kind
def test_a_renamed_thing_keeps_its_id_and_all_else(kind: type[Entity]) -> None:
    document, ref = made(kind)

    renamed = rename(document, ref.id, "another name")

    assert thing_of(renamed, ref.id).name == "another name"
    assert check_document(renamed) == []
    assert rename(renamed, ref.id, thing_of(document, ref.id).name) == document


@every_kind
def test_a_name_can_be_had_once(kind: type[Entity]) -> None:
    document, ref = made(kind)

    assert rename(document, ref.id, thing_of(document, ref.id).name) is document
    with pytest.raises(EditRefusedError):
        rename(document, ref.id, "  ")
    if kind not in ONE_OF_A_KIND:
        twice, _ = duplicate(document, ref.id, "second")
        with pytest.raises(EditRefusedError, match="called «second»"):
            rename(twice, ref.id, "second")


@every_kind
def test_a_copy_is_the_same_under_another_id_and_name(kind: type[Entity]) -> None:
    document, ref = made(kind)
    if kind in ONE_OF_A_KIND:
        with pytest.raises(EditRefusedError):
            duplicate(document, ref.id, "copy")
        return

    copied, copy = duplicate(document, ref.id, "copy")

    assert copy.id != ref.id
    assert thing_of(copied, ref.id) is thing_of(document, ref.id)
    assert check_document(copied) == []
    same = {f: getattr(copy, f) for f in kind.__struct_fields__ if f not in ("id", "name")}
    assert same == {f: getattr(thing_of(document, ref.id), f) for f in same}


def numbers(kind: type[Entity]) -> Iterator[tuple[Document, Address]]:
    document, ref = made(kind)
    for path in number_paths(thing_of(document, ref.id)):
        if ".axes." not in f".{path}":  # three directions at right angles, changed only together
            yield document, Address(ref, path)


@every_kind
def test_every_number_of_a_thing_can_be_changed_alone(kind: type[Entity]) -> None:
    for document, address in numbers(kind):
        old = value_at(thing_of(document, address.ref.id), address.path)
        assert isinstance(old, int | float)
        new = old + 1 if isinstance(old, int) else old * 0.98 + 0.004

        changed = change(document, address, new)

        assert value_at(thing_of(changed, address.ref.id), address.path) == new
        assert check_document(changed) == []
        assert change(changed, address, old) == document


@every_kind
def test_a_number_set_to_what_it_is_leaves_the_very_same_document(kind: type[Entity]) -> None:
    for document, address in numbers(kind):
        old = value_at(thing_of(document, address.ref.id), address.path)

        assert change(document, address, old) is document


@every_kind
def test_a_number_that_is_none_is_refused_everywhere(kind: type[Entity]) -> None:
    for document, address in numbers(kind):
        for wrong in (float("nan"), float("inf"), "x"):
            with pytest.raises(EditRefusedError):
                change(document, address, wrong)


def paired(kind: type[Entity]) -> tuple[Document, Ref] | None:
    """A pair of a kind, all that it refers to made pairs first; nothing if there can be none."""
    document, ref = made(kind)
    for point in document.points:
        document = mirror(document, point.id)
    try:
        document = document if thing_of(document, ref.id).pair else mirror(document, ref.id)
    except EditRefusedError:
        return None
    return document, ref


PAIRS = {
    "Bay",
    "Bracket",
    "CheckLength",
    "Corner",
    "Fastener",
    "KeepOut",
    "Mount",
    "Obstacle",
    "Occupant",
    "Opening",
    "Panel",
    "Point",
    "Run",
    "ServiceZone",
    "Tube",
}


@every_kind
def test_a_thing_off_the_centre_plane_can_be_made_a_pair_and_no_other(kind: type[Entity]) -> None:
    found = paired(kind)

    assert (found is not None) == (kind.__name__ in PAIRS)
    if found is not None:
        assert check_document(found[0]) == []
        assert thing_of(found[0], found[1].id).pair


@every_kind
def test_what_cannot_be_a_pair_is_told_so(kind: type[Entity]) -> None:
    document, ref = made(kind)
    if kind.__name__ in PAIRS:
        return
    with pytest.raises(EditRefusedError, match="no left and right one|mirror image is itself"):
        mirror(document, ref.id)


@pytest.mark.parametrize("name", sorted(PAIRS))
def test_a_side_set_free_has_its_own_value_until_it_is_rejoined(name: str) -> None:
    kind = next(kind for kind in EVERY_KIND if kind.__name__ == name)
    found = paired(kind)
    assert found is not None
    document, ref = found
    left, right = Ref(ref.id, "left"), Ref(ref.id, "right")
    for path in number_paths(thing_of(document, ref.id)):
        if ".axes." in f".{path}":
            continue
        freed = release(document, ref, path)
        old = value_at(piece(freed, right), path)
        assert value_at(piece(document, right), path) == old, "nothing moves by being set free"
        apart = change(freed, Address(right, path), moved(old))

        assert value_at(piece(apart, right), path) == moved(old)
        assert piece(apart, left) == piece(freed, left)
        assert check_document(apart) == []
        assert rejoin(apart, ref, path) == document


def moved(value: object) -> float:
    assert isinstance(value, float)
    return value * 0.98 + 0.004


def piece(document: Document, ref: Ref) -> Entity:
    """The piece on one side, without what is stored for the other."""
    found = on_side(Lookup(document).by_id[ref.id], ref.side)
    return msgspec.structs.replace(found, right=())


@every_kind
def test_a_thing_that_nothing_needs_can_be_removed(kind: type[Entity]) -> None:
    document, ref = made(kind)

    gone = delete(document, ref.id)

    assert ref.id not in Lookup(gone).by_id
    assert len(list(entities(gone))) == len(list(entities(document))) - 1
    assert gone.next_number == document.next_number, "an id is never used again"


@every_kind
def test_what_others_need_is_removed_only_with_them(kind: type[Entity]) -> None:
    document, ref = made(kind)
    for thing in list(entities(document)):
        if thing.id == ref.id:
            continue
        with pytest.raises(EditRefusedError) as refused:
            delete(document, thing.id)
        assert any(d.name in str(refused.value) for d in dependents(document, thing.id))

        gone = delete(document, thing.id, with_dependents=True)

        assert check_document(gone) == []
        assert set(Lookup(document).by_id) - set(Lookup(gone).by_id) == goes_with(
            document, thing.id
        )


@every_kind
def test_what_is_left_when_others_go_is_the_very_same_where_nothing_named_them(
    kind: type[Entity],
) -> None:
    document, ref = made(kind)

    gone = delete(document, ref.id)

    for field, other in KINDS.items():
        if other is not kind:
            assert getattr(gone, field) is getattr(document, field)
    assert FIELD_OF[kind] in KINDS
