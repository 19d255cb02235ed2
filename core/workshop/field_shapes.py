"""What can be put into a field, told from its type: a number, a choice, a reference, a list."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Literal, get_args, get_origin

import msgspec
from msgspec import Meta, Struct

from core.assess.limits import DEFAULTS
from core.document.base import Ref, Vec3
from core.document.hints import hints_of, typed_path, without_none
from core.document.paths import Path
from core.document.records import Limit
from core.workshop.kinds import fields_of

What = Literal["number", "count", "flag", "text", "choice", "reference", "place", "part", "list"]


@dataclass(frozen=True)
class Shape:
    """What a field takes.

    Attributes:
        what: which form of value.
        optional: whether it may be left at don't know.
        choices: of a choice, the values it may have.
        kinds: of a reference, the kinds it may name; empty for any.
        part: of a part, its type.
        item: of a list, what each item is.
    """

    what: What
    optional: bool = False
    choices: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    part: type[Struct] | None = None
    item: "Shape | None" = None


_SCALARS: dict[object, What] = {
    float: "number",
    int: "count",
    bool: "flag",
    str: "text",
    Vec3: "place",
}


def shape_at(kind: type[Struct], path: Path) -> Shape:
    """What the field at a path takes.

    Raises:
        ValueError: there is no such path.
    """
    return _named(kind, path) or shape_of(typed_path(kind, path))


def _named(kind: type[Struct], path: Path) -> Shape | None:
    """A choice among names that the file keeps as plain text; nothing for any other field."""
    if kind is Limit and path == "rule":
        return Shape("choice", choices=tuple(DEFAULTS))
    return None


def shape_of(hint: Any) -> Shape:  # noqa: ANN401 - a type hint
    """What a field of a type takes.

    Raises:
        TypeError: no field of the document has such a type.
    """
    optional = type(None) in get_args(hint)
    inner = next(p for p in get_args(hint) if p is not type(None)) if optional else hint
    bare = without_none(inner)
    if bare in _SCALARS:
        return Shape(_SCALARS[bare], optional)
    if bare is Ref:
        return Shape("reference", optional, kinds=_kinds_of(inner))
    if get_origin(bare) is Literal:
        return Shape("choice", optional, choices=get_args(bare))
    if get_origin(bare) is tuple:
        return Shape("list", optional, item=shape_of(get_args(bare)[0]))
    if isinstance(bare, type) and issubclass(bare, Struct):
        return Shape("part", optional, part=bare)
    msg = f"no field takes a {hint}"
    raise TypeError(msg)


def _kinds_of(hint: Any) -> tuple[str, ...]:  # noqa: ANN401 - a type hint
    if get_origin(hint) is Annotated:
        for extra in get_args(hint)[1:]:
            if isinstance(extra, Meta) and extra.extra:
                kinds: tuple[str, ...] = extra.extra["kinds"]
                return kinds
    return ()


@cache
def field_shapes(kind: type[Struct]) -> dict[str, Shape]:
    """What each field of a kind, or of a part of one, takes; identity fields left out."""
    hints = hints_of(kind)
    return {name: _named(kind, name) or shape_of(hints[name]) for name in fields_of(kind)}


@cache
def required_fields(kind: type[Struct]) -> tuple[str, ...]:
    """The fields that a thing or a part of one cannot be without, besides id and name."""
    needed = {info.name for info in msgspec.structs.fields(kind) if info.required}
    return tuple(name for name in field_shapes(kind) if name in needed)
