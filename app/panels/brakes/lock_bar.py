"""Which axle locks first over the grip of the road, on a scribed scale."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.widgets.gauge import hatch
from core.quantities import number

LOW, HIGH, STEP = 0.2, 2.0, 0.2
"""Grip at both ends of the scale, and from one numeral to the next: wet ice to slicks."""

HEIGHT, TOP, FOOT, SIDE = 74.0, 20.0, 36.0, 14.0
LEAST = 62.0
"""Pixels at scale 1 below which a stretch has no room for its words."""


class Locks(NamedTuple):
    """What the scale shows.

    Attributes:
        name: of the load.
        both_at: grip at which both axles lock together.
        by_bar: the same at either end of the balance bar; none where it is not known.
        wanted: up to which the front axle is to lock first; none where there is no such limit.
    """

    name: str
    both_at: float
    by_bar: tuple[float, float] | None
    wanted: float | None


class LockBar(QWidget):
    """Front first at the left of the tick, rear first, hatched, at its right."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self._look = look
        self.locks = Locks("", 0.0, None, None)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def tell(self, locks: Locks) -> None:
        """Show another load or other brakes."""
        if locks != self.locks:
            self.locks = locks
            self.setAccessibleName(self.spoken())
            self.setToolTip(self.spoken())
            self.update()

    def spoken(self) -> str:
        """All of it in one line."""
        locks = self.locks
        told = f"{locks.name}: front first up to a grip of {number(max(locks.both_at, 0.0), 2)}"
        return told if locks.wanted is None else f"{told}, {number(locks.wanted, 2)} wanted"

    def sizeHint(self) -> QSize:
        """As high as scale and numerals."""
        return QSize(self._look.px(240), self._look.px(HEIGHT))

    def at(self, grip: float) -> float:
        """Where a grip stands, pixels from the left, held to the ends of the scale."""
        side = self._look.px(SIDE)
        share = min(max((grip - LOW) / (HIGH - LOW), 0.0), 1.0)
        return side + share * (self.width() - 2 * side)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw both stretches, the scale, the limit and what the bar can do."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        top, foot = self._look.px(TOP), self._look.px(FOOT)
        self._paint_stretches(painter, top, foot)
        self._paint_scale(painter, foot)
        self._paint_wanted(painter, top, foot)
        self._paint_bar(painter, top)
        painter.end()

    def _paint_stretches(self, painter: QPainter, top: float, foot: float) -> None:
        look, both = self._look, self.at(self.locks.both_at)
        start, end = self.at(LOW), self.at(HIGH)
        painter.fillRect(QRectF(start, top, both - start, foot - top), look.colour("well"))
        hatch(painter, QRectF(both, top, end - both, foot - top), look, "ink2")
        painter.setPen(QPen(look.colour("ink"), 2))
        if LOW < self.locks.both_at < HIGH:
            painter.drawLine(QPointF(both, top - look.px(4)), QPointF(both, foot + look.px(4)))
        painter.setFont(look.font("small"))
        if both - start > look.px(LEAST):
            box = QRectF(start + look.px(6), top, both - start, foot - top)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, "front first")
        if end - both > look.px(LEAST):
            self._paint_rear(painter, QRectF(both, top, end - both, foot - top))

    def _paint_rear(self, painter: QPainter, box: QRectF) -> None:
        """The word on a ground of its own, so that it reads over the hatching."""
        look, words = self._look, "rear first"
        wide = QFontMetricsF(look.font("small")).horizontalAdvance(words) + look.px(8)
        ground = QRectF(box.center().x() - wide / 2, box.top() + 1, wide, box.height() - 2)
        painter.fillRect(ground, look.colour("panel"))
        painter.drawText(ground, Qt.AlignmentFlag.AlignCenter, words)

    def _paint_scale(self, painter: QPainter, foot: float) -> None:
        look = self._look
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.drawLine(QPointF(self.at(LOW), foot), QPointF(self.at(HIGH), foot))
        metrics = QFontMetricsF(look.font("rule"))
        painter.setFont(look.font("rule"))
        painter.setPen(look.colour("ink2"))
        for tick in range(round((HIGH - LOW) / STEP) + 1):
            grip = LOW + STEP * tick
            x, words = self.at(grip), number(grip, 1)
            painter.drawLine(QPointF(x, foot), QPointF(x, foot + look.px(4)))
            wide = metrics.horizontalAdvance(words)
            painter.drawText(QPointF(x - wide / 2, foot + look.px(5) + metrics.ascent()), words)
        words = "grip of the road"
        wide = metrics.horizontalAdvance(words)
        base = foot + look.px(6) + metrics.ascent() + metrics.height()
        painter.drawText(QPointF(self.width() / 2 - wide / 2, base), words)

    def _paint_wanted(self, painter: QPainter, top: float, foot: float) -> None:
        if self.locks.wanted is None:
            return
        look, x = self._look, self.at(self.locks.wanted)
        painter.setPen(QPen(look.colour("ink"), 1, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, top - look.px(6)), QPointF(x, foot))
        words = f"{number(self.locks.wanted, 1)} wanted"
        painter.setFont(look.font("rule"))
        wide = QFontMetricsF(look.font("rule")).horizontalAdvance(words)
        left = min(max(x - wide / 2, 0.0), self.width() - wide)
        painter.drawText(QPointF(left, top - look.px(8)), words)

    def _paint_bar(self, painter: QPainter, top: float) -> None:
        """A line over the stretch that the balance bar can move the tick along."""
        if self.locks.by_bar is None:
            return
        low, high = sorted(self.at(grip) for grip in self.locks.by_bar)
        painter.setPen(QPen(self._look.colour("ink2"), 3))
        painter.drawLine(QPointF(low, top + 2), QPointF(high, top + 2))
