"""Settling as asked for and as proposed: what may move, what is wanted, present and proposed."""

from collections.abc import Mapping
from dataclasses import dataclass

from core.document.base import Because, Ref
from core.document.project import Document
from core.edits.settle import Placed
from core.study.settle_aims import AimKind
from core.study.settle_places import EACH_WAY, Axis


@dataclass(frozen=True)
class Freed:
    """A coordinate that may move, and how far either way, mm."""

    ref: Ref
    axis: Axis
    each_way: float = EACH_WAY


@dataclass(frozen=True)
class Wish:
    """An aim that counts.

    Attributes:
        key: of `AIMS`.
        wanted: in its unit.
        weight: against the others, above nought.
    """

    key: str
    wanted: float
    weight: float = 1.0


@dataclass(frozen=True)
class Offered:
    """An aim that a corner has, with its figure as drawn."""

    kind: AimKind
    present: float

    @property
    def wanted(self) -> float:
        """What is wanted of it unless something else is said."""
        return round(self.present, self.kind.digits) if self.kind.keeps else 0.0


@dataclass(frozen=True)
class Moved:
    """One coordinate of a proposal.

    Attributes:
        placed: the number and where it goes.
        ref: of which point.
        axis: which coordinate.
        before: mm.
        way: how far and which way, in words.
    """

    placed: Placed
    ref: Ref
    axis: Axis
    before: float
    way: str


@dataclass(frozen=True)
class Aimed:
    """One aim of a proposal: present and proposed, from the curves of the whole car.

    Attributes:
        kind: which.
        wanted: in its unit.
        before: of the drawing.
        after: of the proposal; None where it is not known.
    """

    kind: AimKind
    wanted: float
    before: float
    after: float | None


@dataclass(frozen=True)
class Proposal:
    """Where the points of a corner might go.

    Attributes:
        corner: of which.
        moves: each coordinate that goes somewhere; none where nothing near by was better.
        aims: present and proposed.
        worse: what a rule says of the proposal and did not say of the drawing.
        ends: coordinates at the end of what they may: with more room there may be better.
        because: what the edit keeps with each number.
    """

    corner: Ref
    moves: tuple[Moved, ...]
    aims: tuple[Aimed, ...]
    worse: tuple[str, ...]
    ends: tuple[str, ...]
    because: tuple[Because, ...]

    @property
    def places(self) -> tuple[Placed, ...]:
        """What the edit takes."""
        return tuple(move.placed for move in self.moves)


@dataclass(frozen=True, eq=False)
class Settling:
    """What is asked for.

    Attributes:
        document: the drawing.
        meshes: of it, for the rules.
        corner: one side; both of a pair move.
        freed: coordinates that may move.
        wishes: aims that count.
    """

    document: Document
    meshes: Mapping[str, bytes]
    corner: Ref
    freed: tuple[Freed, ...]
    wishes: tuple[Wish, ...]
