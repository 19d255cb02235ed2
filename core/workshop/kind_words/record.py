"""What is said of a kind and of a field."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple


class FieldWords(NamedTuple):
    """What a field is called, the unit of its numbers, and what to know before giving it.

    The unit is empty where the numbers have none or there are no numbers.
    """

    words: str
    unit: str = ""
    help: str = ""


@dataclass(frozen=True)
class StructWords:
    """What one part of a thing is called, and its fields in the order of the screen."""

    words: str
    fields: Mapping[str, FieldWords]


@dataclass(frozen=True)
class KindWords(StructWords):
    """What a kind is called, and which of its fields matter first.

    Attributes:
        many: several of them.
        help: what it is for, one sentence.
        columns: paths shown beside the name in a table.
        asks: fields asked for when one is made, besides those it cannot be without.
        also: other words by which a builder may look for it.
    """

    many: str
    help: str
    columns: tuple[str, ...]
    asks: tuple[str, ...] = field(default=())
    also: tuple[str, ...] = field(default=())
