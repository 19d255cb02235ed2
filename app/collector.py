"""Python's collector of cycles, run by the window's own clock and on its own thread.

Left to itself it runs on whichever thread happens to allocate, and can then destroy a widget from
a worker's thread, which Qt does not survive.
"""

import gc

from PySide6.QtCore import QObject, QTimer, Slot

EVERY_MS = 1000


class Collector(QObject):
    """Switches the collector off, and collects from a timer of the GUI thread while it lives."""

    def __init__(self, parent: QObject | None = None, every_ms: int = EVERY_MS) -> None:
        """Take over; `close` gives the collector back."""
        super().__init__(parent)
        self._was_on = gc.isenabled()
        gc.disable()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        self._timer.start(every_ms)

    @Slot()
    def look(self) -> None:
        """Collect the youngest things that are due, as the collector itself would have done."""
        due = [
            generation
            for generation, (count, threshold) in enumerate(
                zip(gc.get_count(), gc.get_threshold(), strict=True)
            )
            if threshold and count > threshold
        ]
        if due:
            gc.collect(max(due))

    def close(self) -> None:
        """Stop, and let the collector run by itself again if it did before."""
        self._timer.stop()
        if self._was_on:
            gc.enable()
