"""Rows of the fault tour: a fault to switch, and a place to look at."""

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.fonts import FontRole
from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from core.engine.finding import WORDS, Finding

WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignLeft)


class _Row(QAbstractButton):
    """A button of wrapped words with a sign before them and a second line below."""

    lead, margin, gap = 36, 6, 2  # pixels at scale 1: words begin, above and below, between lines

    def __init__(self, look: Look, words: str, second: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._second = second
        self.setText(words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    @property
    def second(self) -> str:
        """The second line."""
        return self._second

    def say_second(self, words: str) -> None:
        """Put another second line."""
        if words != self._second:
            self._second = words
            self._refit()

    def sizeHint(self) -> QSize:
        """As high as the words need at this width."""
        width = max(self.width(), self._look.px(220))
        return QSize(self._look.px(220), self._height(width))

    def minimumSizeHint(self) -> QSize:
        """The same."""
        return self.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the height to the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.setFixedHeight(self._height(self.width()))

    def _refit(self) -> None:
        self.setFixedHeight(self._height(self.width()))
        self.updateGeometry()
        self.update()

    def _height(self, width: int) -> int:
        px = self._look.px
        first = self._text_height(self.text(), "finding", width)
        second = self._text_height(self._second, "small", width) if self._second else 0
        return first + second + px(2 * self.margin + self.gap)

    def _text_height(self, words: str, role: FontRole, width: int) -> int:
        room = QRect(0, 0, max(40, width - self._look.px(self.lead + 8)), 10_000)
        return QFontMetrics(self._look.font(role)).boundingRect(room, WRAPPED, words).height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw sign, words and second line, framed when the keyboard is on it."""
        painter = QPainter(self)
        px, look = self._look.px, self._look
        self.paint_ground(painter)
        left, top, width = px(self.lead), px(self.margin), self.width() - px(self.lead + 8)
        first = self._text_height(self.text(), "finding", self.width())
        painter.setFont(look.font("finding"))
        painter.setPen(look.colour("sel" if self.isChecked() or self.underMouse() else "ink"))
        painter.drawText(QRect(left, top, width, first), WRAPPED, self.text())
        if self._second:
            painter.setFont(look.font("small"))
            painter.setPen(look.colour("ink2"))
            below = QRect(left, top + first + px(self.gap), width, 10_000)
            painter.drawText(below, WRAPPED, self._second)
        self.paint_sign(painter)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def paint_ground(self, painter: QPainter) -> None:
        """Draw what is behind the words."""

    def paint_sign(self, painter: QPainter) -> None:
        """Draw what stands before the words."""


class FaultRow(_Row):
    """A fault: a slide on a short bar, to the right and filled when it is on."""

    def __init__(self, look: Look, words: str, parent: QWidget | None = None) -> None:
        """Show a fault that is off."""
        super().__init__(look, words, "", parent)
        self.setCheckable(True)
        self.setAccessibleName(words)

    def paint_ground(self, painter: QPainter) -> None:
        """Frame the one that is on."""
        if self.isChecked():
            painter.setPen(QPen(self._look.colour("sel"), 1))
            painter.setBrush(self._look.colour("card"))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def paint_sign(self, painter: QPainter) -> None:
        """Draw bar and slide."""
        look, s = self._look, self._look.scale
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle = (self.margin + 9) * s
        painter.setPen(QPen(look.colour("edge"), 1.2 * s))
        painter.drawLine(QPointF(7 * s, middle), QPointF(29 * s, middle))
        at = 20.0 if self.isChecked() else 8.0
        painter.setPen(QPen(look.colour("sel" if self.isChecked() else "ink2"), 1.4 * s))
        painter.setBrush(look.colour("sel" if self.isChecked() else "panel"))
        painter.drawRect(QRectF(at * s, middle - 6 * s, 8 * s, 12 * s))


class FindingRow(_Row):
    """A finding that the fault has brought up; clicked, the view goes to its place."""

    lead = 36

    def __init__(self, look: Look, finding: Finding, parent: QWidget | None = None) -> None:
        """Show a finding with its verdict."""
        word = WORDS[finding.verdict]
        second = f"{word}  {finding.governing}" if finding.governing else word
        super().__init__(look, finding.sentence, second, parent)
        self.finding = finding
        self.setAccessibleName(f"{word}: {finding.sentence}")
        self.setToolTip("Go to its place.")

    def paint_sign(self, painter: QPainter) -> None:
        """Draw the verdict's mark."""
        size = MARK * self._look.scale
        box = QRectF(9 * self._look.scale, (self.margin + 1) * self._look.scale, size, size)
        paint_verdict(painter, self._look, self.finding.verdict, box)
