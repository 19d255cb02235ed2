"""Adjusters of a corner, from the document to the room: what they move, and what a step does.

A threaded end and a turnbuckle lengthen the links at their point; shims, a slot and an eccentric
move it. Nothing here changes the drawing: amounts are told from it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from core.assess.linkages import linkage
from core.assess.places import array, place
from core.document.base import Ref
from core.document.links import Adjuster as Entered
from core.document.running_gear import Axle, Corner, Rack
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.suspension.adjusting import Adjuster, effects
from core.suspension.changes import ONE_PLACE, Body, Change, End, bodies, lengthening
from core.suspension.constraints import Constraint, Rod
from core.suspension.figures import figures_of
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage

How = Literal["shims", "threaded end", "turnbuckle", "eccentric", "slot"]

LENGTHENS: tuple[How, ...] = ("threaded end", "turnbuckle")
"""Adjusters that make a link longer; the others move its end."""

HALF_A_TURN = 0.5
"""What a rod end can be set by: its eye must come to lie flat again. A track rod's end at a rack
turns freely on its ball. Common practice, no source."""

WHEELBASE = {"front": 1.0, "rear": -1.0}
"""Wheelbase for 1 mm of the wheel forward, by the end of the car."""


class Thread(NamedTuple):
    """The thread of an adjuster, mm; nothing where it is not entered."""

    engaged: float | None
    needed: float | None


NO_THREAD = Thread(None, None)


@dataclass(frozen=True, eq=False)
class Fitted:
    """An adjuster that the room knows what to do with.

    Attributes:
        number: in the corner's list.
        point: where it is.
        label: as shown.
        how: what it is.
        room: what it moves, how far, in what steps.
        has_step: whether its step is entered; else one of 1 mm stands for it.
        thread: of a link's end.
        sets: what it is for, as entered.
    """

    number: int
    point: Ref
    label: str
    how: How
    room: Adjuster
    has_step: bool
    thread: Thread
    sets: str


@dataclass(frozen=True)
class NotFitted:
    """An adjuster that nothing can be said of, and why."""

    number: int
    point: Ref
    label: str
    reason: str


@dataclass(frozen=True, eq=False)
class CornerAdjusters:
    """The adjusters of a corner, each known or not."""

    known: tuple[Fitted, ...]
    unknown: tuple[NotFitted, ...]

    @property
    def rooms(self) -> tuple[Adjuster, ...]:
        """The known ones, for the room."""
        return tuple(each.room for each in self.known)


@cell(When.LIVE)
def adjusters_of(read: Reader, corner: Ref) -> CornerAdjusters:
    """What can be set on a corner; of what cannot be told, the reason.

    Raises:
        NotComputedError: what holds the upright is not known.
    """
    held = read(linkage, corner)
    entered = read.thing(Corner, corner).adjusters
    found = [_fitted(read, held, each, k, entered) for k, each in enumerate(entered)]
    return CornerAdjusters(
        tuple(each for each in found if isinstance(each, Fitted)),
        tuple(each for each in found if isinstance(each, NotFitted)),
    )


def _fitted(
    read: Reader, held: Linkage, entered: Entered, number: int, all_of: tuple[Entered, ...]
) -> Fitted | NotFitted:
    name = _label(read, entered, number, all_of)
    try:
        room = _room(read, held, entered, name)
    except NotComputedError as error:
        return NotFitted(number, entered.point, name, str(error))
    is_thread = entered.how in LENGTHENS
    thread = Thread(entered.thread_engaged, entered.thread_needed) if is_thread else NO_THREAD
    return Fitted(
        number, entered.point, name, entered.how, room, entered.step is not None, thread,
        entered.sets,
    )  # fmt: skip


def _label(read: Reader, entered: Entered, number: int, all_of: tuple[Entered, ...]) -> str:
    """By its point; two at one point by what they are, two alike by their number."""
    label = read.label(entered.point)
    there = [k for k, each in enumerate(all_of) if each.point == entered.point]
    if len(there) == 1:
        return label
    label = f"{label}, {entered.how}"
    alike = [k for k in there if all_of[k].how == entered.how]
    return label if len(alike) == 1 else f"{label} {alike.index(number) + 1}"


def _room(read: Reader, held: Linkage, entered: Entered, name: str) -> Adjuster:
    if not entered.least < entered.most:
        raise NotComputedError("it has no range: least and most are one")
    change = _change(held, entered, array(read(place, entered.point)), name)
    step, smallest, word = entered.step or 1.0, 0.0, "mm"
    if entered.step is not None:
        word = {"shims": "shim", "slot": "step", "eccentric": "step"}.get(entered.how, "turn")
        on_rack = read.has(Rack, entered.point)
        smallest = {"shims": step, "threaded end": 0.0 if on_rack else HALF_A_TURN * step}.get(
            entered.how, 0.0
        )
    return Adjuster(change, entered.least, entered.most, step, word, smallest)


def _change(held: Linkage, entered: Entered, at: Array, name: str) -> Change:
    """What the room does for 1 mm of an adjuster.

    Raises:
        NotComputedError: nothing that it could move is there.
    """
    there = tuple(ends_at(held, at))
    rods = tuple(each for each, _, _ in there if isinstance(each, Rod))
    if entered.how in LENGTHENS:
        if not rods:
            raise NotComputedError("no link ends there whose length could change")
        return lengthening(name, *(rod.name for rod in rods))
    ends: tuple[End, ...] = tuple((c.name, field) for c, field, body in there if body == "chassis")
    if not ends:
        raise NotComputedError("nothing that holds the upright meets the chassis there")
    return Change(name, moves=ends, direction=_way(entered, rods))


def _way(entered: Entered, rods: tuple[Rod, ...]) -> Array:
    """The way (3,) an adjuster moves its point: as entered, else outward along its links."""
    if entered.direction is not None:
        return unit(array(entered.direction))
    along = [unit(np.asarray(rod.outer) - np.asarray(rod.inner)) for rod in rods]
    total = np.sum(along, axis=0) if along else np.zeros(3)
    if not np.any(np.abs(total) > ONE_PLACE):
        raise NotComputedError("which way it moves the point is not entered")
    return unit(total)


def ends_at(held: Linkage, at: Array) -> Iterator[tuple[Constraint, str, Body]]:
    """Every end of what holds an upright that is at a place, with its field and what has it."""
    for each in held.constraints:
        for field, body in bodies(each):
            if np.all(np.abs(np.asarray(getattr(each, field)) - at) < ONE_PLACE):
                yield each, field, body


@dataclass(frozen=True, eq=False)
class CornerEffects:
    """What one step of each adjuster does to a corner as it is drawn.

    Attributes:
        adjusters: of the corner.
        keys: camber, toe_in, castor, bump_steer, half_track, wheelbase.
        per_step: (adjusters, keys) deg; bump steer in deg for 10 mm; the last two mm. nan where
            the linkage does not reach it.
    """

    adjusters: CornerAdjusters
    keys: tuple[str, ...]
    per_step: Array


@cell(When.RELEASE)
def adjuster_effects(read: Reader, corner: Ref) -> CornerEffects:
    """What one turn or step does, or 1 mm where the step is not entered.

    Raises:
        NotComputedError: no adjuster is known, or the upright is not held.
    """
    found, held = known_adjusters(read, corner), read(linkage, corner)
    try:
        done = effects(held, found.rooms).per_step
    except NotHeldError as error:
        raise NotComputedError(not_held(read, corner, error)) from error
    names = figures_of(held)
    special = {"bump_steer": 10.0, "forward": WHEELBASE[end_of(read, corner)]}
    factors = np.array([special.get(name, 1.0) for name in names])
    keys = tuple("wheelbase" if name == "forward" else name for name in names)
    return CornerEffects(found, keys, done * factors)


def end_of(read: Reader, corner: Ref) -> Literal["front", "rear"]:
    """The end of the car that a corner is at."""
    return read.thing(Axle, read.thing(Corner, corner).axle).end


def known_adjusters(read: Reader, corner: Ref) -> CornerAdjusters:
    """The adjusters of a corner, of which at least one is known.

    Raises:
        NotComputedError: there is none.
    """
    found = read(adjusters_of, corner)
    if found.known:
        return found
    if not found.unknown:
        raise NotComputedError(f"no adjuster is entered for {read.label(corner)}")
    first = found.unknown[0]
    raise NotComputedError(f"the adjuster at {first.label} is not known: {first.reason}")


def not_held(read: Reader, corner: Ref, error: NotHeldError) -> str:
    """Why nothing is worked out for a corner that is not held."""
    return f"{read.label(corner)} is not held: {error}".rstrip(".")
