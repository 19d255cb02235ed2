"""A point to jig with care: its place in the order, its name, its part of what spreads."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from app.look.tokens import ColourName
from core.document.base import Ref

HEIGHT = 47.0
FIGURE = 40.0
BELOW = 8.0


class RankedPoint(QAbstractButton):
    """A row that can be clicked: the view goes to the point."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(parent)
        self._look = look
        self.ref: Ref | None = None
        self.rank, self.share, self.behind = 0, 0.0, False
        self.second = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self.updateGeometry)

    def tell(self, ref: Ref, rank: int, words: tuple[str, str], share: float) -> None:
        """Show a point: its name and second line, and its share of what spreads."""
        self.ref, self.rank, self.share = ref, rank, share
        self.setText(words[0])
        self.second = words[1]
        self.setAccessibleName(f"{rank}. {words[0]}, {words[1]}: {self._figure()}")
        self.update()

    def grey(self, *, behind: bool) -> None:
        """Show whether it is of before the last change."""
        self.behind = behind
        self.update()

    def _figure(self) -> str:
        return f"{round(100 * self.share)} %"

    def sizeHint(self) -> QSize:
        """Two lines high."""
        return QSize(self._look.px(120), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw number, words, bar and figure."""
        del event
        painter = QPainter(self)
        look, px = self._look, self._look.px
        if self.underMouse():
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        ink = look.colour("ink3" if self.behind else "ink")
        half = (self.height() - px(BELOW)) / 2
        painter.setFont(look.font("head"))
        painter.setPen(ink)
        number = QRectF(px(2), 0, px(14), half)
        painter.drawText(number, Qt.AlignmentFlag.AlignVCenter, str(self.rank))
        room = QRectF(px(20), 0, self.width() - px(20 + FIGURE), half)
        self._paint_words(painter, room)
        self._paint_share(painter, half)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_words(self, painter: QPainter, room: QRectF) -> None:
        look = self._look
        middle = Qt.AlignmentFlag.AlignVCenter
        elide = Qt.TextElideMode.ElideRight
        painter.setFont(look.font("table"))
        first = QFontMetricsF(look.font("table")).elidedText(self.text(), elide, room.width())
        painter.drawText(room, middle, first)
        painter.setFont(look.font("small"))
        painter.setPen(look.colour("ink2"))
        below = QRectF(
            room.left(), room.bottom() - 1, self.width() - room.left() - 4, room.height()
        )
        words = QFontMetricsF(look.font("small")).elidedText(self.second, elide, below.width())
        painter.drawText(below, middle, words)

    def _paint_share(self, painter: QPainter, half: float) -> None:
        """The figure at the right, and a scribed line below of which so much is inked."""
        look, px = self._look, self._look.px
        left, foot = px(20), self.height() - px(5)
        painter.setPen(QPen(look.colour("rule"), 1))
        painter.drawLine(left, foot, self.width() - 2, foot)
        inked = (self.width() - 2 - left) * min(self.share, 1.0)
        name: ColourName = "ink3" if self.behind else "ink2"
        painter.fillRect(QRectF(left, foot - px(1), inked, px(3)), look.colour(name))
        painter.setFont(look.font("field_strong"))
        painter.setPen(look.colour("ink3" if self.behind else "ink"))
        figure = QRectF(0, 0, self.width() - 2, half)
        right = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(figure, right, self._figure())
