"""Thick lines: straight pieces with round ends, as rods, dampers or the chords of a tube."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array

IntArray = NDArray[np.intp]


@dataclass(frozen=True, eq=False, slots=True)
class ThickLines:
    """Thick lines at one position or many, some of which make up one thing.

    Attributes:
        starts: (positions, lines, 3) mm; (1, lines, 3) where they stay as they are.
        ends: the same shape.
        radii: (lines,) mm.
        owners: (lines,), number of the thing that a line belongs to, from 0.
        count: how many things there are.
    """

    starts: Array
    ends: Array
    radii: Array
    owners: IntArray
    count: int

    def of(self, lines: IntArray) -> "ThickLines":
        """Some of the lines."""
        starts, ends = self.starts[:, lines], self.ends[:, lines]
        return ThickLines(starts, ends, self.radii[lines], self.owners[lines], self.count)

    def at(self, positions: IntArray, lines: IntArray) -> tuple[Array, Array]:
        """Starts and ends (n, 3) of lines, each at a position."""
        rows = np.zeros_like(positions) if len(self.starts) == 1 else positions
        return self.starts[rows, lines], self.ends[rows, lines]


@dataclass(frozen=True, eq=False, slots=True)
class LeastGaps:
    """The least gap of each pair of things over all positions.

    Attributes:
        gaps: (...) mm, below zero where they overlap; infinity where not looked at.
        positions: (...), where it is.
        lines: (...), which line of the one thing.
        others: (...), which line of the other.
    """

    gaps: Array
    positions: IntArray
    lines: IntArray
    others: IntArray


def nothing_found(shape: tuple[int, ...]) -> LeastGaps:
    """Return that no pair has been looked at."""
    zeros = [np.zeros(shape, dtype=np.intp) for _ in range(3)]
    return LeastGaps(np.full(shape, np.inf), *zeros)


def take_least(
    found: LeastGaps, groups: IntArray, gaps: Array, positions: IntArray, lines: IntArray,
    others: IntArray,
) -> None:  # fmt: skip
    """Look at more gaps (n,), each of one place of the flat `found`, and keep what is less."""
    order = np.lexsort((gaps, groups))
    first = order[np.unique(groups[order], return_index=True)[1]]
    better = first[gaps[first] < found.gaps[groups[first]]]
    at = groups[better]
    for kept, new in (
        (found.gaps, gaps), (found.positions, positions),
        (found.lines, lines), (found.others, others),
    ):  # fmt: skip
        kept[at] = new[better]
