"""A figure standing on a scribed dimension line with two end ticks."""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.look.tokens import ColourName
from app.widgets.words_line import WordsLine, takes_first

DONT_KNOW = "don't know"
WIDTH = 88.0
HEIGHT = 26.0
_ARROWS = (Qt.Key.Key_Up, Qt.Key.Key_Down)


class FigureLine(WordsLine):
    """The figure itself, standing on its line with two end ticks."""

    nudged = Signal(float)
    """By how many steps an arrow key moves it."""
    entered = Signal()
    """The keyboard came."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty one."""
        self.unit = ""
        self.line: str = "rest"
        super().__init__(look, parent)
        self.textChanged.connect(self._fit)
        self.setFrame(False)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setProperty("role", "field_strong")

    def show_figure(self, text: str, unit: str) -> None:
        """Show a figure and its unit."""
        if (text, unit) != (self.text(), self.unit):
            self.unit = unit
            self.setText(text)
            self._fit()

    def dress(self) -> None:
        """Take the colours and sizes in force."""
        self.setStyleSheet("QLineEdit { background: transparent; border: none; padding: 0; }")
        self.setFixedSize(self.look.px(WIDTH), self.look.px(HEIGHT))
        self._fit()

    def _fit(self) -> None:
        """Leave room for the unit."""
        unit = QFontMetricsF(self.look.font("small")).horizontalAdvance(self.unit)
        has_unit = bool(self.unit) and not self._is_open
        right = int(unit) + self.look.px(6) if has_unit else self.look.px(2)
        self.setTextMargins(self.look.px(2), 0, right, self.look.px(4))
        self.update()

    @property
    def _is_open(self) -> bool:
        """Whether words stand in place of a figure."""
        return not self.text() and bool(self.placeholderText())

    def sizeHint(self) -> QSize:
        """Room for a length in mm with its sign."""
        return QSize(self.look.px(WIDTH), self.look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        """The same as its best size: a cut figure is no figure."""
        return self.sizeHint()

    def event(self, event: QEvent) -> bool:
        """Take the arrow keys before the window's shortcuts do."""
        return takes_first(event, _ARROWS) or super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows nudge."""
        if event.key() in _ARROWS:
            self.nudged.emit(_steps(event))
            event.accept()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Tell that the keyboard came."""
        super().focusInEvent(event)
        self.entered.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw ground, figure, unit and line."""
        painter = QPainter(self)
        if self.hasFocus():
            painter.fillRect(self.rect(), self.look.colour("card"))
        painter.end()
        super().paintEvent(event)
        painter = QPainter(self)
        self._paint_unit(painter)
        self._paint_line(painter)
        painter.end()

    def _paint_unit(self, painter: QPainter) -> None:
        painter.setPen(self.look.colour("ink2"))
        painter.setFont(self.look.font("small"))
        box = QRectF(self.rect()).adjusted(0, 0, -self.look.px(3), -self.look.px(4))
        if not self._is_open:
            flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(box, flags, self.unit)

    def _paint_line(self, painter: QPainter) -> None:
        scale = self.look.scale
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        colour = _LINE_COLOUR[self.line]
        if self.hasFocus():
            painter.setPen(QPen(self.look.colour("no" if self.line == "wrong" else "sel"), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        base = box.bottom() - 3 * scale
        for x in (box.left(), box.right()):
            painter.setPen(QPen(self.look.colour(colour), 1))
            painter.drawLine(int(x), int(base - 3 * scale), int(x), int(base + 3 * scale))
        pen = QPen(self.look.colour(colour), 2 if self.line == "wrong" else 1)
        if self.line in ("guessed", "unknown"):
            pen.setDashPattern([4, 3])
        painter.setPen(pen)
        painter.drawLine(int(box.left()), int(base), int(box.right()), int(base))
        if self.line == "held":
            lower = int(base + 2 * scale)
            painter.drawLine(int(box.left()), lower, int(box.right()), lower)


_LINE_COLOUR: dict[str, ColourName] = {
    "rest": "edge",
    "held": "ink2",
    "guessed": "guessed",
    "unknown": "unknown",
    "wrong": "no",
}


def _steps(event: QKeyEvent) -> float:
    steps = 1.0 if event.key() == Qt.Key.Key_Up else -1.0
    if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
        steps *= 10.0
    if event.modifiers() & Qt.KeyboardModifier.AltModifier:
        steps /= 10.0
    return steps
