"""Dotted paths of values inside a kind of thing, and the type each value has there."""

from functools import lru_cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import msgspec
from msgspec import Struct

from core.document.plain import Vec3, fitted

Path = str
IDENTITY_FIELDS = ("id", "name", "pair", "right", "facts", "note")
"""Fields of every thing that are no values of the car: no facts, no sides, no addresses."""

DEEPEST = 12
"""Steps of the longest path; the deepest value of any kind lies at half of that."""


def covers(outer: Path, inner: Path) -> bool:
    """Whether a path is another one, or the branch that holds it."""
    return not outer or inner == outer or inner.startswith(outer + ".")


def kind_name(kind: type[Struct]) -> str:
    """The word a kind has in the file, such as `power_unit`."""
    tag = kind.__struct_config__.tag
    return str(tag) if tag else kind.__name__


def typed(kind: type[Struct], path: Path, value: object) -> object:
    """`value` as the type that `path` has in `kind`.

    Raises:
        ValueError: the path does not exist there, or the value does not fit it.
    """
    hint, bare = _hint_and_bare(kind, path)
    if hint is None:
        msg = "this names no single value; name one inside it"
        raise ValueError(msg)
    if isinstance(value, float) and bare is float:
        return fitted(value, path)
    if isinstance(value, Vec3) and bare is Vec3:
        return fitted(value, path)
    if isinstance(value, Struct | str) and type(value) is bare:
        return value
    converted = _converted(path, value, hint)
    return fitted(converted, path) if _is_numbers(bare) else converted


@lru_cache(maxsize=4096)
def _hint_and_bare(kind: type[Struct], path: Path) -> tuple[Any, Any]:
    hint = typed_path(kind, path)
    return hint, without_none(hint)


def _is_numbers(hint: Any) -> bool:  # noqa: ANN401 - walks type hints
    parts = [part for part in get_args(hint) if part is not Ellipsis]
    return hint in (float, Vec3) or (get_origin(hint) is tuple and _is_numbers(parts[0]))


def _converted(path: Path, value: object, hint: Any) -> object:  # noqa: ANN401 - a type hint
    try:
        return msgspec.convert(msgspec.to_builtins(value), hint)
    except (msgspec.ValidationError, TypeError, OverflowError) as error:
        msg = f"«{path}»: {error}"
        raise ValueError(msg) from error


@lru_cache(maxsize=4096)
def typed_path(kind: type[Struct], path: Path) -> Any:  # noqa: ANN401 - a type hint is what it returns
    """The type hint at a dotted path inside a kind; `None` for the empty path, which is all of it.

    Steps are field names, names or numbers of items in a list, and x, y, z of a place.

    Raises:
        ValueError: there is no such path.
    """
    if not path:
        return None
    steps = path.split(".", DEEPEST)
    hint: Any = None if steps[0] in IDENTITY_FIELDS else kind
    for step in steps:
        hint = _step_hint(without_none(hint), step)
        if hint is None:
            msg = f"there is no value «{path[:80]}» in a {kind_name(kind)}"
            raise ValueError(msg)
    return hint


def without_none(hint: Any) -> Any:  # noqa: ANN401 - walks type hints
    """A hint without `None` and without annotations."""
    if get_origin(hint) is Annotated:
        return without_none(get_args(hint)[0])
    parts = [part for part in get_args(hint) if part is not type(None)]
    is_union = type(None) in get_args(hint)
    return without_none(parts[0]) if is_union and len(parts) == 1 else hint


def _step_hint(hint: Any, step: str) -> Any:  # noqa: ANN401 - walks type hints
    if hint is Vec3 or (isinstance(hint, type) and issubclass(hint, Struct)):
        return hints_of(hint).get(step)
    return get_args(hint)[0] if get_origin(hint) is tuple else None


@lru_cache(maxsize=512)
def hints_of(kind: type) -> dict[str, Any]:
    """The type hint of each field of a kind, annotations included."""
    return get_type_hints(kind, include_extras=True)
