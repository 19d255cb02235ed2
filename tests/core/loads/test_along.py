"""What tubes take along themselves, against trigonometry."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.loads.along import share_along, ways_at

X, Y, Z = np.eye(3)


def test_three_tubes_in_no_plane_take_everything() -> None:
    assert share_along(np.array([100.0, -200.0, 50.0]), np.array([X, Y, X + Z])) == pytest.approx(1)


@given(angle=st.floats(0.0, 90.0))
def test_one_tube_takes_the_cosine(angle: float) -> None:
    force = 1000.0 * (np.cos(np.radians(angle)) * X + np.sin(np.radians(angle)) * Z)

    assert share_along(force, X[None]) == pytest.approx(np.cos(np.radians(angle)), abs=1e-12)


def test_tubes_in_a_plane_take_nothing_square_to_it() -> None:
    flat = np.array([X, Y, X + Y, -X])

    assert share_along(500.0 * Z, flat) == pytest.approx(0.0, abs=1e-12)


def test_tubes_that_lean_a_little_out_of_a_plane_count_as_in_it() -> None:
    """2 degrees: they would take the force only by some thirty times its size."""
    lean = np.array([X, Y, X + 0.035 * Z])

    assert share_along(500.0 * Z, lean) < 0.05


def test_no_tube_takes_nothing() -> None:
    assert share_along(X, np.zeros((0, 3))) == 0.0


def test_a_tube_leads_both_ways_from_a_bend() -> None:
    """The straight pieces of a bend of 90 degrees and 100 radius meet in its vertex."""
    turn = np.linspace(0.0, np.pi / 2.0, 30)
    arc = np.stack([400.0 + 100.0 * np.sin(turn), 100.0 - 100.0 * np.cos(turn), 0.0 * turn], axis=1)
    line = np.concatenate([[[0.0, 0.0, 0.0]], arc, [[500.0, 600.0, 0.0]]])

    ways = ways_at(line, np.array([500.0, 0.0, 0.0]))

    assert {tuple(np.round(np.abs(way), 2)) for way in ways} == {(1.0, 0.0, 0.0), (0.0, 1.0, 0.0)}
    assert ways_at(line, np.array([0.0, 0.0, 0.0])) == pytest.approx(X[None])
