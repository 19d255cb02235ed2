"""Ride frequency of one corner: spring at the wheel and tyre one upon the other."""

import math

import numpy as np

from core.geometry.types import Array
from core.suspension.springs import more_than_nothing

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2. Source: 3rd General Conference on Weights and Measures,
1901."""


def in_series(rate: Array, tyre_rate: float) -> Array:
    """Return the rate (...) N/mm of a spring at the wheel on its tyre: k kt / (k + kt).

    nan where the rate at the wheel, with its geometric term, is below 0: nothing comes back there.

    Raises:
        ValueError: if the tyre has no rate.
    """
    more_than_nothing("rate of the tyre", tyre_rate)
    rate = np.where(np.asarray(rate) >= 0.0, rate, np.nan)
    return np.asarray(rate * tyre_rate / (rate + tyre_rate))


def ride_frequency_hz(rate: Array, sprung_kg: float) -> Array:
    """Return the frequency (...) of a mass on a spring, (1 / 2 pi) sqrt(k / m).

    nan where the rate is not above 0.

    Args:
        rate: (...) N/mm; with the tyre in series for the frequency on the road.
        sprung_kg: mass carried.

    Raises:
        ValueError: if there is no mass.
    """
    more_than_nothing("sprung mass", sprung_kg)
    rate = np.where(np.asarray(rate) > 0.0, rate, np.nan)
    return np.asarray(np.sqrt(1000.0 * rate / sprung_kg) / (2.0 * np.pi))


def rate_for_frequency(frequency_hz: float, sprung_kg: float) -> float:
    """Return the rate, N/mm, that gives a mass a frequency.

    Raises:
        ValueError: if the mass or the frequency is nothing.
    """
    more_than_nothing("ride frequency", frequency_hz)
    more_than_nothing("sprung mass", sprung_kg)
    return float((2.0 * math.pi * frequency_hz) ** 2 * sprung_kg / 1000.0)


def ride_bounds_hz(
    rate: float, tyre_rate: float, sprung_kg: float, unsprung_kg: float
) -> tuple[float, float]:
    """Return the least and most that the ride frequency of the corner with its wheel can be.

    Most: the wheel without mass, springs in series. Least: 1 / f^2 is at most the sum of those of
    each mass alone. Source: S. Dunkerley, Phil. Trans. R. Soc. A 185, 1894 (from memory).

    Raises:
        ValueError: if a rate or mass is nothing.
    """
    more_than_nothing("rate at the wheel", rate)
    most = float(ride_frequency_hz(in_series(np.asarray(rate), tyre_rate), sprung_kg))
    wheel = float(ride_frequency_hz(np.asarray(tyre_rate), unsprung_kg))
    return 1.0 / math.hypot(1.0 / most, 1.0 / wheel), most


def quarter_car_hz(
    rate: float, tyre_rate: float, sprung_kg: float, unsprung_kg: float
) -> tuple[float, float]:
    """Return the frequencies of the body on its springs and of the wheel between spring and tyre.

    Undamped: the roots of ms mu w^4 - (ms (k + kt) + mu k) w^2 + k kt = 0. Source: D. C. Barton,
    J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 209.

    Raises:
        ValueError: if a rate or mass is nothing.
    """
    named = {"rate at the wheel": rate, "rate of the tyre": tyre_rate}
    for what, number in {**named, "sprung mass": sprung_kg, "unsprung mass": unsprung_kg}.items():
        more_than_nothing(what, number)
    soft, stiff = 1000.0 * rate, 1000.0 * tyre_rate
    first, last = sprung_kg * unsprung_kg, soft * stiff
    middle = sprung_kg * (soft + stiff) + unsprung_kg * soft
    high = (middle + math.sqrt(middle**2 - 4.0 * first * last)) / (2.0 * first)
    low = last / (first * high)  # their product is known: no small difference of large numbers
    return math.sqrt(low) / (2.0 * math.pi), math.sqrt(high) / (2.0 * math.pi)
