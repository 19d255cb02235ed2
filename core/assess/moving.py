"""Gaps of what moves with the wheels, to tubes and to one another, through travel and steer.

Looked at, at every position of `over_both`, of one corner at a time: links and welded arms, the
damper with its spring, the tyre, the drive shaft with its outer boot, the rod of a rocker. Between
two positions, some 10 mm of travel apart, nothing is looked at. On a rigid axle the links of the
axle are looked at from both wheels, and what is theirs alone is told at the left one; the dampers
and tyres of both sides are not looked at against one another.

Left out, because there they meet as they must:

- the first `LINK_END` of a link or rod from its joint on chassis, rack or rocker, the first
  `ARM_END` of a welded arm from its pivot, and the last `DAMPER_END` of a damper below its upper
  eye: joints and brackets are there, which have no shape here. Beyond that even the very tube that
  a link is bolted to counts;
- two parts with a joint in common: legs of one arm, or an arm and the damper or rod that stands on
  it; and a damper on the upright with an arm welded to that upright;
- tyre and welded arm, which never move against each other, and tyre and drive shaft, which enters
  the wheel at its middle.

Not looked at, for nothing says what shape they have: uprights, rigid axles themselves, brakes, the
inside of the rim, inner boots, rockers, anti-roll bars. Steel that is spoilt does not count.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from core.assess.limits import limit
from core.assess.moving_parts import MovingParts, Part, moving_parts
from core.assess.places import drawn_tubes, shapeless_tubes, tube_line, tube_radius, vec
from core.assess.wheels import tyre_figures
from core.clearance.moving import least_between, least_to_still, nearest_places
from core.clearance.ring import Ring, Wheels, least_to_ring, ring_of
from core.clearance.thick import ThickLines
from core.document.base import Ref, Vec3
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array

REACH = 60.0
"""Pairs further apart than this are not named, mm, unless the limit asks for more."""

TYRE = "tyre"

NOT_TO_TYRE = ("arm", "drive shaft")


@dataclass(frozen=True)
class MovingGap:
    """The least gap of a pair over travel and steer.

    Attributes:
        part: what moves: a link by its name, damper, drive shaft, tyre.
        piece: what of it comes nearest, as damper or spring.
        other: the tube; none where the other moves too.
        other_part: the other part; empty where it is a tube.
        other_piece: what of that comes nearest.
        about: the things of the document that the two are.
        gap: mm, below zero where they overlap; they then do by so much or more.
        bump: wheel height at which it is, mm.
        rack: rack travel at which it is, mm to the left.
        others_height: of the other wheel at which it is, mm, on a rigid axle; else None.
        place: mm, car frame, on the centre line of the other one, or of what the tyre meets.
    """

    part: str
    piece: str
    other: Ref | None
    other_part: str
    other_piece: str
    about: tuple[Ref, ...]
    gap: float
    bump: float
    rack: float
    others_height: float | None
    place: Vec3


@dataclass(frozen=True)
class MovingGaps:
    """Every pair of a corner that comes within reach.

    Attributes:
        gaps: least first, one for each pair.
        unknown: why gaps of something could not be worked out, each a clause of its own.
        reach: mm, within which pairs are named.
        parts: what was looked at.
    """

    gaps: tuple[MovingGap, ...]
    unknown: tuple[str, ...]
    reach: float
    parts: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class TubePieces:
    """The chords of every tube that has a shape, and which tube is which."""

    lines: ThickLines
    tubes: tuple[Ref, ...]


@cell(When.RELEASE)
def tube_pieces(read: Reader) -> TubePieces:
    """Every tube as thick lines, in the document's order."""
    tubes = read(drawn_tubes)
    lines = [read(tube_line, ref) for ref in tubes]
    radii = np.array([read(tube_radius, ref) for ref in tubes], dtype=np.float64)
    owners = np.repeat(np.arange(len(tubes)), [len(line) - 1 for line in lines])
    none = np.zeros((0, 3))
    starts = np.concatenate([none, *(line[:-1] for line in lines)])[None]
    ends = np.concatenate([none, *(line[1:] for line in lines)])[None]
    return TubePieces(ThickLines(starts, ends, radii[owners], owners, len(tubes)), tubes)


@cell(When.RELEASE)
def moving_gaps(read: Reader, corner: Ref) -> MovingGaps:
    """The least gap of each pair of a corner, and what could not be looked at."""
    moving, tubes = read(moving_parts, corner), read(tube_pieces)
    allowed = read(limit, "moving_gap", corner)
    looked = _Looked(moving, tubes, max(REACH, allowed.value + allowed.margin))
    gaps = [*looked.to_tubes(), *looked.to_one_another()]
    unknown, names = [*moving.unknown, *_no_tubes(read)], [part.name for part in moving.parts]
    try:
        gaps += looked.to_tyre(_ring(read, corner), _tyre(read, corner))
        names.append(TYRE)
    except NotComputedError as error:
        unknown.append(str(error))
    gaps.sort(key=lambda gap: gap.gap)
    return MovingGaps(tuple(gaps), tuple(unknown), looked.reach, tuple(names))


def _no_tubes(read: Reader) -> Iterator[str]:
    hidden = read(shapeless_tubes)
    if not hidden and not read(drawn_tubes):
        yield "there are no tubes to measure to"
    for ref in hidden:
        yield f"{read.label(ref)} has no shape yet"


