"""A place in a row of tokens, and what the tokens round it mean."""

from collections.abc import Mapping

from core.quantities.errors import QuantityError
from core.quantities.tokens import Kind, Token, tokens_of
from core.quantities.units import BY_NAME, Unit

_NOT_NUMBERS = frozenset({"nan", "inf", "infinity"})
_MEASURING = (Kind.UNIT, Kind.MARK)


class Cursor:
    """Walks from left to right over the tokens of one typed text.

    Attributes:
        text: the text as typed.
        unit_written: whether any unit has been passed so far.
    """

    def __init__(self, text: str, marks: Mapping[str, Unit]) -> None:
        """Stand before the first token; `marks` says what ' and " mean."""
        self.text = text
        self.unit_written = False
        self._tokens = tokens_of(text)
        self._marks = marks
        self._place = 0

    def peek(self, ahead: int = 0) -> Token:
        """Return the token that many places ahead; past the end, the END token."""
        return self._tokens[min(self._place + ahead, len(self._tokens) - 1)]

    def previous(self) -> Token:
        """Return the token taken last; before any, the first."""
        return self._tokens[max(self._place - 1, 0)]

    def take(self, count: int = 1) -> Token:
        """Step over `count` tokens and return the first of them."""
        token = self.peek()
        self._place += count
        return token

    def is_sign(self, signs: str, ahead: int = 0) -> bool:
        """Return whether the token ahead is one of the given signs."""
        token = self.peek(ahead)
        return token.kind is Kind.SIGN and token.text in signs

    def is_measuring(self, ahead: int = 0) -> bool:
        """Return whether the token ahead is a unit or a foot or inch mark."""
        return self.peek(ahead).kind in _MEASURING

    def unit_of(self, token: Token) -> tuple[Unit, int] | None:
        """Return the unit a token names and its power; None if it is no unit or mark.

        Raises:
            QuantityError: if the token is a word that names no known unit.
        """
        if token.kind is Kind.MARK:
            return self._marks[token.text], 1
        if token.kind is not Kind.UNIT:
            return None
        name, power = _split_power(token.text)
        return _known_unit(name, token.start), power


def _split_power(text: str) -> tuple[str, int]:
    power = {"2": 2, "3": 3, "\u00b2": 2, "\u00b3": 3}.get(text[-1])
    if power is None:
        return text, 1
    return text[:-1].rstrip("^"), power


def _known_unit(name: str, position: int) -> Unit:
    if name not in BY_NAME:
        raise _unknown_unit(name, position)
    return BY_NAME[name]


def _unknown_unit(name: str, position: int) -> QuantityError:
    if name.lower() in _NOT_NUMBERS:
        return QuantityError(
            f"'{name}' is not a number that can be worked with.", position, "Type a finite number."
        )
    if name.lower() == "x":
        return QuantityError(f"'{name}' is no unit.", position, "Write '*' for times.")
    alike = [known for known in BY_NAME if known.lower() == name.lower()]
    advice = f"Did you mean {' or '.join(alike)}?" if alike else f"Known units: {_known()}."
    return QuantityError(f"'{name}' is no unit known here.", position, advice)


def _known() -> str:
    return ", ".join(dict.fromkeys(unit.name for unit in BY_NAME.values()))
