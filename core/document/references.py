"""Every reference inside a thing, and every mesh, with where it stands."""

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Annotated, Any, NamedTuple, cast, get_args, get_origin

from msgspec import Meta, Struct

from core.document.base import IDENTITY_FIELDS, Entity, Ref
from core.document.hints import hints_of
from core.document.paths import item_name
from core.document.power import MeshRef


class Reference(NamedTuple):
    """A reference, its path inside the thing, and the kinds it may point to (empty: any)."""

    path: str
    ref: Ref
    kinds: tuple[str, ...]
    required: bool  # the thing cannot be without it


class _Holder(NamedTuple):
    """A field in which references can stand: as itself, in a list, or inside a value."""

    field: str
    kinds: tuple[str, ...]
    required: bool


def references(entity: Entity) -> Iterator[Reference]:
    """Every reference in a thing, without those of its facts and of its right side's own values."""
    for holder in _holders(type(entity)):
        value = getattr(entity, holder.field)
        yield from _inside(value, holder.field, holder.kinds, required=holder.required)


def reference_fields(kind: type[Struct]) -> tuple[str, ...]:
    """The fields of a kind in which references can stand."""
    return tuple(holder.field for holder in _holders(kind))


@cache
def _holders(kind: type[Struct]) -> tuple[_Holder, ...]:
    hints = hints_of(kind)
    return tuple(
        _Holder(field, _kinds(hints[field]), _is_required(hints[field]))
        for field in kind.__struct_fields__
        if field not in IDENTITY_FIELDS and _mentions_ref(hints[field])
    )


def _mentions_ref(hint: Any) -> bool:  # noqa: ANN401 - walks type hints
    if hint is Ref:
        return True
    if isinstance(hint, type) and issubclass(hint, Struct):
        return bool(_holders(hint))
    return any(_mentions_ref(part) for part in get_args(hint))


def _kinds(hint: Any) -> tuple[str, ...]:  # noqa: ANN401 - walks type hints
    """The kinds that the references of a field, or of its list, may point to."""
    if get_origin(hint) is Annotated:
        extras: list[Any] = [m.extra for m in get_args(hint)[1:] if isinstance(m, Meta) and m.extra]
        return cast("tuple[str, ...]", extras[0]["kinds"]) if extras else ()
    found = (_kinds(part) for part in get_args(hint))
    return next((kinds for kinds in found if kinds), ())


def _is_required(hint: Any) -> bool:  # noqa: ANN401 - walks type hints
    return get_origin(hint) is not tuple and type(None) not in get_args(hint)


def _inside(
    value: object, path: str, kinds: tuple[str, ...], *, required: bool
) -> Iterator[Reference]:
    if isinstance(value, Ref):
        yield Reference(path, value, kinds, required)
    elif isinstance(value, tuple):
        for number, item in enumerate(cast("tuple[object, ...]", value)):
            step = item_name(item) or str(number)
            yield from _inside(item, f"{path}.{step}", kinds, required=False)
    elif isinstance(value, Struct):
        for holder in _holders(type(value)):
            inner, inside = getattr(value, holder.field), f"{path}.{holder.field}"
            needed = required and holder.required
            yield from _inside(inner, inside, holder.kinds, required=needed)


def mesh_refs(things: Iterable[Entity]) -> Iterator[MeshRef]:
    """Every mesh that the things refer to."""
    for thing in things:
        mesh = getattr(thing, "mesh", None)
        if isinstance(mesh, MeshRef):
            yield mesh
