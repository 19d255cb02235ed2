"""Whether two values of cells are equal, arrays included."""

from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

import numpy as np


def same(a: Any, b: Any) -> bool:  # noqa: ANN401 - compares values of any kind
    """Whether two values are equal in every part; arrays element by element, NaN never.

    A dataclass with an equality written by hand is asked; any other is compared field by field,
    for a generated equality cannot compare arrays.
    """
    if a is b:
        return True
    kind: type[object] = a.__class__
    if kind is not b.__class__:
        return False
    if kind is np.ndarray:
        return bool(a.shape == b.shape and a.dtype == b.dtype and np.array_equal(a, b))
    if issubclass(kind, tuple):
        return len(a) == len(b) and all(same(x, y) for x, y in zip(a, b, strict=True))
    names = _compared_fields(kind)
    if names is None:
        return bool(a == b)
    return all(same(getattr(a, name), getattr(b, name)) for name in names)


@cache
def _compared_fields(kind: type[object]) -> tuple[str, ...] | None:
    """The fields to compare one by one, or none where the kind knows best when it is equal."""
    by_hand = any("__eq__" in vars(k) for k in kind.__mro__[:-1])
    if not is_dataclass(kind):
        return None
    is_generated: bool = vars(kind)["__dataclass_params__"].eq
    return tuple(f.name for f in fields(kind)) if is_generated or not by_hand else None
