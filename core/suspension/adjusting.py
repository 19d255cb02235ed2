"""Adjusters: screwed rods, shims, slots and eccentrics, and what one step of each does."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.changes import Change, Point, lengthening, moving
from core.suspension.figures import Figure, figures_of, figures_with, slopes_of
from core.suspension.linkage import Linkage
from core.suspension.travel import Travel, at


@dataclass(frozen=True, eq=False, slots=True)
class Adjuster:
    """Something on the car that can be set, amounts from where it is drawn.

    Attributes:
        change: what it does for 1 mm.
        least: end of its range, mm.
        most: the other end, mm.
        step: mm of one of its units, as of a turn.
        unit: what a step is called.
        smallest: what it is set by, mm: the thinnest shim, half a pitch; 0 where anything goes.

    Raises:
        ValueError: if the range is empty, or a step is none.
    """

    change: Change
    least: float
    most: float
    step: float = 1.0
    unit: str = "mm"
    smallest: float = 0.0

    def __post_init__(self) -> None:
        if not self.least < self.most:
            raise ValueError(f"{self.name} cannot run from {self.least:g} to {self.most:g} mm")
        if not (self.step > 0.0 and self.smallest >= 0.0):
            raise ValueError(f"{self.name} needs a step above nought")

    @property
    def name(self) -> str:
        """As the builder calls it."""
        return self.change.name

    def units(self, amount: float) -> float:
        """Turns, or whatever its steps are, for an amount in mm."""
        return amount / self.step


def screwed_rod(name: str, least: float, most: float, per_turn: float, part: float) -> Adjuster:
    """Return a rod set by its thread.

    Args:
        name: of the rod.
        least: mm against drawn.
        most: mm.
        per_turn: mm: the pitch for one rod end, the sum of both for a left- and right-hand tube.
        part: of a turn that it can be set by: 0.5 where a rod end must come to lie flat, 0 where
            a tube is turned freely.
    """
    change = lengthening(name, name)
    return Adjuster(change, least, most, per_turn, "turn", part * per_turn)


def shims(
    name: str, points: tuple[Point, ...], direction: Array, most: float, thinnest: float
) -> Adjuster:
    """Return a pack of shims, drawn without any, that moves points one way.

    Args:
        name: as the builder calls it.
        points: chassis points it moves.
        direction: (3,) the way a shim moves them, car frame.
        most: thickest pack, mm.
        thinnest: shim, mm.
    """
    return Adjuster(moving(name, points, direction), 0.0, most, 1.0, "mm of shim", thinnest)


def slot(
    name: str, points: tuple[Point, ...], direction: Array, least: float, most: float
) -> Adjuster:
    """Return a slot along which points can be set anywhere."""
    return Adjuster(moving(name, points, direction), least, most, 1.0, "mm along the slot")


def eccentric(name: str, points: tuple[Point, ...], direction: Array, throw: float) -> Adjuster:
    """Return an eccentric bolt in a slot.

    Amounts are where the bolt is along its slot, at most the throw either way; `eccentric_deg`
    says how far it is turned for that. Square to the slot the bolt is taken to stay.

    Args:
        name: as the builder calls it.
        points: chassis points it moves.
        direction: (3,) of the slot, car frame.
        throw: of the bolt from the middle of its head, mm.
    """
    return Adjuster(moving(name, points, direction), -throw, throw, 1.0, "mm along the slot")


def eccentric_deg(amount: Array, throw: float) -> Array:
    """Return the turn (...) from the middle of the slot that gives an amount (...), mm.

    The bolt's centre goes round a circle of the throw: amount = throw sin(turn).
    """
    return np.asarray(np.degrees(np.arcsin(np.clip(amount / throw, -1.0, 1.0))))


@dataclass(frozen=True, eq=False, slots=True)
class Effects:
    """What adjusters do to the figures of a corner.

    Attributes:
        figures: names of the figures.
        per_step: (adjusters, figures), change by one whole step from where they stand, solved
            exactly; nan where the linkage does not reach it.
        per_mm: (adjusters, figures), slope where they stand.
    """

    figures: tuple[Figure, ...]
    per_step: Array
    per_mm: Array


def effects(
    linkage: Linkage,
    adjusters: tuple[Adjuster, ...],
    travel: Travel | None = None,
    amounts: Array | None = None,
) -> Effects:
    """Return what one step of each adjuster does.

    Args:
        linkage: as drawn or made, one corner.
        adjusters: of it.
        travel: one position; None, design.
        amounts: (adjusters,) mm, where they stand; None, as drawn.

    Raises:
        NotHeldError: if the linkage does not leave the upright just its travel.
    """
    changes = tuple(each.change for each in adjusters)
    here = np.zeros(len(changes)) if amounts is None else amounts
    figures = figures_of(linkage)
    read = figures_with(linkage, changes, at() if travel is None else travel, figures)
    now = read(here)
    stepped = here + np.diag([each.step for each in adjusters])
    return Effects(figures, read(stepped) - now, slopes_of(read, here).T)
