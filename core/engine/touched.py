"""What differs between two documents, by the identity of what they share."""

from collections.abc import Iterable, Iterator

from core.document.base import Entity
from core.document.project import KINDS, Document
from core.engine.view import MeshKey


def touched(before: Document, after: Document) -> Iterator[object]:
    """Tokens of what may differ: ids of things that are not the very same objects, and kinds.

    A kind is touched where there are other things of it, others of them are pairs, or their order
    is another one.
    """
    for field, kind in KINDS.items():
        old: tuple[Entity, ...] = getattr(before, field)
        new: tuple[Entity, ...] = getattr(after, field)
        if old is not new:
            yield from _not_in(old, new)
            yield from _not_in(new, old)
            if [(t.id, t.pair) for t in old] != [(t.id, t.pair) for t in new]:
                yield kind


def _not_in(things: Iterable[Entity], others: Iterable[Entity]) -> Iterator[str]:
    known = {id(thing) for thing in others}
    return (thing.id for thing in things if id(thing) not in known)


def touched_meshes(before: frozenset[str], after: frozenset[str]) -> Iterator[object]:
    """Tokens of the meshes that have come or gone."""
    return (MeshKey(sha256) for sha256 in before ^ after)
