"""One thing that may be off, by a board: what, by how much, what to do. A click shows the point."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.fonts import FontRole
from app.look.look import Look
from app.look.tokens import ColourName
from app.panels.adjusters.words import SuspectWords
from core.document.base import Ref

LINE, BELOW = 21.0, 17.0
SHOW = "show"


class Suspected(NamedTuple):
    """What a row says: the point, its words, and whether it is of those not told apart."""

    ref: Ref
    words: SuspectWords
    is_alike: bool


class SuspectRow(QAbstractButton):
    """A row that is painted at once; those not told apart share a heavy line at the left."""

    def __init__(self, look: Look, told: Suspected, parent: QWidget | None = None) -> None:
        """Show a suspect."""
        super().__init__(parent)
        self._look = look
        self.told = told
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._name()
        look.changed.connect(self._refit)

    def tell(self, told: Suspected) -> None:
        """Show another suspect; the same touches nothing."""
        if told != self.told:
            self.told = told
            self._name()
            self.update()

    def _name(self) -> None:
        group = "one of those not told apart" if self.told.is_alike else "less likely"
        words = ", ".join(self.told.words)
        self.setAccessibleName(f"{words}; {group}; show the point")
        self.setToolTip(f"{words}. Click to show the point.")

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Two lines."""
        return QSize(self._look.px(120), self._look.px(LINE + BELOW + 3.0))

    def minimumSizeHint(self) -> QSize:
        """The same height."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the heavy line of those not told apart, and both lines of words."""
        del event
        painter, look, px = QPainter(self), self._look, self._look.px
        if self.underMouse():
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        if self.told.is_alike:
            painter.fillRect(QRectF(px(2), 0, px(3), self.height()), look.colour("ink"))
        ink: ColourName = "ink" if self.told.is_alike else "ink2"
        high, below = float(px(LINE)), float(px(BELOW))
        name, off, mend = self.told.words
        taken = self._write(painter, off, QRectF(0, 0, 0, high), "field_strong", ink, at_end=True)
        self._write(painter, name, QRectF(0, 0, taken, high), "table", ink)
        foot = QRectF(0, high, 0, below)
        taken = self._write(painter, SHOW, foot, "small", "sel", at_end=True)
        self._write(painter, mend, QRectF(0, high, taken, below), "small", "ink2")
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _write(
        self,
        painter: QPainter,
        words: str,
        line: QRectF,
        role: FontRole,
        ink: ColourName,
        *,
        at_end: bool = False,
    ) -> float:
        """Write words at the end of a line, or before what stands there; the width they take."""
        font, px = self._look.font(role), self._look.px
        metrics = QFontMetricsF(font)
        painter.setFont(font)
        painter.setPen(self._look.colour(ink))
        room = self.width() - px(12) - px(4) - (line.width() + px(8) if not at_end else 0)
        words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, max(room, 0.0))
        wide = metrics.horizontalAdvance(words)
        left = self.width() - px(4) - wide if at_end else float(px(12))
        base = line.top() + (line.height() + metrics.ascent() - metrics.descent()) / 2
        painter.drawText(QPointF(left, base), words)
        return wide
