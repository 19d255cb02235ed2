"""A scribed scale: the forbidden side hatched, the margin barred, the figure on a pointer."""

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.look.tokens import ColourName
from app.widgets.telling import Scale
from core.engine.finding import Verdict
from core.quantities import number

HEIGHT = 40.0
LINE = 17.0  # how far the scale is below the top
WIDEST = 240.0
HATCH = 5.0
_STEPS = (1.0, 2.0, 5.0)


class Gauge(QWidget):
    """Where a figure stands against its limit; two figures only, limit and where fine begins."""

    def __init__(
        self, look: Look, scale: Scale, verdict: Verdict, parent: QWidget | None = None
    ) -> None:
        """Show a figure."""
        super().__init__(parent)
        self._look = look
        self._scale = scale
        self._verdict: Verdict = verdict
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_figure(scale, verdict)
        look.changed.connect(self._refit)

    @property
    def scale(self) -> Scale:
        """The figure shown."""
        return self._scale

    def show_figure(self, scale: Scale, verdict: Verdict) -> None:
        """Show another figure."""
        self._scale, self._verdict = scale, verdict
        self.setAccessibleName(
            f"{number(scale.measured, 1)} against {number(scale.limit, 1)} {scale.unit}"
        )
        self.update()

    def sizeHint(self) -> QSize:
        """As high as the scale and its figures."""
        return QSize(self._look.px(WIDEST), self._look.px(HEIGHT))

    def ends(self) -> tuple[float, float]:
        """The least and the greatest figure on the scale."""
        return ends_of(self._scale)

    def at(self, value: float) -> float:
        """Where a figure stands, pixels from the left; one beyond an end stands at that end."""
        low, high = self.ends()
        share = min(max((value - low) / (high - low), 0.0), 1.0)
        return 1.0 + share * (min(self.width(), self._look.px(WIDEST)) - 12.0) + 4.0

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the scale."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = LINE * self._look.scale
        self._paint_forbidden(painter, line)
        self._paint_line(painter, line)
        self._paint_margin(painter, line)
        self._paint_limit(painter, line)
        self._paint_pointer(painter, line)
        self._paint_figures(painter, line)
        painter.end()

    def _paint_line(self, painter: QPainter, line: float) -> None:
        low, high = self.ends()
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.drawLine(QPointF(self.at(low), line), QPointF(self.at(high), line))
        step = round_step((high - low) / 8)
        for index in range(math.ceil(low / step), math.floor(high / step) + 1):
            x = self.at(index * step)
            painter.drawLine(QPointF(x, line), QPointF(x, line + 3))

    def _paint_forbidden(self, painter: QPainter, line: float) -> None:
        low, high = self.ends()
        limit = self.at(self._scale.limit)
        left, right = (limit, self.at(high)) if self._scale.high_is_bad else (self.at(low), limit)
        hatch(painter, QRectF(left, line - 6, right - left, 6), self._look, "edge")

    def _paint_margin(self, painter: QPainter, line: float) -> None:
        if not self._scale.margin:
            return
        ends = sorted((self.at(self._scale.limit), self.at(self._scale.fine_from)))
        painter.setPen(QPen(self._look.colour("tight"), 1.4))
        x = ends[0] + 3
        while x <= ends[1]:
            painter.drawLine(QPointF(x, line - 6), QPointF(x, line))
            x += 4

    def _paint_limit(self, painter: QPainter, line: float) -> None:
        painter.setPen(QPen(self._look.colour("ink"), 2))
        x = self.at(self._scale.limit)
        painter.drawLine(QPointF(x, line - 7), QPointF(x, line + 5))

    def _paint_pointer(self, painter: QPainter, line: float) -> None:
        x, top = self.at(self._scale.measured), line - 8
        painter.setPen(Qt.PenStyle.NoPen)
        colour: ColourName = self._verdict
        painter.setBrush(self._look.colour(colour))
        painter.drawPolygon(
            QPolygonF([QPointF(x - 5.5, top - 8), QPointF(x + 5.5, top - 8), QPointF(x, top)])
        )

    def _paint_figures(self, painter: QPainter, line: float) -> None:
        font = self._look.font("rule")
        painter.setFont(font)
        painter.setPen(self._look.colour("ink2"))
        metrics = QFontMetricsF(font)
        for x, words in spread(self._labels(), metrics.horizontalAdvance, float(self.width())):
            painter.drawText(QPointF(x, line + 8 + metrics.ascent()), words)

    def _labels(self) -> list[tuple[float, str]]:
        scale = self._scale
        labels = [(self.at(scale.limit), f"limit {_short(scale.limit)}")]
        if scale.margin:
            way = "to" if scale.high_is_bad else "from"
            labels.append((self.at(scale.fine_from), f"fine {way} {_short(scale.fine_from)}"))
        return sorted(labels)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


def _short(value: float) -> str:
    return number(value, 1).removesuffix(".0")


def ends_of(scale: Scale) -> tuple[float, float]:
    """The least and the greatest figure on a scale: its limit a third in, all of it shown."""
    beyond = max(abs(scale.measured - scale.limit), 2.5 * scale.margin, 0.1 * abs(scale.limit), 0.5)
    away = 1.25 * beyond
    if scale.high_is_bad:
        return scale.limit - away, scale.limit + away / 2
    return scale.limit - away / 2, scale.limit + away


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is not below `least`, which is above 0."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (*_STEPS, 10.0) if step * power >= least * (1 - 1e-9))


def spread(
    labels: list[tuple[float, str]], width_of: Callable[[str], float], room: float
) -> list[tuple[float, str]]:
    """Labels with their left ends, centred on their places and pushed apart where they meet."""
    placed: list[tuple[float, str]] = []
    free_from = 0.0
    for centre, words in labels:
        x = max(centre - width_of(words) / 2, free_from)
        placed.append((x, words))
        free_from = x + width_of(words) + 8
    over = free_from - 8 - room
    return [(x - over, words) for x, words in placed] if over > 0 else placed


def hatch(painter: QPainter, box: QRectF, look: Look, colour: ColourName) -> None:
    """Fill a box with slanting lines."""
    painter.save()
    painter.setClipRect(box)
    painter.setPen(QPen(look.colour(colour), 1))
    x = box.left() - box.height()
    while x < box.right():
        painter.drawLine(QPointF(x, box.bottom()), QPointF(x + box.height(), box.top()))
        x += HATCH
    painter.restore()
