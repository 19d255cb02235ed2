"""A part of a panel that is one line until it is opened."""

from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.widgets.fold_line import FoldLine


class Folded(QWidget):
    """A hairline, a line that says what is inside, and below it what it stands for."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make it with nothing in it, shut."""
        super().__init__(parent)
        self._look = look
        self.line = FoldLine(look)
        self.inside = QWidget()
        self.body = QVBoxLayout(self.inside)
        self.body.setContentsMargins(0, look.px(4), 0, 0)
        self.body.setSpacing(look.px(6))
        self.inside.hide()
        column = self._column = QVBoxLayout(self)
        column.setSpacing(0)
        column.addWidget(self.line)
        column.addWidget(self.inside)
        self.line.toggled.connect(self.inside.setVisible)
        look.changed.connect(self._set_margins)
        self._set_margins()

    @property
    def is_open(self) -> bool:
        """Whether what it stands for is shown."""
        return self.line.isChecked()

    def say(self, head: str, summary: str) -> None:
        """Say what it is and how it stands, in one line."""
        words = f"{head}: {summary}"
        if words != self.line.text():
            self.line.setText(words)
            self.line.setAccessibleName(words)
            self.line.setToolTip(words)
            self.line.update()

    def _set_margins(self) -> None:
        px = self._look.px
        self._column.setContentsMargins(px(22), px(6), px(22), px(8))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the hairline above."""
        del event
        painter = QPainter(self)
        painter.setPen(QPen(self._look.colour("rule"), 1))
        side = self._look.px(22)
        painter.drawLine(side, 0, self.width() - side, 0)
        painter.end()
