"""What lies over the curves: the cursor, a mark of its side on each curve, and its figure."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QPolygonF

from app.look.marks import side_colour
from app.look.tokens import ColourName
from app.widgets.curve_data import (
    Cursor,
    Reading,
    lone,
    read,
    short_label,
    told,
    value_at,
    with_unit,
)
from app.widgets.curve_frame import SCRIBER, Sheet, apart
from app.widgets.curve_text import write_over
from core.document.base import Side

DOT, SQUARE = 4.5, 8.0
BESIDE, ABOVE = 8.0, 9.0
"""Of a figure from its mark, pixels at scale 1."""
NEARBY = 0.05
"""How far beside a mark, of the width, its curve is looked at."""
DONT_KNOW = "don't know"


class Tag(NamedTuple):
    """A figure beside its mark."""

    words: str
    y: float
    colour: ColourName
    cursor_x: float
    is_left: bool


def paint_marks(painter: QPainter, sheet: Sheet) -> None:
    """Draw single points, and the cursor with what is read at it."""
    for one in sheet.shown.series:
        for along, value in lone(one):
            place = sheet.frame.at(float(along), float(value))
            paint_mark(painter, sheet, one.side, place, 0.7)
    cursor = sheet.shown.cursor
    if cursor is None or not sheet.shown.is_known:
        return
    _paint_cursor(painter, sheet, cursor)
    readings = read(sheet.shown.series, cursor)
    for reading in readings:
        if reading.is_known:
            place = sheet.frame.at(reading.along, reading.value)
            paint_mark(painter, sheet, reading.series.side, place)
    _paint_tags(painter, sheet, list(_tags(sheet, readings)))


def paint_mark(
    painter: QPainter, sheet: Sheet, side: Side, place: QPointF, scale: float = 1.0
) -> None:
    """Draw a side's mark on a curve: left a filled dot, right a hollow square."""
    size = scale * sheet.look.scale
    colour = side_colour(sheet.look, side)
    if side == "right":
        painter.setPen(QPen(colour, 2 * size))
        painter.setBrush(sheet.look.colour("panel"))
        half = SQUARE * size / 2
        painter.drawRect(QRectF(place.x() - half, place.y() - half, 2 * half, 2 * half))
    else:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawEllipse(place, DOT * size, DOT * size)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _paint_cursor(painter: QPainter, sheet: Sheet, cursor: Cursor) -> None:
    if cursor.left == cursor.right:
        _paint_scriber(painter, sheet, cursor.left, "sel")
        return
    _paint_scriber(painter, sheet, cursor.left, "left")
    _paint_scriber(painter, sheet, cursor.right, "right")


def _paint_scriber(painter: QPainter, sheet: Sheet, along: float, colour: ColourName) -> None:
    if not sheet.frame.holds(along):
        return
    box, x = sheet.frame.box, sheet.frame.x(along)
    pen = QPen(sheet.look.colour(colour), sheet.px(1.4))
    if colour == "right":
        pen.setDashPattern([4.0, 3.0])
    painter.setPen(pen)
    painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(sheet.look.colour(colour))
    tip, wide, high = box.top(), sheet.px(5), sheet.px(7)
    corners = [QPointF(x - wide, tip - high), QPointF(x + wide, tip - high), QPointF(x, tip)]
    painter.drawPolygon(QPolygonF(corners))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _paint_place(painter, sheet, along, colour)


def _paint_place(painter: QPainter, sheet: Sheet, along: float, colour: ColourName) -> None:
    """Write where the cursor stands, beside the scriber's head; the left one to its left."""
    chart, box = sheet.shown.chart, sheet.frame.box
    words = with_unit(along, chart.along_unit, chart.along_digits, signed=False)
    half = QFontMetricsF(sheet.look.font("rule")).horizontalAdvance(words) / 2
    away = half + sheet.px(BESIDE)
    x = sheet.frame.x(along)
    wants_left = _goes_left(sheet, "right" if colour == "right" else "left")
    is_left = x - away - half > 0 and (wants_left or x + away + half > box.right())
    place = QPointF(x - away if is_left else x + away, box.top() - sheet.px(SCRIBER * 0.42))
    write_over(painter, sheet.look, words, place, "rule", colour)


def _goes_left(sheet: Sheet, side: Side) -> bool:
    """Whether a side's words go to the left of its cursor: outwards where there are two."""
    cursor = sheet.shown.cursor
    if cursor is None or cursor.left == cursor.right:
        return side == "left"
    return (cursor.left < cursor.right) == (side != "right")


def _tags(sheet: Sheet, readings: tuple[Reading, ...]) -> Iterator[Tag]:
    metrics = QFontMetricsF(sheet.look.font("head"))
    box, shown = sheet.frame.box, sheet.shown
    for one in readings:
        if not sheet.frame.holds(one.along):
            continue
        label = short_label(one.series, shown.series)
        figure = told(one, shown.chart) if one.is_known else DONT_KNOW  # the gap tells why
        words = f"{label} {figure}".strip()
        x, room = sheet.frame.x(one.along), metrics.horizontalAdvance(words) + sheet.px(BESIDE)
        fits_left, fits_right = x - room > box.left(), x + room < box.right()
        is_left = fits_left if _goes_left(sheet, one.series.side) else not fits_right
        yield Tag(words, _height(sheet, one, is_left=is_left), _ink(one), x, is_left)


def _height(sheet: Sheet, reading: Reading, *, is_left: bool) -> float:
    """Where a figure stands: above or below its mark, wherever the curve does not go."""
    if not reading.is_known:
        return sheet.frame.box.center().y()
    away = (sheet.frame.along.high - sheet.frame.along.low) * (-NEARBY if is_left else NEARBY)
    beside = value_at(reading.series, reading.along + away)
    goes_up = np.isfinite(beside) and beside > reading.value
    return sheet.frame.y(reading.value) + sheet.px(ABOVE if goes_up else -ABOVE)


def _ink(reading: Reading) -> ColourName:
    if not reading.is_known:
        return "unknown"
    side = reading.series.side
    return "ink" if side == "one" else side


def _paint_tags(painter: QPainter, sheet: Sheet, tags: list[Tag]) -> None:
    for is_left in (True, False):
        _paint_column(painter, sheet, [tag for tag in tags if tag.is_left == is_left])


def _paint_column(painter: QPainter, sheet: Sheet, tags: list[Tag]) -> None:
    box = sheet.frame.box
    metrics = QFontMetricsF(sheet.look.font("head"))
    half = metrics.capHeight() / 2 + 2
    ys = apart(
        [tag.y for tag in tags], 0.9 * metrics.height(), box.top() + half, box.bottom() - half
    )
    for tag, y in zip(tags, ys, strict=True):
        away = metrics.horizontalAdvance(tag.words) / 2 + sheet.px(BESIDE)
        x = tag.cursor_x - away if tag.is_left else tag.cursor_x + away
        write_over(painter, sheet.look, tag.words, QPointF(x, y), "head", tag.colour)
