"""The runner of the studies that panels ask for: one for all panels of a window."""

from PySide6.QtCore import QObject, Signal

from app.jobs import Jobs
from app.worker import Work


class Studies(Jobs):
    """As `Jobs`, and tells when another request takes the place of the one under way."""

    moved_on = Signal(int)
    """The turn that is wanted from now on; what was asked before will not be answered."""

    @staticmethod
    def of(owner: QObject) -> "Studies":
        """The one runner of a window: all its panels are given the same selection."""
        return owner.findChild(Studies) or Studies(owner)

    def ask(self, work: Work, request: object) -> int:
        """Ask for work; the turn that its answer will carry."""
        turn = super().ask(work, request)
        self.moved_on.emit(turn)
        return turn

    def stop(self) -> None:
        """Want no answer any more to what was asked."""
        super().stop()
        self.moved_on.emit(-1)
