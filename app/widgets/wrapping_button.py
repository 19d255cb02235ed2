"""A plain button whose words wrap, for sentences in a narrow panel."""

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QEnterEvent, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look

SIDE, ABOVE = 12, 7
_FLAGS = Qt.TextFlag.TextWordWrap.value | Qt.AlignmentFlag.AlignVCenter.value


class WrappingButton(QAbstractButton):
    """Outlined; as high as its words want at the width it has."""

    def __init__(self, look: Look, words: str = "", parent: QWidget | None = None) -> None:
        """Show words."""
        super().__init__(parent)
        self._look = look
        self.setText(words)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        look.changed.connect(self.updateGeometry)

    def say(self, words: str) -> None:
        """Show other words."""
        if words != self.text():
            self.setText(words)
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        """On one line."""
        metrics = QFontMetrics(self._look.font("body"))
        side, above = self._look.px(SIDE), self._look.px(ABOVE)
        wide = metrics.horizontalAdvance(self.text()) + 2 * side + 2
        return QSize(wide, metrics.height() + 2 * above)

    def minimumSizeHint(self) -> QSize:
        """Half a panel: below that words would be cut."""
        return QSize(min(self._look.px(120), self.sizeHint().width()), self.sizeHint().height())

    def hasHeightForWidth(self) -> bool:
        """Whether a narrow panel makes it higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Room for all words."""
        metrics = QFontMetrics(self._look.font("body"))
        box = QRect(0, 0, width - 2 * self._look.px(SIDE), 10_000)
        words = metrics.boundingRect(box, _FLAGS, self.text())
        return words.height() + 2 * self._look.px(ABOVE)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show that it can be pressed."""
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        """Show it at rest again."""
        super().leaveEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw outline and words."""
        painter = QPainter(self)
        look = self._look
        painter.fillRect(self.rect(), look.colour("well" if self.isDown() else "card"))
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        else:
            painter.setPen(QPen(look.colour("ink" if self.underMouse() else "edge"), 1))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.setFont(look.font("body"))
        painter.setPen(look.colour("ink"))
        side = look.px(SIDE)
        painter.drawText(self.rect().adjusted(side, 0, -side, 0), _FLAGS, self.text())
        painter.end()
