"""Whether two values of cells are equal, arrays included."""

import math
import operator
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache, partial
from typing import Any, cast

import numpy as np
from msgspec import Struct

Comparison = Callable[[Any, Any], bool]


def same(a: object, b: object) -> bool:
    """Whether two values are equal in every part and every bit: what is made from either is alike.

    So nought is not minus nought, for they point unlike ways, and a float that is no number
    equals itself. A class with an equality written by hand is asked; any other struct or
    dataclass is compared field by field, for a generated equality cannot compare arrays.
    """
    if a is b:
        return True
    return type(a) is type(b) and _comparison(cast("Any", type(a)))(a, b)


@cache
def _comparison(kind: Any) -> Comparison:  # noqa: ANN401 - a class; checkers know no better word
    """How two values of a class are compared."""
    if kind is float:
        return _same_float
    if issubclass(kind, np.ndarray):
        return _same_array
    if issubclass(kind, tuple):
        return _same_items
    names = _compared_fields(kind)
    return operator.eq if names is None else partial(_same_fields, names)


def _compared_fields(kind: Any) -> tuple[str, ...] | None:  # noqa: ANN401
    """The fields to compare one by one, or none where the class knows best when it is equal."""
    if issubclass(kind, Struct):
        names: tuple[str, ...] = kind.__struct_fields__
        return names
    classes: tuple[type, ...] = kind.__mro__
    if not is_dataclass(kind):
        return None
    by_hand = any("__eq__" in vars(k) for k in classes[:-1])
    is_generated: bool = vars(kind)["__dataclass_params__"].eq
    return tuple(f.name for f in fields(kind)) if is_generated or not by_hand else None


def _same_float(a: float, b: float) -> bool:
    if a == b:
        return a != 0.0 or math.copysign(1.0, a) == math.copysign(1.0, b)
    return math.isnan(a) and math.isnan(b)


def _same_array(a: Any, b: Any) -> bool:  # noqa: ANN401 - arrays of any kind
    return bool(a.shape == b.shape and a.dtype == b.dtype and a.tobytes() == b.tobytes())


def _same_items(a: tuple[Any, ...], b: tuple[Any, ...]) -> bool:
    return len(a) == len(b) and (all(map(operator.is_, a, b)) or all(map(same, a, b)))


def _same_fields(names: tuple[str, ...], a: object, b: object) -> bool:
    return all(same(getattr(a, name), getattr(b, name)) for name in names)
