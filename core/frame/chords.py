"""All tubes of a frame as straight chords, and the pairs of chords that come close."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.frame.nearest import nearest_between
from core.frame.network import Network, Point, point
from core.geometry.distances import segment_segment
from core.geometry.types import Array

Indices = NDArray[np.intp]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Chords:
    """Every straight piece of every tube, stacked.

    Attributes:
        start: (m, 3) mm.
        end: (m, 3) mm.
        radius: (m,) outside radius of the tube, mm.
        owner: (m,) index of the tube; pieces of one tube follow one another.
    """

    start: Array
    end: Array
    radius: Array
    owner: Indices


class Pair(NamedTuple):
    """Two chords, the first of the earlier tube, and the gap between their surfaces.

    Attributes:
        first: index of a chord.
        second: index of the other chord.
        gap: mm, below zero where the surfaces overlap.
    """

    first: int
    second: int
    gap: float


def chords_of(network: Network) -> Chords:
    """The chords of all tubes in their order."""
    lines = [member.line for member in network.members]
    counts = [len(line) - 1 for line in lines]
    none = np.zeros((0, 3))
    return Chords(
        start=np.concatenate([none, *(line[:-1] for line in lines)]),
        end=np.concatenate([none, *(line[1:] for line in lines)]),
        radius=np.repeat(np.array([member.radius for member in network.members]), counts),
        owner=np.repeat(np.arange(len(lines)), counts),
    )


def least_gaps_possible(chords: Chords, wanted: Mask) -> Array:
    """Lower bounds (m, m) of the surface gaps, from the boxes round the chords.

    Args:
        chords: all chords.
        wanted: (t, t) which pairs of tubes are asked for; only the upper half is read.

    Returns:
        Bounds in mm, infinite for pairs that are not asked for.
    """
    low, high = np.minimum(chords.start, chords.end), np.maximum(chords.start, chords.end)
    square = np.zeros((len(low), len(low)))
    for axis in range(3):
        between = low[:, None, axis] - high[None, :, axis]
        between = np.maximum(np.maximum(between, between.T), 0.0)
        square += between * between
    bounds = np.sqrt(square) - (chords.radius[:, None] + chords.radius[None, :])
    asked = np.triu(wanted, 1)[np.ix_(chords.owner, chords.owner)]
    return np.where(asked, bounds, np.inf)


def close_pairs(chords: Chords, wanted: Mask, within: float) -> list[Pair]:
    """The pairs of chords of the wanted pairs of tubes whose gap is less than `within`, mm."""
    first, second = np.nonzero(least_gaps_possible(chords, wanted) < within)
    gaps = surface_gaps(chords, first, second)
    keep = np.flatnonzero(gaps < within)
    listed = (first[keep].tolist(), second[keep].tolist(), gaps[keep].tolist())
    return [Pair(i, j, gap) for i, j, gap in zip(*listed, strict=True)]


def surface_gaps(chords: Chords, first: Indices, second: Indices) -> Array:
    """The gaps (k,) between the surfaces on pairs of chords, mm, below zero where they overlap.

    Ends count as rounded: at a free end the true gap is no less.
    """
    centre = segment_segment(
        chords.start[first], chords.end[first], chords.start[second], chords.end[second]
    )
    return centre - chords.radius[first] - chords.radius[second]


def nearest_places(chords: Chords, pair: Pair) -> tuple[Point, Point]:
    """Where two chords come closest: a point on either centre line, mm, car frame."""
    i, j = [pair.first], [pair.second]
    first, second = nearest_between(chords.start[i], chords.end[i], chords.start[j], chords.end[j])
    return point(first[0]), point(second[0])
