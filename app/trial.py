"""A proposal that stands beside the car: of the window only, nothing of it is kept."""

from PySide6.QtCore import QObject, Signal

from app.selection import Selection
from core.scene.records import Scene


class Trial(QObject):
    """The car as it would be; what differs is drawn in thin lines over the car as it is."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with no proposal."""
        super().__init__(parent)
        self.scene: Scene | None = None
        self._by: QObject | None = None
        self._for: object = None

    @staticmethod
    def of(selection: Selection) -> "Trial":
        """The one trial of a window: all its views are given the same selection."""
        return selection.findChild(Trial) or Trial(selection)

    def is_of(self, by: QObject, what: object) -> bool:
        """Whether it is this proposal, by this panel, that is shown."""
        return self._by is by and self._for is what

    def show(self, scene: Scene, by: QObject, what: object) -> None:
        """Show a car beside the one that is drawn.

        Args:
            scene: as it would be.
            by: who shows it, and may take it away.
            what: the proposal.
        """
        self.scene, self._by, self._for = scene, by, what
        self.changed.emit()

    def drop_if(self, by: QObject) -> None:
        """Show none any more, if it was shown by this one."""
        if self._by is by:
            self.scene = self._by = self._for = None
            self.changed.emit()
