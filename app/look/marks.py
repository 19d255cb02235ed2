"""Marks that carry a meaning by their shape: verdicts, sides, handles; as paths and as paint.

Paths are made round (0, 0) in logical pixels at scale 1, so that a view of the car and a panel
draw the same thing.
"""

import math
from collections.abc import Callable
from typing import Literal, get_args

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from app.look.look import Look
from core.document.base import Side
from core.engine.finding import Verdict

HandleShape = Literal["pickup", "joint", "wheel_centre", "mount", "unit", "rack", "obstacle"]

MARK = 16.0
"""How wide a verdict's mark is at scale 1."""

HANDLES: tuple[HandleShape, ...] = get_args(HandleShape)

HANDLE = 11.0
"""How wide a handle is, and below how near the pointer must come to take it."""
HANDLE_HIT = 24.0


def paint_verdict(painter: QPainter, look: Look, verdict: Verdict, box: QRectF) -> None:
    """Draw a verdict's mark into a square: disc, square with bars, square on its point, ring."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.center())
    painter.scale(box.width() / MARK, box.height() / MARK)
    _PAINT[verdict](painter, look)
    painter.restore()


def _paint_fine(painter: QPainter, look: Look) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("fine"))
    painter.drawEllipse(QPointF(0, 0), 7, 7)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(look.colour("panel"), 1.8))
    painter.drawPolyline(_points((-3.4, 0.2), (-1.0, 2.6), (3.4, -2.4)))


def _paint_tight(painter: QPainter, look: Look) -> None:
    outline = look.colour("tight_bars" if look.is_dark else "tight")
    painter.setPen(QPen(outline, 1.5))
    painter.setBrush(look.colour("tight_mark"))
    painter.drawRect(QRectF(-6.5, -6.5, 13, 13))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("tight_bars"))
    for x in (-3.0, 1.0):
        painter.drawRect(QRectF(x, -4, 2, 8))


def _paint_no(painter: QPainter, look: Look) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("no"))
    painter.drawPolygon(_points((0, -8), (8, 0), (0, 8), (-8, 0)))
    painter.setPen(QPen(look.colour("panel"), 1.7))
    painter.drawLine(QPointF(-2.4, -2.4), QPointF(2.4, 2.4))
    painter.drawLine(QPointF(2.4, -2.4), QPointF(-2.4, 2.4))


def _paint_unknown(painter: QPainter, look: Look) -> None:
    colour = look.colour("unknown")
    ring = QPen(colour, 1.5)
    ring.setDashPattern([2.0, 1.6])
    painter.setPen(ring)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(QPointF(0, 0), 6.8, 6.8)
    painter.setPen(QPen(colour, 1.5))
    hook = QPainterPath()
    hook.arcMoveTo(QRectF(-2.2, -4.2, 4.4, 4.2), 170)
    hook.arcTo(QRectF(-2.2, -4.2, 4.4, 4.2), 170, -230)
    hook.lineTo(0, 1.6)
    painter.drawPath(hook)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawEllipse(QPointF(0, 3.6), 0.95, 0.95)


_PAINT = {
    "fine": _paint_fine,
    "tight": _paint_tight,
    "no": _paint_no,
    "unknown": _paint_unknown,
}


def side_path(side: Side) -> QPainterPath:
    """A triangle that points to the left or the right of the car; a dot for a single thing."""
    path = QPainterPath()
    if side == "one":
        path.addEllipse(QPointF(0, 0), 3, 3)
        return path
    sign = -1.0 if side == "left" else 1.0
    path.addPolygon(_points((sign * 4, 0), (-sign * 3, -4), (-sign * 3, 4)))
    path.closeSubpath()
    return path


def paint_side(painter: QPainter, look: Look, side: Side, centre: QPointF) -> None:
    """Draw a side's mark: left filled, right hollow, each in its colour."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(centre)
    painter.scale(look.scale, look.scale)
    colour = side_colour(look, side)
    painter.setPen(QPen(colour, 1.4))
    painter.setBrush(Qt.BrushStyle.NoBrush if side == "right" else colour)
    painter.drawPath(side_path(side))
    painter.restore()


def side_colour(look: Look, side: Side) -> QColor:
    """Teal for left, olive for right, ink for what has no side."""
    return look.colour("ink" if side == "one" else side)


def side_pen(look: Look, side: Side, width: float) -> QPen:
    """The line of a side: left solid, right broken."""
    pen = QPen(side_colour(look, side), width)
    if side == "right":
        pen.setDashPattern([5.0, 2.5])
    return pen


def handle_path(shape: HandleShape) -> QPainterPath:
    """The outline of a handle, and what is drawn inside it, round (0, 0)."""
    return _HANDLES[shape]()


def _pickup() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), 5.5, 5.5)
    path.addEllipse(QPointF(0, 0), 1.5, 1.5)
    return path


def _joint() -> QPainterPath:
    return _closed((0, -6), (6, 0), (0, 6), (-6, 0))


def _wheel_centre() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), 5.5, 5.5)
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        path.moveTo(2.5 * x, 2.5 * y)
        path.lineTo(9 * x, 9 * y)
    return path


def _mount() -> QPainterPath:
    corners = [
        (6.2 * math.cos(math.radians(a)), 6.2 * math.sin(math.radians(a)))
        for a in range(0, 360, 60)
    ]
    path = _closed(*corners)
    path.addEllipse(QPointF(0, 0), 1.6, 1.6)
    return path


def _unit() -> QPainterPath:
    path = _closed((-5, -5), (5, -5), (5, 5), (-5, 5))
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        path.moveTo(5 * x, 5 * y)
        path.lineTo(10 * x, 10 * y)
    return path


def _rack() -> QPainterPath:
    path = _closed((-7, -3.5), (7, -3.5), (7, 3.5), (-7, 3.5))
    for x in (-3.5, 0.0, 3.5):
        path.moveTo(x, -3.5)
        path.lineTo(x, 0.5)
    return path


def _obstacle() -> QPainterPath:
    return _closed((0, -6), (6, 5), (-6, 5))


_HANDLES: dict[HandleShape, Callable[[], QPainterPath]] = {
    "pickup": _pickup,
    "joint": _joint,
    "wheel_centre": _wheel_centre,
    "mount": _mount,
    "unit": _unit,
    "rack": _rack,
    "obstacle": _obstacle,
}


def clamp_path() -> QPainterPath:
    """Two jaws across a handle whose place is held."""
    path = QPainterPath()
    for sign in (-1.0, 1.0):
        path.moveTo(sign * 6, -10)
        path.lineTo(sign * 10, -10)
        path.lineTo(sign * 10, 10)
        path.lineTo(sign * 6, 10)
    return path


def ring_path(*, double: bool) -> QPainterPath:
    """The ring round what is under the pointer; double round what is in your hand."""
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), 10, 10)
    if double:
        path.addEllipse(QPointF(0, 0), 13, 13)
    return path


def _points(*points: tuple[float, float]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points])


def _closed(*points: tuple[float, float]) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(_points(*points))
    path.closeSubpath()
    return path
