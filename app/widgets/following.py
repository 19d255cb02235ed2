"""A part of a panel that follows the car, and only while it is looked at."""

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from app.session import Session, State


class Following(QWidget):
    """Refreshes on every change while it is visible; hidden, it waits until it is shown."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; the first refresh is when it is first shown."""
        super().__init__(parent)
        self._session = session
        self._waits = True
        session.changed.connect(self._follow)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        raise NotImplementedError

    def _follow(self, _before: State, after: State) -> None:
        if self.isVisible():
            self.refresh(after)
        else:
            self._waits = True

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        if self._waits:
            self._waits = False
            self.refresh(self._session.state)
        super().showEvent(event)
