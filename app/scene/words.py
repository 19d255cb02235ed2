"""Words that switch: which view is in front, and what is shown, seen through or hidden."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from app.scene.groups import NEXT, Group, Shown

PAD = 10.0


class Word(QAbstractButton):
    """A word that can be clicked; the one in use has a heavy line under it."""

    def __init__(self, look: Look, words: str, parent: QWidget | None = None) -> None:
        """Show a word."""
        super().__init__(parent)
        self._look = look
        self.setText(words)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        look.changed.connect(self._refit)

    def sizeHint(self) -> QSize:
        """Room for the word and a line under it."""
        metrics = QFontMetricsF(self._look.font("body"))
        wide = metrics.horizontalAdvance(self.text()) + 2 * PAD * self._look.scale
        return QSize(round(wide), self._look.px(30))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the word and what its state is."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        is_lit = self.underMouse() or self.isChecked()
        painter.setPen(self._look.colour("ink" if is_lit else "ink2"))
        painter.setFont(self._look.font("body"))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
        self._paint_state(painter)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2.0))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_state(self, painter: QPainter) -> None:
        if self.isChecked():
            y = self.height() - 2.0
            painter.setPen(QPen(self._look.colour("sel"), 2.0))
            painter.drawLine(QPointF(4, y), QPointF(self.width() - 4, y))

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


class GroupWord(Word):
    """A word for a group of things: plain when shown, dotted when seen through, else struck out.

    Left and right click cycle, one either way.
    """

    turned = Signal(str, str)

    def __init__(self, look: Look, group: Group, how: Shown, parent: QWidget | None = None) -> None:
        """Show how a group is shown."""
        super().__init__(look, group, parent)
        self._group: Group = group
        self._how: Shown = how
        self.setCheckable(False)
        self.clicked.connect(self.turn)
        self.show_as(how)

    def show_as(self, how: Shown) -> None:
        """Say how the group is shown."""
        self._how = how
        self.setAccessibleName(f"{self._group}: {how}")
        self.setToolTip(f"{self._group}: {how}")
        self.update()

    def turn(self) -> None:
        """Go on to the next way of showing it."""
        self.show_as(NEXT[self._how])
        self.turned.emit(self._group, self._how)

    def mousePressEvent(self, e: QMouseEvent) -> None:
        """Turn back at a right click."""
        if e.button() == Qt.MouseButton.RightButton:
            self.show_as(NEXT[NEXT[self._how]])
            self.turned.emit(self._group, self._how)
        else:
            super().mousePressEvent(e)

    def keyPressEvent(self, e: QKeyEvent) -> None:
        """Turn at Enter as at the space bar."""
        if e.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.turn()
        else:
            super().keyPressEvent(e)

    def _paint_state(self, painter: QPainter) -> None:
        metrics = QFontMetricsF(self._look.font("body"))
        half = metrics.horizontalAdvance(self.text()) / 2
        middle = self.rect().center()
        if self._how == "see-through":
            pen = QPen(self._look.colour("ink"), 1.6)
            pen.setDashPattern([1.2, 2.0])
            y = middle.y() + metrics.ascent() / 2 + 4
        elif self._how == "hidden":
            pen = QPen(self._look.colour("ink2"), 1.4)
            y = middle.y() + 1.5
        else:
            return
        painter.setPen(pen)
        painter.drawLine(QPointF(middle.x() - half, y), QPointF(middle.x() + half, y))
