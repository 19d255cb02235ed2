"""The hand on a view: takes a handle, moves it through the session, lets go, or gives up."""

from functools import partial
from typing import Protocol

import numpy as np

from app.scene.cameras import Pose
from app.scene.drag_edits import moved_to, released, stop_of, way
from app.scene.dragging import AXES, Asked, Axis, Drag, Grip, asked, grip_at, snap_to
from app.scene.picking import REACH
from app.scene.projection import Projection
from app.session import Session
from core.assess.places import tube_shape
from core.document.base import Because
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.refusals import HeldError
from core.edits.values import held_by
from core.engine.address import Address
from core.engine.cells import NotComputedError, When
from core.geometry.tubes import TubeShape
from core.geometry.types import Array
from core.quantities import number
from core.scene.records import Handle, Scene


class HandView(Protocol):
    """What the hand needs of the view it works in."""

    pose: Pose

    def projection(self) -> Projection:
        """How the view shows the car now."""
        ...

    def hand_changed(self) -> None:
        """Something about what is in the hand changed."""
        ...

    def resist(self, handle: Handle, title: str, body: str, *, can_free: bool) -> None:
        """Say beside the pointer that something is held."""
        ...

    def unresist(self) -> None:
        """Take that back."""
        ...


class Hand:
    """One drag at a time, one undo step a drag."""

    def __init__(self, session: Session, view: HandView) -> None:
        """Begin empty-handed."""
        self._session, self._view = session, view
        self._group: object = None
        self._base: Document = session.state.document
        self._shape: TubeShape | None = None
        self.drag = Drag()
        self.asked: Asked | None = None
        self.before: Scene | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is in it."""
        return self.drag.phase == "idle"

    # --- a drag ------------------------------------------------------------------------------

    def take(self, handle: Handle, pointer: tuple[float, float]) -> None:
        """Take a handle."""
        state = self._session.state
        self._group, self._base, self.before = object(), state.document, state.scene
        self._shape = self._shape_of(handle)
        rail = self._rail_of(handle)
        stop = stop_of(state.assessment, handle)
        grip = grip_at(handle, self._view.projection(), pointer, self._view.pose.back, rail, stop)
        self.drag = self.drag.pressed(grip, pointer)
        self._view.hand_changed()

    def _shape_of(self, handle: Handle) -> TubeShape | None:
        if handle.along is None:
            return None
        try:
            return self._session.state.assessment.value(tube_shape, handle.along)
        except NotComputedError:
            return None

    def _rail_of(self, handle: Handle) -> Array | None:
        for tube in self._session.state.scene.tubes:
            if tube.ref == handle.along:
                return tube.line
        return None

    def move(self, pointer: tuple[float, float], *, snaps: bool = False) -> None:
        """Follow the pointer."""
        self.drag = self.drag.moved(pointer)
        grip = self.drag.grip
        if grip is None or self.drag.phase != "dragging":
            return
        projection = self._view.projection()
        handles = self._session.state.scene.handles
        snap = snap_to(grip, handles, projection, REACH) if snaps else None
        self.asked = asked(grip, projection, pointer, self.drag.lock, snap)
        if self.asked.is_held:
            self._spring_back(grip, self.asked)
        else:
            self._view.unresist()
            self._put(grip, self.asked.place, self.asked.because)
        self._view.hand_changed()

    def _put(self, grip: Grip, place: Array, because: tuple[Because, ...]) -> None:
        handle = grip.handle
        words = f"Move {self._name(handle)}"

        def edit(_: Document) -> Document:
            return moved_to(self._base, handle, place, because, self._shape)

        try:
            self._session.apply(words, edit, self._group, When.LIVE)
        except HeldError as error:
            self._session.cancel(self._group)
            self._resist(handle, str(error), "")
        except JigplateError as error:
            self._view.resist(handle, f"{self._name(handle)} stays.", str(error), can_free=False)

    def _spring_back(self, grip: Grip, what: Asked) -> None:
        self._session.cancel(self._group)
        name, handle = self._name(grip.handle), grip.handle
        axis = int(np.argmax(np.abs(what.missed)))
        stays = _stays(axis, handle.at[axis])
        title = f"{name} is held: {handle.held or 'it may not move'}."
        miss = number(float(np.linalg.norm(what.missed)), 1)
        body = f"It stays {stays}. Asked {way(what.missed)}: that would miss by {miss} mm."
        self._resist(handle, title, f"{body} {self._room_words(grip)}".strip())

    def _room_words(self, grip: Grip) -> str:
        stop = grip.stop
        if stop is None:
            return ""
        right = number(float(grip.start[stop.axis]) - stop.low, 1)
        left = number(stop.high - float(grip.start[stop.axis]), 1)
        return f"Set free, the shafts would let it go {left} to the left and {right} to the right."

    def _resist(self, handle: Handle, title: str, body: str) -> None:
        after = released(self._session.state.document, handle)
        can_free = held_by(after, Address(handle.ref, handle.path)) is None
        self._view.resist(handle, title, body, can_free=can_free)

    # --- its end -----------------------------------------------------------------------------

    def let_go(self) -> bool:
        """Let go; whether anything was dragged, and not only taken and put down."""
        was_drag = self.drag.phase == "dragging"
        if was_drag:
            self._settle()
        self._forget()
        return was_drag

    def give_up(self) -> bool:
        """Put back what is in the hand as it was at the press; whether there was anything."""
        had = not self.is_empty
        if had:
            self._session.cancel(self._group)
            self._forget()
        return had

    def _settle(self) -> None:
        if self._session.state.document == self._base:
            self._session.cancel(self._group)
        else:
            self._session.settle()

    def _forget(self) -> None:
        self.drag = self.drag.ended()
        self.asked, self._group, self._shape = None, None, None
        self._view.hand_changed()

    # --- keys --------------------------------------------------------------------------------

    def lock(self, axis: Axis) -> None:
        """Let only one coordinate change; asked again, all may."""
        self.drag = self.drag.locked(axis)
        self._view.hand_changed()

    def nudge(self, handle: Handle, step: Array, group: object) -> None:
        """Move a handle by a little, (3,) mm; nudges of one group are one undo step."""
        now = self._now(handle)
        if any(held and step[i] for i, held in enumerate(now.held_axes)):
            title = f"{self._name(now)} is held: {now.held}."
            self._resist(now, title, f"It stays where it is; asked {way(step)}.")
            return
        edit = partial(moved_to, handle=now, to=np.array(now.at) + step, shape=self._shape_of(now))
        try:
            self._session.apply(f"Nudge {self._name(now)}", edit, group)
        except JigplateError as error:
            self._view.resist(now, f"{self._name(now)} stays.", str(error), can_free=False)

    def along(self, handle: Handle) -> Array | None:
        """The direction, (3,) unit, of the tube that a handle follows, where it is on it."""
        rail = self._rail_of(handle)
        if rail is None:
            return None
        gaps = np.linalg.norm(rail - np.array(handle.at), axis=1)
        i = min(int(np.argmin(gaps)), len(rail) - 2)
        step = rail[i + 1] - rail[i]
        return np.asarray(step / np.linalg.norm(step), dtype=np.float64)

    def set_free(self, handle: Handle) -> None:
        """Set free what holds a handle, on purpose and as a step of its own."""
        words = f"Set {self._name(handle)} free"
        try:
            self._session.apply(words, lambda document: released(document, handle))
        except JigplateError as error:
            self._view.resist(handle, f"{self._name(handle)} stays.", str(error), can_free=False)

    # --- small -------------------------------------------------------------------------------

    def _now(self, handle: Handle) -> Handle:
        for other in self._session.state.scene.handles:
            if (other.ref, other.path) == (handle.ref, handle.path):
                return other
        return handle

    def _name(self, handle: Handle) -> str:
        return Lookup(self._session.state.document).label(handle.ref)


def _stays(axis: int, value: float) -> str:
    """Where a coordinate stays, in words."""
    size = number(abs(value), 1)
    if axis == 1:
        return f"{size} {'left' if value > 0 else 'right'} of the centre line"
    if axis == 2:
        return f"{number(value, 1)} high"
    return f"{size} {'ahead of' if value > 0 else 'behind'} the front station"


def step_along(axis: int, distance: float) -> Array:
    """A step along one of the car's axes, (3,) mm."""
    return np.asarray(AXES[axis] * distance, dtype=np.float64)
