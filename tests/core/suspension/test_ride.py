"""Ride frequencies against published values and a general solver of eigenvalues."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigh

from core.suspension.damper import damper_per_wheel_travel, wheel_rate
from core.suspension.ride import (
    GRAVITY,
    in_series,
    quarter_car_hz,
    rate_for_frequency,
    ride_bounds_hz,
    ride_frequency_hz,
)
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.core.suspension.corners import of_car, read, vec

RATES, MASSES = st.floats(5.0, 100.0), st.floats(100.0, 600.0)
TYRES, WHEELS = st.floats(120.0, 400.0), st.floats(15.0, 80.0)


def test_body_and_wheel_of_a_published_quarter_car() -> None:
    """D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209.

    317.5 and 45.4 kg, 22 and 192 kN/m: 1.25 and 10.9 Hz.
    """
    body, wheel = quarter_car_hz(22.0, 192.0, 317.5, 45.4)

    assert body == pytest.approx(1.25, abs=5.1e-3)
    assert wheel == pytest.approx(10.9, abs=5.1e-2)


@pytest.mark.parametrize(
    ("spring", "ratio", "mass", "at_wheel", "on_tyre", "frequency"),
    [
        (140.101, 0.7334, 312.0, 75.357, 60.922, 2.22),
        (210.152, 0.6822, 294.0, 97.804, 74.801, 2.54),
    ],
)
def test_ride_rates_worked_in_public(
    *, spring: float, ratio: float, mass: float, at_wheel: float, on_tyre: float, frequency: float
) -> None:
    """An engineering forum, 2013: tyre 318.030 N/mm; front corner and rear corner.

    The ratio is printed with four digits, so the rates agree to some 1e-4.
    """
    rate = wheel_rate(spring, np.array(ratio))
    both = in_series(rate, 318.030)

    assert float(rate) == pytest.approx(at_wheel, rel=2e-4)
    assert float(both) == pytest.approx(on_tyre, rel=2e-4)
    assert float(ride_frequency_hz(both, mass)) == pytest.approx(frequency, abs=5.1e-3)


def test_a_worked_wheel_rate() -> None:
    """A calculator's page: 50 N/mm at 0.75 and 350 kg give 28.1 N/mm and 1.43 Hz."""
    rate = wheel_rate(50.0, np.array(0.75))

    assert float(rate) == pytest.approx(28.1, abs=0.051)
    assert float(ride_frequency_hz(rate, 350.0)) == pytest.approx(1.43, abs=5.1e-3)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_ride_of_the_invented_car_is_that_of_its_makers_program(end: str) -> None:
    example, whole = of_car("demo", end), read("cars/demo-car.json")
    expected = whole["reference_results"]["mass"][end]
    ratio = damper_per_wheel_travel(solve(example.linkage, at()), example.damper)

    rate = wheel_rate(example.data["damper"]["spring_rate_N_per_mm"], ratio)
    sprung = expected["corner_kg"] - example.data["unsprung_mass_per_corner_kg"]

    assert float(rate) == pytest.approx(expected["wheel_rate_N_per_mm"], rel=2e-3)
    assert float(ride_frequency_hz(rate, sprung)) == pytest.approx(
        expected["ride_frequency_Hz"], abs=5.1e-3
    )


@given(rate=RATES, tyre=TYRES, body=MASSES, wheel=WHEELS)
def test_both_modes_are_those_of_a_general_solver_and_within_the_bounds(
    rate: float, tyre: float, body: float, wheel: float
) -> None:
    found = quarter_car_hz(rate, tyre, body, wheel)
    least, most = ride_bounds_hz(rate, tyre, body, wheel)

    stiffness = 1000.0 * np.array([[rate, -rate], [-rate, rate + tyre]])
    squares = eigh(stiffness, np.diag([body, wheel]), eigvals_only=True)
    assert found == pytest.approx(np.sqrt(squares) / (2.0 * math.pi), rel=1e-9)
    assert least < found[0] < most
    assert most - least < 0.2 * most


@given(rate=RATES, tyre=TYRES)
def test_two_springs_in_series_give_as_much_as_both_together(rate: float, tyre: float) -> None:
    both = float(in_series(np.array(rate), tyre))

    assert 100.0 / both == pytest.approx(100.0 / rate + 100.0 / tyre, rel=1e-12)


@given(frequency=st.floats(0.5, 5.0), mass=MASSES)
def test_a_rate_for_a_frequency_gives_it(frequency: float, mass: float) -> None:
    rate = rate_for_frequency(frequency, mass)

    assert float(ride_frequency_hz(np.array(rate), mass)) == pytest.approx(frequency, rel=1e-12)
    # Static sag and frequency: f = sqrt(g / sag) / 2 pi.
    sag = mass * GRAVITY / rate
    assert math.sqrt(1000.0 * GRAVITY / sag) / (2.0 * math.pi) == pytest.approx(frequency)


def test_what_does_not_come_back_has_no_frequency() -> None:
    rates = in_series(vec(-5.0, 0.0, 20.0, math.nan), 200.0)

    assert rates == pytest.approx(vec(math.nan, 0.0, 18.181818, math.nan), nan_ok=True, abs=1e-6)
    assert np.isfinite(ride_frequency_hz(rates, 200.0)).tolist() == [False, False, True, False]


def test_rates_and_masses_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="rate of the tyre must be more than 0"):
        in_series(vec(20.0), 0.0)
    with pytest.raises(ValueError, match="sprung mass"):
        ride_frequency_hz(vec(20.0), 0.0)
    with pytest.raises(ValueError, match="ride frequency"):
        rate_for_frequency(0.0, 200.0)
    with pytest.raises(ValueError, match="rate at the wheel"):
        ride_bounds_hz(0.0, 200.0, 200.0, 30.0)
    with pytest.raises(ValueError, match="unsprung mass"):
        quarter_car_hz(20.0, 200.0, 200.0, 0.0)
