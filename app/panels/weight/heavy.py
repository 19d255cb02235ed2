"""What weighs how much, the heaviest first: rows that can be clicked."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from core.quantities import number
from core.workshop.weight_page import Heavy

HEIGHT = 26.0
FIGURE = 62.0


class HeavyRow(QAbstractButton):
    """A thing, its weight, and a line as long as its part of the heaviest."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(parent)
        self._look = look
        self.heavy = Heavy(None, "", 0.0)
        self._most = 1.0
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self._refit)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def tell(self, heavy: Heavy, most: float) -> None:
        """Show a thing beside the heaviest, kg."""
        if (heavy, most) == (self.heavy, self._most):
            return
        self.heavy, self._most = heavy, most
        many = f", {heavy.count} of them" if heavy.ref is None else ""
        self.setText(f"{heavy.name.replace('_', ' ')}{many}")
        self.setAccessibleName(f"{self.text()}: {self.figure}")
        self.setToolTip(self.accessibleName())
        self.update()

    @property
    def figure(self) -> str:
        """Its weight as it is shown."""
        return f"{number(self.heavy.kg, 1)} kg"

    def nextCheckState(self) -> None:
        """What is chosen follows the selection, not the click."""

    def sizeHint(self) -> QSize:
        """One line high."""
        return QSize(self._look.px(120), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw name, figure and line."""
        del event
        painter = QPainter(self)
        look, px = self._look, self._look.px
        if self.isChecked():
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        foot = self.height() - px(4)
        name = QRectF(px(2), 0, self.width() - px(FIGURE), foot)
        font = look.font("table")
        painter.setFont(font)
        painter.setPen(look.colour("sel" if self.isChecked() or self.underMouse() else "ink"))
        middle, elide = Qt.AlignmentFlag.AlignVCenter, Qt.TextElideMode.ElideRight
        words = QFontMetricsF(font).elidedText(self.text(), elide, name.width())
        painter.drawText(name, middle, words)
        painter.setPen(look.colour("ink"))
        right = middle | Qt.AlignmentFlag.AlignRight
        painter.drawText(QRectF(0, 0, self.width() - 2, foot), right, self.figure)
        painter.setPen(QPen(look.colour("rule"), 1))
        painter.drawLine(px(2), foot + 1, self.width() - 2, foot + 1)
        inked = (self.width() - px(2) - 2) * min(self.heavy.kg / self._most, 1.0)
        painter.fillRect(QRectF(px(2), foot, inked, px(2)), look.colour("ink2"))
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()
