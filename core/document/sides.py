"""The right-hand piece of a pair: mirror image of the left, but for its own values."""

from functools import cache
from typing import TypeVar, cast

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Axes, Box, Entity, Own, Ref, Side, Vec3
from core.document.paths import (
    Changes,
    NoSuchPathError,
    Path,
    canonical_path,
    changed_inside,
    covers,
    value_at,
    with_value,
    with_values,
)

T = TypeVar("T", bound=Struct)
E = TypeVar("E", bound=Entity)


def on_side(entity: E, side: Side) -> E:
    """The piece on one side, as a single thing in the car frame.

    The left piece is stored; the right one is its mirror image in the centre plane (y changes
    sign, references change side) with the values that are its own laid over.

    Raises:
        ValueError: the right side's own values do not fit the left piece as it is now.
    """
    if side != "right" or not entity.pair:
        return entity
    changed = _mirrored_fields(entity)
    for field, changes in _own_by_field(entity).items():
        mirrored = changed.get(field, getattr(entity, field))
        changed[field] = changed_inside(mirrored, changes)
    return msgspec.structs.replace(entity, **changed) if changed else entity


def _own_by_field(entity: Entity) -> dict[str, Changes]:
    found: dict[str, Changes] = {}
    for own in entity.right:
        field, *steps = own.of.split(".")
        found.setdefault(field, []).append((steps, own.value))
    return found


def mirror_thing(thing: T) -> T:
    """A thing with every place, direction, solid and reference inside it mirrored."""
    changed = _mirrored_fields(thing)
    return msgspec.structs.replace(thing, **changed) if changed else thing


def _mirrored_fields(thing: Struct) -> dict[str, object]:
    """The fields of a thing that are not their own mirror image, mirrored."""
    return {
        field: mirrored
        for field in _fields_to_mirror(type(thing))
        if (mirrored := mirror_value(value := getattr(thing, field))) is not value
    }


@cache
def _fields_to_mirror(kind: type[Struct]) -> tuple[str, ...]:
    return tuple(f for f in kind.__struct_fields__ if f not in IDENTITY_FIELDS)


def mirror_value(value: object) -> object:
    """A value mirrored in the centre plane; what has no side is returned as it is."""
    if isinstance(value, Vec3):
        return mirror_place(value)
    if isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        mirrored = tuple(mirror_value(item) for item in items)
        return items if all(a is b for a, b in zip(mirrored, items, strict=True)) else mirrored
    return _mirror_struct(value) if isinstance(value, Struct) else value


def mirror_place(place: Vec3) -> Vec3:
    """A place or a direction mirrored in the centre plane."""
    return Vec3(place.x, -place.y + 0.0, place.z)  # + 0.0: nought mirrored is not minus nought


def _mirror_struct(value: Struct) -> Struct:
    if isinstance(value, Ref):
        return value.mirrored()
    if isinstance(value, Box):
        return _mirror_box(value)
    return _mirror_axes(value) if isinstance(value, Axes) else mirror_thing(value)


def _mirror_box(box: Box) -> Box:
    """Mirror both corners, and swap which is the lower across the car."""
    low, high = mirror_place(box.low), mirror_place(box.high)
    return Box(low=low._replace(y=high.y), high=high._replace(y=low.y))


def _mirror_axes(axes: Axes) -> Axes:
    """Mirror the directions, and turn y round again so that they stay right-handed."""
    y = axes.y
    turned = Vec3(0.0 - y.x, y.y, 0.0 - y.z)  # from nought: no minus nought
    return Axes(x=mirror_place(axes.x), y=turned, z=mirror_place(axes.z))


def set_on_side(entity: E, side: Side, path: Path, value: object) -> E:
    """A thing with a value set on one side.

    The two pieces of a pair move together: what is set on the right is stored, mirrored, on the
    left, except where the right has its own value there.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: the value does not fit there.
    """
    if side != "right" or not entity.pair:
        return with_value(entity, path, value)
    right = with_value(on_side(entity, "right"), path, value)
    lefts = ((own.of, value_at(entity, own.of)) for own in entity.right)
    left = with_values(mirror_thing(right), lefts)
    rights = tuple(Own(of=own.of, value=value_at(right, own.of)) for own in entity.right)
    return msgspec.structs.replace(left, right=rights)


def release_side(entity: E, path: Path) -> E:
    """A pair whose right side has its own value at a path, at first what it was.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: it is no pair, or the right side has its own value there already.
    """
    if not entity.pair:
        msg = f"{entity.name} is a single thing, so it has no side to set free"
        raise ValueError(msg)
    right = on_side(entity, "right")
    path = canonical_path(right, path)
    if any(covers(own.of, path) for own in entity.right):
        msg = f"the right side of {entity.name} has its own «{path}» already"
        raise ValueError(msg)
    kept = tuple(own for own in entity.right if not covers(path, own.of))
    return msgspec.structs.replace(entity, right=(*kept, Own(of=path, value=value_at(right, path))))


def rejoin_side(entity: E, path: Path) -> E:
    """A pair whose right side is the mirror image of the left again at a path and below it."""
    try:
        path = canonical_path(on_side(entity, "right"), path)
    except NoSuchPathError:
        return entity
    kept = tuple(own for own in entity.right if not covers(path, own.of))
    return msgspec.structs.replace(entity, right=kept)
