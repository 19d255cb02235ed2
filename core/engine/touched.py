"""What differs between two documents, by the identity of what they share."""

from collections.abc import Iterator

from core.document.base import Entity
from core.document.project import KINDS, Document
from core.engine.same import same
from core.engine.view import KIND, MeshKey


def touched(before: Document, after: Document) -> Iterator[object]:
    """Tokens of all that may differ: fields of things, things that came or went, kinds.

    A kind is touched where there are other things of it, others of them are pairs, or their order
    is another one.
    """
    for field, kind in KINDS.items():
        old: tuple[Entity, ...] = getattr(before, field)
        new: tuple[Entity, ...] = getattr(after, field)
        if old is not new:
            yield from _in_list(old, new)
            if [(t.id, t.pair) for t in old] != [(t.id, t.pair) for t in new]:
                yield kind


def _in_list(old: tuple[Entity, ...], new: tuple[Entity, ...]) -> Iterator[object]:
    olds, news = ({thing.id: thing for thing in things} for things in (old, new))
    for thing_id in olds.keys() | news.keys():
        was, now = olds.get(thing_id), news.get(thing_id)
        if was is None or now is None or type(was) is not type(now):
            yield thing_id, KIND
            yield thing_id, "name"
        elif was is not now:
            yield from _in_thing(was, now)


def _in_thing(was: Entity, now: Entity) -> Iterator[object]:
    """The fields that differ; all of them where the right side differs, for it may be anywhere."""
    yield was.id, ""  # the thing read whole
    is_apart = was.pair != now.pair or not same(was.right, now.right)
    for name in was.__struct_fields__:
        if is_apart or not same(getattr(was, name), getattr(now, name)):
            yield was.id, name


def touched_meshes(before: frozenset[str], after: frozenset[str]) -> Iterator[object]:
    """Tokens of the meshes that have come or gone."""
    return (MeshKey(sha256) for sha256 in before ^ after)
