"""What to say where a typed sum cannot be read."""

from core.quantities.errors import QuantityError
from core.quantities.tokens import Kind, Token
from core.quantities.units import PURE, Unit, in_words
from core.quantities.values import Value


def cannot_add(text: str, left: Value, right: Value) -> QuantityError:
    """Return the refusal of a sum of two values of different dimensions."""
    for bare, other in ((left, right), (right, left)):
        if bare.dimension == PURE:
            shown = text[bare.start : bare.end]
            return QuantityError(
                f"'{shown}' has no unit, but is added to or taken from "
                f"{in_words(other.dimension)}.",
                bare.start,
                f"Write its unit too, such as mm after '{shown}'.",
            )
    kinds = f"{in_words(left.dimension)} and {in_words(right.dimension)}"
    return QuantityError(
        f"{kinds[0].upper()}{kinds[1:]} cannot be added or taken from each other.",
        right.start,
        "Check the units.",
    )


def number_missing(token: Token) -> QuantityError:
    """Return the refusal where a number should stand."""
    if token.kind is Kind.END:
        return QuantityError("The sum stops short.", token.start, "Add the number that is missing.")
    return QuantityError(
        f"A number is missing before '{token.text}'.", token.start, "Add the number or a bracket."
    )


def left_over(token: Token) -> QuantityError:
    """Return the refusal of what stands after a complete sum."""
    if token.kind is Kind.CLOSE:
        return QuantityError(
            "A bracket is closed that was never opened.", token.start, "Remove it."
        )
    return QuantityError(
        f"There is no sign before '{token.text}'.",
        token.start,
        "Write + - * or / between the two, and no spaces inside a number.",
    )


def smaller_expected(larger: Unit, smaller: Unit, position: int) -> QuantityError:
    """Return the refusal of a second number that is not the smaller unit."""
    return QuantityError(
        f"After {larger.name} without a sign only {smaller.name} may follow.",
        position,
        f"Write the unit, such as 5 {larger.name} 6 {smaller.name}.",
    )


def smaller_too_large(larger: Unit, smaller: Unit, limit: int, position: int) -> QuantityError:
    """Return the refusal of inches or minutes that fill the larger unit."""
    return QuantityError(
        f"After {larger.name}, {smaller.name} must be less than {limit}.",
        position,
        "Carry the rest over, or write + between the two.",
    )
