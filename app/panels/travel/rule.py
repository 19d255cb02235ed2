"""A steel rule with a scriber as cursor; hatched where nothing is known."""

from math import ceil, floor

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.panels.travel.measures import MM, Measure, Span
from app.widgets.gauge import hatch, round_step
from core.quantities import number

HEIGHT = 28.0
NOTES = 15.0
"""Room for what is written under a rule."""
SIDE = 8.0
NUMERAL = 42.0
"""Room that a numeral wants on the rule."""


class SteelRule(QWidget):
    """A range that can be gone through: drag anywhere, wheel and arrows for fine, Home for 0."""

    moved = Signal(float)

    def __init__(
        self, look: Look, name: str, measure: Measure = MM, parent: QWidget | None = None
    ) -> None:
        """Make a rule on which nothing is known yet."""
        super().__init__(parent)
        self._look, self._name, self._measure = look, name, measure
        self.span: Span | None = None
        self.value = 0.0
        self.has_notes = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._describe()
        look.changed.connect(self._refit)

    @property
    def most(self) -> float | None:
        """How far it goes up, or that nothing is known."""
        return None if self.span is None else self.span.most

    def know(self, span: Span | None) -> None:
        """Say how far it goes, or that nothing is known."""
        if span != self.span:
            self.span = span
            focus = Qt.FocusPolicy.NoFocus if span is None else Qt.FocusPolicy.StrongFocus
            self.setFocusPolicy(focus)
            cursor = Qt.CursorShape.ArrowCursor if span is None else Qt.CursorShape.SizeHorCursor
            self.setCursor(cursor)
            self._describe()
            self.update()

    def stand_at(self, value: float) -> None:
        """Put the scriber somewhere, without telling."""
        if value != self.value:
            self.value = value
            self._describe()
            self.update()

    def held(self, value: float) -> float:
        """A value as far as the rule goes."""
        span = self.span or Span(0.0, 0.0)
        return min(max(value, span.least), span.most)

    def _describe(self) -> None:
        unit = self._measure.unit
        words = "don't know" if self.span is None else f"{number(self.value, 1)} {unit}"
        self.setAccessibleName(f"{self._name}: {words}")
        span = self.span
        ends = "" if span is None else f"from {number(span.least, 1)} to {number(span.most, 1)}"
        self.setAccessibleDescription(" ".join(w for w in (ends, *_notes(span)) if w))

    def sizeHint(self) -> QSize:
        """As high as a rule with its numerals."""
        return QSize(self._look.px(220), self._look.px(self._high()))

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for a small window at a large scale."""
        return QSize(self._look.px(80), self._look.px(self._high()))

    def _high(self) -> float:
        return HEIGHT + (NOTES if self.has_notes else 0.0)

    # --- moving it ---------------------------------------------------------------------------

    def _x(self, value: float) -> float:
        side, span = SIDE * self._look.scale, self.span or Span(0.0, 1.0)
        share = (value - span.least) / ((span.most - span.least) or 1.0)
        return side + share * (self.width() - 2 * side)

    def _value_at(self, x: float) -> float:
        side, span = SIDE * self._look.scale, self.span or Span(0.0, 0.0)
        share = (x - side) / max(self.width() - 2 * side, 1.0)
        value = span.least + min(max(share, 0.0), 1.0) * (span.most - span.least)
        return round(round(value / self._measure.fine) * self._measure.fine, 6)

    def _go(self, value: float) -> None:
        if self.span is None:
            return
        held = self.held(round(value, 6))
        if held != self.value:
            self.stand_at(held)
            self.moved.emit(held)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Bring the scriber to the pointer."""
        if event.button() == Qt.MouseButton.LeftButton and self.span is not None:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._go(self._value_at(event.position().x()))
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the scriber."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go(self._value_at(event.position().x()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Move it by a fine step."""
        if self.span is not None:
            turns = event.angleDelta().y() / 120.0
            self._go(self.value + turns * self._step(event.modifiers()))
            event.accept()

    def _step(self, keys: Qt.KeyboardModifier) -> float:
        is_coarse = bool(keys & Qt.KeyboardModifier.ShiftModifier)
        return self._measure.coarse if is_coarse else self._measure.fine

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move it, Home returns, End goes all the way."""
        step = self._step(event.modifiers())
        to = {
            Qt.Key.Key_Left: self.value - step,
            Qt.Key.Key_Right: self.value + step,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: self.most or 0.0,
        }.get(Qt.Key(event.key()))
        if to is None:
            super().keyPressEvent(event)
        else:
            self._go(to)

    # --- drawing it --------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rule."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        notes = NOTES * self._look.scale if self.has_notes else 0.0
        box = QRectF(self.rect()).adjusted(1, 8.0 * self._look.scale, -1, -2 - notes)
        if self.span is None:
            self._paint_unknown(painter, box)
        else:
            self._paint_rule(painter, box, self.span)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_unknown(self, painter: QPainter, box: QRectF) -> None:
        hatch(painter, box, self._look, "rule")
        pen = QPen(self._look.colour("edge"), 1)
        pen.setDashPattern([4.0, 3.0])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)

    def _paint_rule(self, painter: QPainter, box: QRectF, span: Span) -> None:
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.setBrush(self._look.colour("card"))
        painter.drawRect(box)
        self._paint_graduation(painter, box, span)
        painter.setPen(QPen(self._look.colour("ink"), 2.5))
        for post in span.posts:
            x = self._x(post)
            painter.drawLine(QPointF(x, box.top() - 3), QPointF(x, box.bottom() + 3))
        if self.has_notes:
            self._paint_notes(painter, box, span)
        self._paint_scriber(painter, box)

    def _paint_graduation(self, painter: QPainter, box: QRectF, span: Span) -> None:
        font = self._look.font("rule")
        painter.setFont(font)
        painter.setPen(QPen(self._look.colour("ink2"), 1))
        metrics = QFontMetricsF(font)
        room = NUMERAL * self._look.scale / max(self.width(), 1)
        step = round_step(max((span.most - span.least) * room, 1e-6))
        first, last = (end / step * 5 for end in (span.least, span.most))
        fifths = range(ceil(first - 1e-9), floor(last + 1e-9) + 1)
        for index in fifths:
            x, is_long = self._x(index * step / 5), index % 5 == 0
            high = (0.4 if is_long else 0.2) * box.height()
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.top() + high))
            if is_long:
                words = number(index * step / 5, 0 if step >= 1.0 else 1)
                wide = metrics.horizontalAdvance(words)
                if any(abs(self._x(post) - x) < wide / 2 + 3 for post in span.posts):
                    continue  # the post says it
                left = max(min(x - wide / 2, box.right() - wide - 2), box.left() + 2)
                painter.drawText(QPointF(left, box.bottom() - 2), words)

    def _paint_notes(self, painter: QPainter, box: QRectF, span: Span) -> None:
        """Write the stops under both ends, and where the design is if there is room between."""
        metrics = QFontMetricsF(self._look.font("small"))
        painter.setFont(self._look.font("small"))
        painter.setPen(self._look.colour("ink2"))
        y, room = box.bottom() + metrics.ascent() + 2, box.width() / 2 - 6
        left, right = (_cut(metrics, note, room) for note in span.notes)
        painter.drawText(QPointF(box.left(), y), left)
        from_right = box.right() - metrics.horizontalAdvance(right)
        painter.drawText(QPointF(from_right, y), right)
        wide = metrics.horizontalAdvance(DESIGN_NOTE)
        middle = self._x(0.0) - wide / 2
        if box.left() + metrics.horizontalAdvance(left) + 8 < middle < from_right - wide - 8:
            painter.drawText(QPointF(middle, y), DESIGN_NOTE)

    def _paint_scriber(self, painter: QPainter, box: QRectF) -> None:
        x, tip = self._x(self.value), box.top() + 2
        painter.setPen(QPen(self._look.colour("sel"), 2))
        painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.colour("sel"))
        painter.drawPolygon(
            QPolygonF([QPointF(x - 5.5, tip - 9), QPointF(x + 5.5, tip - 9), QPointF(x, tip)])
        )

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


DESIGN_NOTE = "design"


def _notes(span: Span | None) -> tuple[str, ...]:
    return () if span is None else span.notes


def _cut(metrics: QFontMetricsF, words: str, room: float) -> str:
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
