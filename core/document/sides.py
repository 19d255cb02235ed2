"""The right-hand piece of a pair: mirror image of the left, but for its own values."""

from functools import cache
from typing import TypeVar

import msgspec
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Axes, Box, Entity, Own, Ref, Side, Vec3
from core.document.paths import Path, covers, value_at, with_value

T = TypeVar("T", bound=Struct)


def on_side(entity: Entity, side: Side) -> Entity:
    """The piece on one side, as a single thing in the car frame.

    The left piece is stored; the right one is its mirror image in the centre plane (y changes
    sign, references change side) with the values that are its own laid over.
    """
    if side != "right" or not entity.pair:
        return entity
    mirrored: Struct = mirror_thing(entity)
    for own in entity.right:
        mirrored = with_value(mirrored, own.of, own.value)
    assert isinstance(mirrored, Entity)
    return mirrored


def mirror_thing(thing: T) -> T:
    """A thing with every place, direction, solid and reference inside it mirrored."""
    changed = {
        field: mirrored
        for field in _fields_to_mirror(type(thing))
        if (mirrored := mirror_value(value := getattr(thing, field))) is not value
    }
    return msgspec.structs.replace(thing, **changed) if changed else thing


@cache
def _fields_to_mirror(kind: type[Struct]) -> tuple[str, ...]:
    return tuple(f for f in kind.__struct_fields__ if f not in IDENTITY_FIELDS)


def mirror_value(value: object) -> object:
    """A value mirrored in the centre plane; what has no side is returned as it is."""
    if isinstance(value, Ref):
        return value.mirrored()
    if isinstance(value, Box):
        return _mirror_box(value)
    if isinstance(value, Axes):
        return _mirror_axes(value)
    if isinstance(value, Struct):
        return mirror_thing(value)
    if isinstance(value, Vec3):
        return mirror_place(value)
    if isinstance(value, tuple):
        items: tuple[object, ...] = value
        return tuple(mirror_value(item) for item in items)
    return value


def mirror_place(place: Vec3) -> Vec3:
    """A place or a direction mirrored in the centre plane."""
    return Vec3(place.x, -place.y + 0.0, place.z)  # + 0.0: nought mirrored is not minus nought


def _mirror_box(box: Box) -> Box:
    low, high = mirror_place(box.low), mirror_place(box.high)
    return Box(low=low._replace(y=high.y), high=high._replace(y=low.y))


def _mirror_axes(axes: Axes) -> Axes:
    """Mirror the directions, and turn y round again so that they stay right-handed."""
    y = mirror_place(axes.y)
    turned = Vec3(-y.x + 0.0, -y.y, -y.z + 0.0)
    return Axes(x=mirror_place(axes.x), y=turned, z=mirror_place(axes.z))


def set_on_side(entity: Entity, side: Side, path: Path, value: object) -> Entity:
    """A thing with a value set on one side.

    The two pieces of a pair move together: what is set on the right is stored, mirrored, on the
    left, except where the right has its own value there.

    Raises:
        NoSuchPathError: there is no such place.
        ValueError: the value does not fit there.
    """
    if side != "right" or not entity.pair:
        return _as_entity(with_value(entity, path, value))
    right = with_value(on_side(entity, "right"), path, value)
    left: Struct = mirror_thing(right)
    for own in entity.right:
        left = with_value(left, own.of, value_at(entity, own.of))
    own_values = tuple(Own(of=own.of, value=value_at(right, own.of)) for own in entity.right)
    return _as_entity(msgspec.structs.replace(left, right=own_values))


def release_side(entity: Entity, path: Path) -> Entity:
    """A pair whose right side has its own value at a path, at first what it was.

    Raises:
        ValueError: it is no pair, or the right side has its own value there already.
    """
    if not entity.pair:
        msg = f"{entity.name} is a single thing, so it has no side to set free"
        raise ValueError(msg)
    if any(covers(own.of, path) for own in entity.right):
        msg = f"the right side of {entity.name} has its own «{path}» already"
        raise ValueError(msg)
    value = value_at(on_side(entity, "right"), path)
    kept = tuple(own for own in entity.right if not covers(path, own.of))
    return msgspec.structs.replace(entity, right=(*kept, Own(of=path, value=value)))


def rejoin_side(entity: Entity, path: Path) -> Entity:
    """A pair whose right side is the mirror image of the left again at a path and below it."""
    kept = tuple(own for own in entity.right if not covers(path, own.of))
    return msgspec.structs.replace(entity, right=kept)


def _as_entity(thing: Struct) -> Entity:
    assert isinstance(thing, Entity)
    return thing
