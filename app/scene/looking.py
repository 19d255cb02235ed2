"""A canvas that knows where it looks from: home, fit, a place, eased or at once."""

import time
from dataclasses import replace

import numpy as np
from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from app.look.tokens import CAMERA_MS
from app.scene.cameras import CameraKind, Pose, between, fitted, home, looking_at
from app.scene.canvas import Canvas
from core.geometry.types import Array

STEP_MS = 16


class LookingCanvas(Canvas):
    """Keeps the whole car in view until the builder looks elsewhere.

    Attributes:
        camera_moved: it looks from elsewhere.
        kind: which view it is.
        pose: where it looks from.
        reduced_motion: whether it goes to a place at once.
    """

    camera_moved = Signal()

    def __init__(self, kind: CameraKind, parent: QWidget | None) -> None:
        """Look from where this kind of view looks at first."""
        super().__init__(parent)
        self.kind: CameraKind = kind
        self.pose: Pose = home(kind)
        self.reduced_motion = False
        self._is_home, self._is_seen = True, False
        self._way: tuple[Pose, Pose, float] | None = None
        self._ease = QTimer(self)
        self._ease.setInterval(STEP_MS)
        self._ease.timeout.connect(self._ease_on)
        self.look_from(self.pose)

    def reach(self) -> Array:
        """What the view is fitted to, (n, 3) mm; nothing here."""
        return np.zeros((0, 3))

    def room_below(self) -> float:
        """Logical pixels to keep free below what is fitted."""
        return 0.0

    def take_pose(self, pose: Pose) -> None:
        """Look from there at once; from then on the view keeps to it when its size changes."""
        self._ease.stop()
        self._is_home = False
        self._look_from(pose)

    def _look_from(self, pose: Pose) -> None:
        self.pose = pose
        self.in_motion()
        self.look_from(pose)
        self.camera_moved.emit()

    def go_to(self, pose: Pose) -> None:
        """Look from there, on the way there if motion is not to be reduced."""
        if self.reduced_motion or not self.isVisible():
            self.take_pose(pose)
            return
        self._is_home = False
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

    def see_anew(self) -> None:
        """Fit another car into the view as soon as there is one."""
        self._is_home, self._is_seen = True, False

    def fit_if_new(self) -> None:
        """Fit the car into the view if it has not been seen yet."""
        if self._is_home and not self._is_seen and self.isVisible():
            self.go_home(eased=False)

    def go_home(self, *, eased: bool = True) -> None:
        """Look from where the view looks at first, at the whole car."""
        pose = self._fitted(home(self.kind))
        (self.go_to if eased else self.take_pose)(pose)
        self._is_home, self._is_seen = True, bool(len(self.reach()))

    def fit_all(self) -> None:
        """See the whole car, from where the view looks now."""
        self.go_to(self._fitted(self.pose))

    def look_at(self, place: Array) -> None:
        """Bring a place (3,) to the middle."""
        self.go_to(looking_at(self.pose, np.asarray(place, dtype=np.float64)))

    def set_parallel(self, parallel: bool) -> None:  # noqa: FBT001 - a switch of the menu gives it
        """See parallel lines parallel, or as the eye does; plane views are always parallel."""
        if self.kind == "free":
            self.take_pose(replace(self.pose, parallel=parallel))

    def _fitted(self, pose: Pose) -> Pose:
        points, below = self.reach(), self.room_below()
        if not len(points):
            return pose
        aspect = max(self.width(), 1) / max(self.height(), 1)
        made = fitted(pose, points, aspect)
        if not below:
            return made
        room = below * 2.0 * made.half_height / max(self.height() - below, 1)
        return fitted(pose, np.concatenate([points, [[0.0, 0.0, -room]]]), aspect)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole car in view, if it was."""
        super().resizeEvent(event)
        if self._is_home and not self.is_closed:
            self.go_home(eased=False)

    def showEvent(self, event: QShowEvent) -> None:
        """See the whole car when shown for the first time."""
        super().showEvent(event)
        if self._is_home and not self.is_closed:
            self.go_home(eased=False)

    def close(self) -> bool:  # type: ignore[override]  # the widget's, not the plotter's
        """Stop moving, and close the plotter."""
        self._ease.stop()
        return super().close()
