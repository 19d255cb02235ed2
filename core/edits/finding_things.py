"""Finding what an edit is about, in words where it is not there."""

from typing import TypeVar

from core.document.base import Entity, Ref
from core.document.lookup import Lookup, kind_of
from core.document.project import Document
from core.document.sides import on_side
from core.edits.refusals import EditRefusedError

E = TypeVar("E", bound=Entity)


def thing_of(document: Document, thing_id: str) -> Entity:
    """The thing with an id.

    Raises:
        EditRefusedError: it is not there.
    """
    thing = Lookup(document).by_id.get(thing_id)
    if thing is None:
        msg = f"there is no {thing_id} in this car"
        raise EditRefusedError(msg)
    return thing


def piece_of(document: Document, kind: type[E], ref: Ref) -> E:
    """The piece that a reference names.

    Raises:
        EditRefusedError: it is not there, not of that kind, or not on one side.
    """
    thing = thing_of(document, ref.id)
    if not isinstance(thing, kind):
        msg = f"{thing.name} is not of the kind meant, but a {kind_of(thing)}"
        raise EditRefusedError(msg)
    if thing.pair != (ref.side != "one"):
        which = "a pair; say which side of it" if thing.pair else "a single thing without sides"
        msg = f"{thing.name} is {which}"
        raise EditRefusedError(msg)
    return on_side(thing, ref.side)


def stored_of(document: Document, kind: type[E], ref: Ref) -> E:
    """The thing as it is stored, both sides in one, that a reference names a piece of.

    Raises:
        EditRefusedError: it is not there, not of that kind, or not on one side.
    """
    piece_of(document, kind, ref)
    thing = thing_of(document, ref.id)
    assert isinstance(thing, kind)
    return thing
