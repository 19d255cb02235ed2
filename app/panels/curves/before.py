"""The car as it was before the drag under way, kept a moment longer than the drag."""

from PySide6.QtCore import QObject, QTimer, Signal

from app.session import Session, State

STAYS_MS = 1500
"""How long it is kept after the hand lets go."""


class Before(QObject):
    """What was there when the drag began; edits of one group are one drag.

    Tell it every change; it says `gone` when what it kept is of no more use.
    """

    gone = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Begin with nothing kept."""
        super().__init__(parent)
        self._session = session
        self._group: object = None
        self.state: State | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(STAYS_MS)
        self._timer.timeout.connect(self.forget)

    def follow(self, before: State, after: State) -> None:
        """Look at a change of the session."""
        history = self._session.history
        group, self._group = self._group, history.group
        if history.group is not None and history.group is not group:
            self._timer.stop()
            self.state = before
        elif self.state is not None and history.group is None:
            if self.state.document is after.document or not history.can_undo:
                self.forget()  # taken back, or another car
            elif group is not None:
                self._timer.start()

    def forget(self) -> None:
        """Let go of it."""
        self._timer.stop()
        if self.state is not None:
            self.state = None
            self.gone.emit()
