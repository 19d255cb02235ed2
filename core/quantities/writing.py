"""Writes numbers and measures for people: a true minus sign, never a minus before zero."""

import math
from decimal import Decimal
from fractions import Fraction
from typing import Final

from core.quantities.reading import unit_factor
from core.quantities.units import INCH, LENGTH

MINUS: Final = "\u2212"
PLUS_MINUS: Final = "\u00b1"
DEGREE_SIGN: Final = "\u00b0"
MOST_DECIMALS: Final = 12
SMALLEST_UNCERTAINTY: Final = 1e-11

_DENOMINATORS: Final = (1, 2, 4, 8, 16, 32, 64, 128)  # rules are divided by halving


def number(value: float, decimals: int, *, ascii_only: bool = False) -> str:
    """Return a number with fixed decimals, U+2212 as minus, and zero without a sign.

    Args:
        value: any finite number.
        decimals: digits after the point, 0 to 12.
        ascii_only: use '-' for files and consoles.

    Raises:
        ValueError: if the value is not finite or the decimals are out of range.
    """
    text = _digits(value, decimals)
    return text if ascii_only else text.replace("-", MINUS)


def format_signed(value: float, decimals: int, *, ascii_only: bool = False) -> str:
    """Return a number as `number` does, with '+' before what is shown as more than zero.

    Raises:
        ValueError: if the value is not finite or the decimals are out of range.
    """
    text = number(value, decimals, ascii_only=ascii_only)
    return f"+{text}" if float(_digits(value, decimals)) > 0 else text


def format_length(
    value: float, decimals: int = 1, unit: str = "mm", *, ascii_only: bool = False
) -> str:
    """Return a length given in mm as a number with its unit, such as "12.5 mm".

    Raises:
        ValueError: if the value is not finite, or the decimals or the unit are not usable.
    """
    shown = float(Fraction(_finite(value)) / unit_factor(unit, LENGTH))
    return f"{number(shown, decimals, ascii_only=ascii_only)} {unit}"


def format_angle(angle_deg: float, decimals: int = 2, *, ascii_only: bool = False) -> str:
    """Return an angle given in degrees, such as "1.50°", or "1.50 deg" in plain ASCII.

    Raises:
        ValueError: if the value is not finite or the decimals are out of range.
    """
    sign = " deg" if ascii_only else DEGREE_SIGN
    return f"{number(angle_deg, decimals, ascii_only=ascii_only)}{sign}"


def format_mass(mass_kg: float, decimals: int = 1, *, ascii_only: bool = False) -> str:
    """Return a mass given in kg, such as "80.0 kg".

    Raises:
        ValueError: if the value is not finite or the decimals are out of range.
    """
    return f"{number(mass_kg, decimals, ascii_only=ascii_only)} kg"


def fraction_of_inch(value_mm: float, denominator: int = 32, *, ascii_only: bool = False) -> str:
    """Return the nearest fraction of an inch, such as 1 1/2"; a rounded figure for a rule.

    Args:
        value_mm: length in mm.
        denominator: finest division of the rule: 1, 2, 4, 8, 16, 32, 64 or 128.
        ascii_only: use '-' for files and consoles.

    Raises:
        ValueError: if the value is not finite or the denominator is none of these.
    """
    if denominator not in _DENOMINATORS:
        message = f"An inch is divided into one of {_DENOMINATORS}, not {denominator}."
        raise ValueError(message)
    parts = round(Fraction(_finite(value_mm)) / INCH.factor * denominator)
    whole, rest = divmod(abs(parts), denominator)
    fraction = str(Fraction(rest, denominator)) if rest else ""
    words = [str(whole)] if whole or not rest else []
    sign = ("-" if ascii_only else MINUS) if parts < 0 else ""
    return f'{sign}{" ".join([*words, fraction]).strip()}"'


def with_uncertainty(value: float, uncertainty: float, *, ascii_only: bool = False) -> str:
    """Return value and standard uncertainty, both rounded to what the uncertainty supports.

    Args:
        value: in any unit.
        uncertainty: standard uncertainty in the same unit, at least 1e-11.
        ascii_only: use '-' and '+/-' for files and consoles.

    Raises:
        ValueError: if either is not finite, or the uncertainty is not more than zero. An
            unknown uncertainty has no place here: show the value as a guess instead.

    Source:
        Rounding: Particle Data Group, Review of Particle Physics, Introduction, "Rounding": by
        the three leading digits of the uncertainty, 100 to 354 keep two digits, 355 to 949
        keep one, 950 to 999 become 1000 and keep two (rule from memory).
    """
    if _finite(uncertainty) < SMALLEST_UNCERTAINTY:
        message = f"An uncertainty must be at least {SMALLEST_UNCERTAINTY:g}, not {uncertainty:g}."
        raise ValueError(message)
    place, doubt_shown = _supported(uncertainty)
    shown, doubt = _rounded(value, place), _rounded(doubt_shown, place)
    if ascii_only:
        return f"{shown} +/- {doubt}"
    return f"{shown.replace('-', MINUS)} {PLUS_MINUS} {doubt}"


def _supported(uncertainty: float) -> tuple[int, float]:
    """Return the power of ten of the last digit worth showing, and the uncertainty to show."""
    leading = Decimal(f"{uncertainty:.2e}")
    first_place = leading.adjusted()
    three_digits = int(leading.scaleb(2 - first_place))
    if three_digits < 355:
        return first_place - 1, uncertainty
    if three_digits < 950:
        return first_place, uncertainty
    return first_place, float(Decimal(1).scaleb(first_place + 1))


def _rounded(value: float, place: int) -> str:
    if place < 0:
        return _digits(value, -place)
    step = 10**place
    return str(round(Fraction(_finite(value)) / step) * step)


def _digits(value: float, decimals: int) -> str:
    if not 0 <= decimals <= MOST_DECIMALS:
        message = f"Decimals must be 0 to {MOST_DECIMALS}, not {decimals}."
        raise ValueError(message)
    text = f"{_finite(value):.{decimals}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def _finite(value: float) -> float:
    if not math.isfinite(value):
        message = f"Only finite numbers can be shown, not {value}."
        raise ValueError(message)
    return float(value)
