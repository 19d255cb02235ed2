"""Reads a unit as typed after a number: in, N m, N/mm, MPa."""

from dataclasses import dataclass
from fractions import Fraction

from core.quantities.cursor import Cursor
from core.quantities.tokens import Kind
from core.quantities.units import Dimension, Unit


@dataclass(frozen=True, slots=True)
class UnitExpression:
    """One unit or a product such as N/mm; `single` only if it is one plain unit."""

    factor: Fraction
    dimension: Dimension
    single: Unit | None


def read_units(cursor: Cursor) -> UnitExpression | None:
    """Return the unit at the cursor, such as in, N m or N/mm, stepping over it; else None.

    Raises:
        QuantityError: if a word names no known unit.
    """
    named = cursor.unit_of(cursor.peek())
    if named is None:
        return None
    is_mark = cursor.take().kind is Kind.MARK
    cursor.unit_written = True
    unit, power = named
    found = UnitExpression(
        unit.factor**power, unit.dimension.power(power), unit if power == 1 else None
    )
    return found if is_mark else _more_units(cursor, found)


def _more_units(cursor: Cursor, found: UnitExpression) -> UnitExpression:
    while (step := _unit_joined(cursor)) is not None:
        count, exponent = step
        named = cursor.unit_of(cursor.peek(count - 1))
        if named is None:
            break
        unit, power = named[0], named[1] * exponent
        cursor.take(count)
        found = UnitExpression(
            found.factor * unit.factor**power, found.dimension * unit.dimension.power(power), None
        )
        if exponent < 0:
            break  # N/mm ends there: what would follow a second unit below the line is unclear
    return found


def _unit_joined(cursor: Cursor) -> tuple[int, int] | None:
    """Return how many tokens join one more unit, and its exponent, 1 or -1."""
    if cursor.peek().kind is Kind.UNIT:
        return 1, 1
    if cursor.is_sign("*/") and cursor.peek(1).kind is Kind.UNIT:
        return 2, -1 if cursor.peek().text == "/" else 1
    return None
