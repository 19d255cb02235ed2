"""Numbers as a person reads them, and back again."""

from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.quantities import (
    format_angle,
    format_length,
    format_mass,
    format_signed,
    fraction_of_inch,
    number,
    parse_angle,
    parse_length,
    parse_mass,
    parse_number,
    with_uncertainty,
)

sizes = st.floats(min_value=-1e9, max_value=1e9)
places = st.integers(0, 6)


def rounded(value: float, decimals: int) -> float:
    """Round by the decimal module, from the exact value of the float."""
    return float(Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN))


@given(sizes, places, st.booleans())
def test_what_is_written_is_read_back_rounded(value: float, decimals: int, plain: bool) -> None:  # noqa: FBT001
    expected = rounded(value, decimals)

    assert parse_number(number(value, decimals, ascii_only=plain)) == expected
    assert parse_number(format_signed(value, decimals, ascii_only=plain)) == expected
    assert parse_length(format_length(value, decimals, ascii_only=plain)) == expected
    assert parse_angle(format_angle(value, decimals, ascii_only=plain)) == expected
    assert parse_mass(format_mass(value, decimals, ascii_only=plain)) == expected


@given(st.floats(-1e5, 1e5), st.sampled_from(["cm", "m", "in", "ft"]))
def test_a_length_in_another_unit_is_read_back_to_half_its_last_digit(
    value: float, unit: str
) -> None:
    half_digit = parse_length("0.0005", unit=unit)

    assert abs(parse_length(format_length(value, 3, unit)) - value) <= half_digit * (1 + 1e-6)


@given(st.floats(-0.049, 0.049), st.booleans())
def test_zero_has_no_sign(value: float, plain: bool) -> None:  # noqa: FBT001
    assert number(value, 1, ascii_only=plain) == "0.0"
    assert format_signed(value, 1, ascii_only=plain) == "0.0"


def test_the_forms_are_those_of_print_and_of_plain_text() -> None:
    assert number(-1.25, 2) == "\u22121.25"
    assert number(-1.25, 2, ascii_only=True) == "-1.25"
    assert format_signed(1.25, 1) == "+1.2"
    assert format_signed(-1.25, 1) == "\u22121.2"
    assert format_length(1234.56) == "1234.6 mm"
    assert format_length(38.1, 2, "in") == "1.50 in"
    assert format_angle(-1.5) == "\u22121.50\u00b0"
    assert format_angle(-1.5, ascii_only=True) == "-1.50 deg"
    assert format_mass(80.04) == "80.0 kg"


# Worked by hand: 25.4 mm / 32 = 0.79375 mm.
@pytest.mark.parametrize(
    ("value_mm", "shown"),
    [
        (0.0, '0"'),
        (-0.1, '0"'),
        (0.8, '1/32"'),
        (19.05, '3/4"'),
        (-19.05, '\u22123/4"'),
        (25.3, '1"'),
        (38.1, '1 1/2"'),
        (-40.0, '\u22121 9/16"'),
        (1689.1, '66 1/2"'),
    ],
)
def test_the_nearest_fraction_of_an_inch_is_in_its_lowest_terms(
    value_mm: float, shown: str
) -> None:
    assert fraction_of_inch(value_mm) == shown


@given(st.floats(-1e5, 1e5), st.sampled_from([1, 2, 4, 8, 16, 32, 64, 128]), st.booleans())
def test_a_fraction_of_an_inch_is_a_whole_number_of_parts_and_the_nearest(
    value: float,
    denominator: int,
    plain: bool,  # noqa: FBT001
) -> None:
    part = Fraction(254, 10) / denominator

    back = parse_length(fraction_of_inch(value, denominator, ascii_only=plain))

    assert back == float(round(back / float(part)) * part)
    assert abs(back - value) <= float(part) / 2 * (1 + 1e-9)


# Particle Data Group, Review of Particle Physics, Introduction, "Rounding": the first two
# are its own examples (from memory); the others follow from its rule.
@pytest.mark.parametrize(
    ("value", "uncertainty", "shown"),
    [
        (0.827, 0.119, "0.83 +/- 0.12"),
        (0.827, 0.367, "0.8 +/- 0.4"),
        (1.0, 0.354, "1.00 +/- 0.35"),
        (1.0, 0.355, "1.0 +/- 0.4"),
        (1.0, 0.949, "1.0 +/- 0.9"),
        (1.0, 0.950, "1.0 +/- 1.0"),
        (612.34, 0.25, "612.34 +/- 0.25"),
        (612.34, 0.5, "612.3 +/- 0.5"),
        (1234.0, 40.0, "1230 +/- 40"),
        (-0.001, 0.5, "0.0 +/- 0.5"),
        (-12.0, 4000.0, "0 +/- 4000"),
        (14.674, 0.964, "14.7 +/- 1.0"),
    ],
)
def test_no_more_digits_are_shown_than_the_uncertainty_supports(
    value: float, uncertainty: float, shown: str
) -> None:
    assert with_uncertainty(value, uncertainty, ascii_only=True) == shown


def test_value_and_uncertainty_are_printed_with_true_signs() -> None:
    assert with_uncertainty(-3.14159, 0.02) == "\u22123.142 \u00b1 0.020"


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6))
def test_rounding_to_the_uncertainty_stays_small_against_it(
    value: float, uncertainty: float
) -> None:
    shown, doubt = with_uncertainty(value, uncertainty, ascii_only=True).split(" +/- ")

    # Half a digit at worst of 3.55 that is shown as 4: a seventh; and of 1.00 in two figures.
    assert abs(float(shown) - value) <= 0.15 * uncertainty + 1e-9
    assert abs(float(doubt) - uncertainty) <= 0.15 * uncertainty
    assert len(shown.partition(".")[2]) == len(doubt.partition(".")[2])


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
@pytest.mark.parametrize(
    "write",
    [
        partial(number, decimals=1),
        format_length,
        format_angle,
        format_mass,
        fraction_of_inch,
        partial(with_uncertainty, uncertainty=1.0),
        partial(with_uncertainty, 1.0),
    ],
)
def test_what_is_not_finite_is_refused(write: Callable[[float], str], value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        write(value)


@pytest.mark.parametrize("uncertainty", [0.0, -1.0, 1e-12])
def test_an_uncertainty_of_nothing_is_refused(uncertainty: float) -> None:
    with pytest.raises(ValueError, match="must be at least"):
        with_uncertainty(1.0, uncertainty)


def test_decimals_and_divisions_out_of_range_are_refused() -> None:
    with pytest.raises(ValueError, match="Decimals must be 0 to 12"):
        number(1.0, 13)
    with pytest.raises(ValueError, match="Decimals must be 0 to 12"):
        number(1.0, -1)
    with pytest.raises(ValueError, match="An inch is divided"):
        fraction_of_inch(1.0, 10)
