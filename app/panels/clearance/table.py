"""Rows of mark, name, figure; a click chooses what the row is about."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from app.selection import Selection
from app.widgets.telling import BEFORE
from core.document.base import Ref
from core.engine.finding import WORDS, Verdict

HEIGHT = 24.0


class Row(NamedTuple):
    """One row: verdict, what it is, the figure, and what it is about."""

    verdict: Verdict
    name: str
    figure: str
    refs: tuple[Ref, ...]


class RowButton(QAbstractButton):
    """A row that can be clicked."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(parent)
        self._look = look
        self.row = Row("unknown", "", "", ())
        self.behind = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self._refit)

    def tell(self, row: Row, *, behind: bool) -> None:
        """Show another row; one that is the same touches nothing."""
        if (row, behind) != (self.row, self.behind):
            self.row, self.behind = row, behind
            word = BEFORE if behind else WORDS[row.verdict]
            self.setAccessibleName(f"{row.name}: {row.figure}, {word}")
            self.setToolTip(row.name)
            self.update()

    def sizeHint(self) -> QSize:
        """One line high."""
        return QSize(self._look.px(200), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw mark, name and figure."""
        painter = QPainter(self)
        look, scale = self._look, self._look.scale
        if self.underMouse():
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        middle, mark = self.height() / 2, (MARK - 2) * scale
        painter.setOpacity(0.45 if self.behind else 1.0)
        verdict: Verdict = "unknown" if self.behind else self.row.verdict
        paint_verdict(painter, look, verdict, QRectF(1, middle - mark / 2, mark, mark))
        painter.setOpacity(1.0)
        self._paint_words(painter, mark + 8 * scale, middle)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_words(self, painter: QPainter, left: float, middle: float) -> None:
        strong = QFontMetricsF(self._look.font("field_strong"))
        table = QFontMetricsF(self._look.font("table"))
        room = strong.horizontalAdvance(self.row.figure)
        painter.setPen(self._look.colour("ink3" if self.behind else "ink"))
        painter.setFont(self._look.font("field_strong"))
        base = middle + (strong.ascent() - strong.descent()) / 2
        painter.drawText(QPointF(self.width() - room, base), self.row.figure)
        painter.setFont(self._look.font("table"))
        wide = self.width() - room - left - 8
        name = table.elidedText(self.row.name, Qt.TextElideMode.ElideRight, max(wide, 0.0))
        painter.drawText(QPointF(left, base), name)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


class RowList(QWidget):
    """Rows made once; a change of figures draws them anew and makes none."""

    def __init__(self, look: Look, selection: Selection, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look, self._selection = look, selection
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.rows: list[RowButton] = []

    def tell(self, rows: list[Row], *, behind: bool = False) -> None:
        """Show these rows."""
        while len(self.rows) < len(rows):
            made = RowButton(self._look)
            made.clicked.connect(lambda _=False, row=made: self._selection.choose(*row.row.refs))
            self.rows.append(made)
            self._column.addWidget(made)
        for at, button in enumerate(self.rows):
            button.setVisible(at < len(rows))
            if at < len(rows):
                button.tell(rows[at], behind=behind)

    @property
    def shown(self) -> list[Row]:
        """The rows that are shown."""
        return [button.row for button in self.rows if button.isVisibleTo(self)]
