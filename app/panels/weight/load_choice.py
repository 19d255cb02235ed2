"""Words for the loads a car is weighed in, of which one is in front; they wrap where narrow."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.widgets.flow import Flow
from app.widgets.tabs import WordTab
from core.document.base import Ref
from core.workshop.weight_page import Load


class LoadChoice(QWidget):
    """Hidden where there is no choice; the load in front stays as long as it is there."""

    changed = Signal()
    """Another load was clicked."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Offer nothing yet."""
        super().__init__(parent)
        self._look = look
        self.case: Ref | None = None
        self.tabs: dict[Ref | None, WordTab] = {}
        self._flow = Flow()
        self._flow.setContentsMargins(0, 0, 0, 0)
        self.setLayout(self._flow)

    def offer(self, loads: tuple[Load, ...]) -> None:
        """Offer these."""
        told = {load.case: load.name for load in loads}
        if told != {case: tab.text() for case, tab in self.tabs.items()}:
            self._make(told)
        if self.case not in told:
            self.case = None
        self._check()
        self.setVisible(len(told) > 1)

    def _make(self, told: dict[Ref | None, str]) -> None:
        for tab in self.tabs.values():
            self._flow.removeWidget(tab)
            tab.hide()
            tab.deleteLater()
        self.tabs = {}
        for case, name in told.items():
            tab = WordTab(self._look, name, self)
            tab.clicked.connect(lambda _=False, c=case: self._go(c))
            self._flow.addWidget(tab)
            self.tabs[case] = tab
            tab.show()

    def _go(self, case: Ref | None) -> None:
        self.case = case
        self._check()
        self.changed.emit()

    def _check(self) -> None:
        for case, tab in self.tabs.items():
            tab.setChecked(case == self.case)
