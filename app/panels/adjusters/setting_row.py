"""One adjuster: what to do with it, its range drawn to scale, its thread. A click shows it."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.fonts import FontRole
from app.look.look import Look
from app.look.marks import side_colour
from app.look.tokens import ColourName
from app.widgets.gauge import hatch
from core.document.base import Ref

LINE, BAR, BELOW = 22.0, 20.0, 16.0


class Told(NamedTuple):
    """What a row says.

    Attributes:
        number: of the adjuster, as in the table below.
        ref: its point.
        name: as shown.
        words: what to do.
        least: of the range, mm.
        most: of the range.
        amount: set to; nothing where it is not known.
        lacking: range that is lacking, below zero beyond the least.
        left: in words.
        below: a second line, of the thread or why it is left out.
        is_bad: whether that line tells of something amiss.
    """

    number: int
    ref: Ref
    name: str
    words: str
    least: float
    most: float
    amount: float | None
    lacking: float
    left: str
    below: str
    is_bad: bool


class SettingRow(QAbstractButton):
    """A row that is painted at once."""

    def __init__(self, look: Look, told: Told, parent: QWidget | None = None) -> None:
        """Show an adjuster."""
        super().__init__(parent)
        self._look = look
        self.told = told
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._name()
        look.changed.connect(self._refit)

    def tell(self, told: Told) -> None:
        """Show it otherwise; the same touches nothing."""
        if told != self.told:
            self.told = told
            self._name()
            self._refit()

    def _name(self) -> None:
        told = self.told
        parts = (f"{told.number + 1} {told.name}: {told.words}", told.left, told.below)
        words = "; ".join(part for part in parts if part)
        self.setAccessibleName(words)
        self.setToolTip(f"{words}. Click to show the point.")

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Name and amount, the bar, and the line below."""
        bar = BAR if self.told.most > self.told.least else 0.0
        below = BELOW if self.told.below else 0.0
        return QSize(self._look.px(120), self._look.px(LINE + bar + below + 4.0))

    def minimumSizeHint(self) -> QSize:
        """The same height."""
        return self.sizeHint()

    def at(self, amount: float) -> float:
        """Where an amount stands on the bar, pixels from the left."""
        low, high = min(self.told.least, 0.0), max(self.told.most, 0.0)
        left, right = self._ends()
        share = (amount - low) / (high - low or 1.0)
        return left + min(max(share, -0.02), 1.02) * (right - left)

    def _ends(self) -> tuple[float, float]:
        return self._look.px(16.0), self.width() - self._look.px(92.0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the lines and the bar."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.underMouse():
            painter.fillRect(self.rect(), self._look.colour("wash_selected"))
        self._paint_head(painter)
        top = float(self._look.px(LINE))
        if self.told.most > self.told.least:
            self._paint_bar(painter, top)
            top += self._look.px(BAR)
        ink: ColourName = "no" if self.told.is_bad else "ink2"
        self._write(painter, self.told.below, self._look.px(16.0), top, BELOW, "small", ink)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_head(self, painter: QPainter) -> None:
        strong = QFontMetricsF(self._look.font("field_strong"))
        wide = strong.horizontalAdvance(self.told.words)
        right = self.width() - self._look.px(2.0)
        self._write(painter, self.told.words, right - wide, 0.0, LINE, "field_strong", "ink")
        room = right - wide - self._look.px(24.0)
        metrics = QFontMetricsF(self._look.font("table"))
        name = metrics.elidedText(self.told.name, Qt.TextElideMode.ElideMiddle, max(room, 0.0))
        number = str(self.told.number + 1)
        self._write(painter, number, self._look.px(2.0), 0.0, LINE, "rule", "ink2")
        self._write(painter, name, self._look.px(16.0), 0.0, LINE, "table", "ink")

    def _write(
        self,
        painter: QPainter,
        words: str,
        x: float,
        top: float,
        high: float,
        role: FontRole,
        ink: ColourName,
    ) -> None:
        font = self._look.font(role)
        metrics = QFontMetricsF(font)
        painter.setFont(font)
        painter.setPen(self._look.colour(ink))
        base = top + (self._look.px(high) + metrics.ascent() - metrics.descent()) / 2
        room = max(self.width() - x - 2.0, 0.0)
        painter.drawText(
            QPointF(x, base), metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
        )

    def _paint_bar(self, painter: QPainter, top: float) -> None:
        told, look, scale = self.told, self._look, self._look.scale
        high, middle = 8.0 * scale, top + self._look.px(BAR) / 2
        box = QRectF(self.at(told.least), middle - high / 2, 0.0, high)
        box.setRight(self.at(told.most))
        painter.fillRect(box, look.colour("well"))
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        if told.amount is not None:
            self._paint_amount(painter, box, told.amount)
        painter.setPen(QPen(look.colour("ink"), 3))
        for x in (box.left(), box.right()):
            painter.drawLine(QPointF(x, box.top() - 2), QPointF(x, box.bottom() + 2))
        painter.setPen(QPen(look.colour("ink2"), 1))
        drawn = self.at(0.0)
        painter.drawLine(QPointF(drawn, box.top() - 4), QPointF(drawn, box.bottom() + 4))
        ink: ColourName = "no" if told.lacking else "ink2"
        x = self._ends()[1] + look.px(8.0)
        self._write(painter, told.left, x, top, BAR, "small", ink)

    def _paint_amount(self, painter: QPainter, box: QRectF, amount: float) -> None:
        look, x, drawn = self._look, self.at(amount), self.at(0.0)
        used = QRectF(min(x, drawn), box.top() + 1, abs(x - drawn), box.height() - 2)
        if self.told.ref.side == "right":
            painter.fillRect(used, look.colour("right", 0.35))
            painter.setPen(QPen(side_colour(look, "right"), 1.2))
            painter.drawRect(used)
        else:
            painter.fillRect(used, side_colour(look, self.told.ref.side))
        if self.told.lacking:
            over = 8.0 * look.scale
            start = box.left() - over if self.told.lacking < 0 else box.right()
            hatch(painter, QRectF(start, box.top(), over, box.height()), look, "no")
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.colour("ink"))
        tip = QPointF(x, box.top())
        painter.drawPolygon(QPolygonF([tip + QPointF(-4, -6), tip + QPointF(4, -6), tip]))
