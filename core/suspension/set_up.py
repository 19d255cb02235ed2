"""From the figures wanted to what each adjuster must be set to.

Where more adjusters than figures could do it, they are moved least, by the sum of squares in mm.
"""

import math
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from core.geometry.types import Array
from core.suspension.adjusting import Adjuster
from core.suspension.figures import Figure
from core.suspension.linkage import Linkage
from core.suspension.nearest import LEAST_EXTRA, STILL, Task, Want, inside, nearest
from core.suspension.travel import Travel, at

MOST_ROUNDED = 10
"""Adjusters of which every rounding up and down is tried together; of more, each to the nearest."""


@dataclass(frozen=True, slots=True)
class RunsOut:
    """An adjuster whose range does not reach.

    Attributes:
        name: of the adjuster.
        extra: range that is lacking, mm, negative below its least.
    """

    name: str
    extra: float


@dataclass(frozen=True, eq=False, slots=True)
class SetUp:
    """What to set, with amounts in mm from drawn in the order of the adjusters.

    Attributes:
        amounts: (adjusters,) mm, within their ranges.
        reached: (wants,) what the figures come to.
        rounded: (adjusters,) mm, that can really be set; multiples of the smallest from drawn.
        reached_rounded: (wants,) what the figures come to then.
        left_over: (wants,) reached_rounded less what was wanted.
        is_met: whether every figure is within tolerance with exact amounts, which come nearest
            by the sum of squares of what is missed over tolerance.
        is_met_rounded: the same with rounded ones.
        runs_out: adjusters that would need more range, and how much at least.
        unreachable: figures that no range of these adjusters would bring.
    """

    amounts: Array
    reached: Array
    rounded: Array
    reached_rounded: Array
    left_over: Array
    is_met: bool
    is_met_rounded: bool
    runs_out: tuple[RunsOut, ...]
    unreachable: tuple[Figure, ...]


def set_up(
    linkage: Linkage,
    adjusters: tuple[Adjuster, ...],
    wants: tuple[Want, ...],
    travel: Travel | None = None,
    now: Array | None = None,
) -> SetUp:
    """Return what to set the adjusters to.

    Args:
        linkage: as drawn or made, one corner.
        adjusters: of it, at least one.
        wants: figures wanted, at least one.
        travel: one position; None, design.
        now: (adjusters,) mm, where they stand, from which they are moved least; None, as drawn.

    Raises:
        ValueError: if there is no adjuster or no figure, or a tolerance is not above nought.
        NotHeldError: if the linkage does not leave the upright just its travel.
    """
    if not adjusters or not wants or any(not want.tolerance > 0.0 for want in wants):
        raise ValueError("setting up needs adjusters, figures and tolerances above nought")
    stand = np.zeros(len(adjusters)) if now is None else now
    task = Task(linkage, adjusters, wants, at() if travel is None else travel, stand)
    task, amounts = _eased(task)
    reached = task.figures(amounts)
    rounded = _rounded(task, amounts)
    runs_out, unreachable = ((), ()) if task.is_met(reached) else _lacking(task)
    reached_rounded = task.figures(rounded)
    return SetUp(
        amounts,
        reached,
        rounded,
        reached_rounded,
        reached_rounded - task.values,
        task.is_met(reached),
        task.is_met(reached_rounded),
        runs_out,
        unreachable,
    )


def can_be_set(
    linkage: Linkage,
    adjusters: tuple[Adjuster, ...],
    wants: tuple[Want, ...],
    travel: Travel | None = None,
) -> bool:
    """Return whether adjusters bring every figure within tolerance; arguments as for `set_up`."""
    where = at() if travel is None else travel
    task = Task(linkage, adjusters, wants, where, np.zeros(len(adjusters)))
    return task.is_met(task.figures(inside(task, nearest(task, may_overrun=False))))


def _eased(task: Task) -> tuple[Task, Array]:
    """Amounts within the ranges, and the task with those figures eased that cannot be had in them.

    A figure that cannot be had would draw those off that can: the one that is off most is eased
    first, and then comes as near as the others leave it.
    """
    amounts = inside(task, nearest(task, may_overrun=False))
    kept = [want for want in task.wants if want.figure not in task.eased]
    off = np.abs(task.missed(amounts)) > 1.0
    if len(kept) < 2 or not off.any():
        return task, amounts
    return _eased(replace(task, eased=(*task.eased, task.furthest(amounts))))


def _lacking(task: Task) -> tuple[tuple[RunsOut, ...], tuple[Figure, ...]]:
    """Which adjusters need more range for the figures that any range would bring, and the rest.

    Of figures that cannot all be had, the one that is off most is given up first.
    """
    count, gone = len(task.adjusters), tuple[Figure, ...]()
    left = replace(task, eased=())
    while left.wants:
        found = nearest(left, may_overrun=True)
        sums = found[:count] + found[count:]
        if left.is_met(left.figures(sums)):
            over = zip(task.adjusters, found[count:].tolist(), strict=True)
            return tuple(RunsOut(a.name, by) for a, by in over if abs(by) > LEAST_EXTRA), gone
        gone += (worst := left.furthest(sums),)
        left = replace(left, wants=tuple(w for w in left.wants if w.figure != worst))
    return (), gone


def _rounded(task: Task, amounts: Array) -> Array:
    """The amounts that can be set and come nearest, those set freely turned again after."""
    coarse = [k for k, each in enumerate(task.adjusters) if each.smallest > 0.0]
    if not coarse:
        return amounts
    tried = _roundings(task, amounts, coarse)
    free = [k for k in range(len(amounts)) if k not in coarse]
    missed = task.missed(tried)
    if free:
        slopes = task.slopes(amounts)[:, free]
        if np.isfinite(slopes).all():  # what the free ones will make good again does not count
            missed = missed - missed @ (slopes @ np.linalg.pinv(slopes)).T
    costs = np.where(np.isfinite(missed).all(axis=-1), np.sum(missed**2, axis=-1), np.inf)
    best = tried[int(np.argmin(costs))]
    return _freed(task, best, free) if free else best


def _roundings(task: Task, amounts: Array, coarse: list[int]) -> Array:
    """Every way to round up and down within the ranges, (ways, adjusters)."""
    choices = [_settable(task.adjusters[k], float(amounts[k])) for k in coarse]
    if len(coarse) > MOST_ROUNDED:
        choices = [each[:1] for each in choices]
    ways = np.array(list(product(*choices)))
    tried = np.tile(amounts, (len(ways), 1))
    tried[:, coarse] = ways
    return tried


def _settable(adjuster: Adjuster, amount: float) -> tuple[float, ...]:
    """The amounts beside one that can be set, nearest first; itself where none is in range."""
    size = adjuster.smallest
    below = math.floor(amount / size + STILL)
    steps = {below, below + 1, round(amount / size)}
    slack = STILL * size
    settable = [
        step * size
        for step in steps
        if adjuster.least - slack <= step * size <= adjuster.most + slack
    ]
    return tuple(sorted(settable, key=lambda each: abs(each - amount))) or (amount,)


def _freed(task: Task, fixed: Array, free: list[int]) -> Array:
    """Amounts with some of them set again, the others left where they are."""
    pinned = tuple(
        each
        if k in free
        else replace(each, least=float(fixed[k]), most=float(fixed[k]) + LEAST_EXTRA * 1e-6)
        for k, each in enumerate(task.adjusters)
    )
    held = replace(task, adjusters=pinned)
    found = inside(held, nearest(held, may_overrun=False))
    return np.where([k in free for k in range(len(fixed))], found, fixed)
