"""The tray under the car: a table to look through, with the car still in sight above it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import button, label

SHARE = 0.52
"""Of the height of car and tray together, what the tray gets when it opens."""
LEAST, MOST = 320, 0.8
"""What it gets at least, in pixels at scale 1, where that is not more than this share."""


class Tray(QFrame):
    """Shows one of the widgets it holds; Escape or its button closes it."""

    closed = Signal()

    def __init__(self, look: Look, inner: QWidget, *others: QWidget) -> None:
        """Hold widgets, the first one in front, closed at first."""
        super().__init__()
        self._look = look
        self.inner = inner
        self._held = (inner, *others)
        self.setProperty("ground", "panel")
        self.title = label("", "head")
        self.title.setWordWrap(False)
        self.close_button = button("Close", "link")
        self.close_button.setToolTip("Close the table (Esc)")
        self.close_button.clicked.connect(self.shut)
        self._head = QHBoxLayout()
        self._head.addWidget(self.title, 1)
        self._head.addWidget(self.close_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        for held in self._held:
            column.addWidget(held, 1)
            held.setVisible(held is inner)
        look.changed.connect(self._refit)
        self._refit()
        self.hide()

    def _refit(self) -> None:
        self._head.setContentsMargins(self._look.px(22), self._look.px(6), self._look.px(12), 0)

    def open(self, title: str, shown: QWidget | None = None) -> None:
        """Show one of its widgets, else the first, with a title, and take the keyboard there."""
        self.title.setText(title)
        self.inner = self._held[0] if shown is None else shown
        for held in self._held:
            held.setVisible(held is self.inner)
        if self.isHidden():
            self.show()
            self._share()
        self.inner.setFocus(Qt.FocusReason.OtherFocusReason)

    def _share(self) -> None:
        both = self.parentWidget()
        if isinstance(both, QSplitter):
            high = both.height()
            own = min(int(high * MOST), max(int(high * SHARE), self._look.px(LEAST)))
            both.setSizes([high - own, own])

    def shut(self) -> None:
        """Close it."""
        if not self.isHidden():
            self.hide()
            self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes it, where nothing inside had a use for the key."""
        if event.key() == Qt.Key.Key_Escape:
            self.shut()
            event.accept()
        else:
            super().keyPressEvent(event)


def over_tray(car: QWidget, tray: Tray) -> QSplitter:
    """The car with a tray under it, and a line to drag between them."""
    made = QSplitter(Qt.Orientation.Vertical)
    made.setHandleWidth(1)
    made.setChildrenCollapsible(False)
    made.addWidget(car)
    made.addWidget(tray)
    made.setStretchFactor(0, 1)
    made.setStretchFactor(1, 1)
    return made
