"""Least gaps of thick lines that move to thick lines that stay, and to one another.

The gap of two thick lines is the distance of their centre lines less both radii: exact at every
position given, and a true signed number until the centre lines touch. Between positions nothing is
looked at.

Most pairs are never measured at most positions. A distance changes by no more than the further of
a line's two ends moves, for a point of the line moves by a mean of both. So what was measured at a
few positions, the anchors, is a bound for all others, and only where that bound could still beat
the least gap found is the pair measured: the answer is that of measuring everything.

Source of the bound: derived here, by the inequality of the triangle.
"""

from dataclasses import dataclass

import numpy as np

from core.clearance.thick import IntArray, LeastGaps, ThickLines, nothing_found, take_least
from core.geometry.distances import segment_segment
from core.geometry.types import Array

ANCHORS = 16
"""At most so many positions every pair that could come near is measured at."""

CHUNK = 2048
"""Pairs measured at once: so many keep within a processor's cache."""


def least_to_still(moving: ThickLines, still: ThickLines, reach: float) -> LeastGaps:
    """Return the least gap (moving things, still things) of each to each.

    Args:
        moving: at one position or more.
        still: at one position.
        reach: mm; a gap that is larger may be left at infinity.
    """
    pairs = _within(moving, still, reach)
    found = nothing_found((moving.count * still.count,))
    anchors = np.unique(np.linspace(0, len(moving.starts) - 1, ANCHORS).round().astype(np.intp))
    known = pairs.take(found, *_every(anchors, len(pairs.lines)))
    bound = _bound(moving, anchors, known.reshape(len(anchors), -1), pairs.lines)
    pairs.take(found, *np.nonzero(bound < np.minimum(found.gaps[pairs.groups], reach)))
    shape = (moving.count, still.count)
    parts = (found.gaps, found.positions, found.lines, found.others)
    return LeastGaps(*(part.reshape(shape) for part in parts))  # type: ignore[arg-type]


def least_between(moving: ThickLines, first: IntArray, second: IntArray) -> LeastGaps:
    """Return the least gap (pairs,) between lines that both move.

    Args:
        moving: at one position or more.
        first: (pairs,) numbers of lines.
        second: (pairs,) numbers of the others.
    """
    centre = segment_segment(
        moving.starts[:, first], moving.ends[:, first],
        moving.starts[:, second], moving.ends[:, second],
    )  # fmt: skip
    gaps = centre - moving.radii[first] - moving.radii[second]
    positions = np.argmin(gaps, axis=0)
    least = np.take_along_axis(gaps, positions[None], axis=0)[0]
    return LeastGaps(least, positions, first, second)


def nearest_places(
    starts: Array, ends: Array, others: Array, other_ends: Array
) -> tuple[Array, Array]:
    """Return the places (..., 3) mm of two segments where they are nearest to one another.

    Args:
        starts: (..., 3) mm, of the first segments.
        ends: (..., 3) mm.
        others: (..., 3) mm, starts of the second segments.
        other_ends: (..., 3) mm.
    """
    first, second = ends - starts, other_ends - others
    normal = np.cross(first, second)
    square = np.sum(normal * normal, axis=-1)
    turn = np.sum(np.cross(others - starts, second) * normal, axis=-1)
    share = np.clip(turn / np.where(square > 0.0, square, 1.0), 0.0, 1.0)
    crossing = starts + share[..., None] * first
    on_first = np.stack(
        [crossing, starts, ends, _foot(others, starts, ends), _foot(other_ends, starts, ends)]
    )
    on_second = np.stack(
        [*(_foot(place, others, other_ends) for place in on_first[:3]), others, other_ends]
    )
    apart = np.sum((on_first - on_second) ** 2, axis=-1)
    least = np.argmin(apart, axis=0)[None, ..., None]
    return (
        np.asarray(np.take_along_axis(on_first, least, axis=0)[0]),
        np.asarray(np.take_along_axis(on_second, least, axis=0)[0]),
    )


def _foot(points: Array, starts: Array, ends: Array) -> Array:
    """Places (..., 3) of segments nearest to points."""
    way = ends - starts
    square = np.sum(way * way, axis=-1)
    share = np.sum((points - starts) * way, axis=-1) / np.where(square > 0.0, square, 1.0)
    return np.asarray(starts + np.clip(share, 0.0, 1.0)[..., None] * way)


def _every(anchors: IntArray, pairs: int) -> tuple[IntArray, IntArray]:
    """Every anchor with every pair, flat."""
    return np.repeat(anchors, pairs), np.tile(np.arange(pairs), len(anchors))


@dataclass(frozen=True, eq=False, slots=True)
class _Pairs:
    """Pairs (n,) of a line that moves and one that stays.

    Attributes:
        moving: the lines of the one kind.
        still: of the other.
        lines: (n,) numbers of the one.
        others: (n,) of the other.
        groups: (n,) number of the pair of things that it is of.
    """

    moving: ThickLines
    still: ThickLines
    lines: IntArray
    others: IntArray
    groups: IntArray

    def take(self, found: LeastGaps, positions: IntArray, pairs: IntArray) -> Array:
        """Measure some pairs at some positions, keep what is least, and return the gaps (m,)."""
        parts = range(0, len(pairs), CHUNK)
        measured = [self._gaps(positions[i : i + CHUNK], pairs[i : i + CHUNK]) for i in parts]
        gaps = np.concatenate([np.zeros(0), *measured])
        lines, others = self.lines[pairs], self.others[pairs]
        take_least(found, self.groups[pairs], gaps, positions, lines, others)
        return gaps

    def _gaps(self, positions: IntArray, pairs: IntArray) -> Array:
        lines, others = self.lines[pairs], self.others[pairs]
        moving, still = self.moving.at(positions, lines), self.still.at(positions, others)
        radii = self.moving.radii[lines] + self.still.radii[others]
        return np.asarray(segment_segment(*moving, *still) - radii)


def _within(moving: ThickLines, still: ThickLines, reach: float) -> _Pairs:
    """Pairs whose boxes, those of moving lines over all positions, come within reach."""
    ends = np.concatenate([moving.starts, moving.ends])
    low, high = ends.min(axis=0)[:, None], ends.max(axis=0)[:, None]
    starts, ends = still.starts[0], still.ends[0]
    beside = np.maximum(np.minimum(starts, ends) - high, low - np.maximum(starts, ends))
    apart = np.linalg.norm(np.maximum(beside, 0.0), axis=-1)
    lines, others = np.nonzero(apart - moving.radii[:, None] - still.radii <= reach)
    groups = moving.owners[lines] * still.count + still.owners[others]
    return _Pairs(moving, still, lines, others, groups)


def _bound(moving: ThickLines, anchors: IntArray, known: Array, lines: IntArray) -> Array:
    """What the gaps (positions, pairs) are at least, by the gaps (anchors, pairs) at anchors."""
    apart = np.stack([_moved(moving, anchor) for anchor in anchors])
    nearest = np.argmin(apart, axis=0)
    moved = apart.min(axis=0)
    bound = known[nearest[:, lines], np.arange(len(lines))] - moved[:, lines]
    bound[anchors] = np.inf  # measured already
    return np.asarray(bound)


def _moved(moving: ThickLines, since: np.intp) -> Array:
    """How far (positions, lines) mm the further end of each line moved since a position."""
    ways = (np.linalg.norm(end - end[since], axis=-1) for end in (moving.starts, moving.ends))
    return np.asarray(np.maximum(*ways))
