"""Walks through values of any kind: references rewritten, and the paths at which two differ."""

from collections.abc import Callable, Iterator
from typing import Any, Final, NamedTuple, TypeVar, cast

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Entity, Own, Ref, Vec3
from core.document.paths import Path, item_name, step_into
from core.document.references import Reference, reference_fields, references

S = TypeVar("S", bound=Struct)
E = TypeVar("E", bound=Entity)


class Gone:
    """The type of `GONE`."""


GONE: Final = Gone()
"""In place of a reference: there is nothing to refer to any more."""

Rewrite = Callable[[Ref], "Ref | Gone"]


def rewritten(value: object, rewrite: Rewrite) -> object:
    """A value with every reference inside it rewritten; what does not change is shared.

    Where a reference is gone, an item of a list drops out, a value that may be missing is
    missing, and whatever cannot be without it is gone as well.
    """
    if isinstance(value, Ref):
        return rewrite(value)
    if isinstance(value, Struct):
        return _struct_rewritten(value, rewrite)
    if isinstance(value, tuple) and not isinstance(value, Vec3):
        items = cast("tuple[object, ...]", value)
        kept = tuple(n for item in items if (n := rewritten(item, rewrite)) is not GONE)
        return items if _all_same(items, kept) else kept
    return value


def _all_same(items: tuple[object, ...], others: tuple[object, ...]) -> bool:
    return len(items) == len(others) and all(a is b for a, b in zip(items, others, strict=True))


def _struct_rewritten(value: Struct, rewrite: Rewrite) -> object:
    changed: dict[str, object] = {}
    required = {info.name for info in msgspec.structs.fields(type(value)) if info.required}
    for name in reference_fields(type(value)):
        old = getattr(value, name)
        new = rewritten(old, rewrite)
        if new is GONE:
            if name in required:
                return GONE
            new = None
        if new is not old:
            changed[name] = new
    return msgspec.structs.replace(value, **changed) if changed else value


def with_references(thing: E, rewrite: Rewrite) -> E | Gone:
    """A thing with its references rewritten, those of its right side and of its facts among them.

    Raises:
        ValueError: it would not be sound so, such as a tube that visits one joint twice.
    """
    new = rewritten(thing, rewrite)
    right = tuple(own_rewritten(own, rewrite) for own in thing.right)
    facts = tuple(rewritten(fact, rewrite) for fact in thing.facts)
    if new is GONE or any(own is GONE for own in right):
        return GONE
    values: dict[str, Any] = {}
    if not _all_same(thing.right, right):
        values["right"] = right
    if not _all_same(thing.facts, facts):
        values["facts"] = facts
    thing = cast("E", new)
    return msgspec.structs.replace(thing, **values) if values else thing


def own_rewritten(own: Own, rewrite: Rewrite) -> Own | Gone:
    """An own value of the right side; gone with what it names, for it says where that side is."""
    new = rewritten(own.value, rewrite)
    if new is GONE:
        return GONE
    return own if new is own.value else Own(of=own.of, value=new)


def all_references(thing: Entity) -> Iterator[Reference]:
    """Every reference in a thing, those of its right side and of its facts among them."""
    yield from references(thing)
    for own in thing.right:
        for ref in _refs_in(own.value):
            yield Reference(f"right.{own.of}", ref, (), required=False)
    for fact in thing.facts:
        for because in fact.because:
            yield Reference(f"facts.{fact.of}", because.ref, (), required=False)


def _refs_in(value: object) -> list[Ref]:
    found: list[Ref] = []

    def note(ref: Ref) -> Ref:
        found.append(ref)
        return ref

    rewritten(value, note)
    return found


class Difference(NamedTuple):
    """A path at which two pieces differ.

    Attributes:
        path: inside the older one.
        is_whole: all that was below it has been replaced, so that every path inside it differs.
    """

    path: Path
    is_whole: bool


def differences(old: object, new: object, path: Path = "") -> Iterator[Difference]:
    """Where two values differ, as deep as they are alike; identity, facts and notes aside."""
    if old is new or old == new:
        return
    if type(old) is not type(new) or isinstance(old, Ref):
        yield Difference(path, is_whole=True)
    elif isinstance(old, Struct):
        for name in old.__struct_fields__:
            if path or name not in IDENTITY_FIELDS:
                deeper = f"{path}.{name}" if path else name
                yield from differences(getattr(old, name), getattr(new, name), deeper)
    elif isinstance(old, Vec3):
        for axis in Vec3._fields:
            yield from differences(getattr(old, axis), getattr(new, axis), f"{path}.{axis}")
    elif isinstance(old, tuple):
        olds, news = cast("tuple[object, ...]", old), cast("tuple[object, ...]", new)
        yield from _list_differences(olds, news, path)
    else:
        yield Difference(path, is_whole=True)


def _list_differences(
    olds: tuple[object, ...], news: tuple[object, ...], path: Path
) -> Iterator[Difference]:
    """Items are matched by their names, else by their place from either end of the list."""
    pairs = list(_matched(olds, news))
    if len(pairs) < max(len(olds), len(news)):
        yield Difference(path, is_whole=False)
    partners = dict(pairs)
    for number, item in enumerate(olds):
        deeper = f"{path}.{item_name(item) or number}"
        if number in partners:
            yield from differences(item, news[partners[number]], deeper)
        else:
            yield Difference(deeper, is_whole=True)


def _matched(olds: tuple[object, ...], news: tuple[object, ...]) -> Iterator[tuple[int, int]]:
    names = {name: number for number, item in enumerate(news) if (name := item_name(item))}
    if names and all(item_name(item) for item in olds):
        named = ((number, names.get(item_name(item) or "")) for number, item in enumerate(olds))
        yield from ((old, new) for old, new in named if new is not None)
        return
    shorter = min(len(olds), len(news))
    head = next((i for i in range(shorter) if olds[i] != news[i]), shorter)
    if len(olds) == len(news):
        yield from ((i, i) for i in range(shorter))
        return
    tail = next((i for i in range(shorter - head) if olds[-1 - i] != news[-1 - i]), shorter - head)
    yield from ((i, i) for i in range(head))
    yield from ((len(olds) - 1 - i, len(news) - 1 - i) for i in range(tail))


def moved_path(old: object, new: object, path: Path) -> Path | None:
    """The path in `new` of what is at a path in `old`, items of lists matched; nothing if gone."""
    steps: list[str] = []
    for step in path.split(".") if path else ():
        if type(old) is not type(new):
            return None
        key, inner = step_into(old, step)
        if isinstance(key, int):
            olds, news = cast("tuple[object, ...]", old), cast("tuple[object, ...]", new)
            partner = dict(_matched(olds, news)).get(key)
            if partner is None:
                return None
            old, new = inner, news[partner]
            steps.append(item_name(new) or str(partner))
        else:
            old, new = inner, getattr(new, key)
            steps.append(key)
    return ".".join(steps)
