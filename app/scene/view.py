"""One view of the car: what the session says, drawn; what the hand does, said to the session."""

import time
from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QPoint, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.look.tokens import CAMERA_MS
from app.scene.actors import SceneActors
from app.scene.cameras import CameraKind, Pose, between, fitted, home, looking_at
from app.scene.canvas import Canvas
from app.scene.frame import Frame, Tag
from app.scene.gestures import Gestures
from app.scene.groups import AT_FIRST, Group, Grouping, Shown
from app.scene.hand import Hand
from app.scene.held_card import HeldCard
from app.scene.layers import Layers
from app.scene.mesh_loading import LightMesh, MeshLoader
from app.scene.overlay import Overlay
from app.scene.paint_tags import place_words
from app.scene.picking import nearest_handle, thing_at
from app.scene.out import places_of, with_unit_moved
from app.scene.table import outline_points
from app.pose import Pose as CarPose
from app.selection import Selection
from app.session import Session, State
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup
from core.engine.finding import Finding
from core.geometry.types import Array
from core.scene.records import Handle, Scene

BEFORE_MS = 1500
"""How long the before-shape stays after the hand lets go."""

OTHERS_MS = 30
"""How often at most a view is redrawn while the hand works in another."""

STEP_MS = 16
CHAIN_ROOM = 150
"""Logical pixels kept free below the car for the chain of lengths."""

WIDE = 560
"""Logical pixels from which a view is wide enough for that chain."""


