"""What axles and wheels carry, against published data and the equations of statics."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.balance.wheels import Split, axle_loads, corner_loads, on_scales
from core.geometry.types import Array

SPLITS: tuple[Split, ...] = ("sides", "diagonals")


def square_car(base: float, front_track: float, rear_track: float) -> Array:
    f, r = front_track / 2.0, rear_track / 2.0
    return np.array([[0.0, f], [0.0, -f], [-base, r], [-base, -r]])


@st.composite
def cars(draw: st.DrawFn) -> tuple[float, Array, Array]:
    """A mass, its place between the wheels, and four wheels not quite square."""
    base, track = draw(st.floats(1500.0, 3200.0)), draw(st.floats(1000.0, 1700.0))
    off = st.floats(-30.0, 30.0)
    wheels = square_car(base, track, track) + [[draw(off), draw(off)] for _ in range(4)]
    shares = draw(st.tuples(st.floats(0.2, 0.8), st.floats(0.35, 0.65)))
    at = np.array([-base * shares[0], track * (shares[1] - 0.5)])
    return draw(st.floats(300.0, 2500.0)), at, wheels


def test_axle_loads_of_a_published_car() -> None:
    """R. N. Jazar, Vehicle Dynamics, 2008, exercise 1, p. 90: 1765 kg, a1 1.22 m, a2 1.62 m.

    Data as printed; the loads are W a2 / l and W a1 / l, with 9.81 m/s2.
    """
    wheels = square_car(2840.0, 1500.0, 1500.0)

    front, rear = axle_loads(1765.0, -1220.0, wheels)

    assert front * 9.81 == pytest.approx(9876.7, abs=0.05)
    assert rear * 9.81 == pytest.approx(7438.0, abs=0.05)
    assert axle_loads(1765.0, -1220.0, wheels).rear_share == pytest.approx(1220.0 / 2840.0)


@given(cars(), st.sampled_from(SPLITS))
def test_corner_loads_balance_the_weight(car: tuple[float, Array, Array], split: Split) -> None:
    mass, at, wheels = car

    loads = corner_loads(mass, at, wheels, split)

    assert loads.sum() == pytest.approx(mass)
    assert loads @ wheels / mass == pytest.approx(at, abs=1e-6)


@given(cars())
def test_the_fourth_equation_is_what_it_is_said_to_be(car: tuple[float, Array, Array]) -> None:
    mass, at, wheels = car
    front, rear = axle_loads(mass, float(at[0]), wheels)

    fl, fr, rl, rr = corner_loads(mass, at, wheels, "sides")
    assert (fl - fr) / front == pytest.approx((rl - rr) / rear, abs=1e-9)

    fl, fr, rl, rr = corner_loads(mass, at, wheels, "diagonals")
    assert fl + rr == pytest.approx(fr + rl)


@given(cars(), st.sampled_from(SPLITS))
def test_a_mirrored_car_has_mirrored_loads(car: tuple[float, Array, Array], split: Split) -> None:
    mass, at, wheels = car
    mirror = np.array([1.0, -1.0])

    loads = corner_loads(mass, at, wheels, split)
    other = corner_loads(mass, at * mirror, wheels[[1, 0, 3, 2]] * mirror, split)

    assert other[[1, 0, 3, 2]] == pytest.approx(loads)


@pytest.mark.parametrize("split", SPLITS)
def test_a_centred_car_of_one_track_has_equal_sides(split: Split) -> None:
    loads = corner_loads(1000.0, np.array([-800.0, 0.0]), square_car(2000.0, 1400.0, 1400.0), split)

    assert loads == pytest.approx([300.0, 300.0, 200.0, 200.0])


def test_what_is_to_the_left_loads_the_left_wheels() -> None:
    """Moments about the right-hand wheels: share 1/2 + y / track."""
    at = np.array([-1000.0, 140.0])

    loads = corner_loads(1000.0, at, square_car(2000.0, 1400.0, 1400.0), "sides")

    assert loads == pytest.approx([300.0, 200.0, 300.0, 200.0])


@given(cars(), st.sampled_from(SPLITS))
def test_scales_find_the_centre_of_gravity_again(
    car: tuple[float, Array, Array], split: Split
) -> None:
    mass, at, wheels = car
    loads = corner_loads(mass, at, wheels, split)
    if (loads < 0.0).any():
        return

    found = on_scales(loads, wheels)

    assert found.mass_kg == pytest.approx(mass)
    assert found.at == pytest.approx(at, abs=1e-6)
    assert found.axles.front == pytest.approx(loads[:2].sum())
    if split == "diagonals":
        assert found.cross_share == pytest.approx(0.5)


def test_cross_weight_leaves_centre_axles_and_sides_as_they_were() -> None:
    """A jack under one corner shifts a diagonal: on wheels in a rectangle nothing else changes."""
    wheels = square_car(2400.0, 1400.0, 1400.0)
    level = np.array([180.0, 180.0, 250.0, 250.0])

    jacked = level + np.array([20.0, -20.0, -20.0, 20.0])

    before, after = on_scales(level, wheels), on_scales(jacked, wheels)

    assert after.at == pytest.approx(before.at)
    assert after.axles == pytest.approx(before.axles)
    assert after.left_share == pytest.approx(before.left_share)
    assert after.cross_share == pytest.approx(before.cross_share + 40.0 / 860.0)


def test_wheels_out_of_order_are_refused() -> None:
    wheels = square_car(2000.0, 1400.0, 1400.0)
    at = np.array([-1000.0, 0.0])

    with pytest.raises(ValueError, match="ahead"):
        corner_loads(1000.0, at, wheels[[2, 3, 0, 1]])
    with pytest.raises(ValueError, match="left"):
        corner_loads(1000.0, at, wheels[[1, 0, 3, 2]])
    with pytest.raises(ValueError, match="scales"):
        on_scales(np.array([-1.0, 200.0, 200.0, 200.0]), wheels)
