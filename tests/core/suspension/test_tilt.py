"""How far joints tilt, and the best direction, against closed forms and a general minimiser."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from core.geometry.types import Array, unit
from core.suspension.tilt import (
    least_tilt_from_axis,
    least_tilt_from_square,
    tilt_from_axis_deg,
    tilt_from_square_deg,
)
from tests.core.suspension.corners import vec

X, Y, Z = np.eye(3)


def links_about(axis: Array, spread: float, seed: int, count: int = 40) -> Array:
    return unit(axis + np.random.default_rng(seed).uniform(-spread, spread, (count, 3)))


def test_a_link_square_to_its_bolt_has_no_tilt() -> None:
    found = tilt_from_square_deg(np.stack([X, Y, unit(X + Z)]), Z)

    assert found == pytest.approx([0.0, 0.0, 45.0], abs=1e-12)


@given(angle_deg=st.floats(0.0, 180.0))
def test_the_angle_to_an_axis_is_exact_however_small(angle_deg: float) -> None:
    angle = math.radians(angle_deg)
    link = vec(math.cos(angle), math.sin(angle), 0.0)

    assert float(tilt_from_axis_deg(link, X)) == pytest.approx(angle_deg, rel=1e-9, abs=1e-12)


@given(half_deg=st.floats(0.1, 60.0))
def test_a_fan_of_links_is_best_held_in_its_middle(half_deg: float) -> None:
    """Studs in one plane, over twice an angle: the best cup looks along the middle of them."""
    angles = np.radians(np.linspace(-half_deg, half_deg, 9))
    fan = np.stack([np.cos(angles), np.sin(angles), 0.0 * angles], axis=1)

    found = least_tilt_from_axis(fan)

    assert found.tilt_deg == pytest.approx(half_deg, abs=1e-7)
    assert found.direction == pytest.approx(X, abs=1e-7)


def test_links_in_one_plane_need_no_tilt_of_a_bolt_square_to_it() -> None:
    angles = np.radians(np.linspace(-20.0, 30.0, 9))
    fan = np.stack([0.0 * angles, np.cos(angles), np.sin(angles)], axis=1)

    found = least_tilt_from_square(fan, unit(X + 0.1 * Y))

    assert found.tilt_deg == pytest.approx(0.0, abs=1e-7)
    assert found.direction == pytest.approx(X, abs=1e-9)


def test_one_link_leaves_the_bolt_as_near_as_can_be_to_the_drawn_one() -> None:
    found = least_tilt_from_square(Y[None], unit(X + 0.2 * Y))

    assert found.tilt_deg == pytest.approx(0.0, abs=1e-12)
    assert found.direction == pytest.approx(X, abs=1e-12)


@settings(max_examples=5, deadline=None)
@given(seed=st.integers(0, 1000))
def test_no_direction_of_a_bolt_does_better(seed: int) -> None:
    """Against two hundred thousand directions all round."""
    links = links_about(Y, 0.3, seed)
    around = unit(np.random.default_rng(seed).normal(size=(200_000, 3)))

    found = least_tilt_from_square(links, X)

    tried = math.degrees(math.asin(np.abs(around @ links.T).max(axis=1).min()))
    worst = float(tilt_from_square_deg(links, found.direction).max())
    assert worst == pytest.approx(found.tilt_deg, abs=1e-12)
    assert found.tilt_deg <= tried
    assert found.tilt_deg == pytest.approx(tried, abs=0.4)


@settings(max_examples=5, deadline=None)
@given(seed=st.integers(0, 1000))
def test_no_direction_of_a_cup_does_better(seed: int) -> None:
    links = links_about(unit(vec(0.2, -0.3, 1.0)), 0.4, seed)

    found = least_tilt_from_axis(links)

    def worst(axis: Array) -> float:
        return float(tilt_from_axis_deg(links, unit(axis)).max())

    best = min(minimize(worst, start, method="Nelder-Mead").fun for start in links[:5])
    assert worst(found.direction) == pytest.approx(found.tilt_deg, abs=1e-12)
    assert found.tilt_deg <= best + 1e-9
    assert found.tilt_deg == pytest.approx(best, abs=1e-2)


def test_positions_without_a_pose_do_not_count() -> None:
    links = np.stack([X, unit(X + 0.1 * Y), np.full(3, np.nan)])

    half = math.degrees(math.atan(0.1)) / 2.0
    assert least_tilt_from_axis(links).tilt_deg == pytest.approx(half, abs=1e-9)
    with pytest.raises(ValueError, match="a position"):
        least_tilt_from_axis(links[2:])


def test_links_all_round_have_no_cup() -> None:
    with pytest.raises(ValueError, match="no cone"):
        least_tilt_from_axis(np.concatenate([np.eye(3), -np.eye(3)]))
