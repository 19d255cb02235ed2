"""Words side by side of which one is in force: the chosen one stands on a heavier line."""

from collections.abc import Mapping, Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QSizePolicy, QWidget

from app.look.look import Look

T = TypeVar("T")


class WordTab(QAbstractButton):
    """One word that can be in force."""

    def __init__(self, look: Look, words: str, parent: QWidget | None = None) -> None:
        """Show a word."""
        super().__init__(parent)
        self._look = look
        self.setText(words)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        look.changed.connect(self._refit)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for its word in bold, so that nothing moves when it is chosen."""
        width = QFontMetricsF(self._look.font("head")).horizontalAdvance(self.text())
        return QSize(int(width) + self._look.px(12), self._look.px(24))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the word, its line if it is in force, and a frame when the keyboard is on it."""
        del event
        painter = QPainter(self)
        on = self.isChecked()
        painter.setFont(self._look.font("head" if on else "body"))
        painter.setPen(self._look.colour("sel" if on or self.underMouse() else "ink2"))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
        if on:
            painter.setPen(QPen(self._look.colour("sel"), 2))
            foot = self.height() - 1
            painter.drawLine(self._look.px(4), foot, self.width() - self._look.px(4), foot)
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()


class Tabs(QWidget, Generic[T]):
    """A row of words; `chosen` tells which one was clicked."""

    chosen = Signal(object)

    def __init__(
        self, look: Look, words: Mapping[T, str], name: str, parent: QWidget | None = None
    ) -> None:
        """Show the words, none of them in force."""
        super().__init__(parent)
        self.setAccessibleName(name)
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.px(2))
        self.tabs: dict[T, WordTab] = {}
        for value, text in words.items():
            tab = WordTab(look, text, self)
            tab.clicked.connect(lambda _=False, v=value: self.chosen.emit(v))
            self._group.addButton(tab)
            row.addWidget(tab)
            self.tabs[value] = tab
        row.addStretch(1)

    @property
    def values(self) -> Sequence[T]:
        """What its words stand for."""
        return tuple(self.tabs)

    def show_chosen(self, value: object) -> None:
        """Show which one is in force; none of them if the value is not among them."""
        self._group.setExclusive(False)
        for one, tab in self.tabs.items():
            tab.setChecked(one == value)
        self._group.setExclusive(True)
