"""The mouse on a view, as the builder means it: take, look round, choose; keys go on to Keys."""

from typing import Literal

import numpy as np
from PySide6.QtCore import QEvent, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.scene.cameras import orbited, panned, zoomed
from app.scene.dragging import START_AFTER
from app.scene.gesture_view import GestureView
from app.scene.keys import Keys
from app.scene.projection import on_plane

ORBIT_DEG_PER_PIXEL = 0.4
ZOOM_PER_STEP = 1.0015
"""By how much a view grows for each unit of the wheel; a usual wheel gives 120 a notch."""

_ENDS = (
    QEvent.Type.FocusOut,
    QEvent.Type.WindowDeactivate,
    QEvent.Type.Hide,
    QEvent.Type.UngrabMouse,
    QEvent.Type.ScreenChangeInternal,
    QEvent.Type.DevicePixelRatioChange,
)
Mode = Literal["", "take", "orbit", "pan"]


class Gestures(QObject):
    """An event filter on one view. Of moves that queue up, only the newest is acted on."""

    def __init__(self, widget: QWidget, view: GestureView) -> None:
        """Watch a widget on behalf of its view."""
        super().__init__(widget)
        self._widget, self._view = widget, view
        self._mode: Mode = ""
        self._button = Qt.MouseButton.NoButton
        self._last = self._pressed = (0.0, 0.0)
        self._moved = False
        self._newest: tuple[float, float, Qt.KeyboardModifier] | None = None
        self._keys = Keys(view)
        self._pass = QTimer(self)
        self._pass.setSingleShot(True)
        self._pass.timeout.connect(self._act)
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Act on what is meant for the car; the rest goes on."""
        del watched
        kind = event.type()
        if kind in _ENDS:
            self.end()
        elif isinstance(event, QMouseEvent):
            return self._mouse(kind, event)
        elif isinstance(event, QWheelEvent):
            self._wheel(event)
            return True
        elif isinstance(event, QKeyEvent):
            return self._key(kind, event)
        elif kind == QEvent.Type.Leave and not self._mode:
            self._view.pointing.leave()
        return False

    def stop(self) -> None:
        """Act on nothing any more."""
        self._pass.stop()
        self._widget.removeEventFilter(self)

    def end(self) -> None:
        """End what is under way; what was moved stays moved, as one step."""
        if self._mode:
            self._pass.stop()
            self._newest = None
            self._mode, self._button = "", Qt.MouseButton.NoButton
            self._view.hand.let_go()

    # --- mouse -------------------------------------------------------------------------------

    def _mouse(self, kind: QEvent.Type, event: QMouseEvent) -> bool:
        at = _xy(event.position())
        if kind == QEvent.Type.MouseMove:
            self._newest = (*at, event.modifiers())
            self._pass.start()
        elif kind == QEvent.Type.MouseButtonPress:
            self._press(event, at)
        elif kind == QEvent.Type.MouseButtonRelease:
            self._release(event, at)
        elif kind == QEvent.Type.MouseButtonDblClick:
            self._double(event, at)
        return True

    def _press(self, event: QMouseEvent, at: tuple[float, float]) -> None:
        if self._mode:  # a second button
            self._flush()
            self.end()
            return
        self._view.dismiss()
        self._button = event.button()
        self._last = self._pressed = self._view.pointer = at
        self._moved = False
        handle = None
        if event.button() == Qt.MouseButton.LeftButton:
            handle = self._view.pointing.handle_at(*at)
        if handle is not None:
            self._mode = "take"
            if not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
                self._view.pointing.choose_handle(handle)
            self._view.hand.take(handle, at)
        else:
            self._mode = self._looking(event)

    def _looking(self, event: QMouseEvent) -> Mode:
        is_left = event.button() == Qt.MouseButton.LeftButton
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        return "orbit" if is_left and self._view.kind == "free" and not shifted else "pan"

    def _double(self, event: QMouseEvent, at: tuple[float, float]) -> None:
        handle = self._view.pointing.handle_at(*at)
        if event.button() == Qt.MouseButton.LeftButton and handle is not None:
            self.end()
            self._view.want_typing(handle)
        else:
            self._press(event, at)

    def _release(self, event: QMouseEvent, at: tuple[float, float]) -> None:
        if not self._mode or event.button() != self._button:
            return
        self._newest = (*at, event.modifiers()) if self._moved_from(at) else self._newest
        self._flush()
        mode, self._mode = self._mode, ""
        self._button = Qt.MouseButton.NoButton
        dragged = self._view.hand.let_go() if mode == "take" else self._moved
        if not dragged and event.button() == Qt.MouseButton.LeftButton:
            adds = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self._view.pointing.choose_at(*at, adds=adds)

    def _moved_from(self, at: tuple[float, float]) -> bool:
        return at != self._last

    def _flush(self) -> None:
        self._pass.stop()
        self._act()

    def _act(self) -> None:
        """Act on the newest move."""
        if self._newest is None:
            return
        x, y, modifiers = self._newest
        self._newest = None
        self._view.pointer = (x, y)
        if self._mode == "take":
            snaps = bool(modifiers & Qt.KeyboardModifier.ControlModifier)
            self._view.hand.move((x, y), snaps=snaps)
        elif self._mode:
            self._look_round(x, y)
        else:
            self._view.pointing.hover_at(x, y)
        self._last = (x, y)

    def _look_round(self, x: float, y: float) -> None:
        away = float(np.hypot(x - self._pressed[0], y - self._pressed[1]))
        if not self._moved and away < START_AFTER:
            return
        self._moved = True
        dx, dy = x - self._last[0], y - self._last[1]
        pose = self._view.pose
        if self._mode == "orbit":
            turn, tilt = -dx * ORBIT_DEG_PER_PIXEL, dy * ORBIT_DEG_PER_PIXEL
            self._view.take_pose(orbited(pose, turn, tilt))
        else:
            scale = self._view.projection().mm_per_pixel(pose.target)
            self._view.take_pose(panned(pose, dx * scale, -dy * scale))

    def _wheel(self, event: QWheelEvent) -> None:
        pose, at = self._view.pose, _xy(event.position())
        anchor = on_plane(self._view.projection().ray(*at), pose.target, pose.back)
        if anchor is not None and not self._mode:
            self._view.take_pose(zoomed(pose, ZOOM_PER_STEP ** event.angleDelta().y(), anchor))

    # --- keys --------------------------------------------------------------------------------

    def _key(self, kind: QEvent.Type, event: QKeyEvent) -> bool:
        if kind == QEvent.Type.ShortcutOverride:
            if self._mode:  # nothing else is meant while something is in the hand
                event.accept()
            return False
        if kind == QEvent.Type.KeyRelease:
            return self._keys.released(event)
        if kind != QEvent.Type.KeyPress:
            return False
        if event.key() == Qt.Key.Key_Escape:
            return self._escape()
        return self._keys.pressed(event) or bool(self._mode)

    def _escape(self) -> bool:
        self._newest = None
        had = self._view.hand.give_up()
        if had:
            self._mode, self._button = "", Qt.MouseButton.NoButton
        return self._view.dismiss() or had


def _xy(at: QPointF) -> tuple[float, float]:
    return at.x(), at.y()
