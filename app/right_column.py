"""The right of the window: this step, the thing chosen, tools or a list; below, notices."""

from collections.abc import Callable, Mapping
from typing import Literal, NamedTuple

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.look.look import Look
from app.look.style import button, label
from app.places import first_in
from app.selection import Selection
from app.widgets.tabs import WordTab

Page = Literal["step", "details", "tubes", "bought", "tour"]
WORDS: Mapping[Page, str] = {"step": "This step", "details": "Details", "tubes": "Tubes"}
"""Pages that a word at the top brings to the front."""

HEADS: Mapping[Page, str] = {"bought": "Bought parts"}
"""Pages that are opened from elsewhere, with the head they have instead."""


def never() -> bool:
    """A page that gives way to what is chosen."""
    return False


class Held(NamedTuple):
    """A page of the column.

    Attributes:
        widget: what it shows.
        stays: whether it keeps the front although something else was chosen.
    """

    widget: QWidget
    stays: Callable[[], bool] = never


class RightColumn(QFrame):
    """Shows the thing chosen when one is chosen, the step when a place in it is gone to."""

    def __init__(
        self,
        selection: Selection,
        look: Look,
        pages: Mapping[Page, Held],
        notices: QWidget,
    ) -> None:
        """Begin with the step."""
        super().__init__()
        self.setProperty("ground", "panel")
        self._selection = selection
        self._look = look
        self.pages = pages
        self.stack = QStackedWidget()
        for held in pages.values():
            self.stack.addWidget(held.widget)
        self.words = QFrame()
        self.words.setProperty("line", "below")
        self.tabs: dict[Page, WordTab] = {}
        for page, words in WORDS.items():
            self.tabs[page] = self._tab(page, words)
        self.head = label("", "head")
        self.shut = button("Close", "link")
        self.shut.clicked.connect(lambda _=False: self.show_page("step"))
        self._lay_out(notices)
        selection.changed.connect(self._chosen)
        selection.step_changed.connect(self._to_step)
        selection.looked_at.connect(self._to_step)
        look.changed.connect(self._refit)
        self._refit()
        self.show_page("step")

    def _tab(self, page: Page, words: str) -> WordTab:
        made = WordTab(self._look, words)
        made.clicked.connect(lambda _=False: self.show_page(page))
        return made

    def _lay_out(self, notices: QWidget) -> None:
        row = QHBoxLayout(self.words)
        for word in self.tabs.values():
            row.addWidget(word)
        row.addWidget(self.head)
        row.addStretch(1)
        row.addWidget(self.shut)
        self._row = row
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.words)
        column.addWidget(self.stack, 1)
        column.addWidget(notices)

    @Slot()
    def _refit(self) -> None:
        self._row.setContentsMargins(self._look.px(14), 2, self._look.px(10), 0)
        self._row.setSpacing(self._look.px(4))

    @property
    def page(self) -> Page:
        """What is in front."""
        now = self.stack.currentWidget()
        return next(name for name, held in self.pages.items() if held.widget is now)

    def show_page(self, page: Page) -> None:
        """Bring a page to the front."""
        self.stack.setCurrentWidget(self.pages[page].widget)
        self.words.setVisible(page in WORDS or page in HEADS)
        for name, word in self.tabs.items():
            word.setChecked(page == name)
            word.setVisible(page in WORDS)
        self._show_head(HEADS.get(page, ""))

    def take_keyboard(self) -> None:
        """Take the keyboard to the page in front."""
        target = first_in(self.pages[self.page].widget)
        if target is not None:
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_head(self, words: str) -> None:
        _say(self.head, words)
        self.shut.setVisible(bool(words))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the step back, where nothing inside had a use for the key."""
        if event.key() == Qt.Key.Key_Escape and self.page not in ("step", "tour"):
            self.show_page("step")
            self.tabs["step"].setFocus(Qt.FocusReason.OtherFocusReason)
            event.accept()
        else:
            super().keyPressEvent(event)

    @Slot()
    def _chosen(self) -> None:
        if not self.pages[self.page].stays():
            self.show_page("details" if self._selection.refs else "step")

    @Slot()
    def _to_step(self, *_: object) -> None:
        if self.page != "tour":
            self.show_page("step")


def _say(told: QLabel, words: str) -> None:
    told.setText(words)
    told.setVisible(bool(words))


def scrolled(inner: QWidget) -> QScrollArea:
    """A page that scrolls where it is higher than its room, never sideways."""
    made = QScrollArea()
    made.setWidgetResizable(True)
    made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    made.setWidget(inner)
    made.viewport().setAutoFillBackground(False)
    inner.setAutoFillBackground(False)
    return made
