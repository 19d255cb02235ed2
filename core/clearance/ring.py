"""Least gaps of a turning tyre to thick lines.

The tyre is taken for a ring about its spin axis, by its size alone: flat sides as far apart as its
section is wide, from `BEAD` outside the rim to `SHOULDER` inside its free radius, then straight
over the shoulder to a tread at the free radius, `TREAD` times as wide as the section. That is
outside most tyres of the size; it is no drawing of one, and it neither bulges nor grows. Its bore
is as wide as the sides are at the bead: the inside of the rim, which reaches further in, is not
looked at.

Shape: own choice, common practice, no source.
"""

from dataclasses import dataclass

import numpy as np

from core.clearance.thick import IntArray, ThickLines
from core.geometry.types import Array

BEAD = 5.0
"""From the rim's nominal radius to where the side begins, mm."""

SHOULDER = 8.0
"""From where the side ends to the free radius, mm."""

TREAD = 0.8
"""Width of the tread over that of the section."""

COARSE = 80.0
"""Longest piece of a line that is looked at first, mm."""

SHORT = 6.0
"""Longest piece looked at as one, mm: much shorter than any tyre is curved."""

THIRDS = 10
"""How often a third of such a piece is cut off about its nearest place: to a tenth of a mm."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A tyre by its size.

    Attributes:
        half_width: half its section, mm.
        bead: radius at which its side begins, mm.
        shoulder: at which it ends.
        tread: free radius.
        half_tread: half the width of the tread.
    """

    half_width: float
    bead: float
    shoulder: float
    tread: float
    half_tread: float


def ring_of(section: float, free_radius: float, rim_radius: float) -> Ring:
    """Return the ring of a tyre by its section, free radius and rim radius, mm.

    Raises:
        ValueError: if there is no tyre between rim and free radius.
    """
    bead, shoulder = rim_radius + BEAD, free_radius - SHOULDER
    if not (section > 0.0 and bead < shoulder):
        raise ValueError("there is no tyre between its rim and its free radius")
    return Ring(section / 2.0, bead, shoulder, free_radius, TREAD * section / 2.0)


def ring_distance(ring: Ring, radius: Array, along: Array) -> Array:
    """Return the distances (...) mm of places to the ring's skin, below zero inside it.

    Args:
        ring: the tyre.
        radius: (...) mm from the spin axis.
        along: (...) mm from the wheel's middle, along the axis.
    """
    wide = np.abs(along)
    below, beside = radius - ring.bead, wide - ring.half_width
    side = np.hypot(_beyond(radius, ring.bead, ring.shoulder), beside)
    tread = np.hypot(np.maximum(wide - ring.half_tread, 0.0), radius - ring.tread)
    bore = np.hypot(np.maximum(beside, 0.0), below)
    rise, run = ring.tread - ring.shoulder, ring.half_width - ring.half_tread
    out = radius - ring.shoulder
    share = np.clip((out * rise - beside * run) / (rise**2 + run**2), 0.0, 1.0)
    shoulder = np.hypot(out - share * rise, beside + share * run)
    inside = (below > 0.0) & (radius < ring.tread) & (beside < 0.0)
    inside &= out * run < -beside * rise
    skin = np.minimum(np.minimum(side, tread), np.minimum(bore, shoulder))
    return np.where(inside, -skin, skin)


def _beyond(values: Array, low: float, high: float) -> Array:
    """How far (...) values are outside an interval."""
    return np.maximum(np.maximum(low - values, values - high), 0.0)


@dataclass(frozen=True, eq=False, slots=True)
class Wheels:
    """A wheel at every position.

    Attributes:
        centres: (positions, 3) mm.
        spins: (positions, 3) unit.
    """

    centres: Array
    spins: Array


@dataclass(frozen=True, eq=False, slots=True)
class RingGaps:
    """The least gap of a tyre to each thing over all positions.

    Attributes:
        gaps: (things,) mm, below zero where they overlap; infinity where not looked at.
        positions: (things,), where it is.
        places: (things, 3) mm, on the centre line; not a number where not looked at.
    """

    gaps: Array
    positions: IntArray
    places: Array


def least_to_ring(ring: Ring, wheels: Wheels, lines: ThickLines, reach: float) -> RingGaps:
    """Return the least gap of a tyre to each of several things.

    Lines are cut into pieces that are halved again and again. A distance changes by no more than
    one moves, so only a piece whose middle less half its length could beat what is found elsewhere
    is kept; along one that is shorter than `SHORT` there is one nearest place, which is closed in
    on.

    Args:
        ring: the tyre.
        wheels: at one position or more.
        lines: at the same positions, or at one.
        reach: mm; a gap that is larger may be left at infinity.
    """
    coarse = _near(ring, wheels, _cut(lines), reach)
    every = np.indices((len(wheels.centres), len(coarse.radii))).reshape(2, -1)
    pieces = _Pieces(coarse, every[0], every[1], *coarse.at(every[0], every[1]))
    least = np.full(lines.count, reach)
    pieces = pieces.kept(ring, wheels, least)
    while pieces.longest > SHORT:
        pieces = pieces.halved().kept(ring, wheels, least)
    return pieces.closed_in(ring, wheels)


