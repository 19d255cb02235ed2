"""A steel rule with a scriber as cursor; hatched where nothing is known."""

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
from app.widgets.gauge import hatch, round_step
from core.quantities import number

HEIGHT = 30.0
SIDE = 8.0
NUMERAL = 42.0
"""Room that a numeral wants on the rule."""
FINE, COARSE = 1.0, 10.0
"""Steps of the wheel and the arrow keys, mm; with Shift the coarse one."""


class SteelRule(QWidget):
    """A range that can be gone through: drag anywhere, wheel and arrows for fine, Home for 0."""

    moved = Signal(float)

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        """Make a rule on which nothing is known yet."""
        super().__init__(parent)
        self._look = look
        self._name = name
        self.most: float | None = None
        self.value = 0.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._describe()
        look.changed.connect(self._refit)

    def know(self, most: float | None) -> None:
        """Say how far it goes from 0, or that nothing is known."""
        if most != self.most:
            self.most = most
            focus = Qt.FocusPolicy.NoFocus if most is None else Qt.FocusPolicy.StrongFocus
            self.setFocusPolicy(focus)
            cursor = Qt.CursorShape.ArrowCursor if most is None else Qt.CursorShape.SizeHorCursor
            self.setCursor(cursor)
            self._describe()
            self.update()

    def stand_at(self, value: float) -> None:
        """Put the scriber somewhere, without telling."""
        if value != self.value:
            self.value = value
            self._describe()
            self.update()

    def _describe(self) -> None:
        words = "don't know" if self.most is None else f"{number(self.value, 1)} mm"
        self.setAccessibleName(f"{self._name}: {words}")

    def sizeHint(self) -> QSize:
        """As high as a rule with its numerals."""
        return QSize(self._look.px(220), self._look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        """Narrow enough for a small window at a large scale."""
        return QSize(self._look.px(80), self._look.px(HEIGHT))

    def _x(self, value: float) -> float:
        side = SIDE * self._look.scale
        return side + value / (self.most or 1.0) * (self.width() - 2 * side)

    def _value_at(self, x: float) -> float:
        side = SIDE * self._look.scale
        share = (x - side) / max(self.width() - 2 * side, 1.0)
        return float(round(min(max(share, 0.0), 1.0) * (self.most or 0.0)))

    def _go(self, value: float) -> None:
        if self.most is None:
            return
        held = min(max(value, 0.0), self.most)
        if held != self.value:
            self.stand_at(held)
            self.moved.emit(held)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Bring the scriber to the pointer."""
        if event.button() == Qt.MouseButton.LeftButton and self.most is not None:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._go(self._value_at(event.position().x()))
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the scriber."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go(self._value_at(event.position().x()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Move it by a fine step."""
        if self.most is not None:
            turns = event.angleDelta().y() / 120.0
            coarse = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            self._go(self.value + turns * (COARSE if coarse else FINE))
            event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move it, Home returns, End goes all the way."""
        step = COARSE if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else FINE
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

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the rule."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1, 8.0 * self._look.scale, -1, -2)
        if self.most is None:
            self._paint_unknown(painter, box)
        else:
            self._paint_rule(painter, box, self.most)
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

    def _paint_rule(self, painter: QPainter, box: QRectF, most: float) -> None:
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.setBrush(self._look.colour("card"))
        painter.drawRect(box)
        font = self._look.font("rule")
        painter.setFont(font)
        metrics = QFontMetricsF(font)
        step = round_step(most * NUMERAL * self._look.scale / max(self.width(), 1))
        painter.setPen(QPen(self._look.colour("ink2"), 1))
        for index in range(int(most / step * 5) + 1):
            x, is_long = self._x(index * step / 5), index % 5 == 0
            high = (0.4 if is_long else 0.2) * box.height()
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.top() + high))
            if is_long:
                words = number(index * step / 5, 0)
                wide = metrics.horizontalAdvance(words)
                left = min(x - wide / 2, box.right() - wide - 2)
                painter.drawText(QPointF(left, box.bottom() - 2), words)
        self._paint_scriber(painter, box)

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
