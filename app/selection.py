"""What is chosen and what is pointed at: the window's own, never the document's."""

from typing import Literal

from PySide6.QtCore import QObject, Signal

from core.document.base import Ref

Step = Literal["shell", "rear", "front", "frame", "bench"]
Section = Literal["weight", "brakes"]
"""Parts of a step that are asked for from anywhere."""


class Selection(QObject):
    """The chosen things, the thing under the pointer, and the step of work in front."""

    changed = Signal()
    hovered = Signal()
    step_changed = Signal()
    looked_at = Signal(object)
    """A finding that was clicked: views go to its place."""
    list_wanted = Signal(str)
    """A list to look through: one of the document, empty for everything, `bought` or `donors`."""
    make_wanted = Signal(str)
    """A form for a new thing of a kind, by its list in the document."""
    figure_wanted = Signal(object)
    """An Address whose figure is to be typed in the details of its thing."""
    section_wanted = Signal(str)
    """A Section is to come to the front, with the step it stands in."""
    curves_wanted = Signal()
    """The curves are to be shown between car and travel strip."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with nothing chosen, at the rear end, where the width is decided."""
        super().__init__(parent)
        self.refs: tuple[Ref, ...] = ()
        self.hover: Ref | None = None
        self.step: Step = "rear"

    def choose(self, *refs: Ref) -> None:
        """Choose these things and no others."""
        if refs != self.refs:
            self.refs = refs
            self.changed.emit()

    def point_at(self, ref: Ref | None) -> None:
        """Mark the thing under the pointer."""
        if ref != self.hover:
            self.hover = ref
            self.hovered.emit()

    def go_to(self, step: Step) -> None:
        """Bring a step of work to the front."""
        if step != self.step:
            self.step = step
            self.step_changed.emit()
