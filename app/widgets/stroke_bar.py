"""A stroke between two stops: posts, the margin kept back, the slide, what is left over."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.look.marks import side_colour
from core.document.base import Side
from core.quantities import number

HEIGHT = 52.0
BAR_TOP, BAR_BOTTOM = 20.0, 34.0


class Stroke(NamedTuple):
    """A joint's stroke.

    Attributes:
        inwards: how far it may slide in from mid stroke, the kept margin left out; mm.
        outwards: how far out.
        slide: where it stands as drawn, pulled out above zero; mm.
        kept: what is kept back at each stop, if it is known; mm.
        used: from where to where it slides over the travel; None, from mid stroke to where it is.
    """

    inwards: float
    outwards: float
    slide: float
    kept: float | None
    used: tuple[float, float] | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """The slides furthest in and furthest out."""
        return self.used or (self.slide, self.slide)

    @property
    def left_in(self) -> float:
        """What is left before the inner end; below zero where it is beyond."""
        return self.inwards + self.ends[0]

    @property
    def left_out(self) -> float:
        """What is left before the outer end."""
        return self.outwards - self.ends[1]


class StrokeBar(QWidget):
    """A stroke drawn to scale, with the two figures left over above it."""

    def __init__(
        self, look: Look, side: Side, stroke: Stroke, parent: QWidget | None = None
    ) -> None:
        """Show the stroke of one side's joint."""
        super().__init__(parent)
        self._look, self._stroke = look, stroke
        self._side: Side = side
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_stroke(stroke)
        look.changed.connect(self._refit)

    @property
    def stroke(self) -> Stroke:
        """The stroke shown."""
        return self._stroke

    def show_stroke(self, stroke: Stroke) -> None:
        """Show another stroke."""
        self._stroke = stroke
        self.setAccessibleName(self.spoken())
        self.update()

    def spoken(self) -> str:
        """All of it in one line."""
        return f"{self._side} shaft: {told(self._stroke)}"

    def below(self) -> tuple[str, str, str]:
        """What is written below the bar: at the inner end, in the middle, at the outer end."""
        stroke, kept = self._stroke, self._stroke.kept or 0.0
        ends = [f"{number(end + kept, 1)}" for end in (stroke.inwards, stroke.outwards)]
        return f"in {ends[0]}", slid(stroke.slide), f"out {ends[1]}"

    def sizeHint(self) -> QSize:
        """As high as the bar with its figures."""
        return QSize(self._look.px(260), self._look.px(HEIGHT))

    def at(self, slide: float) -> float:
        """Where a slide stands, pixels from the left; one beyond a stop stands just past it."""
        kept = self._stroke.kept or 0.0
        low, high = -self._stroke.inwards - kept, self._stroke.outwards + kept
        room = self.width() - 2 * self._margin()
        share = min(max((slide - low) / (high - low or 1.0), -0.03), 1.03)
        return self._margin() + share * room

    def _margin(self) -> float:
        return 22.0 * self._look.scale

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw stops, margin, slide and figures."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        top, bottom = BAR_TOP * self._look.scale, BAR_BOTTOM * self._look.scale
        self._paint_bar(painter, top, bottom)
        self._paint_slide(painter, top, bottom)
        self._paint_kept(painter, top, bottom)
        self._paint_figures(painter, top, bottom)
        painter.end()

    def _paint_bar(self, painter: QPainter, top: float, bottom: float) -> None:
        stroke, kept = self._stroke, self._stroke.kept or 0.0
        left, right = self.at(-stroke.inwards - kept), self.at(stroke.outwards + kept)
        painter.fillRect(QRectF(left, top, right - left, bottom - top), self._look.colour("well"))
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.drawLine(QPointF(left, top), QPointF(right, top))
        painter.drawLine(QPointF(left, bottom), QPointF(right, bottom))
        painter.setPen(QPen(self._look.colour("ink"), 3))
        for x in (left, right):
            painter.drawLine(QPointF(x, top - 4), QPointF(x, bottom + 4))
        painter.setPen(QPen(self._look.colour("edge"), 1))
        middle = self.at(0.0)
        painter.drawLine(QPointF(middle, bottom - 4), QPointF(middle, bottom + 2))

    def _paint_kept(self, painter: QPainter, top: float, bottom: float) -> None:
        if not self._stroke.kept:
            return
        pen = QPen(self._look.colour("ink"), 1.2)
        pen.setDashPattern([2.0, 2.0])
        painter.setPen(pen)
        for x in (self.at(-self._stroke.inwards), self.at(self._stroke.outwards)):
            painter.drawLine(QPointF(x, top), QPointF(x, bottom))

    def _paint_slide(self, painter: QPainter, top: float, bottom: float) -> None:
        x, middle = self.at(self._stroke.slide), self.at(0.0)
        colour = side_colour(self._look, self._side)
        low, high = min(x, middle), max(x, middle)
        if self._stroke.used is not None:
            low, high = (self.at(end) for end in self._stroke.used)
        used = QRectF(low, top + 1, high - low, bottom - top - 2)
        if self._side == "right":
            painter.setPen(QPen(colour, 1.2))
            painter.drawRect(used)
            painter.fillRect(used, self._look.colour("right", 0.35))
        else:
            painter.fillRect(used, colour)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("ink"))
        painter.drawPolygon(
            QPolygonF([QPointF(x - 5, top - 8), QPointF(x + 5, top - 8), QPointF(x, top - 1)])
        )

    def _paint_figures(self, painter: QPainter, top: float, bottom: float) -> None:
        metrics = QFontMetricsF(self._look.font("rule"))
        self._paint_left_over(painter, top - 9)
        painter.setFont(self._look.font("rule"))
        painter.setPen(self._look.colour("ink2"))
        base = bottom + 4 + metrics.ascent()
        inner, said, outer = self.below()
        painter.drawText(QPointF(0, base), inner)
        painter.drawText(QPointF(self.width() - metrics.horizontalAdvance(outer), base), outer)
        x = self.at(0.0) - metrics.horizontalAdvance(said) / 2
        painter.drawText(QPointF(x, base), said)

    def _paint_left_over(self, painter: QPainter, base: float) -> None:
        font = self._look.font("table")
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        low, high = (self.at(end) for end in self._stroke.ends)
        for left, start, end in (
            (self._stroke.left_in, self.at(-self._stroke.inwards), low),
            (self._stroke.left_out, high, self.at(self._stroke.outwards)),
        ):
            words = number(left, 1) if left >= 0 else f"{number(-left, 1)} over"
            painter.setPen(self._look.colour("ink" if left >= 0 else "no"))
            x = (start + end - metrics.horizontalAdvance(words)) / 2
            room = self.width() - metrics.horizontalAdvance(words)
            painter.drawText(QPointF(min(max(x, 0.0), room), base), words)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


def slid(slide: float) -> str:
    """How far a joint is slid, in words instead of signs."""
    if abs(slide) < 0.05:  # noqa: PLR2004 - half of the last digit shown
        return "mid stroke"
    return f"{number(abs(slide), 1)} {'pulled out' if slide > 0 else 'pushed in'}"


def told(stroke: Stroke) -> str:
    """A stroke in one line."""
    ends = ((stroke.left_in, "inner"), (stroke.left_out, "outer"))
    parts = [
        f"{number(abs(left), 1)} {'left before' if left >= 0 else 'beyond'} its {which} stop"
        for left, which in ends
    ]
    kept = "" if stroke.kept is None else f", {number(stroke.kept, 1)} kept at each stop"
    return f"{slid(stroke.slide)}, {parts[0]}, {parts[1]}{kept}"
