"""A line that stands for something folded: clicked, it opens below."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.icons import IconName, paint_icon
from app.look.look import Look


class FoldLine(QAbstractButton):
    """Words with a sign that says whether what they stand for is open; cut short to fit."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show it folded."""
        super().__init__(parent)
        self._look = look
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """One line high, as wide as there is room."""
        return QSize(self._look.px(80), self._look.px(26))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sign and the words."""
        del event
        painter = QPainter(self)
        px = self._look.px
        box = QRectF(self.rect())
        sign = QRectF(0, (box.height() - px(14)) / 2, px(14), px(14))
        name: IconName = "fold" if self.isChecked() else "open"
        paint_icon(painter, name, sign, self._look.colour("ink2"))
        font = self._look.font("table")
        painter.setFont(font)
        painter.setPen(self._look.colour("sel" if self.underMouse() else "ink"))
        room = box.adjusted(px(18), 0, -px(2), 0)
        words = QFontMetricsF(font).elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(room, flags, words)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()
