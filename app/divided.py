"""The window under its top line, divided: order of work, car over travel strip, panel."""

from typing import NamedTuple

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QWidget

from app.look.look import Look
from app.settings import Layout


class Division(NamedTuple):
    """Pixels for order of work, panel and travel strip."""

    order: int
    panel: int
    travel: int


_BY_WIDTH: tuple[tuple[int, Division], ...] = (
    (1900, Division(232, 424, 156)),
    (1500, Division(216, 392, 140)),
    (0, Division(150, 316, 122)),
)


FOLDED = 56
"""Width of the order of work with nothing but its marks and numbers, at scale 1."""


def division(width: int, scale: float) -> Division:
    """The usual division for a window of a width.

    At a large scale a window counts as the narrower one that it looks like, and the car keeps at
    least a third of it; for that the order of work folds to its marks.
    """
    found = next(made for least, made in _BY_WIDTH if width / scale >= least)
    order, panel = int(found.order * scale), int(found.panel * scale)
    most = width * 2 // 3
    if order + panel > most:
        order = int(FOLDED * scale)
        panel = min(panel, most - order)
    return Division(order, panel, int(found.travel * scale))


class Divided(QWidget):
    """Keeps the usual division while the window is resized, until it is changed by hand."""

    def __init__(
        self, look: Look, order: QWidget, car: QWidget, travel: QWidget, panel: QWidget
    ) -> None:
        """Divide among four widgets."""
        super().__init__()
        self._look = look
        self._by_hand = False
        self.rows = _splitter(Qt.Orientation.Vertical, car, travel)
        self.columns = _splitter(Qt.Orientation.Horizontal, order, self.rows, panel)
        self.rows.setStretchFactor(0, 1)
        self.columns.setStretchFactor(1, 1)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.columns)
        for splitter in (self.rows, self.columns):
            splitter.splitterMoved.connect(self._moved)
        look.changed.connect(self._refit)

    @Slot(int, int)
    def _moved(self, _position: int, _index: int) -> None:
        self._by_hand = True

    @Slot()
    def _refit(self) -> None:
        if not self._by_hand:
            self.divide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Follow the window."""
        super().resizeEvent(event)
        self._refit()

    def divide(self) -> None:
        """Give everything its usual size."""
        self._by_hand = False
        usual = division(self.width(), self._look.scale)
        middle = max(1, self.width() - usual.order - usual.panel)
        self.columns.setSizes([usual.order, middle, usual.panel])
        self.rows.setSizes([max(1, self.height() - usual.travel), usual.travel])

    def remembered(self, layout: Layout) -> Layout:
        """The layout with this division in it, if it was made by hand."""
        columns, rows = self.columns.sizes(), self.rows.sizes()
        return Layout(
            place=layout.place,
            maximised=layout.maximised,
            columns=(columns[0], columns[1], columns[2]) if self._by_hand else None,
            rows=(rows[0], rows[1]) if self._by_hand else None,
        )

    def restore(self, layout: Layout) -> None:
        """Divide as it was by hand, if it was."""
        if layout.columns is None or layout.rows is None:
            return
        self._by_hand = True
        self.columns.setSizes(list(layout.columns))
        self.rows.setSizes(list(layout.rows))


def _splitter(direction: Qt.Orientation, *widgets: QWidget) -> QSplitter:
    made = QSplitter(direction)
    made.setHandleWidth(1)
    made.setChildrenCollapsible(False)
    for widget in widgets:
        made.addWidget(widget)
    return made