def _tyre(read: Reader, corner: Ref) -> Ref:
    ref = read.thing(Corner, corner).tyre
    assert ref is not None  # `tyre_figures` asks for it
    return ref


def _ring(read: Reader, corner: Ref) -> Ring:
    figures = read(tyre_figures, corner)
    try:
        return ring_of(figures.section, figures.unloaded_radius, figures.rim_radius)
    except ValueError as error:
        msg = f"the tyre of {read.label(corner)}: {error}"
        raise NotComputedError(msg) from error


def lines_of(parts: tuple[Part, ...]) -> ThickLines:
    """The pieces of parts as thick lines, each owned by its part."""
    pieces = [piece for part in parts for piece in part.pieces]
    owners = np.repeat(np.arange(len(parts)), [len(part.pieces) for part in parts])
    starts = np.stack([piece.start for piece in pieces], axis=1)
    ends = np.stack([piece.end for piece in pieces], axis=1)
    radii = np.array([piece.radius for piece in pieces])
    return ThickLines(starts, ends, radii, owners, len(parts))


@dataclass(frozen=True)
class _Which:
    """One of a pair: a piece of a part, the tyre, or a tube."""

    part: str
    piece: str
    about: Ref
    is_tube: bool = False


def _pieces(parts: tuple[Part, ...]) -> list[_Which]:
    """Each piece of parts, in the order of `lines_of`."""
    return [_Which(part.name, piece.words, part.about) for part in parts for piece in part.pieces]


def _tube(ref: Ref) -> _Which:
    return _Which("", "", ref, is_tube=True)


class _Looked:
    """The gaps of one corner."""

    def __init__(self, moving: MovingParts, tubes: TubePieces, reach: float) -> None:
        self.moving, self.tubes, self.reach = moving, tubes, reach

    def to_tubes(self) -> Iterator[MovingGap]:
        """Every part to every tube within reach."""
        parts = tuple(part for part in self.moving.parts if not self._is_told_elsewhere(part))
        if not parts:
            return
        lines, still = lines_of(parts), self.tubes.lines
        pieces = _pieces(parts)
        found = least_to_still(lines, still, self.reach)
        near = np.nonzero(found.gaps <= self.reach)
        at, one, other = (each[near] for each in (found.positions, found.lines, found.others))
        places = nearest_places(*lines.at(at, one), *still.at(at, other))[1]
        for n, gap in enumerate(found.gaps[near].tolist()):
            tube = self.tubes.tubes[int(still.owners[other[n]])]
            yield self._gap((pieces[int(one[n])], _tube(tube)), gap, int(at[n]), places[n])

    def to_one_another(self) -> Iterator[MovingGap]:
        """Every part to every other that has no joint in common with it."""
        for one, other in combinations(self.moving.parts, 2):
            told = self._is_told_elsewhere(one) and self._is_told_elsewhere(other)
            if is_looked_at(one, other) and not told:
                yield from self._pair(one, other)

    def _is_told_elsewhere(self, part: Part) -> bool:
        return part.name in self.moving.told_elsewhere

    def _pair(self, one: Part, other: Part) -> Iterator[MovingGap]:
        both = (one, other)
        lines, pieces = lines_of(both), _pieces(both)
        numbers = np.indices((len(one.pieces), len(other.pieces))).reshape(2, -1)
        first, second = numbers[0], numbers[1] + len(one.pieces)
        found = least_between(lines, first, second)
        best = int(np.argmin(found.gaps))
        gap, at = float(found.gaps[best]), int(found.positions[best])
        pair = int(first[best]), int(second[best])
        if gap <= self.reach:
            ends = (each[at, k] for k in pair for each in (lines.starts, lines.ends))
            place = nearest_places(*ends)[1]
            yield self._gap((pieces[pair[0]], pieces[pair[1]]), gap, at, place)

    def to_tyre(self, ring: Ring, tyre: Ref) -> Iterator[MovingGap]:
        """The tyre to every tube, link, damper and rod."""
        yield from self._to_tyre(ring, tyre, self.tubes.lines, [*map(_tube, self.tubes.tubes)])
        parts = tuple(part for part in self.moving.parts if part.kind not in NOT_TO_TYRE)
        if parts:
            others = [_Which(part.name, part.name, part.about) for part in parts]
            yield from self._to_tyre(ring, tyre, lines_of(parts), others)

    def _to_tyre(
        self, ring: Ring, tyre: Ref, lines: ThickLines, others: list[_Which]
    ) -> Iterator[MovingGap]:
        wheels = Wheels(self.moving.centre, self.moving.spin)
        found = least_to_ring(ring, wheels, lines, self.reach)
        one = _Which(TYRE, TYRE, tyre)
        for n, gap in enumerate(found.gaps.tolist()):
            if gap <= self.reach:
                yield self._gap((one, others[n]), gap, int(found.positions[n]), found.places[n])

    def _gap(self, pair: tuple[_Which, _Which], gap: float, at: int, place: Array) -> MovingGap:
        one, other = pair
        return MovingGap(
            part=one.part,
            piece=one.piece,
            other=other.about if other.is_tube else None,
            other_part=other.part,
            other_piece=other.piece,
            about=(one.about, other.about),
            gap=gap,
            bump=float(self.moving.bump[at]),
            rack=float(self.moving.rack[at]),
            others_height=None if self.moving.other is None else float(self.moving.other[at]),
            place=vec(place),
        )


def is_looked_at(one: Part, other: Part) -> bool:
    """Whether two parts have no joint in common."""
    return not one.joints & other.joints
