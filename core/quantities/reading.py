"""Reads the numbers and measures a person types; see `parse_length` for what may be typed."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from core.quantities.cursor import Cursor
from core.quantities.errors import QuantityError
from core.quantities.sums import read_whole
from core.quantities.tokens import Kind
from core.quantities.unit_expressions import read_units
from core.quantities.units import (
    ANGLE,
    ANGLE_MARKS,
    FORCE,
    LENGTH,
    LENGTH_MARKS,
    MASS,
    PURE,
    STIFFNESS,
    STRESS,
    TORQUE,
    Dimension,
    Unit,
    in_words,
)
from core.quantities.values import Value


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What a field asks for: its dimension, the unit of the answer and an example to show."""

    dimension: Dimension
    answer_factor: Fraction
    example: str
    marks: Mapping[str, Unit]


_LENGTH = _Wanted(LENGTH, Fraction(1), "12.5 mm", LENGTH_MARKS)
_ANGLE = _Wanted(ANGLE, Fraction(1), "1.5 deg", ANGLE_MARKS)
_MASS = _Wanted(MASS, Fraction(1), "80 kg", LENGTH_MARKS)
_FORCE = _Wanted(FORCE, Fraction(1), "500 N", LENGTH_MARKS)
_TORQUE_NM = _Wanted(TORQUE, Fraction(1000), "60 N m", LENGTH_MARKS)
_STIFFNESS = _Wanted(STIFFNESS, Fraction(1), "35 N/mm", LENGTH_MARKS)
_STRESS = _Wanted(STRESS, Fraction(1), "350 MPa", LENGTH_MARKS)
_NUMBER = _Wanted(PURE, Fraction(1), "0.4", LENGTH_MARKS)


def parse_length(text: str, unit: str = "mm") -> float:
    """Return a typed length in mm.

    Read are decimal numbers (12.5 or 12,5), fractions (3/4 in, 1 1/2 in, 1-1/2"), feet and
    inches (5'6 1/2"), units mm, cm, m, in, ft, thou, and sums of these with + - * / and round
    brackets. A length over a length is a number and may multiply a length. What can be read in
    two ways is refused: 1,200 (a comma before three digits), 10-1/2 without inches, 5'-6".

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one length; says where, and what to do.
        ValueError: if `unit` is not a unit of length.
    """
    return _parse(text, _LENGTH, unit)


def parse_angle(text: str, unit: str = "deg") -> float:
    """Return a typed angle in degrees; units deg, rad, arcmin, arcsec and the marks of each.

    Here ' is a minute and " a second of arc: 3 deg 30' is 3.5.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one angle; says where, and what to do.
        ValueError: if `unit` is not a unit of angle.
    """
    return _parse(text, _ANGLE, unit)


def parse_mass(text: str, unit: str = "kg") -> float:
    """Return a typed mass in kg; units kg, g, lb.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one mass; says where, and what to do.
        ValueError: if `unit` is not a unit of mass.
    """
    return _parse(text, _MASS, unit)


def parse_force(text: str, unit: str = "N") -> float:
    """Return a typed force in N; units N, kN, lbf.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one force; says where, and what to do.
        ValueError: if `unit` is not a unit of force.
    """
    return _parse(text, _FORCE, unit)


def parse_torque_nm(text: str, unit: str = "N m") -> float:
    """Return a typed torque in N m; units such as N m, N mm, lbf ft.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one torque; says where, and what to do.
        ValueError: if `unit` is not a unit of torque.
    """
    return _parse(text, _TORQUE_NM, unit)


def parse_stiffness(text: str, unit: str = "N/mm") -> float:
    """Return a typed stiffness in N/mm; units such as N/mm, kN/m, lbf/in.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one stiffness; says where, and what to do.
        ValueError: if `unit` is not a unit of stiffness.
    """
    return _parse(text, _STIFFNESS, unit)


def parse_stress(text: str, unit: str = "MPa") -> float:
    """Return a typed stress in MPa; units such as MPa, GPa, N/mm2, psi.

    Args:
        text: as typed.
        unit: the unit meant where no unit is written anywhere in the text.

    Raises:
        QuantityError: if the text is not one stress; says where, and what to do.
        ValueError: if `unit` is not a unit of stress.
    """
    return _parse(text, _STRESS, unit)


def parse_number(text: str) -> float:
    """Return a typed pure number; units may be written if they cancel, as in 12 in / 4 in.

    Args:
        text: as typed.

    Raises:
        QuantityError: if the text is not one pure number; says where, and what to do.
    """
    cursor = Cursor(text, _NUMBER.marks)
    value = read_whole(cursor)
    _check_dimension(value, _NUMBER)
    return _to_float(value.magnitude, value)


def unit_factor(unit: str, dimension: Dimension) -> Fraction:
    """Return how many house units (mm, kg, degree, N and products) one `unit` is, exact.

    Raises:
        ValueError: if `unit` is not a known unit of that dimension.
    """
    cursor = Cursor(unit, LENGTH_MARKS)
    found = read_units(cursor)
    complete = cursor.peek().kind is Kind.END
    if found is None or not complete or found.dimension != dimension:
        message = f"'{unit}' is not a unit of {in_words(dimension)}."
        raise ValueError(message)
    return found.factor


def _parse(text: str, wanted: _Wanted, unit: str) -> float:
    default = unit_factor(unit, wanted.dimension)
    cursor = Cursor(text, wanted.marks)
    value = read_whole(cursor)
    if cursor.unit_written:
        _check_dimension(value, wanted)
        return _to_float(value.magnitude / wanted.answer_factor, value)
    return _to_float(value.magnitude * default / wanted.answer_factor, value)


def _check_dimension(value: Value, wanted: _Wanted) -> None:
    if value.dimension != wanted.dimension:
        raise QuantityError(
            f"This comes out as {in_words(value.dimension)}, "
            f"but {in_words(wanted.dimension)} is wanted.",
            value.start,
            f"Check the units and the brackets; an example is {wanted.example}.",
        )


def _to_float(exact: Fraction, value: Value) -> float:
    try:
        result = float(exact)
    except OverflowError:
        raise QuantityError(
            "The result is too large.", value.start, "Check the numbers and the units."
        ) from None
    if result == 0.0 and exact != 0:
        raise QuantityError(
            "The result is too small to tell from zero.",
            value.start,
            "Check the numbers and the units.",
        )
    return result
