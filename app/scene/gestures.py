"""Mouse and keys on a view, as the builder means them: take, look round, choose, nudge."""

from typing import Literal, Protocol

import numpy as np
from PySide6.QtCore import QEvent, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.scene.cameras import CameraKind, Pose, orbited, panned, zoomed
from app.scene.drag_edits import axis_along
from app.scene.dragging import START_AFTER, Axis
from app.scene.hand import Hand, step_along
from app.scene.projection import Projection, on_plane
from core.geometry.types import Array
from core.scene.records import Handle

ORBIT_DEG_PER_PIXEL = 0.4
ZOOM_PER_STEP = 1.0015
"""By how much a view grows for each unit of the wheel; a usual wheel gives 120 a notch."""

HELD_KEY_MS = 350
"""A key of an axis held longer than this locks only while it is held."""

LOCKS: dict[int, Axis] = {
    int(Qt.Key.Key_X.value): 0,
    int(Qt.Key.Key_Y.value): 1,
    int(Qt.Key.Key_Z.value): 2,
}
ARROWS = {
    int(Qt.Key.Key_Left.value): (-1.0, 0.0, 0.0),
    int(Qt.Key.Key_Right.value): (1.0, 0.0, 0.0),
    int(Qt.Key.Key_Up.value): (0.0, 1.0, 0.0),
    int(Qt.Key.Key_Down.value): (0.0, -1.0, 0.0),
    int(Qt.Key.Key_PageUp.value): (0.0, 0.0, -1.0),
    int(Qt.Key.Key_PageDown.value): (0.0, 0.0, 1.0),
}
NUDGE = 1.0

_ENDS = (
    QEvent.Type.FocusOut,
    QEvent.Type.WindowDeactivate,
    QEvent.Type.Hide,
    QEvent.Type.UngrabMouse,
    QEvent.Type.ScreenChangeInternal,
    QEvent.Type.DevicePixelRatioChange,
)
Mode = Literal["", "take", "orbit", "pan"]


class GestureView(Protocol):
    """What gestures need of the view they are made on."""

    kind: CameraKind
    pose: Pose
    hand: Hand
    pointer: tuple[float, float]

    def projection(self) -> Projection:
        """How the view shows the car now."""
        ...

    def handle_at(self, x: float, y: float) -> Handle | None:
        """The handle in reach of a pixel."""
        ...

    def hover_at(self, x: float, y: float) -> None:
        """Mark what is under the pointer."""
        ...

    def choose_at(self, x: float, y: float, *, adds: bool) -> None:
        """Choose what a click meets."""
        ...

    def take_pose(self, pose: Pose) -> None:
        """Look from there at once."""
        ...

    def walk(self, step: int) -> None:
        """Make the next handle the current one."""
        ...

    def current_handle(self) -> Handle | None:
        """The handle that keys move."""
        ...

    def want_typing(self, handle: Handle) -> None:
        """Ask for its figures to be typed."""
        ...

    def settle_nudges(self) -> None:
        """Close the undo step of the nudges so far."""
        ...

    def dismiss(self) -> bool:
        """Close what lies over the view; whether there was anything."""
        ...

    def go_home(self) -> None:
        """Look from where the view looked at first."""
        ...


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
        self._nudges: object = None
        self._pass = QTimer(self, singleShot=True, interval=0)
        self._pass.timeout.connect(self._act)
        self._key_held = QTimer(self, singleShot=True, interval=HELD_KEY_MS)
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
            handle = self._view.handle_at(*at)
        if handle is not None:
            self._mode = "take"
            self._view.hand.take(handle, at)
        else:
            self._mode = self._looking(event)

    def _looking(self, event: QMouseEvent) -> Mode:
        is_left = event.button() == Qt.MouseButton.LeftButton
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        return "orbit" if is_left and self._view.kind == "free" and not shifted else "pan"

    def _double(self, event: QMouseEvent, at: tuple[float, float]) -> None:
        handle = self._view.handle_at(*at)
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
            self._view.choose_at(*at, adds=adds)

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
            self._view.hover_at(x, y)
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
            if self._mode and event.key() in (*LOCKS, Qt.Key.Key_Escape):
                event.accept()
            return False
        if kind == QEvent.Type.KeyRelease:
            return self._key_released(event)
        if kind != QEvent.Type.KeyPress:
            return False
        return self._lock_key(event) or self._escape(event) or self._walk_key(event)

    def _lock_key(self, event: QKeyEvent) -> bool:
        axis = LOCKS.get(event.key())
        if axis is None or self._view.hand.is_empty:
            return False
        if not event.isAutoRepeat():
            self._view.hand.lock(axis)
            self._key_held.start()
            self._view.hand.move(self._view.pointer)
        return True

    def _key_released(self, event: QKeyEvent) -> bool:
        axis = LOCKS.get(event.key())
        if axis is not None and not self._view.hand.is_empty:
            held_long = not event.isAutoRepeat() and not self._key_held.isActive()
            if held_long and self._view.hand.drag.lock == axis:
                self._view.hand.lock(axis)
                self._view.hand.move(self._view.pointer)
            return True
        if event.key() in ARROWS and not event.isAutoRepeat() and self._nudges is not None:
            self._nudges = None
            self._view.settle_nudges()
            return True
        return False

    def _escape(self, event: QKeyEvent) -> bool:
        if event.key() != Qt.Key.Key_Escape:
            return False
        self._newest = None
        had = self._view.hand.give_up()
        if had:
            self._mode, self._button = "", Qt.MouseButton.NoButton
        return self._view.dismiss() or had

    def _walk_key(self, event: QKeyEvent) -> bool:
        if event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self._view.walk(-1 if event.key() == Qt.Key.Key_Backtab else 1)
            return True
        if event.key() == Qt.Key.Key_Home:
            self._view.go_home()
            return True
        handle = self._view.current_handle()
        if handle is None:
            return False
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._view.want_typing(handle)
            return True
        aim = ARROWS.get(event.key())
        if aim is not None:
            self._nudge(handle, aim, event)
        return aim is not None

    def _nudge(self, handle: Handle, aim: tuple[float, float, float], event: QKeyEvent) -> None:
        if self._nudges is None:
            self._nudges = object()
        size = NUDGE
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            size = 10.0 * NUDGE
        elif event.modifiers() & Qt.KeyboardModifier.AltModifier:
            size = NUDGE / 10.0
        self._view.hand.nudge(handle, self._step(handle, aim, size), self._nudges)

    def _step(self, handle: Handle, aim: tuple[float, float, float], size: float) -> Array:
        """A step along the car's axis that looks most as the arrow points; a rail's own way."""
        pose = self._view.pose
        along = self._view.hand.along(handle)
        if along is not None:
            sense = float(np.sign(along @ (aim[0] * pose.right + aim[1] * pose.up)) or 1.0)
            return np.asarray(size * sense * along, dtype=np.float64)
        across, across_sign = axis_along(pose.right)
        tall, tall_sign = axis_along(pose.up, across)
        deep = 3 - across - tall
        deep_sign = float(np.sign(pose.back[deep]) or 1.0)
        step = step_along(across, aim[0] * across_sign * size)
        step = step + step_along(tall, aim[1] * tall_sign * size)
        return step + step_along(deep, aim[2] * deep_sign * size)


def _xy(at: QPointF) -> tuple[float, float]:
    return at.x(), at.y()
