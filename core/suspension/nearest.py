"""Amounts of adjusters for which figures come nearest to what is wanted, within ranges or beyond.

Found by steps of bounded linear least squares, each figure solved exactly again after every step.
Source of the bounded steps: P. B. Stark, R. L. Parker, Bounded-Variable Least-Squares,
Computational Statistics 10, 1995, as in scipy's `lsq_linear` (from memory).
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import lsq_linear

from core.geometry.types import Array
from core.suspension.adjusting import Adjuster
from core.suspension.figures import Figure, figures_with, slopes_of
from core.suspension.linkage import Linkage
from core.suspension.travel import Travel

MOST_EXTRA = 100.0
"""How far beyond its range an adjuster is followed, mm, to say how much is lacking. Own choice."""

EXTRA = 1e-3
"""What a mm beyond a range weighs against a figure that is off by its tolerance: next to nothing,
so that ranges are overrun only for figures, and then least."""

MOVED = 1e-6
"""What a mm of adjusting weighs, likewise: less than anything else."""

EASED = 1e-3
"""What a figure that cannot be had weighs against the others."""

LEAST_EXTRA = 1e-3
"""Overrun below this, mm, is none."""

MOST_STEPS = 30
STILL = 1e-9
"""Steps shorter than this, mm, end the search."""

SHORTEST = 1e-3


@dataclass(frozen=True, slots=True)
class Want:
    """A figure that is wanted.

    Attributes:
        figure: which.
        value: in the figure's unit.
        tolerance: how far off is still right, above nought.
    """

    figure: Figure
    value: float
    tolerance: float


@dataclass(frozen=True, eq=False, slots=True)
class Task:
    """What is wanted of one corner.

    Attributes:
        linkage: as drawn or made.
        adjusters: of it.
        wants: figures wanted.
        travel: one position.
        now: (adjusters,) mm, where they stand.
        eased: figures that cannot be had, and count little against the others.
    """

    linkage: Linkage
    adjusters: tuple[Adjuster, ...]
    wants: tuple[Want, ...]
    travel: Travel
    now: Array
    eased: tuple[Figure, ...] = ()

    @property
    def values(self) -> Array:
        """What is wanted, (wants,)."""
        return np.array([want.value for want in self.wants])

    @property
    def tolerances(self) -> Array:
        """How far off is still right, (wants,)."""
        return np.array([want.tolerance for want in self.wants])

    @property
    def least(self) -> Array:
        """Ends of the ranges, (adjusters,) mm."""
        return np.array([each.least for each in self.adjusters])

    @property
    def most(self) -> Array:
        """The other ends."""
        return np.array([each.most for each in self.adjusters])

    def figures(self, amounts: Array) -> Array:
        """Solved exactly, (..., wants)."""
        changes = tuple(each.change for each in self.adjusters)
        names: tuple[Figure, ...] = tuple(want.figure for want in self.wants)
        return figures_with(self.linkage, changes, self.travel, names)(amounts)

    def missed(self, amounts: Array) -> Array:
        """Wanted less reached, in tolerances, those that cannot be had eased, (..., wants)."""
        return (self.values - self.figures(amounts)) * self._weights

    def slopes(self, amounts: Array) -> Array:
        """Of the figures in tolerances, (wants, adjusters)."""
        return slopes_of(self.figures, amounts) * self._weights[:, None]

    @property
    def _weights(self) -> Array:
        eased = [EASED if want.figure in self.eased else 1.0 for want in self.wants]
        return np.asarray(np.array(eased) / self.tolerances)

    def furthest(self, amounts: Array) -> Figure:
        """The figure that is off most, by its tolerance, of those not eased."""
        missed = np.abs(self.values - self.figures(amounts)) / self.tolerances
        known = [want.figure not in self.eased for want in self.wants]
        return self.wants[int(np.argmax(np.where(known, missed, -1.0)))].figure

    def is_met(self, reached: Array) -> bool:
        """Whether figures are all within tolerance."""
        return bool(np.all(np.abs(self.values - reached) <= self.tolerances))


def inside(task: Task, found: Array) -> Array:
    """Return what `nearest` found within the ranges, (adjusters,) mm."""
    return np.asarray(np.clip(found[: len(task.adjusters)], task.least, task.most))


def nearest(task: Task, *, may_overrun: bool) -> Array:
    """Return amounts within the ranges, then how far each goes beyond its own, (2 adjusters,) mm.

    The figures count first, then what is beyond a range, then how far the rest is moved.

    Args:
        task: what is wanted of what.
        may_overrun: whether a range may be left where figures cannot be had within it.
    """
    count = len(task.adjusters)
    beyond = MOST_EXTRA if may_overrun else LEAST_EXTRA * 1e-6
    low = np.concatenate([task.least, np.full(count, -beyond)])
    high = np.concatenate([task.most, np.full(count, beyond)])
    still = np.concatenate([np.full(count, MOVED), np.full(count, EXTRA)])
    rest = np.concatenate([task.now, np.zeros(count)])
    here = np.clip(rest, low, high)
    for _ in range(MOST_STEPS):
        sums = here[:count] + here[count:]
        slopes, missed = task.slopes(sums), task.missed(sums)
        if not (np.isfinite(slopes).all() and np.isfinite(missed).all()):
            break
        both = np.concatenate([slopes, slopes], axis=1)
        rows = np.concatenate([both, np.diag(still)])
        wanted = np.concatenate([both @ here + missed, still * rest])
        aimed = lsq_linear(rows, wanted, (low, high), method="bvls").x
        share = _share(task, here, np.asarray(aimed), still, rest)
        step = share * (np.asarray(aimed) - here)
        here = np.asarray(np.clip(here + step, low, high), dtype=np.float64)
        if np.abs(step).max() < STILL:
            break
    return np.asarray(here, dtype=np.float64)


def _share(task: Task, here: Array, aimed: Array, still: Array, rest: Array) -> float:
    """How much of a step to go: halved while the figures do not come nearer; 0 where none does."""
    count = len(task.adjusters)

    def cost(place: Array) -> float:
        missed = task.missed(place[:count] + place[count:])
        total = float(np.sum(missed**2) + np.sum((still * (place - rest)) ** 2))
        return total if math.isfinite(total) else math.inf

    share, before = 1.0, cost(here)
    while share >= SHORTEST:
        if cost(here + share * (aimed - here)) <= before:
            return share
        share *= 0.5
    return 0.0
