"""Which corner of an end of the car a panel is about."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.widgets.tabs import Tabs
from core.document.base import Ref
from core.document.lookup import Lookup, sides
from core.document.project import Document


def corners_at(document: Document, *, driven: bool) -> tuple[Ref, ...]:
    """Every side of every corner of the driven end, or of the other one."""
    axles = {axle.id for axle in document.axles if axle.driven}
    return tuple(
        ref
        for corner in document.corners
        if (corner.axle.id in axles) == driven
        for ref in sides(corner)
    )


class CornerChoice(QWidget):
    """Words for the corners there are; hidden where there is no choice."""

    changed = Signal()
    """Another corner is meant."""

    def __init__(self, look: Look, *, driven: bool, parent: QWidget | None = None) -> None:
        """Choose among the corners of the driven end, or of the other one."""
        super().__init__(parent)
        self._look, self._driven = look, driven
        self._refs: tuple[Ref, ...] = ()
        self._words: tuple[str, ...] = ()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.tabs: Tabs[Ref] | None = None
        self.corner: Ref | None = None

    def follow(self, document: Document) -> None:
        """Offer what is there now; the corner in front stays if it is still there."""
        lookup = Lookup(document)
        refs = corners_at(document, driven=self._driven)
        words = tuple(lookup.label(ref) for ref in refs)
        if (refs, words) != (self._refs, self._words):
            self._refs, self._words = refs, words
            self._make(dict(zip(refs, words, strict=True)))
        if self.corner not in refs:
            self._go(refs[0] if refs else None)

    def _make(self, words: dict[Ref, str]) -> None:
        if self.tabs is not None:
            self._column.removeWidget(self.tabs)
            self.tabs.hide()
            self.tabs.deleteLater()
        self.tabs = Tabs(self._look, words, "corner")
        self.tabs.chosen.connect(self._go)
        self.tabs.show_chosen(self.corner)
        self._column.addWidget(self.tabs)
        self.setVisible(len(words) > 1)

    def _go(self, corner: Ref | None) -> None:
        is_other = corner != self.corner
        self.corner = corner
        if self.tabs is not None:
            self.tabs.show_chosen(corner)
        if is_other:
            self.changed.emit()
