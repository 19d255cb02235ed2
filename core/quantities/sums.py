"""Works out a typed sum exactly, with units; a reader of its own, nothing typed is run as code."""

from dataclasses import replace

from core.quantities.amounts import read_amount
from core.quantities.cursor import Cursor
from core.quantities.errors import QuantityError
from core.quantities.refusals import (
    cannot_add,
    left_over,
    number_missing,
    smaller_expected,
    smaller_too_large,
)
from core.quantities.tokens import Kind
from core.quantities.unit_expressions import UnitExpression, read_units
from core.quantities.units import PURE, SMALLER, Unit
from core.quantities.values import Value

DEEPEST_BRACKETS = 20  # nobody types deeper sums; keeps the reader's own calls shallow

_AMOUNTS = (Kind.NUMBER, Kind.VULGAR)


def read_whole(cursor: Cursor) -> Value:
    """Return the value of the whole text under the cursor.

    Raises:
        QuantityError: if the text is empty, is not one sum, or mixes units that do not fit.
    """
    if cursor.peek().kind is Kind.END:
        raise QuantityError("Nothing is typed.", 0, "Type a number, such as 12.5.")
    value = _sum(cursor, 0)
    _expect(Kind.END, cursor)
    return value


def _expect(kind: Kind, cursor: Cursor) -> None:
    if cursor.peek().kind is not kind:
        raise left_over(cursor.peek())


def _sum(cursor: Cursor, depth: int) -> Value:
    value = _product(cursor, depth)
    while cursor.is_sign("+-"):
        _refuse_dash_between(cursor)
        sign = cursor.take()
        value = _added(cursor, value, _product(cursor, depth), -1 if sign.text == "-" else 1)
    return value


def _added(cursor: Cursor, left: Value, right: Value, sign: int) -> Value:
    if left.dimension != right.dimension:
        raise cannot_add(cursor.text, left, right)
    return replace(left, magnitude=left.magnitude + sign * right.magnitude, end=right.end)


def _product(cursor: Cursor, depth: int) -> Value:
    value = _signed(cursor, depth, divides=False)
    while cursor.is_sign("*/"):
        divides = cursor.take().text == "/"
        right = _signed(cursor, depth, divides=divides)
        value = _divided(value, right) if divides else _multiplied(value, right)
    return value


def _multiplied(left: Value, right: Value) -> Value:
    return Value(
        left.magnitude * right.magnitude, left.dimension * right.dimension, left.start, right.end
    )


def _divided(left: Value, right: Value) -> Value:
    if right.magnitude == 0:
        raise QuantityError("This divides by zero.", right.start, "Change the divisor.")
    return Value(
        left.magnitude / right.magnitude, left.dimension / right.dimension, left.start, right.end
    )


def _signed(cursor: Cursor, depth: int, *, divides: bool) -> Value:
    start, sign = cursor.peek().start, 1
    while cursor.is_sign("+-"):
        sign = -sign if cursor.take().text == "-" else sign
    value = _measure(cursor, depth, divides=divides)
    return replace(value, magnitude=sign * value.magnitude, start=start)


def _measure(cursor: Cursor, depth: int, *, divides: bool) -> Value:
    token = cursor.peek()
    if token.kind is Kind.OPEN:
        inner = _bracket(cursor, depth + 1)
        return _with_units(inner, read_units(cursor), cursor)
    if token.kind not in _AMOUNTS:
        cursor.unit_of(token)  # an unknown word is the better thing to speak of
        raise number_missing(token)
    amount = read_amount(cursor, divides=divides)
    units = read_units(cursor)
    bare = Value(amount, PURE, token.start, cursor.previous().end)
    value = _with_units(bare, units, cursor)
    return _with_smaller(cursor, value, units.single if units else None)


def _with_units(value: Value, units: UnitExpression | None, cursor: Cursor) -> Value:
    if units is None:
        return value
    return Value(
        value.magnitude * units.factor,
        value.dimension * units.dimension,
        value.start,
        cursor.previous().end,
    )


def _bracket(cursor: Cursor, depth: int) -> Value:
    opening = cursor.take()
    if depth > DEEPEST_BRACKETS:
        raise QuantityError(
            f"Brackets are nested more than {DEEPEST_BRACKETS} deep.",
            opening.start,
            "Split the sum and type the parts.",
        )
    value = _sum(cursor, depth)
    if cursor.peek().kind is Kind.END:
        raise QuantityError("A bracket is not closed.", opening.start, "Add ')' where it ends.")
    _expect(Kind.CLOSE, cursor)
    return replace(value, start=opening.start, end=cursor.take().end)


def _with_smaller(cursor: Cursor, value: Value, larger: Unit | None) -> Value:
    """Return a value such as 5 ft with the 6 in that follow it without a sign."""
    while larger is not None and larger in SMALLER and cursor.peek().kind in _AMOUNTS:
        smaller, limit = SMALLER[larger]
        first = cursor.peek()
        amount = read_amount(cursor, divides=False)
        units = read_units(cursor)
        if units is None or units.single is not smaller:
            raise smaller_expected(larger, smaller, first.start)
        if amount >= limit:
            raise smaller_too_large(larger, smaller, limit, first.start)
        value = replace(
            value,
            magnitude=value.magnitude + amount * smaller.factor,
            end=cursor.previous().end,
        )
        larger = smaller
    return value


def _refuse_dash_between(cursor: Cursor) -> None:
    """Refuse 5'-6", which drawings use for 5 ft 6 in and which a sum reads as a difference."""
    before, dash, after = cursor.previous(), cursor.peek(), cursor.peek(1)
    named = cursor.unit_of(before)
    if dash.text != "-" or named is None or named[0] not in SMALLER:
        return
    tight = before.end == dash.start and dash.end == after.start
    larger, smaller = named[0], SMALLER[named[0]][0]
    if (tight or before.kind is Kind.MARK) and _unit_after_amount(cursor) is smaller:
        raise QuantityError(
            f"A dash between {larger.name} and {smaller.name} can be read as 'and' or as 'minus'.",
            dash.start,
            f"Write 5 {larger.name} 6 {smaller.name} for the first, "
            f"5 {larger.name} - (6 {smaller.name}) for the second.",
        )


def _unit_after_amount(cursor: Cursor) -> Unit | None:
    ahead = 1
    while cursor.peek(ahead).kind in _AMOUNTS or cursor.is_sign("/", ahead):
        ahead += 1
    named = cursor.unit_of(cursor.peek(ahead))
    return named[0] if named and ahead > 1 else None
