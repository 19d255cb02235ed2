"""Every reference inside a thing, and every mesh, with where it stands."""

from collections.abc import Iterator
from functools import cache
from typing import Annotated, Any, NamedTuple, get_args, get_origin, get_type_hints

from msgspec import Meta, Struct

from core.document.base import IDENTITY_FIELDS, Entity, Ref
from core.document.paths import item_name
from core.document.power import MeshRef


class Reference(NamedTuple):
    """A reference, its path inside the thing, and the kinds it may point to (empty: any)."""

    path: str
    ref: Ref
    kinds: tuple[str, ...]
    required: bool  # the thing cannot be without it


def references(entity: Entity) -> Iterator[Reference]:
    """Every reference in a thing, without those of its facts and of its right side's own values."""
    for field in reference_fields(type(entity)):
        hint = _hints(type(entity))[field]
        yield from _walk(getattr(entity, field), hint, field, required=True)


@cache
def reference_fields(kind: type[Struct]) -> tuple[str, ...]:
    """The fields of a kind in which references can stand."""
    hints = _hints(kind)
    fields = (f for f in kind.__struct_fields__ if f not in IDENTITY_FIELDS)
    return tuple(f for f in fields if _mentions_ref(hints[f]))


@cache
def _hints(kind: type[Struct]) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def _mentions_ref(hint: Any) -> bool:  # noqa: ANN401 - walks type hints
    if hint is Ref:
        return True
    if isinstance(hint, type) and issubclass(hint, Struct):
        return any(_mentions_ref(h) for h in _hints(hint).values())
    return any(_mentions_ref(part) for part in get_args(hint))


def _walk(value: object, hint: Any, path: str, *, required: bool) -> Iterator[Reference]:  # noqa: ANN401 - walks type hints
    if value is None:
        return
    if get_origin(hint) is Annotated:
        base, *extras = get_args(hint)
        if base is Ref:
            assert isinstance(value, Ref)
            yield Reference(path, value, _kinds(extras), required)
            return
        hint = base
    if isinstance(value, Struct):
        for field in reference_fields(type(value)):
            inner = _hints(type(value))[field]
            yield from _walk(getattr(value, field), inner, f"{path}.{field}", required=required)
    elif get_origin(hint) is tuple:
        items: Any = value
        for number, item in enumerate(items):
            step = item_name(item) or str(number)
            yield from _walk(item, get_args(hint)[0], f"{path}.{step}", required=False)
    else:
        inner_hint = next(part for part in get_args(hint) if part is not type(None))
        yield from _walk(value, inner_hint, path, required=False)


def _kinds(extras: list[Any]) -> tuple[str, ...]:
    for extra in extras:
        if isinstance(extra, Meta) and extra.extra:
            kinds: tuple[str, ...] = extra.extra["kinds"]
            return kinds
    return ()


def mesh_refs(things: Iterator[Entity]) -> Iterator[MeshRef]:
    """Every mesh that the things refer to."""
    for thing in things:
        mesh = getattr(thing, "mesh", None)
        if isinstance(mesh, MeshRef):
            yield mesh
