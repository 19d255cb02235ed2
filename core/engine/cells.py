"""Cells: named pure functions that get all they use through a Reader."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from typing import Any, Concatenate, Generic, NamedTuple, ParamSpec, Protocol, TypeVar

from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.engine.finding import Finding

P = ParamSpec("P")
T_co = TypeVar("T_co", covariant=True)
E = TypeVar("E", bound=Entity)


class When(IntEnum):
    """How soon a cell is run again after a change."""

    LIVE = 0
    """Inside a drag step."""
    RELEASE = 1
    """When the hand lets go; under 0.3 s."""
    ASKED = 2
    """Only when asked for."""


class NotComputedError(JigplateError):
    """A cell could not give its value; the text says why, as the end of «…, because …»."""


class Reader(Protocol):
    """What a cell gets its inputs by; every read is written down."""

    def thing(self, kind: type[E], ref: Ref) -> E:
        """A thing on one side; each field that is then looked at is a read."""
        ...

    def all(self, kind: type[Entity]) -> tuple[Ref, ...]:
        """Every side of every thing of a kind, in the order of the document."""
        ...

    def has(self, kind: type[Entity], ref: Ref) -> bool:
        """Whether the thing is of that kind."""
        ...

    def label(self, ref: Ref) -> str:
        """What the thing is called on screen."""
        ...

    def mesh(self, sha256: str) -> bytes:
        """The bytes of a mesh; raises NotComputedError if it is not at hand."""
        ...

    def __call__(self, cell: "Cell[P, T_co]", *args: P.args, **kwargs: P.kwargs) -> T_co:
        """The value of another cell; raises NotComputedError if it has none."""
        ...


@dataclass(frozen=True, eq=False)
class Cell(Generic[P, T_co]):
    """A named pure function of what it reads."""

    name: str
    when: When
    run: Callable[Concatenate[Reader, P], T_co]

    def __repr__(self) -> str:
        """Its name."""
        return self.name


class CellKey(NamedTuple):
    """One cell for one set of arguments."""

    cell: Cell[..., Any]
    args: tuple[Any, ...]


def cell(
    when: When,
) -> Callable[[Callable[Concatenate[Reader, P], T_co]], Cell[P, T_co]]:
    """Make a function a cell of the given class; its name is the function's."""

    def make(function: Callable[Concatenate[Reader, P], T_co]) -> Cell[P, T_co]:
        return Cell(function.__name__, when, function)

    return make


Findings = tuple[Finding, ...]


@dataclass(frozen=True, eq=False)
class Rule:
    """A cell whose value is findings, with what it looks at in words.

    Attributes:
        key: its short name, as in `Finding.rule`.
        asks: what it asks, for the reader of a report.
        cell: the cell that answers.
        room: the room that its figures come from.
    """

    key: str
    asks: str
    cell: Cell[[], Findings]
    room: str
