"""The centre of gravity: a disc in quarters, dropped to the ground by a line."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from app.scene.frame import Frame, halo_text

RADIUS = 8.0
"""Of the disc, logical pixels."""

QUARTER = 16 * 90
"""Of a turn, as Qt counts it."""


def paint_weight(painter: QPainter, frame: Frame) -> None:
    """Draw the mark with its words; broken where not everything on the car is weighed."""
    mark = frame.weight
    place = None if mark is None else frame.at(mark.at)
    if mark is None or place is None or not frame.area.contains(place):
        return
    ink = frame.look.colour("ink")
    _paint_drop(painter, frame, place)
    _paint_disc(painter, frame, place, is_whole=mark.is_whole)
    if frame.is_small:
        return
    metrics = QFontMetricsF(frame.look.font("rule"))
    words = f"centre of gravity, {mark.text}"
    wide, high = metrics.horizontalAdvance(words), metrics.height()
    away = (RADIUS + 4.0) * frame.mark_scale
    box = QRectF(place.x() + away, place.y() - high / 2.0, wide, high)
    halo_text(painter, frame, words, box.center(), ink, "rule")
    frame.taken.append(box)


def _paint_drop(painter: QPainter, frame: Frame, place: QPointF) -> None:
    """A thin line down to the table, which tells where along and across the mark is."""
    assert frame.weight is not None
    foot = frame.at(frame.weight.at._replace(z=0.0))
    if foot is not None:
        painter.setPen(QPen(frame.look.colour("ink"), 1.0, Qt.PenStyle.DashDotLine))
        painter.drawLine(place, foot)


def _paint_disc(painter: QPainter, frame: Frame, place: QPointF, *, is_whole: bool) -> None:
    radius = RADIUS * frame.mark_scale
    box = QRectF(place.x() - radius, place.y() - radius, 2 * radius, 2 * radius)
    ink: QColor = frame.look.colour("ink")
    painter.setPen(QPen(ink, 1.5, Qt.PenStyle.SolidLine if is_whole else Qt.PenStyle.DashLine))
    painter.setBrush(frame.look.colour("card"))
    painter.drawEllipse(box)
    if is_whole:
        painter.setBrush(ink)
        painter.drawPie(box, 0, QUARTER)
        painter.drawPie(box, 2 * QUARTER, QUARTER)
