"""A table of words and figures: names at the left, figures under their heads at the right."""

from typing import NamedTuple

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look
from app.widgets.telling import BEFORE

HEIGHT = 21.0
GAP = 12.0


class Table(NamedTuple):
    """What a table says.

    Attributes:
        head: one word over each column; the first is over the names.
        rows: as many cells each.
        strong: the column in heavier figures; none below zero.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    strong: int = -1


class FigureTable(QWidget):
    """Painted at once; a change of figures draws it anew."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty table."""
        super().__init__(parent)
        self._look = look
        self.table = Table((), ())
        self.behind = False
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def tell(self, table: Table, *, behind: bool = False) -> None:
        """Show another table, or the same one greyed."""
        if (table, behind) != (self.table, self.behind):
            self.table, self.behind = table, behind
            rows = "; ".join(", ".join(row) for row in table.rows)
            self.setAccessibleName(f"{BEFORE}: {rows}" if behind else rows)
            self._refit()

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """As high as its rows at the width it has."""
        return QSize(self._look.px(120), self.heightForWidth(max(self.width(), 1)))

    def minimumSizeHint(self) -> QSize:
        """The same height."""
        return self.sizeHint()

    def heightForWidth(self, width: int) -> int:
        """As high as its rows; names that are too long stand above their figures."""
        lines = len(self.table.rows) * (2 if self._is_narrow(width) else 1)
        return self._look.px(HEIGHT) * (lines + bool(self.table.head))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height that goes with the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def _is_narrow(self, width: int) -> bool:
        """Whether some name has no room beside its figures."""
        metrics = QFontMetricsF(self._look.font("table"))
        longest = max((metrics.horizontalAdvance(row[0]) for row in self.table.rows), default=0.0)
        return longest > self._rights(width)[0]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the heads, a line under them, and the rows."""
        del event
        painter = QPainter(self)
        look, high = self._look, self._look.px(HEIGHT)
        rights, is_narrow = self._rights(self.width()), self._is_narrow(self.width())
        painter.setFont(look.font("small"))
        painter.setPen(look.colour("ink2"))
        self._paint_cells(painter, self.table.head, rights, 0, "small")
        painter.setPen(QPen(look.colour("rule"), 1))
        painter.drawLine(0, high - 1, self.width(), high - 1)
        painter.setPen(look.colour("ink3" if self.behind else "ink"))
        top = high
        for row in self.table.rows:
            if is_narrow:
                self._paint_cells(painter, row[:1], [float(self.width())], top, "table")
                row, top = ("", *row[1:]), top + high  # noqa: PLW2901 - the figures are left
            self._paint_cells(painter, row, rights, top, "table")
            top += high
        painter.end()

    def _rights(self, width: int) -> list[float]:
        """Right ends of the columns but the first, each as wide as its widest cell."""
        fonts = {
            "small": QFontMetricsF(self._look.font("small")),
            "field_strong": QFontMetricsF(self._look.font("field_strong")),
        }
        ends: list[float] = []
        right = float(width)
        for column in range(len(self.table.head) - 1, 0, -1):
            ends.insert(0, right)
            cells = (row[column] for row in self.table.rows)
            wide = max(
                (fonts["field_strong"].horizontalAdvance(cell) for cell in cells), default=0.0
            )
            head = fonts["small"].horizontalAdvance(self.table.head[column])
            right -= max(wide, head) + self._look.px(GAP)
        return [right, *ends]

    def _paint_cells(
        self,
        painter: QPainter,
        cells: tuple[str, ...],
        rights: list[float],
        top: int,
        role: str,
    ) -> None:
        middle = Qt.AlignmentFlag.AlignVCenter
        high = self._look.px(HEIGHT)
        for column, (cell, right) in enumerate(zip(cells, rights, strict=False)):
            is_strong = role == "table" and column == self.table.strong
            font = self._look.font(
                "field_strong" if is_strong else "small" if role == "small" else "table"
            )
            painter.setFont(font)
            if column:
                box = QRectF(0, top, right, high)
                painter.drawText(box, middle | Qt.AlignmentFlag.AlignRight, cell)
                continue
            words = QFontMetricsF(font).elidedText(cell, Qt.TextElideMode.ElideRight, right)
            painter.drawText(QRectF(0, top, right, high), middle, words)
