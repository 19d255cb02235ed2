"""Cuts typed text into numbers, units, signs and brackets, keeping the place of each."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from core.quantities.errors import QuantityError

LONGEST_TEXT: Final = 200  # a sum typed in a field is far shorter; this keeps reading quick
LARGEST_EXPONENT: Final = 99  # no measure of a car needs more; keeps exact arithmetic quick

# One character for one character, so that positions stay those of the typed text.
_SAME_AS: Final = str.maketrans(
    {
        "\u2212": "-",  # minus sign
        "\u00d7": "*",
        "\u00b7": "*",  # middle dot, as in N·m
        "\u22c5": "*",
        "\u00f7": "/",
        "\u2044": "/",  # fraction slash
        "\u2215": "/",
        "\u2019": "'",
        "\u2032": "'",
        "\u201d": '"',
        "\u2033": '"',
    }
)

_PATTERN: Final = re.compile(
    r"""(?P<space>\s+)
    |(?P<number>(?:[0-9][0-9.,]*|[.,][0-9][0-9.,]*)(?:[eE][-+]?[0-9]+)?)
    |(?P<vulgar>[\u00bc-\u00be\u2150-\u215e\u2189])
    |(?P<unit>(?:\u00b0|[A-Za-z]+)(?:\^?[23](?![0-9.,])|[\u00b2\u00b3])?)
    |(?P<mark>''|'|")
    |(?P<sign>[-+*/])
    |(?P<open>\()
    |(?P<close>\))""",
    re.VERBOSE,
)

_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_PLAIN: Final = re.compile(r"[0-9]+|[0-9]+[.][0-9]*|[.][0-9]+|[0-9]+,[0-9]+")

_KNOWN_STRANGERS: Final = {
    "\u2013": "Type a minus sign '-' for a difference.",
    "\u2014": "Type a minus sign '-' for a difference.",
    "^": "Powers are not read; write 3*3 for a square.",
    "=": "Leave '=' out and type only the sum.",
    "\u221e": "Type a finite number.",
    "%": "Write a part of a hundred as a number, such as 0.4 for forty.",
}


class Kind(Enum):
    """What a piece of typed text is."""

    NUMBER = "number"
    VULGAR = "vulgar"
    UNIT = "unit"
    MARK = "mark"
    SIGN = "sign"
    OPEN = "open"
    CLOSE = "close"
    END = "end"


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of the typed text.

    Attributes:
        kind: what it is.
        text: as typed, look-alike signs replaced by plain ones.
        start: index of its first character in the typed text.
    """

    kind: Kind
    text: str
    start: int

    @property
    def end(self) -> int:
        """Return the index just after its last character."""
        return self.start + len(self.text)

    @property
    def is_whole(self) -> bool:
        """Return whether it is a number of digits alone."""
        return self.kind is Kind.NUMBER and self.text.isdecimal()


def tokens_of(text: str) -> tuple[Token, ...]:
    """Return the pieces of a typed text, the last one of kind END.

    Raises:
        QuantityError: if the text is too long or holds a character that has no meaning here.
    """
    if len(text) > LONGEST_TEXT:
        raise QuantityError(
            f"The text has {len(text)} characters; at most {LONGEST_TEXT} are read.",
            LONGEST_TEXT,
            "Split the sum and type the parts.",
        )
    return (*_pieces(text.translate(_SAME_AS)), Token(Kind.END, "", len(text)))


def _pieces(plain: str) -> Iterator[Token]:
    place = 0
    while place < len(plain):
        match = _PATTERN.match(plain, place)
        if match is None:
            raise _stranger(plain[place], place)
        if match.lastgroup != "space":
            yield Token(Kind(match.lastgroup), match.group(), place)
        place = match.end()


def _stranger(character: str, place: int) -> QuantityError:
    shown = f"'{character}'" if character.isprintable() else f"U+{ord(character):04X}"
    advice = _KNOWN_STRANGERS.get(character, "Use digits, units, + - * / and round brackets.")
    return QuantityError(f"The character {shown} has no meaning here.", place, advice)


def number_of(token: Token) -> Fraction:
    """Return the exact value of a NUMBER or VULGAR token.

    A comma is read as a decimal comma, except where it may as well part thousands (1,200).

    Raises:
        QuantityError: if the separators can be read two ways or the exponent is too large.
    """
    if token.kind is Kind.VULGAR:
        return Fraction(unicodedata.numeric(token.text)).limit_denominator(10)
    digits, _, exponent = token.text.lower().partition("e")
    _check_separators(digits, token)
    if abs(int(exponent or "0")) > LARGEST_EXPONENT:
        raise QuantityError(
            f"'{token.text}' is too large or too small for a measure.",
            token.start,
            f"Keep the power of ten within {LARGEST_EXPONENT}.",
        )
    return Fraction(digits.replace(",", ".")) * Fraction(10) ** int(exponent or "0")


def _check_separators(digits: str, token: Token) -> None:
    if _THOUSANDS.fullmatch(digits):
        joined, dotted = digits.replace(",", ""), digits.replace(",", ".")
        raise QuantityError(
            f"'{digits}' can be read as {joined} or as {dotted}.",
            token.start,
            f"Type {joined} or {dotted}.",
        )
    if not _PLAIN.fullmatch(digits):
        raise QuantityError(
            f"'{digits}' is not one number: its dots and commas do not fit together.",
            token.start,
            "Type it with one decimal point and nothing between thousands.",
        )
