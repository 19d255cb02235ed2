"""The chain of one side as a table: what it is, its length, the total so far, where it is from."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.look.look import Look
from app.look.style import label
from app.look.tags import SourceTag
from app.panels.width.figures import ChainRow, WheelSide
from app.widgets.rows import say

NARROW = 320.0
"""Below this, at scale 1, a tag has no room behind the figures."""


class ChainTable(QWidget):
    """Rows are made once; a change of figures changes words only."""

    def __init__(self, look: Look, side: WheelSide, parent: QWidget | None = None) -> None:
        """Make the table of one side, without rows yet."""
        super().__init__(parent)
        self._look = look
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.px(8))
        self._grid.setVerticalSpacing(look.px(5))
        self._grid.setColumnStretch(0, 1)
        heads = (label(side, "head", side), label("length", "small", "ink2"),
                 label("total", "small", "ink2"))  # fmt: skip
        for column, head in enumerate(heads):
            head.setWordWrap(False)
            if column:
                head.setAlignment(Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(head, 0, column)
        self._is_narrow = True
        self._rows: list[tuple[QLabel, QLabel, QLabel, SourceTag]] = []
        self.told: list[ChainRow] = []

    def tell(self, rows: list[ChainRow]) -> None:
        """Show the rows."""
        while len(self._rows) < len(rows):
            self._add()
        for at, widgets in enumerate(self._rows):
            row = rows[at] if at < len(rows) else None
            for widget in widgets:
                widget.setVisible(row is not None)
            if row is not None:
                self._fill(widgets, row, is_last=at == len(rows) - 1)
        self.told = rows
        self.update()

    def _add(self) -> None:
        at = len(self._rows) + 1
        row = (label("", "table"), label("", "table"), label("", "field_strong"),
               SourceTag(self._look))  # fmt: skip
        for column, widget in enumerate(row[:3]):
            self._grid.addWidget(widget, 2 * at, column)
        self._place_tag(at, row[3])
        for figure in row[1:3]:
            figure.setWordWrap(False)
            figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._rows.append(row)

    def _place_tag(self, at: int, tag: SourceTag) -> None:
        """Behind the figures, or in a narrow panel below them."""
        self._grid.removeWidget(tag)
        left = Qt.AlignmentFlag.AlignLeft
        if self._is_narrow:
            self._grid.addWidget(tag, 2 * at + 1, 0, 1, 3, left)
        else:
            self._grid.addWidget(tag, 2 * at, 3, left)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the tags where there is room for them."""
        super().resizeEvent(event)
        is_narrow = event.size().width() < self._look.px(NARROW)
        if is_narrow != self._is_narrow:
            self._is_narrow = is_narrow
            for at, row in enumerate(self._rows):
                self._place_tag(at + 1, row[3])

    def _fill(
        self, widgets: tuple[QLabel, QLabel, QLabel, SourceTag], row: ChainRow, *, is_last: bool
    ) -> None:
        name, length, total, tag = widgets
        say(name, row.name)
        say(length, row.length)
        say(total, row.total)
        tag.setVisible(row.source is not None)
        if row.source is not None:
            if (tag.kind, tag.text()) != row.source[:2]:
                tag.say(row.source.kind, row.source.words)
            tag.setToolTip(row.source.how)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line of the sum above the last row."""
        if not self.told:
            return
        painter = QPainter(self)
        painter.setPen(QPen(self._look.colour("ink"), 1))
        y = self._rows[len(self.told) - 1][0].geometry().top() - self._look.px(2)
        painter.drawLine(0, y, self.width(), y)
        painter.end()