def _gaps(ring: Ring, wheels: Wheels, places: Array, radii: Array) -> Array:
    """Gaps (n,) of a tyre, which stands in n ways, to balls about places (n, 3)."""
    off = places - wheels.centres
    along = np.einsum("ni,ni->n", off, wheels.spins)
    radius = np.sqrt(np.maximum(np.einsum("ni,ni->n", off, off) - along**2, 0.0))
    return np.asarray(ring_distance(ring, radius, along) - radii)


def _cut(lines: ThickLines) -> ThickLines:
    """The same lines in pieces none longer than `COARSE` at any position."""
    longest = np.linalg.norm(lines.ends - lines.starts, axis=-1).max(axis=0)
    counts = np.maximum(np.ceil(longest / COARSE), 1.0).astype(np.intp)
    of = np.repeat(np.arange(len(counts)), counts)
    number = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    whole = lines.of(of)
    step = (whole.ends - whole.starts) / counts[of][:, None]
    starts = whole.starts + number[:, None] * step
    return ThickLines(starts, starts + step, whole.radii, whole.owners, whole.count)


def _near(ring: Ring, wheels: Wheels, lines: ThickLines, reach: float) -> ThickLines:
    """The pieces that could come within reach: by the box of the wheel's centres."""
    low, high = wheels.centres.min(axis=0), wheels.centres.max(axis=0)
    beside = np.linalg.norm(_beyond((lines.starts + lines.ends) / 2.0, low, high), axis=-1)
    far = np.hypot(ring.tread, ring.half_width) + COARSE / 2.0 + reach + lines.radii
    return lines.of(np.nonzero((beside <= far).any(axis=0))[0])


@dataclass(frozen=True, eq=False, slots=True)
class _Pieces:
    """Pieces (n,) of lines, each at a position.

    Attributes:
        lines: that they are of.
        positions: (n,).
        of: (n,), number of the line that each is of.
        starts: (n, 3) mm.
        ends: (n, 3) mm.
    """

    lines: ThickLines
    positions: IntArray
    of: IntArray
    starts: Array
    ends: Array

    @property
    def longest(self) -> float:
        """Length of the longest, mm; 0 where there is none."""
        return float(np.linalg.norm(self.ends - self.starts, axis=-1).max(initial=0.0))

    def kept(self, ring: Ring, wheels: Wheels, least: Array) -> "_Pieces":
        """Those that could beat the least (things,) found yet, which this brings down."""
        gaps = self._gaps(ring, wheels, np.full(len(self.of), 0.5))
        owners = self.lines.owners[self.of]
        np.minimum.at(least, owners, gaps)
        half = np.linalg.norm(self.ends - self.starts, axis=-1) / 2.0
        return self._some(np.nonzero(gaps - half <= least[owners])[0])

    def halved(self) -> "_Pieces":
        """Twice as many, half as long."""
        middles = (self.starts + self.ends) / 2.0
        return _Pieces(
            self.lines,
            np.concatenate([self.positions, self.positions]),
            np.concatenate([self.of, self.of]),
            np.concatenate([self.starts, middles]),
            np.concatenate([middles, self.ends]),
        )

    def closed_in(self, ring: Ring, wheels: Wheels) -> RingGaps:
        """The nearest place of all pieces of each thing, by thirds."""
        low, high = np.zeros(len(self.of)), np.ones(len(self.of))
        for _ in range(THIRDS):
            one, other = (2.0 * low + high) / 3.0, (low + 2.0 * high) / 3.0
            nearer = self._gaps(ring, wheels, one) <= self._gaps(ring, wheels, other)
            low, high = np.where(nearer, low, one), np.where(nearer, other, high)
        shares = np.stack([np.zeros_like(low), (low + high) / 2.0, np.ones_like(low)])
        gaps = np.stack([self._gaps(ring, wheels, share) for share in shares])
        best = (np.argmin(gaps, axis=0), np.arange(len(self.of)))
        return self._least(gaps[best], self._places(shares[best]))

    def _least(self, gaps: Array, places: Array) -> RingGaps:
        """The least of the gaps (n,) of each thing."""
        things = self.lines.owners[self.of]
        order = np.lexsort((gaps, things))
        owners, first = np.unique(things[order], return_index=True)
        best, count = order[first], self.lines.count
        found = RingGaps(
            np.full(count, np.inf), np.zeros(count, dtype=np.intp), np.full((count, 3), np.nan)
        )
        found.gaps[owners], found.places[owners] = gaps[best], places[best]
        found.positions[owners] = self.positions[best]
        return found

    def _places(self, shares: Array) -> Array:
        return np.asarray(self.starts + shares[:, None] * (self.ends - self.starts))

    def _gaps(self, ring: Ring, wheels: Wheels, shares: Array) -> Array:
        some = Wheels(wheels.centres[self.positions], wheels.spins[self.positions])
        return _gaps(ring, some, self._places(shares), self.lines.radii[self.of])

    def _some(self, which: IntArray) -> "_Pieces":
        return _Pieces(
            self.lines,
            self.positions[which],
            self.of[which],
            self.starts[which],
            self.ends[which],
        )
