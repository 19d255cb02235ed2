"""The car in the middle of the window: one view, or the free view with three plane views beside."""

from dataclasses import replace
from functools import partial
from typing import Literal

import numpy as np
from PySide6.QtCore import QByteArray, Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from app.look.look import Look
from app.scene.cameras import CameraKind
from app.scene.frame import Tag
from app.scene.groups import AT_FIRST, GROUPS, Group, Shown
from app.scene.mesh_loading import MeshLoader
from app.scene.view import CarView
from app.scene.words import GroupWord, Word
from app.selection import Selection
from app.session import Session
from app.widgets.flow import Flow

Layout = Literal["free", "plan", "side", "front", "rear", "four"]
WORDS: dict[Layout, str] = {
    "free": "Free",
    "plan": "Plan",
    "side": "Side",
    "front": "Front",
    "rear": "Rear",
    "four": "All four",
}
BESIDE: tuple[CameraKind, ...] = ("plan", "side", "rear")


class CarViews(QWidget):
    """The views of the car and the words that switch them.

    Attributes:
        type_wanted: a Handle whose figures are to be typed.
        layout_changed: another view is in front.
    """

    type_wanted = Signal(object)
    layout_changed = Signal(str)

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the free view; the others are made when they are first asked for."""
        super().__init__(parent)
        self._session, self.selection, self._look = session, selection, look
        self._loader = MeshLoader(self)
        self._shown: dict[Group, Shown] = dict(AT_FIRST)
        self._reduced_motion = False
        self._views: dict[CameraKind, CarView] = {}
        self._layout: Layout = "free"
        self._is_linking = False
        self._across = QSplitter(Qt.Orientation.Horizontal)
        self._down = QSplitter(Qt.Orientation.Vertical)
        self._across.addWidget(self._view("free"))
        self._across.addWidget(self._down)
        self._lay_out()
        self.show_view("free")
        selection.section_wanted.connect(self._show_section)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._words())
        column.addWidget(self._across, 1)
        for splitter in (self._across, self._down):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        self._across.setStretchFactor(0, 2)
        self._across.setStretchFactor(1, 1)

    def _words(self) -> Flow:
        row = Flow()
        row.setContentsMargins(self._look.px(12), 2, self._look.px(12), 2)
        self.view_words: dict[Layout, Word] = {}
        for layout, words in WORDS.items():
            word = Word(self._look, words)
            word.clicked.connect(partial(self.show_view, layout))
            self.view_words[layout] = word
            row.addWidget(word)
        row.begin_second()
        self.group_words: dict[Group, GroupWord] = {}
        for group in GROUPS:
            switch = GroupWord(self._look, group, self._shown[group])
            switch.turned.connect(self.show_group)
            self.group_words[group] = switch
            row.addWidget(switch)
        return row

    # --- which views -------------------------------------------------------------------------

    @property
    def current_layout(self) -> Layout:
        """What is in front."""
        return self._layout

    def show_view(self, layout: Layout, *_: object) -> None:
        """Bring a view to the front, or all four."""
        self._layout = layout
        wanted: tuple[CameraKind, ...] = (layout,) if layout != "four" else ("free", *BESIDE)
        for kind in wanted:
            self._place(kind)
        self.setFocusProxy(self._views[wanted[0]])
        for kind, view in self._views.items():
            view.setVisible(kind in wanted)
        self._down.setVisible(any(kind != "free" for kind in wanted))
        for name, word in self.view_words.items():
            word.setChecked(name == layout)
        if layout == "four":
            self._share_out()
        self.layout_changed.emit(layout)

    def _place(self, kind: CameraKind) -> None:
        if kind != "free" and self._down.indexOf(self._view(kind)) < 0:
            order = [k for k in ("plan", "side", "front", "rear") if k in self._views]
            self._down.insertWidget(order.index(kind), self._view(kind))

    def _share_out(self) -> None:
        width = max(self.width(), 600)
        self._across.setSizes([width * 2 // 3, width // 3])
        self._down.setSizes([self.height() // 3] * self._down.count())

    def view(self, kind: CameraKind = "free") -> CarView:
        """A view, made if it is not there yet."""
        return self._view(kind)

    def views(self) -> tuple[CarView, ...]:
        """The views there are."""
        return tuple(self._views.values())

    def front_view(self) -> CarView:
        """The view that keys and menus act on: the one with the focus, else the first shown."""
        for view in self._views.values():
            if view.hasFocus():
                return view
        shown = [view for view in self._views.values() if view.isVisibleTo(self)]
        return shown[0] if shown else self._views["free"]

    def _view(self, kind: CameraKind) -> CarView:
        if kind not in self._views:
            self._views[kind] = self._made(kind)
        return self._views[kind]

    def _made(self, kind: CameraKind) -> CarView:
        view = CarView(self._session, self.selection, self._look, kind, self._loader, self)
        view.setMinimumSize(160, 120)
        view.shown = dict(self._shown)
        view.reduced_motion = self._reduced_motion
        view.type_wanted.connect(self.type_wanted)
        view.hand_moved.connect(partial(self._defer_others, view))
        if kind in ("plan", "side"):
            view.camera_moved.connect(partial(self._line_up, kind))
        view.refresh()
        return view

    # --- one acts, the others follow ---------------------------------------------------------

    def _defer_others(self, active: CarView, is_dragging: bool) -> None:  # noqa: FBT001 - a signal's
        for view in self._views.values():
            view.is_deferred = is_dragging and view is not active

    def _line_up(self, kind: CameraKind) -> None:
        """Keep stations of plan and side under one another: same scale, same place along."""
        other = self._views.get("side" if kind == "plan" else "plan")
        mine = self._views[kind]
        if self._is_linking or other is None or not (other.isVisible() and mine.isVisible()):
            return
        self._is_linking = True
        try:
            target = other.pose.target.copy()
            target[0] = mine.pose.target[0]
            size = mine.pose.half_height * max(other.height(), 1) / max(mine.height(), 1)
            other.take_pose(replace(other.pose, target=target, half_height=float(size)))
        finally:
            self._is_linking = False

    # --- for the window ----------------------------------------------------------------------

    def show_group(self, group: Group, how: Shown) -> None:
        """Show, see through or hide a group of things in every view."""
        self._shown[group] = how
        self.group_words[group].show_as(how)
        for view in self._views.values():
            view.show_group(group, how)

    def _show_section(self, section: str) -> None:
        """Mark the centre of gravity when the weight is looked at."""
        if section == "weight":
            self.show_group("Weight", "shown")

    def set_reduced_motion(self, reduced: bool) -> None:  # noqa: FBT001 - a switch of settings gives it
        """Move cameras at once, or let them ease."""
        self._reduced_motion = reduced
        for view in self._views.values():
            view.reduced_motion = reduced

    def show_chosen(self) -> None:
        """Go to what is chosen, in every view that is shown."""
        for view in self._views.values():
            if view.isVisible():
                view.look_at_chosen()

    def show_all(self) -> None:
        """See the whole car in every view that is shown."""
        for view in self._views.values():
            if view.isVisible():
                view.fit_all()

    def go_home(self) -> None:
        """Look from where each view looks at first."""
        for view in self._views.values():
            if view.isVisible():
                view.go_home()

    def look_at(self, place: object) -> None:
        """Bring a place (3,) in mm, car frame, to the middle of every view that is shown."""
        for view in self._views.values():
            if view.isVisible():
                view.look_at(np.array(place, dtype=np.float64))

    def show_tags(self, tags: tuple[Tag, ...] | None) -> None:
        """Show these tags in every view."""
        for view in self._views.values():
            view.show_tags(tags)

    def set_parallel(self, parallel: bool) -> None:  # noqa: FBT001 - a switch of the menu gives it
        """Draw the free view in parallel projection, or as the eye sees."""
        self._views["free"].set_parallel(parallel)

    def save_arrangement(self) -> QByteArray:
        """How the space is shared out, for the settings."""
        return self._across.saveState()

    def restore_arrangement(self, kept: QByteArray) -> None:
        """Share the space out as it was."""
        self._across.restoreState(kept)

    def close_views(self) -> None:
        """Close every plotter and end every job; the window calls it when it closes."""
        for view in self._views.values():
            view.close()
        self._loader.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close every plotter."""
        self.close_views()
        event.accept()
