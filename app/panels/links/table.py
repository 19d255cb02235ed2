"""Rows of one figure of both sides, with a second line under them."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from app.look.fonts import FontRole
from app.look.look import Look
from app.look.marks import paint_side
from app.panels.links.figures import NOT_KNOWN, Line

HEIGHT, BELOW = 22.0, 16.0
COLUMN = 62.0
"""Width of a figure's column."""


class Painted(QWidget):
    """A row that is painted, as high as its lines."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self._look = look
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """One line high."""
        return QSize(self._look.px(240), self._look.px(HEIGHT))

    def write(
        self, painter: QPainter, words: str, right: float, base: float, role: FontRole
    ) -> float:
        """Write words that end at a place; the pixels they take."""
        painter.setFont(self._look.font(role))
        wide = QFontMetricsF(self._look.font(role)).horizontalAdvance(words)
        painter.drawText(QPointF(right - wide, base), words)
        return wide

    def write_from(
        self, painter: QPainter, words: str, room: float, base: float, role: FontRole
    ) -> None:
        """Write words from the left, cut short to fit."""
        font = self._look.font(role)
        painter.setFont(font)
        cut = QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, max(room, 0.0))
        painter.drawText(QPointF(0, base), cut)

    def base(self, role: FontRole, height: float = HEIGHT) -> float:
        """The line that words of a row stand on."""
        metrics = QFontMetricsF(self._look.font(role))
        return height * self._look.scale / 2 + (metrics.ascent() - metrics.descent()) / 2


class SideHeads(Painted):
    """Left and right over their columns, each with its mark."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw both words with their marks."""
        painter = QPainter(self)
        column, mark, middle = self._look.px(COLUMN), self._look.px(8), self.height() / 2
        base = self.base("small")
        right = float(self.width())
        painter.setPen(self._look.colour("right"))
        self.write(painter, "right", right - 2 * mark, base, "small")
        paint_side(painter, self._look, "right", QPointF(right - mark, middle))
        painter.setPen(self._look.colour("left"))
        wide = self.write(painter, "left", right - column, base, "small")
        paint_side(painter, self._look, "left", QPointF(right - column - wide - mark, middle))
        painter.end()


class LineRow(Painted):
    """One figure: its name, left and right, and its range below."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(look, parent)
        self.line = Line("", "", "", (), "")

    def tell(self, line: Line) -> None:
        """Show another figure; one that is the same touches nothing."""
        if line == self.line:
            return
        grows = len(line.below) != len(self.line.below)
        self.line = line
        both = f"left {line.left}, right {line.right}" if line.left else line.right
        both = both.replace(NOT_KNOWN, "don't know")
        self.setAccessibleName("; ".join([f"{line.name}: {both}", *line.below]))
        self.setToolTip("\n".join([f"{line.convention}.", *line.below]))
        if grows:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """A line, and those under it."""
        high = HEIGHT + BELOW * len(self.line.below)
        return QSize(self._look.px(240), self._look.px(high))

    def is_whole(self) -> bool:
        """Whether there is room for all of its words."""
        table, small = (QFontMetricsF(self._look.font(role)) for role in ("table", "small"))
        below = max((small.horizontalAdvance(words) for words in self.line.below), default=0.0)
        return table.horizontalAdvance(self.line.name) <= self._room() and below <= self.width()

    def _room(self) -> float:
        """Pixels for the name."""
        strong = QFontMetricsF(self._look.font("field_strong"))
        taken = strong.horizontalAdvance(self.line.right)
        if self.line.left:
            taken = self._look.px(COLUMN) + strong.horizontalAdvance(self.line.left)
        return self.width() - taken - self._look.px(6)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw name and figures, and the lines under them."""
        painter = QPainter(self)
        wide, base = float(self.width()), self.base("table")
        painter.setPen(self._look.colour("ink"))
        self.write(painter, self.line.right, wide, base, "field_strong")
        if self.line.left:
            column = self._look.px(COLUMN)
            self.write(painter, self.line.left, wide - column, base, "field_strong")
        self.write_from(painter, self.line.name, self._room(), base, "table")
        painter.setPen(self._look.colour("ink2"))
        for at, words in enumerate(self.line.below):
            below = self.base("small", BELOW) + (HEIGHT - 2 + BELOW * at) * self._look.scale
            self.write_from(painter, words, wide, below, "small")
        painter.end()


class LineTable(QWidget):
    """Rows made once; a change of figures draws them anew and makes none."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty table."""
        super().__init__(parent)
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.heads = SideHeads(look)
        self._column.addWidget(self.heads)
        self.rows: list[LineRow] = []

    def tell(self, lines: Sequence[Line]) -> None:
        """Show these figures."""
        while len(self.rows) < len(lines):
            self.rows.append(LineRow(self._look))
            self._column.addWidget(self.rows[-1])
        for at, row in enumerate(self.rows):
            row.setVisible(at < len(lines))
            if at < len(lines):
                row.tell(lines[at])
        self.heads.setVisible(any(line.left for line in lines))

    @property
    def shown(self) -> list[Line]:
        """The figures that are shown."""
        return [row.line for row in self.rows if row.isVisibleTo(self)]
