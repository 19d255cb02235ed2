"""What the window has to say about its own doings: one quiet card, never a beep, never a dialog."""

from collections.abc import Callable
from typing import Literal, NamedTuple

from PySide6.QtCore import QTimer, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import VerdictMark
from app.look.style import button, label, set_property

STAYS_MS = 6000

Kind = Literal["done", "refused"]


class WayOn(NamedTuple):
    """One thing to do about a notice: its words, and what they do."""

    words: str
    run: Callable[[], object]


class Notices(QFrame):
    """The card: what happened, what was kept, one way on.

    What is done goes away by itself; what was refused stays until it is closed or something
    else is said.
    """

    def __init__(self, look: Look, parent: QWidget | None = None, stays_ms: int = STAYS_MS) -> None:
        """Begin with nothing to say."""
        super().__init__(parent)
        self.setProperty("ground", "card")
        self._way_on: WayOn | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(stays_ms)
        self._timer.timeout.connect(self.quieten)
        self._mark = VerdictMark(look, "fine")
        self._words = label("", "body")
        self.way = button("", "link")
        self.way.clicked.connect(self.go_on)
        self._shut = button("Close", "link")
        self._shut.clicked.connect(self.quieten)
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        outer = QVBoxLayout(self)
        outer.setContentsMargins(12, 8, 8, 6)
        outer.setSpacing(2)
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self._mark)
        line.addWidget(self._words, 1)
        outer.addLayout(line)
        ways = QHBoxLayout()
        ways.addStretch(1)
        ways.addWidget(self.way)
        ways.addWidget(self._shut)
        outer.addLayout(ways)

    @property
    def words(self) -> str:
        """What it says; nothing when it is quiet."""
        return "" if self.isHidden() else self._words.text()

    def tell(self, words: str, way_on: WayOn | None = None) -> None:
        """Say that something was done."""
        self._say("done", words, way_on)
        self._timer.start()

    def refuse(self, words: str, way_on: WayOn | None = None) -> None:
        """Say that something could not be done, and what was kept."""
        self._say("refused", words, way_on)
        self._timer.stop()

    def _say(self, kind: Kind, words: str, way_on: WayOn | None) -> None:
        self._way_on = way_on
        self._mark.show_verdict("fine" if kind == "done" else "no")
        self._mark.setToolTip("")
        self._mark.setAccessibleName("done" if kind == "done" else "not done")
        self._words.setText(words)
        self.way.setText(way_on.words if way_on else "")
        self.way.setVisible(way_on is not None)
        set_property(self, "ground", "card" if kind == "done" else "no")
        self.show()

    @Slot()
    def quieten(self) -> None:
        """Say nothing any more."""
        self._timer.stop()
        self.hide()

    @Slot()
    def go_on(self) -> None:
        """Do the one thing that was offered."""
        way_on = self._way_on
        self.quieten()
        if way_on is not None:
            way_on.run()
