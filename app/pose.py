"""How the car is shown moved from where it is drawn: of the window only, nothing of it is kept."""

from PySide6.QtCore import QObject, Signal

from app.selection import Selection
from core.document.base import Vec3

AT_REST = Vec3(0.0, 0.0, 0.0)


class Pose(QObject):
    """Where the engine and gearbox are shown on their way out; figures stay those of the design.

    Attributes:
        drop: how far along the way out, mm.
        shift: the same as a move, mm, car frame.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin at the design position."""
        super().__init__(parent)
        self.drop = 0.0
        self.shift = AT_REST

    @staticmethod
    def of(selection: Selection) -> "Pose":
        """The one pose of a window: all its views are given the same selection."""
        return selection.findChild(Pose) or Pose(selection)

    @property
    def is_design(self) -> bool:
        """Whether everything is shown where it is drawn."""
        return self.drop == 0.0

    def take_out(self, drop: float, shift: Vec3) -> None:
        """Show the engine and gearbox moved."""
        if (drop, shift) != (self.drop, self.shift):
            self.drop, self.shift = drop, shift
            self.changed.emit()

    def to_design(self) -> None:
        """Show everything where it is drawn."""
        self.take_out(0.0, AT_REST)
