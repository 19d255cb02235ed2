"""The card that a newcomer meets: three ways to begin, and work that was left unsaved."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import button, label
from app.recovery import Kept

WIDTH = 560

CAUTION = (
    "Jigplate places things. It says nothing of strength yet. What protects people is signed off "
    "by licensed practice and local rules, not here."
)


class FirstRun(QFrame):
    """Demo car, fault tour, or an empty car; before them, work that an earlier run left."""

    demo = Signal()
    tour = Signal()
    empty = Signal()
    back = Signal()
    """To the car that is open already."""
    another = Signal()
    """A file of the builder's own."""
    take_up = Signal(object)
    """Kept work to open."""
    forget = Signal(object)
    """Kept work to throw away."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show the ways to begin."""
        super().__init__(parent)
        self._look = look
        self.setProperty("ground", "well")
        self._card = QFrame()
        self._card.setProperty("ground", "card")
        self._card.setMaximumWidth(look.px(WIDTH))
        self._kept = QVBoxLayout()
        self.buttons: dict[str, QPushButton] = {}
        self._lay_out()
        look.changed.connect(self._refit)

    def _lay_out(self) -> None:
        px = self._look.px
        card = QVBoxLayout(self._card)
        card.setContentsMargins(px(28), px(22), px(28), px(22))
        card.setSpacing(px(10))
        card.addWidget(label("Settle the whole car before the first tube is cut", "title"))
        card.addLayout(self._kept)
        self._way(card, "demo", "Look round the demo car", _DEMO, self.demo, filled=True)
        self._way(card, "tour", "Go on the fault tour", _TOUR, self.tour)
        self._way(card, "empty", "Begin your own car", _EMPTY, self.empty)
        self._way(card, "another", "Open a file…", _OPEN, self.another)
        card.addWidget(label(CAUTION, "small", "ink2"))
        back = button("Back to the car", "link")
        back.clicked.connect(lambda _=False: self.back.emit())
        card.addWidget(back)
        self.buttons["back"] = back
        middle = QHBoxLayout()
        middle.addStretch(1)
        middle.addWidget(self._card, 100)
        middle.addStretch(1)
        outer = QVBoxLayout(self)
        outer.addStretch(1)
        outer.addLayout(middle)
        outer.addStretch(1)

    def _way(
        self,
        card: QVBoxLayout,
        name: str,
        words: str,
        what: str,
        signal: object,
        *,
        filled: bool = False,
    ) -> None:
        row = QHBoxLayout()
        row.setSpacing(self._look.px(14))
        made = button(words, "filled" if filled else "plain")
        made.setFixedWidth(self._look.px(190))
        made.clicked.connect(lambda _=False: signal.emit())  # type: ignore[attr-defined]  # a Signal
        row.addWidget(made)
        row.addWidget(label(what, "small", "ink2"), 1)
        card.addLayout(row)
        self.buttons[name] = made

    def offer_back(self, *, is_there: bool) -> None:
        """Offer the way back to a car, if there is one."""
        self.buttons["back"].setVisible(is_there)

    def show_kept(self, kept: Sequence[Kept]) -> None:
        """Offer work that earlier runs left unsaved, newest first."""
        while (item := self._kept.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for one in kept:
            self._kept.addWidget(self._kept_row(one))

    def _kept_row(self, kept: Kept) -> QFrame:
        row = QFrame()
        row.setProperty("ground", "no")
        layout = QVBoxLayout(row)
        layout.addWidget(label(f"Unsaved work on {kept.name}", "head"))
        origin = f", opened from {kept.path.name}" if kept.path else ""
        words = f"Kept at {kept.when}{origin}, before the program ended without closing."
        layout.addWidget(label(words, "small", "ink2"))
        buttons = QHBoxLayout()
        take = button("Open it", "filled")
        take.clicked.connect(lambda _=False: self.take_up.emit(kept))
        forget = button("Throw it away")
        forget.clicked.connect(lambda _=False: self.forget.emit(kept))
        buttons.addWidget(take)
        buttons.addWidget(forget)
        buttons.addStretch(1)
        layout.addLayout(buttons)
        self.buttons["take_up"], self.buttons["forget"] = take, forget
        return row

    def _refit(self) -> None:
        self._card.setMaximumWidth(self._look.px(WIDTH))
        for name in ("demo", "tour", "empty", "another"):
            self.buttons[name].setFixedWidth(self._look.px(190))


_DEMO = "An invented mid-engined car, whole. A copy: nothing you do to it is lost or kept unasked."
_TOUR = "Break the demo car on purpose, be shown where it tells, put it right."
_EMPTY = "An empty car. What is not entered yet stays at don't know."
_OPEN = "A .jigplate file of your own."
