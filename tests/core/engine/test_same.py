import math
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Box, Ref, Vec3
from core.engine.same import same
from core.geometry.types import Array


@dataclass(frozen=True)
class Line:
    """Has a generated equality, which cannot compare arrays."""

    places: Array
    name: str = "line"


@dataclass(frozen=True, eq=False)
class Bare:
    """Has no equality but identity."""

    places: Array


@dataclass(frozen=True, eq=False)
class Keyed:
    """Has an equality written by hand."""

    key: str
    note: float

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Keyed) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key)


@dataclass(frozen=True)
class Around:
    """Has a generated equality, around parts that have none."""

    parts: tuple[Bare, ...]


def places(*values: float) -> Array:
    return np.array(values, dtype=np.float64)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1.5, 1.5),
        ("a", "a"),
        (None, None),
        (Ref("tube1", "left"), Ref("tube1", "left")),
        (Vec3(1.0, 2.0, 3.0), Vec3(1.0, 2.0, 3.0)),
        (places(1.0, 2.0), places(1.0, 2.0)),
        ((places(1.0), "x"), (places(1.0), "x")),
        (Line(places(1.0)), Line(places(1.0))),
        (Bare(places(1.0)), Bare(places(1.0))),
        (Around((Bare(places(1.0)),)), Around((Bare(places(1.0)),))),
        (Keyed("k", 1.0), Keyed("k", 2.0)),
        (Box(low=Vec3(0, 0, 0), high=Vec3(1, 1, 1)), Box(low=Vec3(0, 0, 0), high=Vec3(1, 1, 1))),
        (frozenset({1, 2}), frozenset({2, 1})),
        (math.nan, math.nan),
    ],
)
def test_equal_values_are_the_same(one: object, other: object) -> None:
    assert same(one, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1.0, 1),
        (1.0, 1.0000000000000002),
        (True, 1),
        (0.0, -0.0),
        (Vec3(0.0, 0.0, 0.0), Vec3(0.0, -0.0, 0.0)),
        (Vec3(1.0, 2.0, 3.0), (1.0, 2.0, 3.0)),
        (places(0.0), places(-0.0)),
        (places(1.0, 2.0), places(1.0, 2.0).reshape(2, 1)),
        (places(1.0), places(1.0).astype(np.float32)),
        ((1.0,), (1.0, 1.0)),
        (Line(places(1.0)), Line(places(2.0))),
        (Line(places(1.0)), Line(places(1.0), "other")),
        (Bare(places(1.0)), Bare(places(2.0))),
        (Around((Bare(places(1.0)),)), Around((Bare(places(2.0)),))),
        (Keyed("k", 1.0), Keyed("l", 1.0)),
        (None, 0.0),
    ],
)
def test_values_that_differ_in_any_bit_are_not(one: object, other: object) -> None:
    assert not same(one, other)
    assert not same(other, one)


@given(st.recursive(st.floats() | st.text(), lambda inner: st.tuples(inner, inner)))
def test_every_value_is_the_same_as_itself_made_again(value: object) -> None:
    again = value if not isinstance(value, float) else float(value)

    assert same((value,), (again,))
