"""Rows of a panel: heads of sections, and what is known as name, figure and source."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import button, label
from app.look.tags import SourceTag, TagKind


class Section(QWidget):
    """A part of a panel: a hairline, a head with a quiet remark at the right, and what follows."""

    def __init__(
        self,
        look: Look,
        head: str,
        remark: str = "",
        parent: QWidget | None = None,
        *,
        is_first: bool = False,
    ) -> None:
        """Make a section with nothing in it yet; the first of a page needs no line above it."""
        super().__init__(parent)
        self._look, self._is_first = look, is_first
        self._head, self._remark = label(head, "head"), label(remark, "small", "ink2")
        self._remark.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        top = QHBoxLayout()
        top.addWidget(self._head, 0)
        top.addWidget(self._remark, 1)
        self._head.setWordWrap(False)
        self.body = QVBoxLayout(self)
        self.body.setSpacing(look.px(6))
        self.body.addLayout(top)
        self._set_margins()
        look.changed.connect(self._set_margins)

    def say(self, head: str, remark: str = "") -> None:
        """Change the head and the remark."""
        say(self._head, head)
        say(self._remark, remark)

    @property
    def remark(self) -> str:
        """What stands at the right of the head."""
        return self._remark.text()

    def _set_margins(self) -> None:
        side = self._look.px(22)
        self.body.setContentsMargins(side, self._look.px(12), side, self._look.px(10))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the hairline above."""
        if self._is_first:
            return
        painter = QPainter(self)
        painter.setPen(QPen(self._look.colour("rule"), 1))
        side = self._look.px(22)
        painter.drawLine(side, 0, self.width() - side, 0)
        painter.end()


class Known(QWidget):
    """Rows of what is known: name, figure, and the tag or words of where it comes from."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look = look
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.px(8))
        self._grid.setVerticalSpacing(look.px(7))
        self._grid.setColumnStretch(0, 1)
        self._rows: dict[str, tuple[QLabel, QLabel, QWidget]] = {}

    def tell(
        self, name: str, figure: str, tag: TagKind | None = None, words: str = "", how: str = ""
    ) -> None:
        """Show a row, or change the one of that name.

        Args:
            name: what it is.
            figure: the figure with its unit.
            tag: where it comes from; without one it is worked out, and `words` follow in italics.
            words: of the tag or behind the figure.
            how: what decided the figure, told by the tag.
        """
        row = self._rows.get(name)
        if row is None or isinstance(row[2], SourceTag) != (tag is not None):
            row = self._make(name, tag)
        say(row[1], figure)
        row[1].setVisible(True)
        if isinstance(row[2], SourceTag) and tag is not None:
            if (row[2].kind, row[2].text()) != (tag, words or row[2].text()):
                row[2].say(tag, words)
            row[2].setToolTip(how)
        elif isinstance(row[2], QLabel):
            say(row[2], words)

    def _make(self, name: str, tag: TagKind | None) -> tuple[QLabel, QLabel, QWidget]:
        self.drop(name)
        behind: QWidget = (
            label("", "worked_out", "ink2") if tag is None else SourceTag(self._look, tag)
        )
        row = (label(name, "table"), label("", "field_strong"), behind)
        row[1].setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        row[1].setWordWrap(False)
        at = self._grid.rowCount()
        for column, widget in enumerate(row):
            self._grid.addWidget(widget, at, column)
        self._grid.setAlignment(behind, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._rows[name] = row
        return row

    def keep_only(self, names: list[str]) -> None:
        """Take away the rows of other names."""
        for name in [name for name in self._rows if name not in names]:
            self.drop(name)

    def drop(self, name: str) -> None:
        """Take a row away."""
        for widget in self._rows.pop(name, ()):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()

    def figure(self, name: str) -> str:
        """The figure in a row, or nothing."""
        return self._rows[name][1].text() if name in self._rows else ""

    @property
    def names(self) -> tuple[str, ...]:
        """The rows there are."""
        return tuple(self._rows)


def pressed(words: str, kind: str = "plain") -> QPushButton:
    """A button in the body's font even where it is made after its window was dressed."""
    made = button(words, kind)
    made.setProperty("role", "body")
    return made


def say(told: QLabel, words: str) -> None:
    """Change a label's words, if they differ."""
    if told.text() != words:
        told.setText(words)
