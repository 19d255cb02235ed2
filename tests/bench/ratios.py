"""How many times as long one piece of work takes as another, on a machine that has other work.

Time is that of the processor at work for this process, where it is told finely enough: what other
programs get in between does not count. Neither piece waits for anything.

Both are done by turns, and the best time of each counts: other work can still make a turn longer,
by what it takes out of the caches, and never shorter. Where the machine is busy for longer than a
spell of turns lasts, neither of its best times may be free of that; so a ratio above its bound is
measured again, a while later, and the bound is broken only if no spell keeps it.

A spell judges both pieces by its own turns alone, so work that is truly too slow passes only if
every turn of the other in that spell was disturbed and one of its own was not.
"""

import gc
import math
import time
from collections.abc import Callable, Generator
from contextlib import contextmanager
from typing import NamedTuple

SPELLS = 8
PAUSE = 0.25
"""Seconds before the second spell; each pause is half as long again as the one before it, so the
last spell begins some eight seconds after the first."""

LONGER = 1.5

Work = Callable[[], object]


class Bound(NamedTuple):
    """Most times as long as the other that a piece of work may take.

    Attributes:
        most: the bound.
        measured: what was measured when it was set; what is between the two is room for other
            machines, not for other work on this one.
    """

    most: float
    measured: float


class Turns(NamedTuple):
    """How long a spell is.

    Attributes:
        enough: turns after which it ends early, once the bound is kept.
        most: turns after which it ends anyway.
    """

    enough: int = 15
    most: int = 40


TURNS = Turns()


class Spell(NamedTuple):
    """Best times of one spell, in seconds."""

    ours: float
    theirs: float

    @property
    def times(self) -> float:
        """How many times as long ours took."""
        return self.ours / self.theirs


class Clock(NamedTuple):
    """What tells the time and lets it pass."""

    now: Callable[[], float]
    wait: Callable[[float], None]


FINE = 1e-6
_IS_FINE = time.get_clock_info("process_time").resolution <= FINE
MACHINE = Clock(time.process_time if _IS_FINE else time.perf_counter, time.sleep)


class Ratio(NamedTuple):
    """What was measured, and what it is held against."""

    bound: Bound
    spells: tuple[Spell, ...]

    @property
    def best(self) -> Spell:
        """The spell with the least ratio."""
        return min(self.spells, key=lambda spell: spell.times)

    @property
    def holds(self) -> bool:
        """Whether a spell kept the bound."""
        return self.best.times <= self.bound.most

    def __str__(self) -> str:
        """The best spell in words, for the message of a test that fails."""
        ours, theirs = (1e3 * seconds for seconds in self.best)
        return (
            f"{self.best.times:.3g} times in the best of {len(self.spells)} spells, "
            f"{ours:.3g} ms against {theirs:.3g} ms; at most {self.bound.most:.3g}, "
            f"and {self.bound.measured:.3g} when that was set"
        )


def ratio(
    ours: Work, theirs: Work, bound: Bound, turns: Turns = TURNS, clock: Clock = MACHINE
) -> Ratio:
    """Measure how many times as long ours takes as theirs, until a spell keeps the bound.

    Both are done once before, for what only the first time costs, and without the collector of
    garbage, whose time would fall on either by chance.
    """
    ours()
    theirs()
    spells: list[Spell] = []
    pause = PAUSE
    while True:
        with _no_collector():
            spells.append(_spell(ours, theirs, bound.most, turns, clock))
        found = Ratio(bound, tuple(spells))
        if found.holds or len(spells) == SPELLS:
            return found
        clock.wait(pause)
        pause *= LONGER


@contextmanager
def _no_collector() -> Generator[None]:
    gc.collect()
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _spell(ours: Work, theirs: Work, most: float, turns: Turns, clock: Clock) -> Spell:
    best = Spell(math.inf, math.inf)
    for turn in range(1, turns.most + 1):
        best = Spell(min(best.ours, _taken(ours, clock)), min(best.theirs, _taken(theirs, clock)))
        if turn >= turns.enough and best.times <= most:
            break
    return best


def _taken(work: Work, clock: Clock) -> float:
    begun = clock.now()
    work()
    return clock.now() - begun
