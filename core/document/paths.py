"""Values inside a thing by dotted path: read, set, and the list of all its numbers."""

from collections.abc import Iterator

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Entity, Vec3, typed

Path = str


class NoSuchPathError(ValueError):
    """There is no such value in this thing."""


def value_at(thing: object, path: Path) -> object:
    """The value at a dotted path; the thing itself for the empty path.

    Raises:
        NoSuchPathError: naming the step that leads nowhere.
    """
    value = thing
    for step in path.split(".") if path else ():
        value = _step(value, step)
    return value


def _step(value: object, step: str) -> object:
    if isinstance(value, Struct) and step in value.__struct_fields__:
        return getattr(value, step)
    if isinstance(value, Vec3) and step in Vec3._fields:
        return getattr(value, step)
    if isinstance(value, tuple):
        return value[_index(value, step)]  # pyright: ignore[reportUnknownVariableType]
    msg = f"there is no «{step}» here" if value is not None else f"«{step}» is not known here"
    raise NoSuchPathError(msg)


def _index(items: tuple[object, ...], step: str) -> int:
    for number, item in enumerate(items):
        if item_name(item) == step:
            return number
    if step.isdigit() and int(step) < len(items):
        return int(step)
    msg = f"there is no «{step}» in this list"
    raise NoSuchPathError(msg)


def item_name(item: object) -> str | None:
    """The name by which an item of a list is addressed, if it has one."""
    name = getattr(item, "name", None) or getattr(item, "role", None)
    return name if isinstance(name, str) and "." not in name else None


def with_value(thing: Struct, path: Path, value: object) -> Struct:
    """The thing with the value at a path replaced; all the rest is shared.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: the value does not fit there.
    """
    typed_value = typed(type(thing), path, value)
    replaced = _with(thing, path.split("."), typed_value)
    assert isinstance(replaced, Struct)
    return replaced


def _with(thing: object, steps: list[str], value: object) -> object:
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if isinstance(thing, Struct) and step in thing.__struct_fields__:
        return msgspec.structs.replace(thing, **{step: _with(getattr(thing, step), rest, value)})
    if isinstance(thing, Vec3) and step in Vec3._fields:
        assert isinstance(value, float)
        return thing._replace(**{step: value})
    if isinstance(thing, tuple):
        items: tuple[object, ...] = thing
        number = _index(items, step)
        return (*items[:number], _with(items[number], rest, value), *items[number + 1 :])
    msg = f"there is no «{step}» here to set; set the whole of what holds it first"
    raise NoSuchPathError(msg)


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
    elif isinstance(value, Struct):
        for field in value.__struct_fields__:
            yield from _numbers(getattr(value, field), f"{path}.{field}")
    elif isinstance(value, Vec3):
        yield from (f"{path}.{axis}" for axis in Vec3._fields)
    elif isinstance(value, tuple):
        items: tuple[object, ...] = value
        for number, item in enumerate(items):
            step = item_name(item) or str(number)
            yield from _numbers(item, f"{path}.{step}")


def covers(outer: Path, inner: Path) -> bool:
    """Whether a path is another one, or the branch that holds it."""
    return not outer or inner == outer or inner.startswith(outer + ".")
