"""One question of the frame on a line: mark, question, how many places."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from app.look.tokens import ColourName
from app.panels.load_paths.asked import Answer
from core.engine.finding import WORDS

HEIGHT = 40.0


class AnswerLine(QAbstractButton):
    """A question and its answer; a click goes to the worst place."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make a line without words yet."""
        super().__init__(parent)
        self._look = look
        self.answer = Answer("", "", "unknown", "", behind=False, worst=None)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def tell(self, answer: Answer) -> None:
        """Show an answer; the same one touches nothing."""
        if answer == self.answer:
            return
        self.answer = answer
        self.setAccessibleName(f"{answer.asks} {WORDS[answer.verdict]}, {answer.words}")
        can_go = answer.worst is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if can_go else Qt.CursorShape.ArrowCursor)
        self.update()

    def sizeHint(self) -> QSize:
        """Two lines: the question and the answer."""
        return QSize(self._look.px(240), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line."""
        painter = QPainter(self)
        look, scale = self._look, self._look.scale
        if self.underMouse() and self.answer.worst is not None:
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        mark = (MARK - 1) * scale
        painter.setOpacity(0.45 if self.answer.behind else 1.0)
        paint_verdict(painter, look, self.answer.verdict, QRectF(1, 4 * scale, mark, mark))
        painter.setOpacity(1.0)
        left = mark + 9 * scale
        self._paint_line(painter, left, 4 * scale, "table", self.answer.asks)
        self._paint_line(painter, left, 21 * scale, "small", self.answer.words)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_line(
        self, painter: QPainter, left: float, top: float, role: str, words: str
    ) -> None:
        font = self._look.font("table" if role == "table" else "small")
        metrics = QFontMetricsF(font)
        ink: ColourName = "ink" if role == "table" else "ink2"
        painter.setFont(font)
        painter.setPen(self._look.colour("ink3" if self.answer.behind else ink))
        room = max(self.width() - left, 0.0)
        shown = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
        painter.drawText(int(left), int(top + metrics.ascent()), shown)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()
