"""Putting things into a document, replacing and removing them, and laying layers over it."""

import msgspec

from core.document.base import Entity
from core.document.lookup import Lookup
from core.document.project import FIELD_OF, Document, Layer
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
    """The document with a layer's differences laid over it.

    Raises:
        ValueError: the layer names what is not there, or a value that does not fit.
    """
    document = without_things(document, frozenset(layer.removed))
    for thing in layer.put:
        present = Lookup(document).by_id.get(thing.id)
        document = (add_thing if present is None else replace_thing)(document, thing)
    for change in layer.changes:
        thing_or_none = Lookup(document).by_id.get(change.id)
        if thing_or_none is None:
            msg = f"layer {layer.name} changes {change.id}, which is not there"
            raise ValueError(msg)
        changed = set_on_side(thing_or_none, change.side, change.of, change.value)
        document = replace_thing(document, changed)
    return document
