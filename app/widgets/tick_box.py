"""A square that is ticked or not; one that cannot be ticked says why."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look

SIDE = 13.0
GAP = 7.0


class TickBox(QAbstractButton):
    """Words, or none, behind a square; Space ticks it."""

    def __init__(self, look: Look, words: str = "", parent: QWidget | None = None) -> None:
        """Show it empty."""
        super().__init__(parent)
        self._look = look
        self.setText(words)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        wide = QSizePolicy.Policy.Expanding if words else QSizePolicy.Policy.Fixed
        self.setSizePolicy(wide, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """A square with room round it, and the words."""
        width = self._look.px(SIDE + 9)
        if self.text():
            metrics = QFontMetricsF(self._look.font("table"))
            width += int(metrics.horizontalAdvance(self.text())) + self._look.px(GAP)
        return QSize(width, self._look.px(SIDE + 11))

    def minimumSizeHint(self) -> QSize:
        """The square; words are cut short."""
        return QSize(self._look.px(SIDE + 9), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw square, tick, words, and a frame when the keyboard is on it."""
        del event
        painter = QPainter(self)
        look, side = self._look, self._look.scale * SIDE
        box = QRectF(4.5, (self.height() - side) / 2, side, side)
        self._paint_square(painter, box)
        if self.text():
            left = box.right() + look.px(GAP)
            room = QRectF(left, 0, self.width() - left - 2, self.height())
            painter.setFont(look.font("table"))
            painter.setPen(look.colour("ink" if self.isEnabled() else "ink2"))
            words = QFontMetricsF(look.font("table")).elidedText(
                self.text(), Qt.TextElideMode.ElideRight, room.width()
            )
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_square(self, painter: QPainter, box: QRectF) -> None:
        look = self._look
        edge = QPen(look.colour("ink" if self.underMouse() and self.isEnabled() else "edge"), 1)
        if not self.isEnabled():
            edge.setDashPattern([2.0, 2.0])
        painter.setPen(edge)
        painter.setBrush(look.colour("card") if self.isEnabled() else Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        if self.isChecked():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(look.colour("sel"), 2.0 * look.scale))
            painter.drawPolyline(
                [
                    QPointF(box.left() + 0.2 * box.width(), box.top() + 0.52 * box.height()),
                    QPointF(box.left() + 0.43 * box.width(), box.top() + 0.76 * box.height()),
                    QPointF(box.left() + 0.82 * box.width(), box.top() + 0.24 * box.height()),
                ]
            )
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
