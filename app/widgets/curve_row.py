"""Several small plots over the same travel, read at one cursor."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QPointF, QSize, Signal
from PySide6.QtGui import QFontMetricsF, QPainter
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.look.look import Look
from app.widgets.curve_picture import write_picture
from app.widgets.curve_plot import CurvePlot
from app.widgets.curve_text import write

HEADING = 26.0
"""Height of the line above the plots on a picture, at scale 1."""


class CurveRow(QWidget):
    """Plots side by side; the cursor of one is the cursor of all."""

    cursor_moved = Signal(float)
    """The hand put the cursor somewhere along, in any of them."""

    def __init__(
        self, look: Look, plots: Sequence[CurvePlot], parent: QWidget | None = None
    ) -> None:
        """Put plots side by side; they become its own."""
        super().__init__(parent)
        self._look = look
        self.plots = tuple(plots)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        for plot in self.plots:
            self._row.addWidget(plot, 1)
            plot.cursor_moved.connect(self._follow)
        look.changed.connect(self._refit)
        self._refit()

    def set_cursor(self, along: float | None, right: float | None = None) -> None:
        """Read all of them there, without telling; see `CurvePlot.set_cursor`."""
        for plot in self.plots:
            plot.set_cursor(along, right)

    def picture(self, path: Path, heading: str) -> None:
        """Write all of them side by side under a heading, as .png or .svg, twice as large as here.

        Raises:
            ValueError: if the name ends otherwise.
            OSError: if it cannot be written.
        """
        told = "; ".join(plot.accessibleDescription() for plot in self.plots)
        size = QSize(self.width(), self.height() + self._look.px(HEADING))
        write_picture(lambda painter: self._draw(painter, size, heading), size, path, heading, told)

    def _draw(self, painter: QPainter, size: QSize, heading: str) -> None:
        look = self._look
        painter.fillRect(0, 0, size.width(), size.height(), look.colour("panel"))
        base = QFontMetricsF(look.font("head")).ascent() + look.px(6)
        write(painter, look, heading, QPointF(look.px(7), base), "head", "ink")
        for plot in self.plots:
            painter.save()
            painter.translate(plot.x(), plot.y() + look.px(HEADING))
            plot.paint_on(painter)
            painter.restore()

    def _follow(self, along: float) -> None:
        self.set_cursor(along)
        self.cursor_moved.emit(along)

    def _refit(self) -> None:
        self._row.setSpacing(self._look.px(14))
