"""Reads one bare amount: a decimal number, a fraction, or a whole number with a fraction."""

from fractions import Fraction

from core.quantities.cursor import Cursor
from core.quantities.errors import QuantityError
from core.quantities.tokens import Kind, number_of
from core.quantities.units import FOOT, INCH


def read_amount(cursor: Cursor, *, divides: bool) -> Fraction:
    """Return the amount at the cursor, which stands on a number, and step over it.

    Args:
        cursor: stands on a NUMBER or VULGAR token.
        divides: whether a division sign stands just before.

    Raises:
        QuantityError: if the amount can be read in two ways.
    """
    _refuse_second_division(cursor, divides=divides)
    for form in (_spaced_mixed, _hyphened_mixed, _fraction_of_a_unit):
        amount = form(cursor)
        if amount is not None:
            return amount
    return number_of(cursor.take())


def _fraction_ahead(cursor: Cursor, ahead: int) -> tuple[Fraction, int] | None:
    """Return a fraction of whole numbers and how many tokens it takes, or None."""
    top, bottom = cursor.peek(ahead), cursor.peek(ahead + 2)
    if top.kind is Kind.VULGAR:
        return number_of(top), 1
    if not (top.is_whole and bottom.is_whole and cursor.is_sign("/", ahead + 1)):
        return None
    if int(bottom.text) == 0:
        return None  # the division itself reports it
    return Fraction(int(top.text), int(bottom.text)), 3


def _spaced_mixed(cursor: Cursor) -> Fraction | None:
    """Return 1 1/2 as one amount."""
    whole = cursor.peek()
    found = _fraction_ahead(cursor, 1)
    if not whole.is_whole or found is None:
        return None
    fraction, count = found
    if fraction >= 1:
        raise QuantityError(
            "The fraction after a whole number must be less than one.",
            cursor.peek(1).start,
            "Write a sign between the two, or a smaller fraction such as 1 1/2.",
        )
    cursor.take(1 + count)
    return int(whole.text) + fraction


def _hyphened_mixed(cursor: Cursor) -> Fraction | None:
    """Return the trade's 1-1/2" as one amount; refuse it where it may be a difference."""
    whole, hyphen = cursor.peek(), cursor.peek(1)
    found = _fraction_ahead(cursor, 2)
    if not (whole.is_whole and cursor.is_sign("-", 1)) or found is None:
        return None
    fraction, count = found
    tight = whole.end == hyphen.start and hyphen.end == cursor.peek(2).start
    if not tight or not 0 < fraction < 1:
        return None
    if _is_feet_or_inches(cursor, 2 + count):
        cursor.take(2 + count)
        return int(whole.text) + fraction
    if fraction.denominator & (fraction.denominator - 1) == 0:  # halves, quarters, eighths ...
        raise _hyphen_unclear(cursor.text[whole.start : cursor.peek(1 + count).end], whole.start)
    return None


def _is_feet_or_inches(cursor: Cursor, ahead: int) -> bool:
    named = cursor.unit_of(cursor.peek(ahead))
    return named in ((INCH, 1), (FOOT, 1))


def _hyphen_unclear(shown: str, position: int) -> QuantityError:
    return QuantityError(
        f"'{shown}' can be read as a whole number with a fraction or as a difference.",
        position,
        "Write 1 1/2 with a space for the first, or 1 - 1/2 with spaces for the second.",
    )


def _fraction_of_a_unit(cursor: Cursor) -> Fraction | None:
    """Return 3/4 as one amount where a unit follows, so that 3/4 in is three quarters of an inch.

    Without a unit the division is left to the sum, which gives the same number.
    """
    found = _fraction_ahead(cursor, 0)
    if found is None or not (found[1] == 1 or cursor.is_measuring(found[1])):
        return None
    cursor.take(found[1])
    return found[0]


def _refuse_second_division(cursor: Cursor, *, divides: bool) -> None:
    found = _fraction_ahead(cursor, 0)
    if divides and found is not None and found[1] > 1 and cursor.is_measuring(found[1]):
        raise QuantityError(
            "Two divisions before one unit can be read in two ways.",
            cursor.peek().start,
            "Put brackets round the fraction and its unit, such as 6 in / (3/4 in).",
        )
