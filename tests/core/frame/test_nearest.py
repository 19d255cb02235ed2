"""Nearest points of straight pieces against a general minimiser and hand-worked cases."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from core.frame.nearest import nearest_between, nearest_on_line, nearest_on_segments
from core.geometry.types import Array

corner = st.tuples(*[st.floats(-300.0, 300.0)] * 3).map(np.array)


def least_distance(p: Array, q: Array, a: Array, b: Array) -> float:
    """By bounded linear least squares on the two shares along the pieces."""
    found = lsq_linear(np.column_stack([q - p, a - b]), a - p, bounds=(0.0, 1.0), tol=1e-12)
    return float(np.linalg.norm(found.fun))


@given(p=corner, q=corner, a=corner, b=corner)
def test_no_points_of_two_pieces_are_closer_than_the_ones_found(
    p: Array, q: Array, a: Array, b: Array
) -> None:
    first, second = nearest_between(p[None], q[None], a[None], b[None])
    distance = float(np.linalg.norm(first - second))

    assert distance == pytest.approx(least_distance(p, q, a, b), abs=1e-3)
    assert np.linalg.norm(nearest_on_segments(first, p, q) - first) < 1e-9
    assert np.linalg.norm(nearest_on_segments(second, a, b) - second) < 1e-9


def test_crossing_parallel_end_on_and_pointlike_pieces_at_once() -> None:
    p = np.array([[0.0, 0, 0], [0.0, 0, 0], [0.0, 0, 0], [5.0, 0, 0]])
    q = np.array([[10.0, 0, 0], [10.0, 0, 0], [10.0, 0, 0], [5.0, 0, 0]])
    a = np.array([[4.0, -5, 3], [2.0, 2, 0], [12.0, 0, 0], [5.0, 7, 0]])
    b = np.array([[4.0, 5, 3], [8.0, 2, 0], [20.0, 0, 0], [5.0, 7, 0]])

    first, second = nearest_between(p, q, a, b)

    assert np.linalg.norm(first - second, axis=1) == pytest.approx([3.0, 2.0, 2.0, 7.0])
    assert first[0] == pytest.approx([4.0, 0.0, 0.0])
    assert second[0] == pytest.approx([4.0, 0.0, 3.0])
    assert first[2] == pytest.approx([10.0, 0.0, 0.0])


def test_nearest_on_a_bent_line() -> None:
    line = np.array([[0.0, 0, 0], [10.0, 0, 0], [10.0, 10, 0]])

    near, distances = nearest_on_line(np.array([[4.0, -3, 0], [12.0, 6, 0]]), line)

    assert near.tolist() == [[4.0, 0.0, 0.0], [10.0, 6.0, 0.0]]
    assert distances.tolist() == [3.0, 2.0]
