"""The gap along the way out, drawn over how far the engine and gearbox has come."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.widgets.gauge import hatch, round_step
from core.quantities import number

HEIGHT = 128.0
MOST_SHOWN = 60.0
"""Gaps above this are drawn at the top: they are more than enough, mm; own choice."""


class Profile(NamedTuple):
    """Gaps at places along the way: exact at each place, straight between them.

    Attributes:
        places: how far along, mm.
        gaps: the least gap there, mm.
        wanted: the gap wanted.
        fine_from: where fine begins.
    """

    places: tuple[float, ...]
    gaps: tuple[float, ...]
    wanted: float
    fine_from: float


class ProfileChart(QWidget):
    """A curve over a hatched forbidden zone, with a needle where the engine is shown."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show no profile yet."""
        super().__init__(parent)
        self._look = look
        self.profile: Profile | None = None
        self.needle = 0.0
        self.behind = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def tell(self, profile: Profile | None, *, behind: bool = False) -> None:
        """Show a profile, or none."""
        self.profile, self.behind = profile, behind
        if profile is not None:
            least = min(profile.gaps)
            self.setAccessibleName(f"gap along the way out, least {number(least, 1)} mm")
        self.update()

    def point_at(self, place: float) -> None:
        """Move the needle."""
        if place != self.needle:
            self.needle = place
            self.update()

    def sizeHint(self) -> QSize:
        """As high as the curve needs."""
        return QSize(self._look.px(280), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the chart."""
        if self.profile is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = self._look.scale
        box = QRectF(26 * scale, 6, self.width() - 30 * scale, self.height() - 26 * scale)
        self._paint_ground(painter, box, self.profile)
        self._paint_curve(painter, box, self.profile)
        self._paint_needle(painter, box, self.profile)
        painter.end()

    def _low(self) -> float:
        assert self.profile is not None
        return min(0.0, *self.profile.gaps)

    def _y(self, box: QRectF, gap: float) -> float:
        low, high = self._low(), MOST_SHOWN
        return box.bottom() - (min(gap, high) - low) / (high - low) * box.height()

    def _x(self, box: QRectF, place: float) -> float:
        assert self.profile is not None
        return box.left() + place / (self.profile.places[-1] or 1.0) * box.width()

    def _paint_ground(self, painter: QPainter, box: QRectF, profile: Profile) -> None:
        look = self._look
        painter.setFont(look.font("rule"))
        metrics = QFontMetricsF(look.font("rule"))
        for gap in (0.0, 20.0, 40.0, MOST_SHOWN):
            y = self._y(box, gap)
            painter.setPen(QPen(look.colour("rule"), 1))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            words = number(gap, 0)
            painter.setPen(look.colour("ink2"))
            x = box.left() - metrics.horizontalAdvance(words) - 4
            painter.drawText(QPointF(x, y + metrics.ascent() / 2 - 1), words)
        top = self._y(box, profile.wanted)
        hatch(painter, QRectF(box.left(), top, box.width(), box.bottom() - top), look, "rule")
        painter.setPen(QPen(look.colour("ink"), 2))
        painter.drawLine(QPointF(box.left(), top), QPointF(box.right(), top))
        pen = QPen(look.colour("tight"), 1.2)
        pen.setDashPattern([2.0, 3.0])
        painter.setPen(pen)
        y = self._y(box, profile.fine_from)
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
        self._paint_places(painter, box, profile, metrics)

    def _paint_places(
        self, painter: QPainter, box: QRectF, profile: Profile, metrics: QFontMetricsF
    ) -> None:
        step = round_step((profile.places[-1] or 1.0) / 5)
        base = box.bottom() + 3 + metrics.ascent()
        painter.setPen(self._look.colour("ink2"))
        place = 0.0
        while place <= profile.places[-1] + 1e-6:
            words = number(place, 0)
            x = self._x(box, place) - metrics.horizontalAdvance(words) / 2
            painter.drawText(QPointF(min(x, self.width() - metrics.horizontalAdvance(words)), base),
                             words)  # fmt: skip
            place += step

    def _paint_curve(self, painter: QPainter, box: QRectF, profile: Profile) -> None:
        path = QPainterPath()
        for place, gap in zip(profile.places, profile.gaps, strict=True):
            point = QPointF(self._x(box, place), self._y(box, gap))
            if path.elementCount():
                path.lineTo(point)
            else:
                path.moveTo(point)
        painter.setPen(QPen(self._look.colour("edge" if self.behind else "ink"), 2))
        painter.drawPath(path)

    def _paint_needle(self, painter: QPainter, box: QRectF, profile: Profile) -> None:
        if not 0 < self.needle <= profile.places[-1]:
            return
        x = self._x(box, self.needle)
        painter.setPen(QPen(self._look.colour("sel"), 1.6))
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()
