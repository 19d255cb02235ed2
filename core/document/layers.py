"""Putting things into a document, replacing and removing them, and laying layers over it."""

from collections.abc import Iterable

import msgspec

from core.document.base import Entity
from core.document.lookup import entities, sides
from core.document.project import FIELD_OF, KINDS, Change, Document, Layer
from core.document.sides import set_on_side


def replace_thing(document: Document, thing: Entity) -> Document:
    """The document with the thing of that id replaced; all else is shared."""
    field = FIELD_OF[type(thing)]
    things: tuple[Entity, ...] = getattr(document, field)
    new = tuple(thing if old.id == thing.id else old for old in things)
    return msgspec.structs.replace(document, **{field: new})


def add_thing(document: Document, thing: Entity) -> Document:
    """The document with one more thing, last of its kind."""
    field = FIELD_OF[type(thing)]
    things: tuple[Entity, ...] = getattr(document, field)
    return msgspec.structs.replace(document, **{field: (*things, thing)})


def without_things(document: Document, ids: frozenset[str]) -> Document:
    """The document without the things of these ids."""
    changed = {
        field: kept
        for field in FIELD_OF.values()
        if len(kept := tuple(t for t in getattr(document, field) if t.id not in ids))
        < len(getattr(document, field))
    }
    return msgspec.structs.replace(document, **changed)


def lay(document: Document, layer: Layer) -> Document:
    """The document with a layer's differences laid over it; all that does not differ is shared.

    Raises:
        ValueError: the layer names what is not there, or a value that does not fit.
    """
    things = {thing.id: thing for thing in entities(document)}
    for thing_id in layer.removed:
        if things.pop(thing_id, None) is None:
            msg = f"it removes {thing_id}, which is not there"
            raise ValueError(msg)
    things |= {thing.id: thing for thing in layer.put}
    for change in layer.changes:
        things[change.id] = _changed(things.get(change.id), change)
    return _with_things(document, things.values())


def _changed(thing: Entity | None, change: Change) -> Entity:
    if thing is None:
        msg = f"it changes {change.id}, which is not there"
        raise ValueError(msg)
    if change.side not in {ref.side for ref in sides(thing)}:
        pair = "a pair, so say left or right" if thing.pair else "a single thing, so say no side"
        msg = f"it changes {change.id}, which is {pair}"
        raise ValueError(msg)
    return set_on_side(thing, change.side, change.of, change.value)


def _with_things(document: Document, things: Iterable[Entity]) -> Document:
    """The document with these things in place of its own, in this order kind by kind."""
    by_kind: dict[str, list[Entity]] = {field: [] for field in KINDS}
    for thing in things:
        by_kind[FIELD_OF[type(thing)]].append(thing)
    changed = {
        field: tuple(new)
        for field, new in by_kind.items()
        if not _same_objects(new, getattr(document, field))
    }
    return msgspec.structs.replace(document, **changed) if changed else document


def _same_objects(new: list[Entity], old: tuple[Entity, ...]) -> bool:
    return len(new) == len(old) and all(a is b for a, b in zip(new, old, strict=True))
