"""The curves themselves: left solid, right broken, thin and grey as they were before."""

from PySide6.QtGui import QPainter, QPen

from app.look.marks import side_pen
from app.widgets.curve_data import Series, runs
from app.widgets.curve_frame import Sheet

BEFORE_WIDTH = 1.2
WIDTHS = (2.0, 1.2)
"""Of the curves of one side, in turn."""


def paint_curves(painter: QPainter, sheet: Sheet) -> None:
    """Draw every stretch of every curve, those of before first."""
    before = QPen(sheet.look.colour("ink2"), sheet.px(BEFORE_WIDTH))
    for one in sheet.shown.before:
        _paint_curve(painter, sheet, one, before)
    for at, one in enumerate(sheet.shown.series):
        nth = sum(1 for other in sheet.shown.series[:at] if other.side == one.side)
        width = sheet.px(WIDTHS[nth % len(WIDTHS)])
        _paint_curve(painter, sheet, one, side_pen(sheet.look, one.side, width))


def _paint_curve(painter: QPainter, sheet: Sheet, series: Series, pen: QPen) -> None:
    painter.setPen(pen)
    for along, values in runs(series):
        painter.drawPolyline(sheet.frame.line(along, values))
