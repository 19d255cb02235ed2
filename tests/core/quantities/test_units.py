"""Factors of units against published values and against scipy's own table."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from scipy import constants

from core.quantities import (
    UNITS,
    parse_angle,
    parse_force,
    parse_length,
    parse_mass,
    parse_stiffness,
    parse_stress,
    parse_torque_nm,
    unit_factor,
)
from core.quantities.units import BY_NAME, FORCE, LENGTH, MASS

Parse = Callable[[str], float]


def test_yard_and_pound_are_those_of_the_agreement_of_1959() -> None:
    # International yard and pound agreement, US Federal Register 24 FR 5348, 1 July 1959:
    # 1 yd = 0.9144 m and 1 lb = 0.453 592 37 kg, both exact.
    yard = 3 * unit_factor("ft", LENGTH)
    inch = unit_factor("in", LENGTH)

    assert yard == Fraction("914.4")
    assert 36 * inch == yard
    assert unit_factor("lb", MASS) == Fraction("0.45359237")


def test_the_pound_force_is_the_pound_under_standard_gravity() -> None:
    # 9.806 65 m/s2 exact: 3rd CGPM, 1901; 4.448 221 615 260 5 N: NIST SP 811 (2008), B.8, note.
    assert unit_factor("lbf", FORCE) == Fraction("4.4482216152605")


# A. Thompson and B. N. Taylor, NIST Special Publication 811, 2008, appendix B.8 (seven figures;
# values from memory). The tolerance is half a unit of the seventh figure.
SP_811: list[tuple[Parse, str, float]] = [
    (parse_force, "1 lbf", 4.448222),
    (parse_torque_nm, "1 lbf ft", 1.355818),
    (parse_torque_nm, "1 lbf in", 0.1129848),
    (parse_stiffness, "1 lbf/in", 0.1751268),
    (parse_stress, "1 psi", 6.894757e-3),
    (parse_stress, "1 lbf/in2", 6.894757e-3),
]


@pytest.mark.parametrize(("parse", "text", "published"), SP_811)
def test_derived_units_are_those_published(parse: Parse, text: str, published: float) -> None:
    assert float(f"{parse(text):.6e}") == published


# scipy.constants keeps a table of its own, in m, kg, rad, N and Pa.
SCIPY: list[tuple[Parse, str, float]] = [
    (parse_length, "1 in", constants.inch * 1e3),
    (parse_length, "1 ft", constants.foot * 1e3),
    (parse_length, "1 thou", constants.mil * 1e3),
    (parse_mass, "1 lb", constants.pound),
    (parse_mass, "1 g", constants.gram),
    (parse_force, "1 lbf", constants.pound_force),
    (parse_stress, "1 psi", constants.psi * 1e-6),
    (parse_angle, "1 rad", 1 / constants.degree),
    (parse_angle, "1 arcmin", constants.arcmin / constants.degree),
    (parse_angle, "1 arcsec", constants.arcsec / constants.degree),
]


@pytest.mark.parametrize(("parse", "text", "expected"), SCIPY)
def test_units_agree_with_those_of_scipy(parse: Parse, text: str, expected: float) -> None:
    # Each side rounds a few times in double precision.
    assert parse(text) == pytest.approx(expected, rel=1e-14)


def test_no_two_units_share_a_name_and_each_names_its_source() -> None:
    names = [name for unit in UNITS for name in unit.names]

    assert len(names) == len(set(names)) == len(BY_NAME)
    assert all(unit.source for unit in UNITS)
