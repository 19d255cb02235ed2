"""Figures as they are shown in a field and as they are read from one, by their unit."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from core.quantities import (
    QuantityError,
    number,
    parse_angle,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_stiffness,
    parse_stress,
    parse_torque_nm,
)

MM_IN_INCH = 25.4
"""Exact: international yard and pound agreement of 1959."""

_READ: Mapping[str, Callable[[str], float]] = MappingProxyType(
    {
        "mm": parse_length,
        "in": lambda text: parse_length(text, "in") / MM_IN_INCH,
        "deg": parse_angle,
        "kg": parse_mass,
        "N": parse_force,
        "N m": parse_torque_nm,
        "N/mm": parse_stiffness,
        "MPa": parse_stress,
    }
)

_DECIMALS: Mapping[str, int] = MappingProxyType(
    {"mm": 1, "deg": 2, "kg": 1, "N m": 1, "N/mm": 1, "l": 1, "in": 1, "%": 1, "g": 2, "Hz": 2}
)
MOST_DECIMALS = 3
"""A figure that was typed with more digits than these is shown rounded, and whole when edited."""

_PLAIN = ("", "kg m2")


def least_decimals(unit: str) -> int:
    """How many decimals figures of a unit have at rest, and so how far an arrow key moves them."""
    return _DECIMALS.get(unit, 2 if unit in _PLAIN else 0)


def step_of(unit: str, *, is_count: bool = False) -> float:
    """How far one press of an arrow key moves a figure: by its last digit at rest."""
    return 1.0 if is_count else 10.0 ** -least_decimals(unit)


def at_rest(value: float, unit: str) -> str:
    """A figure as it stands in a field: with the digits that were given, else the usual ones."""
    decimals = least_decimals(unit)
    given = next((d for d in range(decimals, MOST_DECIMALS + 1) if round(value, d) == value), None)
    if isinstance(value, int):
        return number(value, 0)
    text = number(value, decimals if given is None else given)
    return _shortened(text) if unit in _PLAIN else text


def in_full(value: float, unit: str) -> str:
    """A figure with every digit that counts, to be edited."""
    for decimals in range(least_decimals(unit), 10):
        if round(value, decimals) == value:
            text = number(value, decimals)
            return _shortened(text) if unit in _PLAIN else text
    return _shortened(number(value, 9))


def _shortened(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def read_figure(text: str, unit: str, *, is_count: bool = False) -> float:
    """The figure a person typed, in its unit.

    Raises:
        QuantityError: in words, what is wrong with it.
    """
    reader = _READ.get(unit)
    if reader is None:
        stripped = text.strip()
        if unit and stripped.endswith(unit):
            stripped = stripped.removesuffix(unit)
        value = parse_number(stripped)
    else:
        value = reader(text)
    if is_count and not value.is_integer():
        raise QuantityError(
            f"{in_full(value, '')} is not whole.", 0, "This is counted, so type a whole number."
        )
    return value
