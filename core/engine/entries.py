"""What the table of an assessment holds for each cell."""

from dataclasses import dataclass
from typing import Any, NamedTuple

from core.engine.cells import CellKey, NotComputedError
from core.engine.view import Key


@dataclass(frozen=True)
class NoValue:
    """What a cell has when it could not be computed, and why."""

    reason: str


@dataclass(frozen=True)
class NotYet:
    """What a slow cell has that has not been run for any document so far."""


class Entry(NamedTuple):
    """A cell's value, and what it read to get it, in order.

    An entry holds for any document in which all its reads would give these values.

    Attributes:
        value: what the cell returned, `NoValue` or `NotYet`.
        reads: each key read with the value it gave.
        cells: the cells among them, in order.
        held: the value of each.
        own: tokens of what it read of the document itself.
        rests_on: tokens of all it read of the document, itself or through other cells.
    """

    value: Any
    reads: tuple[tuple[Key, Any], ...]
    cells: tuple[CellKey, ...] = ()
    held: tuple[Any, ...] = ()
    own: frozenset[object] = frozenset()
    rests_on: frozenset[object] = frozenset()

    @property
    def is_missing(self) -> bool:
        """Whether the cell has never been run."""
        return isinstance(self.value, NotYet)


def computed(value: Any) -> Any:  # noqa: ANN401 - values of any kind
    """The value of an entry.

    Raises:
        NotComputedError: there is none.
    """
    if isinstance(value, NoValue):
        raise NotComputedError(value.reason)
    if isinstance(value, NotYet):
        msg = "it has not been computed yet"
        raise NotComputedError(msg)
    return value
