"""Values inside a thing by dotted path: read, set, and the list of all its numbers."""

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar, cast

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Entity, Vec3, typed
from core.document.hints import Path, covers

__all__ = [
    "NoSuchPathError",
    "Path",
    "canonical_path",
    "changed_inside",
    "covers",
    "item_name",
    "number_paths",
    "step_into",
    "value_at",
    "with_value",
    "with_values",
]

S = TypeVar("S", bound=Struct)
Changes = list[tuple[list[str], object]]
"""Values to set, each of the type of its field, with the steps that lead to it."""


class NoSuchPathError(ValueError):
    """There is no such value in this thing."""


def value_at(thing: object, path: Path) -> object:
    """The value at a dotted path; the thing itself for the empty path.

    Raises:
        NoSuchPathError: naming the step that leads nowhere.
    """
    value = thing
    for step in path.split(".") if path else ():
        value = step_into(value, step)[1]
    return value


def canonical_path(thing: object, path: Path) -> Path:
    """A path that leads to a value with items of lists by name where they have one.

    Raises:
        NoSuchPathError: naming the step that leads nowhere.
    """
    steps: list[str] = []
    value = thing
    for step in path.split(".") if path else ():
        key, inner = step_into(value, step)
        steps.append(step if isinstance(key, str) else item_name(inner) or str(key))
        value = inner
    return ".".join(steps)


def step_into(value: object, step: str) -> tuple[str | int, object]:
    """The field or the number in a list that a step of a path means, and the value there.

    Raises:
        NoSuchPathError: the step leads nowhere.
    """
    is_field = isinstance(value, Struct) and step in value.__struct_fields__
    if is_field or (isinstance(value, Vec3) and step in Vec3._fields):
        return step, getattr(value, step)
    if isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        number = _number_in(items, step)
        return number, items[number]
    words = "here" if value is not None else "here, for this is not known"
    msg = f"there is no «{step[:80]}» {words}"
    raise NoSuchPathError(msg)


def _number_in(items: tuple[object, ...], step: str) -> int:
    for number, item in enumerate(items):
        if step == (item_name(item) or str(number)):
            return number
    for number in range(len(items)):
        if step == str(number):
            return number
    msg = f"there is no «{step[:80]}» in this list"
    raise NoSuchPathError(msg)


def item_name(item: object) -> str | None:
    """The name by which an item of a list is addressed; nothing if its number must do."""
    name: object = getattr(item, "name", None) or getattr(item, "role", None)
    if not isinstance(name, str) or "." in name or name.isdecimal():
        return None
    return name


def with_value(thing: S, path: Path, value: object) -> S:
    """The thing with the value at a path replaced; all the rest is shared.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: the value does not fit there.
    """
    return with_values(thing, ((path, value),))


def with_values(thing: S, values: Iterable[tuple[Path, object]]) -> S:
    """The thing with the values at several paths replaced, so that only the whole need be sound.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: a value does not fit there, or the whole is not sound.
    """
    changes: Changes = [(path.split("."), typed(type(thing), path, v)) for path, v in values]
    return cast("S", changed_inside(thing, changes))


def changed_inside(old: Any, changes: Changes) -> object:  # noqa: ANN401 - a value of any kind
    """A value with changes made inside it, each struct in it built anew once.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: the whole is not sound.
    """
    whole = [number for number, (steps, _) in enumerate(changes) if not steps]
    if whole:  # what is set later counts
        old, changes = changes[whole[-1]][1], changes[whole[-1] + 1 :]
    if not changes:
        return old
    new = {key: changed_inside(inner, group) for key, inner, group in _groups(old, changes)}
    if isinstance(old, Struct):
        return msgspec.structs.replace(old, **cast("dict[str, object]", new))
    if isinstance(old, Vec3):
        return old._replace(**cast("dict[str, float]", new))
    items = cast("tuple[object, ...]", old)
    return tuple(new.get(number, item) for number, item in enumerate(items))


def _groups(old: object, changes: Changes) -> Iterator[tuple[str | int, object, Changes]]:
    """Each field or number that changes, the value there, and what changes inside it."""
    groups: dict[str | int, tuple[object, Changes]] = {}
    for (step, *rest), value in changes:
        key, inner = step_into(old, step)
        groups.setdefault(key, (inner, []))[1].append((rest, value))
    yield from ((key, inner, group) for key, (inner, group) in groups.items())


def number_paths(entity: Entity) -> Iterator[Path]:
    """The path of every number in a thing, without those that only identify it."""
    for field in entity.__struct_fields__:
        if field not in IDENTITY_FIELDS:
            yield from _numbers(getattr(entity, field), field)


def _numbers(value: object, path: Path) -> Iterator[Path]:
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield path
    else:
        for step, inner in _inside(value):
            yield from _numbers(inner, f"{path}.{step}")


def _inside(value: object) -> Iterator[tuple[str, object]]:
    if isinstance(value, Struct):
        yield from ((field, getattr(value, field)) for field in value.__struct_fields__)
    elif isinstance(value, Vec3):
        yield from zip(Vec3._fields, value, strict=True)
    elif isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        yield from ((item_name(item) or str(number), item) for number, item in enumerate(items))
