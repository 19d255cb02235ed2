"""A drag as a state machine: what the hand asks for, and what it gets. It knows nothing of Qt."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from app.scene.projection import Projection, Ray, on_axis, on_line, on_plane
from core.document.base import Because
from core.geometry.types import Array
from core.scene.records import Handle

START_AFTER = 3.0
"""Logical pixels that the pointer moves before a press is a drag and no click."""

RESIST_AFTER = 8.0
"""Logical pixels asked for along a held coordinate before it is said that it is held."""

MOSTLY = 0.6
"""Share of a move that must lie along held coordinates for it to count as asking for them."""

AXES = np.eye(3)
Axis = Literal[0, 1, 2]


@dataclass(frozen=True)
class Stop:
    """A free interval of one coordinate, and the words for each of its ends."""

    axis: Axis
    low: float
    high: float
    at_low: str
    at_high: str


@dataclass(frozen=True, eq=False)
class Grip:
    """A handle in the hand.

    Attributes:
        handle: as it was at the press.
        start: (3,) its place then, mm, car frame.
        normal: (3,) unit, towards the eye: of the plane in which the hand moves.
        offset: (3,) from the place grabbed to the handle, so that it does not jump.
        rail: (n, 3) the line it slides on, if it follows a tube.
        stop: where its free interval ends, if it has one.
    """

    handle: Handle
    start: Array
    normal: Array
    offset: Array
    rail: Array | None = None
    stop: Stop | None = None


@dataclass(frozen=True, eq=False)
class Asked:
    """What a move of the hand comes to.

    Attributes:
        place: (3,) where the handle goes.
        missed: (3,) by how much that misses the wish along held coordinates.
        is_held: whether the wish was mostly for what is held.
        stopped: why it goes no farther, if it is at an end.
        because: what the place relies on, where it was snapped to something.
    """

    place: Array
    missed: Array
    is_held: bool = False
    stopped: str = ""
    because: tuple[Because, ...] = ()


@dataclass(frozen=True, eq=False)
class Snapped:
    """A place that a snap proposes."""

    place: Array
    because: tuple[Because, ...] = ()


Snap = Callable[[Array], Snapped]


def grip_at(
    handle: Handle,
    projection: Projection,
    pointer: tuple[float, float],
    normal: Array,
    rail: Array | None = None,
    stop: Stop | None = None,
) -> Grip:
    """Return the handle taken in hand where the pointer is."""
    start = np.array(handle.at, dtype=np.float64)
    grabbed = on_plane(projection.ray(*pointer), start, normal)
    offset = np.zeros(3) if grabbed is None else start - grabbed
    return Grip(handle, start, normal, offset, rail, stop)


def asked(
    grip: Grip,
    projection: Projection,
    pointer: tuple[float, float],
    lock: Axis | None = None,
    snap: Snap | None = None,
) -> Asked:
    """Return where the handle goes when the pointer is there.

    Args:
        grip: what is in the hand.
        projection: of the view now.
        pointer: logical pixels.
        lock: the one coordinate that may change.
        snap: gives a rounder place near by.
    """
    seen = projection.ray(*pointer)
    ray = Ray(seen.origin + grip.offset, seen.direction)
    wish = on_plane(ray, grip.start, grip.normal)
    if wish is None:
        return Asked(grip.start, np.zeros(3))
    held = np.array(grip.handle.held_axes)
    if grip.rail is not None:
        return _on_rail(grip, ray, wish, is_held=bool(held.any()), projection=projection)
    allowed = ~held if lock is None else ~held & (AXES[lock] > 0.0)
    place = _free_place(grip, ray, wish, allowed)
    because: tuple[Because, ...] = ()
    if snap is not None:
        snapped = snap(place)
        place = np.where(allowed & _in_plane(grip), snapped.place, place)
        because = snapped.because
    if lock is None:
        missed = np.where(held, wish - grip.start, 0.0)
    else:
        missed = np.where(held & (AXES[lock] > 0.0), _locked_wish(grip, ray, lock), 0.0)
    resisted = _is_resisted(missed, wish - grip.start, grip, projection)
    place, stopped = _stopped(grip.stop, place)
    return Asked(place, missed, resisted, stopped, because)


def _locked_wish(grip: Grip, ray: Ray, lock: Axis) -> Array:
    there = on_axis(ray, grip.start, AXES[lock])
    return np.zeros(3) if there is None else there - grip.start


def _on_rail(grip: Grip, ray: Ray, wish: Array, *, is_held: bool, projection: Projection) -> Asked:
    assert grip.rail is not None
    if is_held:
        missed = on_line(ray, grip.rail) - grip.start
        resisted = _is_resisted(missed, wish - grip.start, grip, projection)
        return Asked(grip.start, missed, resisted)
    place = on_line(ray, grip.rail)
    ends = {0: "its tube starts here", len(grip.rail) - 1: "its tube ends here"}
    stopped = next(
        (words for i, words in ends.items() if np.allclose(place, grip.rail[i], atol=0.05)), ""
    )
    return Asked(place, np.zeros(3), stopped=stopped)


def _free_place(grip: Grip, ray: Ray, wish: Array, allowed: np.ndarray) -> Array:
    """The place nearest to the wish that changes nothing but the allowed coordinates."""
    free = np.flatnonzero(allowed)
    found: Array | None = wish
    if len(free) == 0:
        return grip.start
    if len(free) == 1:
        found = on_axis(ray, grip.start, AXES[free[0]])
    elif len(free) == 2:
        found = on_plane(ray, grip.start, AXES[int(np.flatnonzero(~allowed)[0])])
        if found is None:  # seen edge-on: of the wish only what is allowed
            found = wish
    if found is None:
        return grip.start
    return np.where(allowed, found, grip.start)


def _in_plane(grip: Grip) -> np.ndarray:
    """Coordinates that a move in the view's plane can change."""
    return np.abs(grip.normal) < STRAIGHT_ON


