"""The window under its top line, divided: order of work, car over curves and strip, panel."""

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


TOP_LINE = 44
"""Height above the division, at scale 1."""

_BY_WIDTH: tuple[tuple[int, Division], ...] = (
    (1900, Division(232, 424, 156)),
    (1500, Division(216, 392, 140)),
    (0, Division(150, 316, 122)),
)


SHARES_FROM = 860
"""Below this height of the whole at scale 1 the curves take their share of the car's room."""
SHARE = 0.42
TALL = 1000
CURVES, CURVES_TALL = 240, 264
"""Height of the curves, and where the window is tall."""
LEAST_CAR = 120
"""Height that the car keeps, where curves are shown below it."""

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


def curves_height(height: int, travel: int, scale: float) -> int:
    """The usual height of the curves in a window of a height, top line not counted."""
    usual = int((CURVES_TALL if height / scale >= TALL else CURVES) * scale)
    if height / scale >= SHARES_FROM - TOP_LINE:
        return usual
    return min(usual, int((height - travel) * SHARE))


class Middle(NamedTuple):
    """What stands between order of work and panel, from above: car, curves, travel strip."""

    car: QWidget
    curves: QWidget
    travel: QWidget


class Divided(QWidget):
    """Keeps the usual division while the window is resized, until it is changed by hand."""

    def __init__(self, look: Look, order: QWidget, middle: Middle, panel: QWidget) -> None:
        """Divide among the widgets; the curves are hidden until they are asked for."""
        super().__init__()
        self._look = look
        self._by_hand = False
        self._curves = middle.curves
        self._curves_by_hand = 0
        self._curves.hide()
        self.rows = _splitter(Qt.Orientation.Vertical, *middle)
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
        if self.shows_curves:
            self._curves_by_hand = self.rows.sizes()[1]

    @property
    def shows_curves(self) -> bool:
        """Whether the curves have a row of their own."""
        return not self._curves.isHidden()

    def show_curves(self, *, on: bool) -> None:
        """Give the curves a row, out of the car's room, or put them away."""
        if on == self.shows_curves:
            return
        car, curves, travel = self.rows.sizes()
        self._curves.setVisible(on)
        self._divide_rows(car + curves, travel)

    def _divide_rows(self, above: int, travel: int) -> None:
        """Divide the rows: what is above the travel strip, and the strip."""
        curves = 0
        if self.shows_curves:
            needs = self._curves.heightForWidth(self.rows.width())
            usual = max(curves_height(above + travel, travel, self._look.scale), needs)
            most = above - int(LEAST_CAR * self._look.scale)
            curves = max(1, min(self._curves_by_hand or usual, most))
        self.rows.setSizes([max(1, above - curves), curves, travel])

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
        self._curves_by_hand = 0
        self._divide_rows(max(1, self.height() - usual.travel), usual.travel)

    def remembered(self, layout: Layout) -> Layout:
        """The layout with this division in it, if it was made by hand, and whether curves show."""
        (order, car, panel), (above, curves, travel) = self.columns.sizes(), self.rows.sizes()
        return Layout(
            place=layout.place,
            maximised=layout.maximised,
            columns=(order, car, panel) if self._by_hand else None,
            rows=(above + curves, travel) if self._by_hand else None,
            shows_curves=self.shows_curves,
            curves=self._curves_by_hand,
        )

    def restore(self, layout: Layout) -> None:
        """Divide as it was by hand, if it was, and show the curves if they were shown."""
        self._curves.setVisible(layout.shows_curves)
        self._curves_by_hand = layout.curves
        if layout.columns is not None and layout.rows is not None:
            self._by_hand = True
            self.columns.setSizes(list(layout.columns))
            self._divide_rows(*layout.rows)
        elif layout.shows_curves:
            self.divide()


def _splitter(direction: Qt.Orientation, *widgets: QWidget) -> QSplitter:
    made = QSplitter(direction)
    made.setHandleWidth(1)
    made.setChildrenCollapsible(False)
    for widget in widgets:
        made.addWidget(widget)
    return made
