"""Keys on a view: lock a drag to an axis, walk from handle to handle, nudge, type."""

import numpy as np
from PySide6.QtCore import QElapsedTimer, Qt
from PySide6.QtGui import QKeyEvent

from app.scene.drag_edits import axis_along
from app.scene.dragging import Axis
from app.scene.gesture_view import GestureView
from app.scene.hand import step_along
from core.geometry.types import Array
from core.scene.records import Handle

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


class Keys:
    """The keys of one view."""

    def __init__(self, view: GestureView) -> None:
        """Act on behalf of a view."""
        self._view = view
        self._nudges: object = None
        self._since = QElapsedTimer()

    def pressed(self, event: QKeyEvent) -> bool:
        """Act on a key; whether it was meant for the car."""
        return self._lock_key(event) or self._walk_key(event)

    def _lock_key(self, event: QKeyEvent) -> bool:
        axis = LOCKS.get(event.key())
        if axis is None or self._view.hand.is_empty:
            return False
        if not event.isAutoRepeat():
            self._view.hand.lock(axis)
            self._since.start()
            self._view.hand.move(self._view.pointer)
        return True

    def released(self, event: QKeyEvent) -> bool:
        """Act on a key let go; whether it was meant for the car."""
        axis = LOCKS.get(event.key())
        if axis is not None and not self._view.hand.is_empty:
            held_long = not event.isAutoRepeat() and self._since.hasExpired(HELD_KEY_MS)
            if held_long and self._view.hand.drag.lock == axis:
                self._view.hand.lock(axis)
                self._view.hand.move(self._view.pointer)
            return True
        if event.key() in ARROWS and not event.isAutoRepeat() and self._nudges is not None:
            self._nudges = None
            self._view.settle_nudges()
            return True
        return False

    def _walk_key(self, event: QKeyEvent) -> bool:
        if event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self._view.walk(back=event.key() == Qt.Key.Key_Backtab)
            return True
        if event.key() == Qt.Key.Key_Home:
            self._view.go_home()
            return True
        handle = self._view.pointing.current()
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