STRAIGHT_ON = 0.999
"""Share of an axis in a view's line of sight from which a move in that view cannot change it."""


def _is_resisted(missed: Array, wish: Array, grip: Grip, projection: Projection) -> bool:
    asked_for, whole = float(np.linalg.norm(missed)), float(np.linalg.norm(wish))
    least = RESIST_AFTER * projection.mm_per_pixel(grip.start)
    return asked_for >= least and asked_for >= MOSTLY * whole


def _stopped(stop: Stop | None, place: Array) -> tuple[Array, str]:
    if stop is None or stop.low <= place[stop.axis] <= stop.high:
        return place, ""
    kept = place.copy()
    kept[stop.axis] = np.clip(place[stop.axis], stop.low, stop.high)
    return kept, stop.at_low if place[stop.axis] < stop.low else stop.at_high


# --- the states ------------------------------------------------------------------------------

Phase = Literal["idle", "pressed", "dragging"]


@dataclass(frozen=True, eq=False)
class Drag:
    """A drag at one moment; each event gives another.

    Attributes:
        phase: nothing in hand, taken but not moved, or moving.
        grip: what is in hand.
        pressed_at: where, logical pixels.
        lock: the one coordinate that may change.
    """

    phase: Phase = "idle"
    grip: Grip | None = None
    pressed_at: tuple[float, float] = (0.0, 0.0)
    lock: Axis | None = None

    def pressed(self, grip: Grip, pointer: tuple[float, float]) -> "Drag":
        """A handle is taken; while one is in hand no other can be."""
        return Drag("pressed", grip, pointer) if self.phase == "idle" else self

    def moved(self, pointer: tuple[float, float]) -> "Drag":
        """The pointer moved; far enough from the press, the drag begins."""
        away = float(np.hypot(pointer[0] - self.pressed_at[0], pointer[1] - self.pressed_at[1]))
        begins = self.phase == "pressed" and away >= START_AFTER
        return replace(self, phase="dragging") if begins else self

    def locked(self, axis: Axis) -> "Drag":
        """Only one coordinate may change from now on; asked again, all may."""
        if self.phase == "idle":
            return self
        return replace(self, lock=None if self.lock == axis else axis)

    def ended(self) -> "Drag":
        """Nothing is in hand any more."""
        return Drag()


# --- snapping --------------------------------------------------------------------------------

GRID = 5.0
"""mm to which a drag rounds when asked to snap: what a builder sets out with a rule."""


def snap_to(grip: Grip, handles: tuple[Handle, ...], projection: Projection, reach: float) -> Snap:
    """Return a snap to other joints in reach on the screen, else to the grid.

    Args:
        grip: what is in hand.
        handles: all there are.
        projection: of the view.
        reach: logical pixels.
    """
    others = [h for h in handles if h.ref.id != grip.handle.ref.id and h.kind == "joint"]

    def snap(place: Array) -> Snapped:
        if others and grip.handle.kind in ("joint", "pickup"):
            places = np.array([h.at for h in others], dtype=np.float64)
            seen, here = projection.to_screen(places), projection.to_screen(place[None])[0]
            gaps = np.hypot(seen[:, 0] - here[0], seen[:, 1] - here[1])
            best = int(np.nanargmin(gaps)) if np.any(np.isfinite(gaps)) else 0
            if gaps[best] <= reach:
                because = Because(ref=others[best].ref, words="snapped to this joint")
                return Snapped(places[best], (because,))
        return Snapped(np.round(place / GRID) * GRID)

    return snap
