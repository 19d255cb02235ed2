"""What the adjusters of a corner are to be set to for its wanted camber and toe-in."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from core.assess.adjusters import (
    WHEELBASE,
    CornerAdjusters,
    Fitted,
    NotFitted,
    end_of,
    known_adjusters,
    not_held,
)
from core.assess.limits import limit
from core.assess.linkages import linkage
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.suspension.figures import Figure, figures_of, figures_with
from core.suspension.holding import NotHeldError
from core.suspension.nearest import Want
from core.suspension.set_up import SetUp, set_up
from core.suspension.travel import at

OUT_OF_EACH_THREAD = {"threaded end": 1.0, "turnbuckle": 0.5}
"""How far each thread comes out for 1 mm more of length; a turnbuckle has two, of one pitch."""

LEAST_TOLERANCE = 1e-3
"""Of a figure that is wanted, deg, where its limit is nought."""

UNMOVED = 1e-6
"""An adjuster moved less than this, mm, is left where it is drawn."""

BESIDES: tuple[Figure, ...] = ("castor", "half_track", "forward")
"""What setting up changes besides what is asked for."""


@cell(When.LIVE)
def wanted(read: Reader, corner: Ref) -> tuple[Want, ...]:
    """Camber and toe-in wanted of a corner, those that are entered, with how far off is right."""
    thing = read.thing(Corner, corner)
    asked: tuple[tuple[Figure, float | None, str], ...] = (
        ("camber", thing.wanted_camber_deg, "corner_camber"),
        ("toe_in", thing.wanted_toe_in_deg, "corner_toe"),
    )
    return tuple(
        Want(figure, value, max(read(limit, key, corner, thing.axle).value, LEAST_TOLERANCE))
        for figure, value, key in asked
        if value is not None
    )


@dataclass(frozen=True, eq=False)
class Setting:
    """What one adjuster is to be set to.

    Attributes:
        adjuster: which.
        amount: mm from drawn, that can really be set.
        exact: mm from drawn, if it could be set to anything.
        lacking: how much more range it would need, mm, below zero beyond its least; 0 if none.
    """

    adjuster: Fitted
    amount: float
    exact: float
    lacking: float = 0.0

    @property
    def is_left_alone(self) -> bool:
        """Whether it stays where it is drawn."""
        return abs(self.amount) < UNMOVED

    @property
    def steps(self) -> float:
        """Turns, shims, or mm where the step is not entered."""
        return self.adjuster.room.units(self.amount)

    @property
    def left(self) -> float:
        """What is left of its range the way it goes, mm; below zero, what is lacking."""
        room = self.adjuster.room
        if self.lacking:
            return -abs(self.lacking)
        if self.is_left_alone:
            return max(room.most, -room.least)
        return room.most - self.amount if self.amount > 0 else self.amount - room.least

    @property
    def share_left(self) -> float:
        """The same as a share of its whole range."""
        return self.left / (self.adjuster.room.most - self.adjuster.room.least)

    @property
    def engaged(self) -> float | None:
        """How much thread is still engaged, mm, where it is known."""
        drawn = self.adjuster.thread.engaged
        if drawn is None:
            return None
        return drawn - OUT_OF_EACH_THREAD.get(self.adjuster.how, 0.0) * self.amount


@dataclass(frozen=True, eq=False)
class CornerSetUp:
    """How a corner is brought to what is wanted of it.

    Attributes:
        wants: what is wanted.
        settings: of every known adjuster, in their order.
        unknown: adjusters that nothing can be said of.
        found: what the room found.
        besides: how much else changes by it: castor, deg; half_track and wheelbase, mm.
    """

    wants: tuple[Want, ...]
    settings: tuple[Setting, ...]
    unknown: tuple[NotFitted, ...]
    found: SetUp
    besides: Mapping[str, float]

    @property
    def reached(self) -> dict[Figure, float]:
        """What the wanted figures come to with amounts that can be set."""
        names: tuple[Figure, ...] = tuple(want.figure for want in self.wants)
        return dict(zip(names, self.found.reached_rounded.tolist(), strict=True))

    @property
    def runs_out(self) -> tuple[Setting, ...]:
        """Adjusters that would need more range."""
        return tuple(each for each in self.settings if each.lacking)

    @property
    def tightest(self) -> Setting:
        """The one with the least share of its range left."""
        return min(self.settings, key=lambda each: each.share_left)


@cell(When.RELEASE)
def set_up_of(read: Reader, corner: Ref) -> CornerSetUp:
    """What brings a corner from where it is drawn to its wanted camber and toe-in.

    Raises:
        NotComputedError: nothing is wanted, no adjuster is known, or the upright is not held.
    """
    found, wants = known_adjusters(read, corner), read(wanted, corner)
    if not wants:
        msg = f"what camber and toe-in are wanted of {read.label(corner)} is not entered"
        raise NotComputedError(msg)
    try:
        brought = set_up(read(linkage, corner), found.rooms, wants)
    except NotHeldError as error:
        raise NotComputedError(not_held(read, corner, error)) from error
    lacking = {each.name: each.extra for each in brought.runs_out}
    settings = tuple(
        Setting(each, float(amount), float(exact), lacking.get(each.room.name, 0.0))
        for each, amount, exact in zip(
            found.known, brought.rounded.tolist(), brought.amounts.tolist(), strict=True
        )
    )
    besides = _besides(read, corner, found, brought)
    return CornerSetUp(wants, settings, found.unknown, brought, besides)


def _besides(read: Reader, corner: Ref, found: CornerAdjusters, brought: SetUp) -> dict[str, float]:
    """What setting up changes that was not asked for."""
    held = read(linkage, corner)
    names: tuple[Figure, ...] = tuple(name for name in figures_of(held) if name in BESIDES)
    both = np.array([np.zeros(len(found.known)), brought.rounded])
    changes = tuple(each.change for each in found.rooms)
    before, after = figures_with(held, changes, at(), names)(both)
    changed: dict[str, float] = {}
    for name, by in zip(names, (after - before).tolist(), strict=True):
        is_forward = name == "forward"
        key = "wheelbase" if is_forward else name
        changed[key] = by * (WHEELBASE[end_of(read, corner)] if is_forward else 1.0)
    return changed
