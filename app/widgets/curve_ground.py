"""What lies under the curves: rules, gaps, limits, zero, the design position, the stops."""

from collections.abc import Iterator

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.look.fonts import FontRole
from app.look.tokens import ColourName
from app.widgets.curve_data import Gap, all_gaps
from app.widgets.curve_frame import Sheet
from app.widgets.curve_scales import value_marks
from app.widgets.curve_text import elided, write_over

HATCH = 6.0
POST = 16.0


def paint_ground(painter: QPainter, sheet: Sheet) -> None:
    """Draw all that lies under the curves."""
    if not sheet.shown.is_known:
        _paint_unknown(painter, sheet)
        return
    _paint_rules(painter, sheet)
    for gap in all_gaps(sheet.shown.series):
        _paint_gap(painter, sheet, gap)
    _paint_band(painter, sheet)
    _paint_zero(painter, sheet)
    _paint_design(painter, sheet)
    _paint_posts(painter, sheet)


def _paint_unknown(painter: QPainter, sheet: Sheet) -> None:
    box, shown = sheet.frame.box, sheet.shown
    hatch(painter, box, sheet, "rule")
    pen = QPen(sheet.look.colour("edge"), 1)
    pen.setDashPattern([4.0, 3.0])
    painter.setPen(pen)
    painter.drawRect(box)
    words = ["don't know", shown.unknown or next((one.why for one in shown.series), "")]
    step = sheet.px(18)
    for row, line in enumerate(word for word in words if word):
        middle = QPointF(box.center().x(), box.center().y() + (row - 0.5) * step)
        role: FontRole = "body" if row else "head"
        cut = elided(sheet.look, line, role, box.width())
        write_over(painter, sheet.look, cut, middle, role, "unknown")


def _paint_rules(painter: QPainter, sheet: Sheet) -> None:
    box = sheet.frame.box
    painter.setPen(QPen(sheet.look.colour("rule"), 1))
    for value in value_marks(sheet).values:
        y = sheet.frame.y(value)
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))


def _paint_gap(painter: QPainter, sheet: Sheet, gap: Gap) -> None:
    box = sheet.frame.box
    zone = QRectF(box)
    zone.setLeft(max(sheet.frame.x(gap.low), box.left()))
    zone.setRight(min(sheet.frame.x(gap.high), box.right()))
    hatch(painter, zone, sheet, "rule")
    pen = QPen(sheet.look.colour("edge"), 1)
    pen.setDashPattern([3.0, 3.0])
    painter.setPen(pen)
    for x in (zone.left(), zone.right()):
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))


def _paint_band(painter: QPainter, sheet: Sheet) -> None:
    band, box = sheet.shown.band, sheet.frame.box
    if band is None:
        return
    for limit, end in ((band.high, box.top()), (band.low, box.bottom())):
        if limit is None:
            continue
        y = min(max(sheet.frame.y(limit), box.top()), box.bottom())
        side = QRectF(box.left(), min(y, end), box.width(), abs(y - end))
        if band.is_hatched:
            hatch(painter, side, sheet, "edge", 0.55)
        painter.setPen(QPen(sheet.look.colour("ink"), max(1.5 * sheet.look.scale, 1.5)))
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))


def _paint_zero(painter: QPainter, sheet: Sheet) -> None:
    values, box = sheet.frame.values, sheet.frame.box
    if values.low < 0.0 < values.high:
        y = sheet.frame.y(0.0)
        painter.setPen(QPen(sheet.look.colour("edge"), max(1.2 * sheet.look.scale, 1.2)))
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))


def _paint_design(painter: QPainter, sheet: Sheet) -> None:
    design, box = sheet.shown.design, sheet.frame.box
    if design is None or not sheet.frame.holds(design):
        return
    pen = QPen(sheet.look.colour("ink2"), 1)
    pen.setDashPattern([8.0, 3.0, 1.5, 3.0])
    painter.setPen(pen)
    x = sheet.frame.x(design)
    painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))


def _paint_posts(painter: QPainter, sheet: Sheet) -> None:
    stops, bottom = sheet.shown.stops, sheet.frame.box.bottom()
    if stops is None:
        return
    pen = QPen(sheet.look.colour("ink"), sheet.px(3))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    for stop in (stops.low, stops.high):
        if stop is not None:
            x = sheet.frame.x(stop)
            foot = bottom + sheet.px(4)
            painter.drawLine(QPointF(x, bottom - sheet.px(POST)), QPointF(x, foot))


def hatch(
    painter: QPainter, box: QRectF, sheet: Sheet, colour: ColourName, opacity: float = 1.0
) -> None:
    """Fill a box with slanting lines, cut to it by reckoning: not every picture can clip.

    Lines of neighbouring boxes meet, for all stand on one lattice.
    """
    painter.setPen(QPen(sheet.look.colour(colour, opacity), 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawLines(list(_slants(box, sheet.px(HATCH))))


def _slants(box: QRectF, step: float) -> Iterator[QLineF]:
    """Lines x + y = k * step within a box."""
    first = int((box.left() + box.top()) / step) + 1
    last = int((box.right() + box.bottom()) / step)
    for k in range(first, last + 1):
        total = k * step
        left = max(box.left(), total - box.bottom())
        right = min(box.right(), total - box.top())
        if left < right:
            yield QLineF(left, total - left, right, total - right)
