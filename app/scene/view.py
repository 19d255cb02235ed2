"""One view of the car: what the session says, drawn; what the hand does, said to the session."""

from functools import partial

import numpy as np
from PySide6.QtCore import QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.pose import Pose as CarPose
from app.scene.actors import SceneActors
from app.scene.cameras import CameraKind
from app.scene.frame import Frame, Note, Tag
from app.scene.gestures import Gestures
from app.scene.groups import AT_FIRST, Group, Grouping, Shown
from app.scene.hand import Hand
from app.scene.held_card import HeldCard
from app.scene.layers import Layers
from app.scene.looking import LookingCanvas
from app.scene.mesh_loading import LightMesh, MeshLoader
from app.scene.moved import places_of, road_under, with_unit_moved
from app.scene.overlay import Overlay
from app.scene.picking import PlacedMesh
from app.scene.pointing import Pointing, forward_in, spoken
from app.scene.table import outline_points
from app.scene.weight_asked import WeightAsked
from app.selection import Selection
from app.session import Session, State
from app.trial import Trial
from core.document.base import Ref
from core.document.lookup import Lookup
from core.engine.finding import Finding
from core.geometry.types import Array
from core.scene.records import Handle, Scene

BEFORE_MS = 1500
"""How long the before-shape stays after the hand lets go."""

OTHERS_MS = 30
"""How often at most a view is redrawn while the hand works in another."""

CHAIN_ROOM = 176.0
"""Logical pixels kept free below the car for the chain of lengths."""

WIDE = 560
"""Logical pixels from which a view is wide enough for that chain."""

BY_KEY = (
    Qt.FocusReason.TabFocusReason,
    Qt.FocusReason.BacktabFocusReason,
    Qt.FocusReason.ShortcutFocusReason,
)
"""Ways in which the keyboard comes to a view that are told by a frame round it."""


