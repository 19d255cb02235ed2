"""The right of the window: this step or the thing chosen, or the fault tour; below, notices."""

from typing import Literal

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from app.look.look import Look
from app.selection import Selection
from app.widgets.tabs import WordTab

Page = Literal["step", "details", "tour"]


class RightColumn(QFrame):
    """Shows the thing chosen when one is chosen, the step when a place in it is gone to."""

    def __init__(
        self,
        selection: Selection,
        look: Look,
        pages: dict[Page, QWidget],
        notices: QWidget,
    ) -> None:
        """Begin with the step."""
        super().__init__()
        self.setProperty("ground", "panel")
        self._selection = selection
        self._look = look
        self.pages = pages
        self.stack = QStackedWidget()
        for page in pages.values():
            self.stack.addWidget(page)
        self.words = QFrame()
        self.words.setProperty("line", "below")
        self.step_word = WordTab(look, "This step")
        self.details_word = WordTab(look, "Details")
        self.step_word.clicked.connect(lambda _=False: self.show_page("step"))
        self.details_word.clicked.connect(lambda _=False: self.show_page("details"))
        self._lay_out(notices)
        selection.changed.connect(self._chosen)
        selection.step_changed.connect(self._to_step)
        selection.looked_at.connect(self._to_step)
        self.show_page("step")

    def _lay_out(self, notices: QWidget) -> None:
        row = QHBoxLayout(self.words)
        row.setContentsMargins(self._look.px(14), 2, self._look.px(14), 0)
        row.setSpacing(self._look.px(4))
        for word in (self.step_word, self.details_word):
            row.addWidget(word)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.words)
        column.addWidget(self.stack, 1)
        column.addWidget(notices)

    @property
    def page(self) -> Page:
        """What is in front."""
        now = self.stack.currentWidget()
        return next(name for name, page in self.pages.items() if page is now)

    def show_page(self, page: Page) -> None:
        """Bring a page to the front."""
        self.stack.setCurrentWidget(self.pages[page])
        self.words.setVisible(page != "tour")
        self.step_word.setChecked(page == "step")
        self.details_word.setChecked(page == "details")

    @Slot()
    def _chosen(self) -> None:
        if self.page != "tour":
            self.show_page("details" if self._selection.refs else "step")

    @Slot()
    def _to_step(self, *_: object) -> None:
        if self.page != "tour":
            self.show_page("step")