class CarView(Canvas):
    """The car seen one way.

    Attributes:
        type_wanted: a Handle whose figures are to be typed.
        hand_moved: something in the hand changed; True while a drag is under way.
        camera_moved: the view looks from elsewhere.
    """

    type_wanted = Signal(object)
    hand_moved = Signal(bool)
    camera_moved = Signal()

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        camera: CameraKind = "free",
        loader: MeshLoader | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Show the session's car; without a loader of meshes the view has its own."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.kind: CameraKind = camera
        self.pose: Pose = home(camera)
        self.pointer = (0.0, 0.0)
        self.is_deferred = False
        self.reduced_motion = False
        self.is_dimensioned = True
        self.shown: dict[Group, Shown] = dict(AT_FIRST)
        self._car_pose = CarPose.of(selection)
        self._own_loader = loader is None
        self._loader = loader or MeshLoader(self)
        self._hovered: Handle | None = None
        self._current: Handle | None = None
        self._tags: tuple[Tag, ...] | None = None
        self._is_home, self._is_seen = True, False
        self._lookup = Lookup(session.state.document)
        self._grouping = Grouping(self._lookup)
        self.drawn_things = SceneActors(self.renderer)
        self.hand = Hand(session, self)
        self.overlay = Overlay(self, self._frame)
        self.card = HeldCard(look, self)
        self._gestures = Gestures(self, self)
        self._make_timers()
        self._connect()
        self._colour_table()
        self.look_from(self.pose)
        self.refresh()
        self.setAccessibleName(f"the car, {camera} view")

    def _make_timers(self) -> None:
        self._before = QTimer(self, singleShot=True, interval=BEFORE_MS)
        self._before.timeout.connect(self._forget_before)
        self._later = QTimer(self, singleShot=True, interval=OTHERS_MS)
        self._later.timeout.connect(self.refresh)
        self._ease = QTimer(self, interval=STEP_MS)
        self._ease.timeout.connect(self._ease_on)
        self._way: tuple[Pose, Pose, float] | None = None

    def _connect(self) -> None:
        self._session.changed.connect(self._on_changed)
        self._selection.changed.connect(self.refresh)
        self._selection.hovered.connect(self.overlay.update)
        self._selection.step_changed.connect(self.refresh)
        self._selection.looked_at.connect(self._on_looked_at)
        self._look.changed.connect(self._on_look_changed)
        self._car_pose.changed.connect(self.refresh)
        self._loader.loaded.connect(self._on_loaded)
        self.card.free_wanted.connect(self.hand.set_free)

    @property
    def scene(self) -> Scene:
        """The car where it is drawn: what handles and figures are of."""
        return self._session.state.scene

    def _drawn(self) -> Scene:
        """The car as it is shown: perhaps with the engine and gearbox on their way out."""
        units = frozenset(unit.id for unit in self._session.state.document.power_units)
        return with_unit_moved(self.scene, units, self._car_pose.shift)

    # --- following the session ---------------------------------------------------------------

    def _on_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self._lookup = Lookup(after.document)
            self._grouping = Grouping(self._lookup)
        if not before.scene.tubes and after.scene.tubes:
            self._is_home, self._is_seen = True, False
        if before.scene is after.scene:
            self.overlay.update()
        elif not self.is_deferred:
            self.refresh()
        elif not self._later.isActive():
            self._later.start()

    def refresh(self) -> None:
        """Draw the car as it is now."""
        self._later.stop()
        layers = self._layers()
        drawn = self._drawn()
        self.drawn_things.show(drawn, layers)
        self.drawn_things.show_meshes(drawn.meshes, self._ready_meshes(), layers)
        if self._is_home and not self._is_seen and self.isVisible():
            self.go_home(eased=False)
        self.in_motion()
        self.request_repaint()
        self.overlay.update()

    def _layers(self) -> Layers:
        return Layers(
            palette=self._look,
            grouping=self._grouping,
            shown=self.shown,
            by_state=self._selection.step in ("frame", "bench"),
            chosen=frozenset(self._selection.refs),
        )

    def _ready_meshes(self) -> dict[str, LightMesh]:
        ready: dict[str, LightMesh] = {}
        for sha256 in {record.sha256 for record in self.scene.meshes}:
            mesh = self._loader.get(sha256, lambda key=sha256: self._session.meshes.get(key))
            if mesh is not None:
                ready[sha256] = mesh
        return ready

    def _on_loaded(self, sha256: str) -> None:
        if any(record.sha256 == sha256 for record in self.scene.meshes):
            self.refresh()

    def _on_look_changed(self) -> None:
        self.drawn_things.ground.forget_colours()
        self._colour_table()
        self.refresh()

    def _colour_table(self) -> None:
        near, far = self._look.colour("table_near"), self._look.colour("table_far")
        self.renderer.SetGradientBackground(True)
        self.renderer.SetBackground(*near.getRgbF()[:3])
        self.renderer.SetBackground2(*far.getRgbF()[:3])

    def show_group(self, group: Group, how: Shown) -> None:
        """Show, see through or hide a group of things."""
        self.shown[group] = how
        self.refresh()

    # --- looking -----------------------------------------------------------------------------

    def take_pose(self, pose: Pose) -> None:
        """Look from there at once; from then on the view keeps to it when its size changes."""
        self._ease.stop()
        self._is_home = False
        self._look_from(pose)

    def _look_from(self, pose: Pose) -> None:
        self.pose = pose
        self.in_motion()
        self.look_from(pose)
        self.overlay.update()
        self.camera_moved.emit()

    def go_to(self, pose: Pose) -> None:
        """Look from there, on the way there if motion is not to be reduced."""
        self._is_home = False
        if self.reduced_motion or not self.isVisible():
            self.take_pose(pose)
            return
        self._way = (self.pose, pose, time.monotonic())
        self._ease.start()

    def _ease_on(self) -> None:
        if self._way is None:
            self._ease.stop()
            return
        start, end, since = self._way
        share = min(1.0, (time.monotonic() - since) * 1000.0 / CAMERA_MS)
        if share >= 1.0:
            self._ease.stop()
            self._way = None
        self._look_from(between(start, end, share))

    def go_home(self, *, eased: bool = True) -> None:
        """Look from where the view looks at first, at the whole car."""
        self._go(self._fitted(home(self.kind)), eased=eased)
        self._is_home, self._is_seen = True, bool(self.scene.tubes)

    def fit_all(self) -> None:
        """See the whole car, from where the view looks now."""
        self._go(self._fitted(self.pose), eased=True)

    def look_at(self, place: Array) -> None:
        """Bring a place (3,) to the middle."""
        self._go(looking_at(self.pose, np.asarray(place, dtype=np.float64)), eased=True)

    def look_at_chosen(self) -> None:
        """Bring what is chosen to the middle."""
        places = places_of(self.scene, frozenset(self._selection.refs))
        if len(places):
            self.look_at((places.min(axis=0) + places.max(axis=0)) / 2.0)

    def set_parallel(self, parallel: bool) -> None:  # noqa: FBT001 - a switch of the menu gives it
        """See parallel lines parallel, or as the eye does; plane views are always parallel."""
        if self.kind == "free":
            made = Pose(
                self.pose.target, self.pose.back, self.pose.up, self.pose.half_height, parallel
            )
            self.take_pose(made)

    def _go(self, pose: Pose, *, eased: bool) -> None:
        (self.go_to if eased else self.take_pose)(pose)

    def _fitted(self, pose: Pose) -> Pose:
        points = outline_points(self.scene)
        if not len(points):
            return pose
        aspect = max(self.width(), 1) / max(self.height(), 1)
        made = fitted(pose, points, aspect)
        if self.kind not in ("front", "rear") or not self.has_room_for_dimensions():
            return made
        room = CHAIN_ROOM * 2.0 * made.half_height / max(self.height() - CHAIN_ROOM, 1)
        return fitted(pose, np.concatenate([points, [[0.0, 0.0, -room]]]), aspect)

    def has_room_for_dimensions(self) -> bool:
        """Whether the chain of lengths is asked for, and there is room to read it."""
        return self.is_dimensioned and self.width() >= WIDE and bool(self.scene.dimensions)

    def _on_looked_at(self, finding: Finding) -> None:
        if finding.place is not None:
            self.look_at(np.array(finding.place, dtype=np.float64))

    # --- pointing and choosing ---------------------------------------------------------------

    def handle_at(self, x: float, y: float) -> Handle | None:
        """The handle in reach of a pixel."""
        handles = [h for h in self.scene.handles if self.is_shown(h.ref)]
        return nearest_handle(handles, self.projection(), x, y)

    def is_shown(self, ref: Ref) -> bool:
        """Whether a thing is not hidden."""
        return self.shown[self._grouping.of(ref)] != "hidden"

    def hover_at(self, x: float, y: float) -> None:
        """Mark what is under the pointer; the car itself is not drawn again for that."""
        handle = self.handle_at(x, y)
        ref = handle.ref if handle is not None else self._thing_at(x, y)
        if handle != self._hovered:
            self._hovered = handle
            self.overlay.update()
        self._selection.point_at(ref)

    def _thing_at(self, x: float, y: float) -> Ref | None:
        return thing_at(self.scene, self.projection(), x, y, self.is_shown)

    def choose_at(self, x: float, y: float, *, adds: bool) -> None:
        """Choose what a click meets; with `adds`, beside what is chosen already."""
        handle = self.handle_at(x, y)
        ref = handle.ref if handle is not None else self._thing_at(x, y)
        self._current = handle
        refs = () if ref is None else (ref,)
        if adds:
            kept = tuple(r for r in self._selection.refs if r != ref)
            refs = kept if ref in self._selection.refs else (*kept, *refs)
        self._selection.choose(*refs)
        self.overlay.update()

    # --- the current handle ------------------------------------------------------------------

    def current_handle(self) -> Handle | None:
        """The handle that keys move, where it is now."""
        if self._current is None:
            return None
        key = (self._current.ref, self._current.path)
        return next((h for h in self.scene.handles if (h.ref, h.path) == key), None)

    def walk(self, step: int) -> None:
        """Make the handle nearest to the current one current, of those not walked past yet."""
        handles = sorted(
            (h for h in self.scene.handles if self.is_shown(h.ref)),
            key=lambda h: (-h.at.x, -h.at.y, h.at.z),
        )
        if not handles:
            return
        current = self.current_handle()
        at = handles.index(current) + step if current in handles else 0
        self._current = handles[at % len(handles)]
        self._selection.choose(self._current.ref)
        self.setAccessibleDescription(self._spoken(self._current))
        self.overlay.update()

    def _spoken(self, handle: Handle) -> str:
        held = f", held: {handle.held}" if handle.held else ""
        return f"{self._lookup.label(handle.ref)}, {place_words(handle.at)}{held}"

    def want_typing(self, handle: Handle) -> None:
        """Ask for its figures to be typed."""
        self._current = handle
        self._selection.choose(handle.ref)
        self.type_wanted.emit(handle)

    def settle_nudges(self) -> None:
        """Close the undo step of the nudges so far."""
        self._session.settle()

    # --- the hand ----------------------------------------------------------------------------

    def hand_changed(self) -> None:
        """Follow what the hand does."""
        if self.hand.is_empty:
            self._before.start()
        else:
            self._before.stop()
        self.overlay.update()
        self.hand_moved.emit(self.hand.drag.phase == "dragging")

    def _forget_before(self) -> None:
        self.hand.before = None
        self.overlay.update()

    def resist(self, handle: Handle, title: str, body: str, *, can_free: bool) -> None:
        """Say beside the pointer what holds a thing."""
        at = QPoint(round(self.pointer[0]), round(self.pointer[1]))
        self.card.say(handle, title, body, at, can_free=can_free)

    def unresist(self) -> None:
        """Take the card away."""
        if self.card.isVisible():
            self.card.hide()

    def dismiss(self) -> bool:
        """Close the card; whether it was there."""
        was_there = self.card.isVisible()
        self.card.hide()
        return was_there

    # --- what is painted over it -------------------------------------------------------------

    def show_tags(self, tags: tuple[Tag, ...] | None) -> None:
        """Show these tags; without any given, what is chosen and pointed at has one."""
        self._tags = tags
        self.overlay.update()

    def _own_tags(self) -> tuple[Tag, ...]:
        if not self.hand.is_empty:
            return ()
        chosen = [h for h in self.scene.handles if h.ref in self._selection.refs][:3]
        hovered = [h for h in (self._hovered,) if h is not None and h not in chosen]
        tags = [self._tag(h.ref, h.at, is_chosen=True) for h in chosen]
        return (*tags, *(self._tag(h.ref, h.at, is_chosen=False) for h in hovered))

    def _tag(self, ref: Ref, at: Vec3, *, is_chosen: bool) -> Tag:
        return Tag(tuple(at), self._lookup.label(ref), place_words(at), is_chosen)

    def _is_forward(self) -> Callable[[Handle], bool]:
        step = self._selection.step
        wheels = [h.at.x for h in self.scene.handles if h.kind == "wheel_centre"]
        middle = (min(wheels) + max(wheels)) / 2.0 if wheels else 0.0
        kinds = {
            "shell": ("obstacle",),
            "rear": ("unit", "mount", "wheel_centre"),
            "front": ("rack", "wheel_centre"),
            "frame": ("joint",),
            "bench": (),
        }[step]

        def is_forward(handle: Handle) -> bool:
            if handle.kind not in kinds:
                return False
            ahead = handle.at.x > middle
            return handle.kind != "wheel_centre" or ahead == (step == "front")

        return is_forward

    def _frame(self) -> Frame | None:
        if self._closed:
            return None
        return Frame(
            look=self._look,
            kind=self.kind,
            pose=self.pose,
            projection=self.projection(),
            scene=self.scene,
            is_design=self._car_pose.is_design,
            before=self.hand.before,
            label=self._lookup.label,
            is_shown=self.is_shown,
            is_forward=self._is_forward(),
            chosen=frozenset(self._selection.refs),
            hovered=self._hovered,
            current=self.current_handle(),
            drag=self.hand.drag,
            asked=self.hand.asked,
            pointer=self.pointer,
            tags=self._own_tags() if self._tags is None else self._tags,
            has_focus=self.hasFocus(),
            is_dimensioned=self.has_room_for_dimensions(),
        )

    # --- Qt ----------------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the sheet of glass as large as the view."""
        super().resizeEvent(event)
        self.overlay.resize(self.size())
        if self._is_home:
            self.go_home(eased=False)

    def showEvent(self, event: QShowEvent) -> None:
        """See the whole car when shown for the first time."""
        super().showEvent(event)
        if self._is_home:
            self.go_home(eased=False)

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002, FBT001 - Qt's own name for it
        """Keep Tab: it walks the handles; F6 leaves the car."""
        del next
        return False

    def close(self) -> None:
        """End everything that is under way, and close the plotter."""
        if getattr(self, "_closed", True):
            return
        self._gestures.end()
        self._gestures.stop()
        for timer in (self._before, self._later, self._ease):
            timer.stop()
        self._disconnect()
        if self._own_loader:
            self._loader.close()
        super().close()

    def _disconnect(self) -> None:
        self._session.changed.disconnect(self._on_changed)
        self._selection.changed.disconnect(self.refresh)
        self._selection.hovered.disconnect(self.overlay.update)
        self._selection.step_changed.disconnect(self.refresh)
        self._selection.looked_at.disconnect(self._on_looked_at)
        self._look.changed.disconnect(self._on_look_changed)
        self._car_pose.changed.disconnect(self.refresh)
        self._loader.loaded.disconnect(self._on_loaded)
