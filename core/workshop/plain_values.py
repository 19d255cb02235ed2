"""Values of cells as plain data: numbers, texts, lists and mappings."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, TypeAlias, cast

import numpy as np
from msgspec import Struct, to_builtins

from core.document.base import Ref
from core.engine.assess import NotYet, NoValue

Json: TypeAlias = bool | int | float | str | list["Json"] | dict[str, "Json"] | None


class NotPlainError(TypeError):
    """A value follows from others and is no plain data, such as a tree; it is left out."""


def plain(value: object) -> Json:
    """A value of a cell as plain data.

    References become addresses, places and arrays lists. What a dataclass works out from its own
    fields is left out, but for its properties; so are trees and raw bytes inside it.

    Raises:
        NotPlainError: the value itself is a tree or raw bytes.
    """
    if isinstance(value, np.ndarray | np.generic):
        value = cast("Any", value).tolist()
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return _float(value)
    if isinstance(value, Ref):
        return str(value)
    if isinstance(value, NoValue | NotYet):
        return {"unknown": value.reason if isinstance(value, NoValue) else "not computed yet"}
    return _plain_whole(value)


def _float(value: float) -> Json:
    """A float, zero without a sign; one that is not finite in words, for JSON has none."""
    return value + 0.0 if math.isfinite(value) else f"not finite: {value}"


def _plain_whole(value: object) -> Json:
    if isinstance(value, list | tuple):
        return [plain(item) for item in cast("Iterable[object]", value)]
    if isinstance(value, Mapping):
        pairs = cast("Mapping[object, object]", value)
        return _kept({str(key): item for key, item in pairs.items()})
    if isinstance(value, Struct):
        return plain(to_builtins(value))
    if is_dataclass(value) and not isinstance(value, type):
        return _kept(_parts(value))
    msg = f"a {type(value).__name__} is no plain data"
    raise NotPlainError(msg)


def _parts(value: Any) -> dict[str, object]:  # noqa: ANN401 - a dataclass of any kind
    kind = cast("type[object]", type(value))
    given = {field.name: getattr(value, field.name) for field in fields(value) if field.init}
    told = {
        name: getattr(value, name)
        for name, member in vars(kind).items()
        if isinstance(member, property)
    }
    return given | told


def _kept(items: Mapping[str, object]) -> Json:
    kept: dict[str, Json] = {}
    for key, item in items.items():
        try:
            kept[key] = plain(item)
        except NotPlainError:
            continue
    return kept
