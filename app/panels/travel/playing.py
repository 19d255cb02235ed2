"""Playing the travel: the wheels go up, down and back by themselves."""

from itertools import pairwise

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal

STOP_TO_STOP_S = 2.5
"""Seconds from droop stop to bump stop."""

EVERY_MS = 25


class Player(QObject):
    """Goes once from where the wheels are to bump, to droop, and back.

    Attributes:
        at: where they are now, mm.
        turned: whether it plays.
    """

    at = Signal(float)
    turned = Signal(bool)

    def __init__(self, parent: QObject) -> None:
        """Stand still."""
        super().__init__(parent)
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self._tick)
        self._since = QElapsedTimer()
        self._way: tuple[float, ...] = ()

    @property
    def is_on(self) -> bool:
        """Whether it plays."""
        return self._timer.isActive()

    def start(self, start: float, low: float, high: float) -> None:
        """Play between two stops, mm."""
        if high > low:
            self._way = (start, high, low, start)
            self._since.start()
            self._timer.start()
            self.turned.emit(True)  # noqa: FBT003 - a signal's

    def stop(self) -> None:
        """Stand still where it is."""
        if self._timer.isActive():
            self._timer.stop()
            self.turned.emit(False)  # noqa: FBT003 - a signal's

    def _tick(self) -> None:
        place, is_over = place_after(self._way, self._since.elapsed() / 1000.0)
        if is_over:
            self.stop()
        self.at.emit(place)


def place_after(way: tuple[float, ...], seconds: float) -> tuple[float, bool]:
    """Return where one is on a way from place to place, mm, and whether it is at its end.

    Args:
        way: places, mm; the furthest apart are `STOP_TO_STOP_S` from one another.
        seconds: since the start.
    """
    left = seconds * (max(way) - min(way)) / STOP_TO_STOP_S
    for here, there in pairwise(way):
        length = abs(there - here)
        if left < length:
            return here + (there - here) * left / length, False
        left -= length
    return way[-1], True
