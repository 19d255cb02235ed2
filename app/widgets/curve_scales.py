"""The scales of a plot of curves: round steps, ticks, numerals."""

import math
from typing import NamedTuple

from PySide6.QtCore import QPointF
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.widgets.curve_data import Ends, numerals
from app.widgets.curve_frame import Sheet
from app.widgets.curve_text import write
from app.widgets.gauge import round_step

APART_ACROSS, APART_UP = 52.0, 26.0
"""Least pixels between two numerals, at scale 1."""
TICK = 4.0


class Marks(NamedTuple):
    """Where a scale has numerals.

    Attributes:
        values: the figures, rising.
        step: from one to the next.
    """

    values: list[float]
    step: float

    @property
    def labelled(self) -> list[tuple[float, str]]:
        """The figures with what stands there."""
        return list(zip(self.values, numerals(self.values, self.step), strict=True))


def marks(ends: Ends, room: float, apart: float) -> Marks:
    """Round figures within a range that is `room` pixels long, at least `apart` pixels apart."""
    step = round_step((ends.high - ends.low) * apart / room)
    first, last = math.ceil(ends.low / step), math.floor(ends.high / step)
    return Marks([index * step for index in range(first, last + 1)], step)


def value_marks(sheet: Sheet) -> Marks:
    """The numerals at the left."""
    return marks(sheet.frame.values, sheet.frame.box.height(), sheet.px(APART_UP))


def along_marks(sheet: Sheet) -> Marks:
    """The numerals below."""
    return marks(sheet.frame.along, sheet.frame.box.width(), sheet.px(APART_ACROSS))


def paint_scales(painter: QPainter, sheet: Sheet) -> None:
    """Draw the line below with its ticks, and the numerals of both scales."""
    box = sheet.frame.box
    metrics = QFontMetricsF(sheet.look.font("rule"))
    painter.setPen(QPen(sheet.look.colour("edge"), 1))
    painter.drawLine(box.bottomLeft(), box.bottomRight())
    _paint_ticks(painter, sheet)
    for value, words in value_marks(sheet).labelled:
        left = box.left() - sheet.px(6) - metrics.horizontalAdvance(words)
        place = QPointF(left, sheet.frame.y(value) + metrics.capHeight() / 2)
        write(painter, sheet.look, words, place, "rule", "ink2")
    base = box.bottom() + sheet.px(TICK + 1) + metrics.ascent()
    for value, words in along_marks(sheet).labelled:
        left = sheet.frame.x(value) - metrics.horizontalAdvance(words) / 2
        write(painter, sheet.look, words, QPointF(left, base), "rule", "ink2")


def _paint_ticks(painter: QPainter, sheet: Sheet) -> None:
    bottom = sheet.frame.box.bottom()
    for value in along_marks(sheet).values:
        x = sheet.frame.x(value)
        painter.drawLine(QPointF(x, bottom), QPointF(x, bottom + sheet.px(TICK)))
