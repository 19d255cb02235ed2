"""What to know of a corner before it is carried over: sentences, each behind a caution sign."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import IconSign
from app.look.style import label


class Warned(QWidget):
    """As many lines as there are sentences; none takes no room."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self._look = look
        self._rows: list[tuple[QWidget, QLabel]] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look.px(4))
        self.hide()

    @property
    def sentences(self) -> tuple[str, ...]:
        """What it says."""
        return tuple(words.text() for row, words in self._rows if not row.isHidden())

    def tell(self, sentences: Sequence[str]) -> None:
        """Say these sentences; a line that is not needed now is kept for later."""
        while len(self._rows) < len(sentences):
            self._rows.append(self._row())
        for number, (row, words) in enumerate(self._rows):
            is_used = number < len(sentences)
            words.setText(sentences[number] if is_used else "")
            row.setVisible(is_used)
        self.setVisible(bool(sentences))

    def _row(self) -> tuple[QWidget, QLabel]:
        row, words = QWidget(), label("", "small")
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(self._look.px(6))
        line.addWidget(IconSign(self._look, "caution"), 0, Qt.AlignmentFlag.AlignTop)
        line.addWidget(words, 1)
        self._column.addWidget(row)
        return row, words
