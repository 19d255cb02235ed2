"""Stands: against barycentric coordinates, a linear programme, and springs that can only push."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog, nnls
from scipy.spatial import ConvexHull

from core.balance.stands import stand_loads, tipping
from core.geometry.types import Array

FAR = 50.0
OFF = st.floats(-250.0, 250.0)
RECTANGLE = np.array([[0.0, 500.0], [0.0, -500.0], [-900.0, 500.0], [-900.0, -500.0]])


@st.composite
def lifted(draw: st.DrawFn, least: int = 3) -> tuple[Array, Array]:
    """Three or four stands, and a centre of gravity well inside them."""
    count = draw(st.integers(least, 4))
    stands = RECTANGLE[:count] + [[draw(OFF), draw(OFF)] for _ in range(count)]
    shares = np.array([draw(st.floats(0.05, 1.0)) for _ in range(count)])
    hull = ConvexHull(stands)
    assume(hull.volume > 1e4)  # of a plane figure, its area
    return stands, shares @ stands / shares.sum()


@given(lifted())
def test_margin_is_the_distance_to_the_nearest_side_of_the_hull(car: tuple[Array, Array]) -> None:
    """Scipy's hull gives each side as a line of unit normal: distance = -(n p + c)."""
    stands, at = car
    hull = ConvexHull(stands)
    gaps = -(hull.equations[:, :2] @ at + hull.equations[:, 2])

    found = tipping(stands, at)

    assert found.margin == pytest.approx(gaps.min(), abs=1e-6)
    first, second = stands[list(found.over)]
    across = np.array([first[1] - second[1], second[0] - first[0]]) / np.hypot(*(first - second))
    assert abs((at - first) @ across) == pytest.approx(found.margin, abs=1e-6)


def test_outside_it_tips_over_the_side_it_is_beyond() -> None:
    found = tipping(RECTANGLE, np.array([-950.0, 100.0]))

    assert found.margin == pytest.approx(-50.0)
    assert found.over == (2, 3)


@given(lifted())
def test_loads_balance_the_weight_and_only_push(car: tuple[Array, Array]) -> None:
    stands, at = car

    loads = stand_loads(800.0, at, stands)

    assert loads.alike.sum() == pytest.approx(800.0)
    assert loads.alike @ stands / 800.0 == pytest.approx(at, abs=1e-5)
    assert (loads.least >= 0.0).all()
    assert (loads.least <= loads.alike + 1e-7).all()
    assert (loads.alike <= loads.most + 1e-7).all()


@given(lifted())
def test_three_stands_share_by_barycentric_coordinates(car: tuple[Array, Array]) -> None:
    stands, at = car[0][:3], car[0][:3].mean(axis=0) * 0.7 + car[0][0] * 0.3
    assume(ConvexHull(stands).volume > 1e4)

    loads = stand_loads(600.0, at, stands)

    (a, b, c), whole = stands, _doubled_area(*stands)
    shares = [_doubled_area(at, b, c), _doubled_area(a, at, c), _doubled_area(a, b, at)]
    assert loads.alike == pytest.approx(600.0 * np.array(shares) / whole, abs=1e-6)
    assert loads.least == pytest.approx(loads.most)


def _doubled_area(a: Array, b: Array, c: Array) -> float:
    (p, q), (r, s) = b - a, c - a
    return float(p * s - q * r)


@given(lifted(least=4))
def test_bounds_of_four_stands_are_those_of_a_linear_programme(car: tuple[Array, Array]) -> None:
    stands, at = car
    rows, wanted = np.vstack([np.ones(4), (stands - at).T / 500.0]), [800.0, 0.0, 0.0]

    loads = stand_loads(800.0, at, stands)

    for k in range(4):
        cost = np.eye(4)[k]
        for found, sign in ((loads.least, 1.0), (loads.most, -1.0)):
            loaded = linprog(sign * cost, A_eq=rows, b_eq=wanted).x
            assert loaded is not None
            assert found[k] == pytest.approx(loaded[k], abs=1e-4)


@given(lifted(least=4))
def test_stands_that_give_alike_are_like_springs_that_only_push(car: tuple[Array, Array]) -> None:
    """Least sum of squares with the balance kept, by scipy's non-negative least squares."""
    stands, at = car
    heavy = 1e5
    rows = np.vstack([heavy * np.ones(4), heavy * (stands - at).T / 500.0, np.eye(4)])
    wanted, _ = nnls(rows, np.array([heavy * 800.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]))

    assert stand_loads(800.0, at, stands).alike == pytest.approx(wanted, abs=0.02)


def test_on_a_rectangle_the_lever_gives_each_pair() -> None:
    loads = stand_loads(900.0, np.array([-600.0, 0.0]), RECTANGLE)

    assert loads.alike == pytest.approx([150.0, 150.0, 300.0, 300.0])
    assert loads.least == pytest.approx([0.0, 0.0, 150.0, 150.0])
    assert loads.most == pytest.approx([300.0, 300.0, 450.0, 450.0])


def test_what_does_not_stand_is_refused() -> None:
    line = np.array([[0.0, 0.0], [0.0, 100.0], [0.0, 200.0]])

    with pytest.raises(ValueError, match="three or four"):
        tipping(RECTANGLE[:2], np.zeros(2))
    with pytest.raises(ValueError, match="one line"):
        tipping(line, np.zeros(2))
    with pytest.raises(ValueError, match="tips"):
        stand_loads(900.0, np.array([10.0, 0.0]), RECTANGLE)
