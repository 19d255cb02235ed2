"""A plot of curves over travel or the like, with a cursor that reads figures off them."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.widgets import curve_data
from app.widgets.curve_data import (
    Band,
    Chart,
    Cursor,
    Ends,
    Reading,
    Series,
    Stops,
    along_ends,
    label,
    told,
    value_ends,
    widened,
    with_unit,
)
from app.widgets.curve_frame import SCRIBER, Frame, Sheet, Shown, box_of
from app.widgets.curve_ground import paint_ground
from app.widgets.curve_lines import paint_curves
from app.widgets.curve_marks import paint_marks
from app.widgets.curve_picture import write_picture
from app.widgets.curve_scales import paint_scales
from app.widgets.curve_table import csv_text
from app.widgets.curve_words import paint_words
from app.widgets.gauge import round_step

WIDTH, HEIGHT = 420.0, 240.0
LEAST_WIDTH, LEAST_HEIGHT = 220.0, 150.0
FINE, COARSE, FINEST = 1.0, 10.0, 0.1
"""Steps of the arrow keys along: plain, with Shift, with Alt."""

_NOWHERE = Ends(0.0, 1.0)


class CurvePlot(QWidget):
    """Curves of both sides, as they are and as they were before the edit under way.

    A click, a drag or the arrow keys move the cursor; Home and a double click bring it back to
    the design position. Nothing zooms: all that there is, is shown.
    """

    cursor_moved = Signal(float)
    """The hand put the cursor somewhere along; not sent when `set_cursor` does."""

    def __init__(self, look: Look, chart: Chart, parent: QWidget | None = None) -> None:
        """Make a plot that knows no figures yet."""
        super().__init__(parent)
        self._look = look
        self._shown = Shown(chart)
        self._along, self._values = _NOWHERE, _NOWHERE
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(chart.title)
        self._describe()
        look.changed.connect(self._refit)

    @property
    def shown(self) -> Shown:
        """All that it shows now."""
        return self._shown

    @property
    def frame(self) -> Frame:
        """Where things stand, in pixels."""
        size = QSizeF(self.size())
        return Frame(box_of(self._look, size, self._shown), self._along, self._values, size.width())

    @property
    def cursor_along(self) -> Cursor | None:
        """Where figures are read off."""
        return self._shown.cursor

    def show_series(self, series: Sequence[Series], unknown: str = "") -> None:
        """Show these curves, and no others.

        Args:
            series: in the order in which they are drawn, all of one unit.
            unknown: why there are no figures, where there are none.

        Raises:
            ValueError: if their units differ.
        """
        if len({one.unit for one in series}) > 1:
            raise ValueError(f"{self._shown.chart.title}: curves on one scale have one unit.")
        self._show(self._shown._replace(series=tuple(series), unknown=unknown))

    def set_before(self, series: Sequence[Series]) -> None:
        """Show how the curves were before the edit under way; until cleared, scales only grow."""
        self._show(self._shown._replace(before=tuple(series)))

    def clear_before(self) -> None:
        """The edit is done: show the curves alone, and fit the scales to them."""
        self._show(self._shown._replace(before=()))

    def set_band(self, band: Band | None) -> None:
        """Show which figures are wanted."""
        self._show(self._shown._replace(band=band))

    def set_stops(self, stops: Stops | None) -> None:
        """Show where the travel ends."""
        self._show(self._shown._replace(stops=stops))

    def set_design(self, along: float | None) -> None:
        """Show where the design position is; 0 as long as nothing else is said."""
        self._show(self._shown._replace(design=along))

    def set_cursor(self, along: float | None, right: float | None = None) -> None:
        """Read figures off there, without telling.

        Args:
            along: where; nowhere without it.
            right: where the right side is read, if the sides differ.
        """
        at = None if along is None else Cursor(along, along if right is None else right)
        if at != self._shown.cursor:
            self._shown = self._shown._replace(cursor=at)
            self._describe()
            self.update()

    def readings(self) -> tuple[Reading, ...]:
        """Every curve read at the cursor."""
        cursor = self._shown.cursor
        return () if cursor is None else curve_data.read(self._shown.series, cursor)

    def csv_text(self) -> str:
        """The curves as a comma-separated table."""
        return csv_text(self._shown.series, self._shown.chart)

    def picture(self, path: Path) -> None:
        """Write what it shows as .png or .svg, twice as large as here.

        Raises:
            ValueError: if the name ends otherwise.
            OSError: if it cannot be written.
        """
        title = self._shown.chart.title
        write_picture(self.paint_on, self.size(), path, title, self.accessibleDescription())

    # --- what is shown --------------------------------------------------------------------------

    def _show(self, shown: Shown) -> None:
        self._shown = shown
        self._fit_scales(grow=bool(shown.before))
        self._describe()
        self.update()

    def _fit_scales(self, *, grow: bool) -> None:
        shown = self._shown
        everything = (*shown.series, *shown.before)
        along = along_ends(everything, shown.stops)
        values = value_ends(everything, shown.band, shown.chart)
        self._along = _NOWHERE if along is None else widened(along)
        if values is None:
            values = _NOWHERE
        elif grow and self._values is not _NOWHERE:
            values = values.joined(self._values)
        self._values = values

    def _describe(self) -> None:
        self.setAccessibleDescription(self._description())

    def _description(self) -> str:
        shown, chart = self._shown, self._shown.chart
        if not shown.is_known:
            return f"don't know: {shown.unknown}" if shown.unknown else "don't know"
        if shown.cursor is None:
            return "no cursor; arrow keys read figures off the curves"
        several = shown.cursor.left != shown.cursor.right
        figures = [self._figure(one, place=several) for one in self.readings()]
        where = "" if several else f" at {self._place(shown.cursor.left)}"
        return f"{chart.along}{where}: {', '.join(figures)}"

    def _figure(self, reading: Reading, *, place: bool) -> str:
        shown = self._shown
        words = f"{label(reading.series, shown.series)} {told(reading, shown.chart)}"
        return f"{words} at {self._place(reading.along)}" if place else words

    def _place(self, along: float) -> str:
        chart = self._shown.chart
        return with_unit(along, chart.along_unit, chart.along_digits, signed=False)

    # --- paint ----------------------------------------------------------------------------------

    def paint_on(self, painter: QPainter) -> None:
        """Draw all but the frame of the keyboard; on a picture as on the screen."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.colour("panel"))
        sheet = Sheet(self._look, self.frame, self._shown)
        paint_ground(painter, sheet)
        if self._shown.is_known:
            paint_scales(painter, sheet)
            paint_curves(painter, sheet)
        paint_words(painter, sheet)
        paint_marks(painter, sheet)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plot, and the frame that shows where the keyboard is."""
        painter = QPainter(self)
        self.paint_on(painter)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def sizeHint(self) -> QSize:
        """Large enough to read figures off."""
        return QSize(self._look.px(WIDTH), self._look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        """As small as the words round it allow."""
        return QSize(self._look.px(LEAST_WIDTH), self._look.px(LEAST_HEIGHT))

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    # --- the hand -------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Bring the cursor to the pointer."""
        if event.button() == Qt.MouseButton.LeftButton and self._is_over(event):
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._go(self._along_at(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the cursor."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go(self._along_at(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Back to the design position, and fit the scales."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._fit_scales(grow=False)
            self._to_design()
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move the cursor, Home returns to design, Page keys go to the ends."""
        key = Qt.Key(event.key())
        travel = self._travel()
        cursor = self._shown.cursor
        start = cursor.left if cursor is not None else self._shown.design or 0.0
        step = _step(event.modifiers())
        if key == Qt.Key.Key_Home:
            self._to_design()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._go(start - step if key == Qt.Key.Key_Left else start + step)
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp) and travel is not None:
            self._go(travel.low if key == Qt.Key.Key_PageDown else travel.high)
        else:
            super().keyPressEvent(event)

    def _is_over(self, event: QMouseEvent) -> bool:
        box = self.frame.box.adjusted(0, -SCRIBER * self._look.scale, 0, 0)
        y = event.position().y()
        return box.top() <= y <= box.bottom()

    def _along_at(self, event: QMouseEvent) -> float:
        """The place under the pointer, to a round figure no finer than the pixels are."""
        frame = self.frame
        along = frame.along_at(event.position().x())
        step = round_step((frame.along.high - frame.along.low) / frame.box.width())
        return round(along / step) * step

    def _to_design(self) -> None:
        if self._shown.design is not None:
            self._go(self._shown.design)

    def _travel(self) -> Ends | None:
        if not self._shown.is_known:
            return None
        return along_ends((*self._shown.series, *self._shown.before), self._shown.stops)

    def _go(self, along: float) -> None:
        travel = self._travel()
        if travel is None:
            return
        held = min(max(along, travel.low), travel.high)
        if self._shown.cursor != Cursor(held, held):
            self.set_cursor(held)
            self.cursor_moved.emit(held)


def _step(modifiers: Qt.KeyboardModifier) -> float:
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return COARSE
    return FINEST if modifiers & Qt.KeyboardModifier.AltModifier else FINE
