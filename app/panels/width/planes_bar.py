"""Where the two wheel planes may stand, on one rule; the drawn places marked."""

import math
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.look.marks import side_colour, side_pen
from app.widgets.gauge import round_step
from core.document.base import Side
from core.quantities import number

HEIGHT = 112.0
ROWS: tuple[tuple[Side, float], ...] = (("left", 34.0), ("right", 60.0))
RULE = 84.0


class Planes(NamedTuple):
    """Both wheel planes, mm outboard of the centre plane: where they stand, and may stand."""

    at: tuple[float, float]
    lower: tuple[float, float]
    upper: tuple[float, float]


class PlanesBar(QWidget):
    """A steel rule with a bar for each side and a pointer for each drawn wheel plane."""

    def __init__(self, look: Look, planes: Planes, parent: QWidget | None = None) -> None:
        """Show where the planes may stand."""
        super().__init__(parent)
        self._look, self._planes = look, planes
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_planes(planes)
        look.changed.connect(self._refit)

    @property
    def planes(self) -> Planes:
        """What is shown."""
        return self._planes

    def show_planes(self, planes: Planes) -> None:
        """Show other planes."""
        self._planes = planes
        self.setAccessibleName("; ".join(_side_words(planes, i) for i in (0, 1)))
        self.update()

    def sizeHint(self) -> QSize:
        """Two bars and a rule."""
        return QSize(self._look.px(280), self._look.px(HEIGHT))

    def _ends(self) -> tuple[float, float]:
        planes = self._planes
        figures = (*planes.at, *planes.lower, *planes.upper)
        room = max(0.15 * (max(figures) - min(figures)), 2.0)
        return min(figures) - room, max(figures) + room

    def _x(self, value: float) -> float:
        low, high = self._ends()
        left = 40.0 * self._look.scale
        return left + (value - low) / (high - low) * (self.width() - left - 8)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the bars and the rule."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, (side, y) in enumerate(ROWS):
            self._paint_side(painter, index, side, y * self._look.scale)
        self._paint_rule(painter)
        painter.end()

    def _paint_side(self, painter: QPainter, index: int, side: Side, y: float) -> None:
        lower, upper = self._planes.lower[index], self._planes.upper[index]
        high = 8.0 * self._look.scale
        painter.setFont(self._look.font("small"))
        painter.setPen(side_colour(self._look, side))
        painter.drawText(QPointF(0, y + 4), side)
        if upper >= lower:
            box = QRectF(self._x(lower), y - high, self._x(upper) - self._x(lower), 2 * high)
            painter.fillRect(box, self._look.colour("card"))
            painter.setPen(side_pen(self._look, side, 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box)
            self._paint_ends(painter, box, lower, upper)
        self._paint_pointer(painter, self._x(self._planes.at[index]), y - high)

    def _paint_ends(self, painter: QPainter, box: QRectF, lower: float, upper: float) -> None:
        painter.setFont(self._look.font("rule"))
        painter.setPen(self._look.colour("ink2"))
        metrics = QFontMetricsF(self._look.font("rule"))
        base = box.center().y() + metrics.ascent() / 2 - 1
        painter.drawText(QPointF(box.left() + 4, base), number(lower, 1))
        words = number(upper, 1)
        painter.drawText(QPointF(box.right() - metrics.horizontalAdvance(words) - 4, base), words)

    def _paint_pointer(self, painter: QPainter, x: float, top: float) -> None:
        painter.setPen(QPen(self._look.colour("ink"), 2))
        painter.drawLine(QPointF(x, top), QPointF(x, top + 16.0 * self._look.scale))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("ink"))
        tip = top - 1
        painter.drawPolygon(
            QPolygonF([QPointF(x - 4.5, tip - 7), QPointF(x + 4.5, tip - 7), QPointF(x, tip)])
        )

    def _paint_rule(self, painter: QPainter) -> None:
        low, high = self._ends()
        y = RULE * self._look.scale
        painter.setFont(self._look.font("rule"))
        metrics = QFontMetricsF(self._look.font("rule"))
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.drawLine(QPointF(self._x(low), y), QPointF(self._x(high), y))
        step = round_step((high - low) / 6)
        small = step / 5
        for index in range(math.ceil(low / small), math.floor(high / small) + 1):
            x, is_long = self._x(index * small), index % 5 == 0
            painter.setPen(QPen(self._look.colour("ink2"), 1))
            painter.drawLine(QPointF(x, y), QPointF(x, y + (7 if is_long else 4)))
            if is_long:
                words = number(index * small, 0 if step >= 1 else 1)
                left = x - metrics.horizontalAdvance(words) / 2
                painter.drawText(QPointF(left, y + 9 + metrics.ascent()), words)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


def _side_words(planes: Planes, index: int) -> str:
    name = ("left", "right")[index]
    return (
        f"{name} wheel plane at {number(planes.at[index], 1)}, may stand from "
        f"{number(planes.lower[index], 1)} to {number(planes.upper[index], 1)}"
    )
