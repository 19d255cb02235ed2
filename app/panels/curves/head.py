"""The line above the curves: which axle, over what, which figures, and ways to take them away."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QMenu, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.curves.figures import Figure
from app.widgets.flow import Flow
from app.widgets.tabs import Tabs
from app.widgets.word_button import word_button
from core.assess.curves import Along

ENDS = {"front": "Front", "rear": "Rear"}
ALONG: dict[Along, str] = {"travel": "over travel", "steer": "over steer"}
_TAKE = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class Choices(QMenu):
    """Figures to be ticked; it stays open until a click beside it or Escape."""

    chosen = Signal(tuple)
    """The keys that are ticked now."""

    def __init__(self, parent: QWidget) -> None:
        """Offer nothing yet."""
        super().__init__(parent)
        self.setProperty("role", "body")
        self.setToolTipsVisible(True)
        self.ticks: dict[str, QAction] = {}

    def offer(self, figures: Iterable[Figure], ticked: Iterable[str]) -> None:
        """Offer these figures, with some of them ticked."""
        self.clear()
        self.ticks = {}
        for figure in figures:
            tick = self.addAction(figure.words)
            tick.setCheckable(True)
            tick.setToolTip(figure.convention)
            tick.setChecked(figure.key in ticked)
            self.ticks[figure.key] = tick

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tick what was clicked, and stay."""
        if not self._toggle(self.actionAt(event.position().toPoint())):
            super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tick by key, and stay."""
        if event.key() not in _TAKE or not self._toggle(self.activeAction()):
            super().keyPressEvent(event)

    def _toggle(self, tick: QAction | None) -> bool:
        if tick is None:
            return False
        on = [key for key, each in self.ticks.items() if each.isChecked() != (each is tick)]
        if on:  # the last one stays
            tick.setChecked(not tick.isChecked())
            self.chosen.emit(tuple(on))
        return True


class Head(QWidget):
    """Words that are in force, and links."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show no axle in force yet."""
        super().__init__(parent)
        self._look = look
        self.ends: Tabs[str] = Tabs(look, ENDS, "axle that is drawn")
        self.along: Tabs[Along] = Tabs(look, ALONG, "what it is drawn over")
        self.figures = word_button("Figures…")
        self.table = word_button("Table…")
        self.picture = word_button("Picture…")
        self.shut = word_button("Close")
        for made, tip in (
            (self.figures, "Choose which figures are drawn side by side"),
            (self.table, "Write all figures of this axle over travel and steer as a table"),
            (self.picture, "Write what is drawn as a picture"),
            (self.shut, "Put the curves away (Esc)"),
        ):
            made.setToolTip(tip)
        self.choices = Choices(self)
        self.figures.clicked.connect(self._choose)
        self._flow = Flow()
        self.setLayout(self._flow)
        self._lay_out()
        look.changed.connect(self._refit)

    def _lay_out(self) -> None:
        title = label("Curves", "head")
        title.setWordWrap(False)
        for words in (title, self.ends, self.along):
            self._flow.addWidget(words)
        self._flow.begin_second()
        for link in (self.figures, self.table, self.picture, self.shut):
            self._flow.addWidget(link)
        self._title = title
        self._refit()

    def _refit(self) -> None:
        px = self._look.px
        self._title.setContentsMargins(0, 0, px(10), 0)
        self.ends.setContentsMargins(0, 0, px(14), 0)
        self._flow.setContentsMargins(px(14), px(3), px(8), 0)

    def _choose(self) -> None:
        self.choices.popup(self.figures.mapToGlobal(self.figures.rect().bottomLeft()))