class CarView(LookingCanvas):
    """The car seen one way.

    Attributes:
        type_wanted: a Handle whose figures are to be typed.
        hand_moved: something in the hand changed; True while a drag is under way.
        camera_moved: the view looks from elsewhere.
    """

    type_wanted = Signal(object)
    hand_moved = Signal(bool)

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
        super().__init__(camera, parent)
        self._session, self._selection, self._look = session, selection, look
        self._car_pose, self._trial = CarPose.of(selection), Trial.of(selection)
        self._own_loader = loader is None
        self._loader = loader or MeshLoader(self)
        self._tags: tuple[Tag, ...] | None = None
        self._lookup = Lookup(session.state.document)
        self._grouping = Grouping(self._lookup)
        self._weight = WeightAsked()
        self.pointer = (0.0, 0.0)
        self.is_deferred = False
        self.is_dimensioned = True
        self._came_by_key = False
        self.shown: dict[Group, Shown] = dict(AT_FIRST)
        self.drawn_things = SceneActors(self.stage)
        self.hand, self.pointing = Hand(session, self), Pointing(self, selection)
        self.overlay = Overlay(self, self.moment)
        self.card = HeldCard(look, self)
        self._gestures = Gestures(self, self)
        self._before = _once(self, BEFORE_MS)
        self._later = _once(self, OTHERS_MS)
        self._connect()
        self._colour_table()
        self.refresh()
        self.setAccessibleName(f"the car, {camera} view")

    def _connect(self) -> None:
        self._heard = (
            (self._session.changed, self._on_changed),
            (self._selection.changed, self.refresh),
            (self._selection.hovered, self.repaint_over),
            (self._selection.step_changed, self.refresh),
            (self._selection.looked_at, self._on_looked_at),
            (self._look.changed, self._on_look_changed),
            (self._car_pose.changed, self.refresh),
            (self._trial.changed, self.repaint_over),
            (self._loader.loaded, self._on_loaded),
        )
        for signal, slot in self._heard:
            signal.connect(slot)
        self.card.free_wanted.connect(self.hand.set_free)
        self.camera_moved.connect(self.repaint_over)
        self._before.timeout.connect(self._forget_before)
        self._later.timeout.connect(self.refresh)

    @property
    def scene(self) -> Scene:
        """The car where it is drawn: what handles and figures are of."""
        return self._session.state.scene

    # --- following the session ---------------------------------------------------------------

    def _on_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self._lookup = Lookup(after.document)
            self._grouping = Grouping(self._lookup)
        if not before.scene.tubes and after.scene.tubes:
            self.see_anew()
        if before.scene is after.scene:
            self.repaint_over()
        elif not self.is_deferred:
            self.refresh()
        elif not self._later.isActive():
            self._later.start()

    def refresh(self) -> None:
        """Draw the car as it is now."""
        self._later.stop()
        layers, drawn = self._layers(), self.shown_scene()
        moved = self._car_pose
        self.drawn_things.show(drawn, layers, self.scene, road_under(moved.bump, moved.roll_deg))
        self.drawn_things.show_meshes(drawn.meshes, self._ready_meshes(), layers)
        self.fit_if_new()
        self.in_motion()
        self.request_repaint()
        self.repaint_over()

    def repaint_over(self) -> None:
        """Paint anew what lies over the car; the car itself is not drawn for that."""
        self.overlay.update()

    def shown_scene(self) -> Scene:
        """The car as it is shown: perhaps with its wheels moved, or the engine on its way out."""
        state = self._session.state
        units = frozenset(unit.id for unit in state.document.power_units)
        return with_unit_moved(self._car_pose.scene(state), units, self._car_pose.shift)

    def _layers(self) -> Layers:
        return Layers(
            palette=self._look,
            grouping=self._grouping,
            shown=self.shown,
            by_state=self.tells_states_apart(),
            chosen=frozenset(self._selection.refs),
        )

    def tells_states_apart(self) -> bool:
        """Whether steel shows how far it is made: in the steps of the frame and the bench."""
        return self._selection.step in ("frame", "bench")

    def _ready_meshes(self) -> dict[str, LightMesh]:
        ready: dict[str, LightMesh] = {}
        for sha256 in {record.sha256 for record in self.scene.meshes}:
            mesh = self._loader.get(sha256, partial(self._session.meshes.get, sha256))
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
        self.stage.GradientBackgroundOn()
        self.stage.SetBackground(near.redF(), near.greenF(), near.blueF())
        self.stage.SetBackground2(far.redF(), far.greenF(), far.blueF())

    def show_group(self, group: Group, how: Shown) -> None:
        """Show, see through or hide a group of things."""
        self.shown[group] = how
        self.refresh()

    def is_shown(self, ref: Ref) -> bool:
        """Whether a thing is not hidden."""
        return self.shown[self._grouping.of(ref)] != "hidden"

    def placed_meshes(self) -> list[PlacedMesh]:
        """The meshes that are drawn, where they stand."""
        ready = self._ready_meshes()
        return [
            PlacedMesh(record, ready[record.sha256].shaded.points)
            for record in self.shown_scene().meshes
            if record.sha256 in ready
        ]

    def _notes(self) -> tuple[Note, ...]:
        """What is said of meshes that are not there to be seen."""
        ready = self._ready_meshes()
        return tuple(
            Note(record.origin, f"the mesh cannot be drawn: {why}" if why else "reading the mesh")
            for record in self.scene.meshes
            if record.sha256 not in ready
            for why in (self._loader.refusal(record.sha256),)
        )

    # --- looking -----------------------------------------------------------------------------

    def reach(self) -> Array:
        """What the view is fitted to, (n, 3) mm."""
        return outline_points(self.scene)

    def room_below(self) -> float:
        """Logical pixels to keep free for the chain of lengths."""
        has_chain = self.kind in ("front", "rear") and self.has_room_for_dimensions()
        return CHAIN_ROOM if has_chain else 0.0

    def has_room_for_dimensions(self) -> bool:
        """Whether the chain of lengths is asked for, and there is room to read it."""
        return self.is_dimensioned and self.width() >= WIDE and bool(self.scene.dimensions)

    def look_at_chosen(self) -> None:
        """Bring what is chosen to the middle."""
        places = places_of(self.scene, frozenset(self._selection.refs))
        if len(places):
            self.look_at((places.min(axis=0) + places.max(axis=0)) / 2.0)

    def _on_looked_at(self, finding: Finding) -> None:
        if finding.place is not None:
            self.look_at(np.array(finding.place, dtype=np.float64))

    # --- the hand ----------------------------------------------------------------------------

    def want_typing(self, handle: Handle) -> None:
        """Ask for its figures to be typed."""
        self.pointing.choose_handle(handle)
        self.type_wanted.emit(handle)

    def walk(self, *, back: bool) -> None:
        """Walk on to the next handle, or back, and say which it is."""
        handle = self.pointing.walk(back=back)
        if handle is not None:
            self.setAccessibleDescription(spoken(self._lookup, handle))

    def settle_nudges(self) -> None:
        """Close the undo step of the nudges so far."""
        self._session.settle()

    def hand_changed(self) -> None:
        """Follow what the hand does."""
        if self.hand.is_empty:
            self._before.start()
        else:
            self._before.stop()
        self.repaint_over()
        self.hand_moved.emit(self.hand.drag.phase == "dragging")

    def _forget_before(self) -> None:
        self.hand.before = None
        self.repaint_over()

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
        self.repaint_over()

    def _tags_now(self) -> tuple[Tag, ...]:
        if self._tags is not None:
            return self._tags
        return self.pointing.tags(self._lookup) if self.hand.is_empty else ()

    def moment(self) -> Frame | None:
        """What those who paint over the car see; nothing once the view is closed."""
        if self.is_closed:
            return None
        return Frame(
            look=self._look,
            kind=self.kind,
            pose=self.pose,
            projection=self.projection(),
            scene=self.scene,
            is_design=self._car_pose.is_design,
            before=self.hand.before or self._trial.scene,
            label=self._lookup.label,
            is_shown=self.is_shown,
            is_forward=forward_in(self._selection.step, self.scene),
            chosen=frozenset(self._selection.refs),
            hovered=self.pointing.hovered,
            pointed=self._selection.hover,
            current=self.pointing.current(),
            drag=self.hand.drag,
            asked=self.hand.asked,
            pointer=self.pointer,
            tags=self._tags_now(),
            notes=self._notes(),
            has_focus=self.hasFocus() and self._came_by_key,
            is_dimensioned=self.has_room_for_dimensions(),
            by_state=self.tells_states_apart(),
            weight=self._weight.mark(self._session.state, self.shown["Weight"], self.hand),
            names=self.shown["Names"],
        )

    # --- Qt ----------------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the sheet of glass as large as the view."""
        super().resizeEvent(event)
        self.overlay.resize(self.size())

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keyboard is if it came by key; a click shows it well enough."""
        self._came_by_key = event.reason() in BY_KEY
        super().focusInEvent(event)
        self.repaint_over()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame away."""
        super().focusOutEvent(event)
        self.repaint_over()

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002, FBT001 - Qt's own name for it
        """Keep Tab: it walks the handles; F6 leaves the car."""
        del next
        return False

    def close(self) -> bool:  # type: ignore[override]  # the widget's, not the plotter's
        """End everything that is under way, and close the plotter; a second time does nothing."""
        if self.is_closed:
            return True
        self._gestures.end()
        self._gestures.stop()
        self._before.stop()
        self._later.stop()
        for signal, slot in self._heard:
            signal.disconnect(slot)
        if self._own_loader:
            self._loader.close()
        return super().close()


def _once(parent: QWidget, after_ms: int) -> QTimer:
    timer = QTimer(parent)
    timer.setSingleShot(True)
    timer.setInterval(after_ms)
    return timer
