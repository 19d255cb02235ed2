"""One donor's corner in the list: its name, what it is, and what its links would be."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.donors.words import donor_words, links_offered
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.document.donors import DonorCorner


class DonorRow(QWidget):
    """Its name chooses it; its usual links are offered as long as it has none."""

    chosen = Signal(object)
    links_wanted = Signal(object)

    def __init__(self, look: Look, ref: Ref, parent: QWidget | None = None) -> None:
        """Show a donor's corner, yet without words."""
        super().__init__(parent)
        self.ref = ref
        self.name = word_button("")
        self.what = label("", "small", "ink2")
        self.links = word_button("")
        self.links.setToolTip("Told from the names of its points: tie_inner goes with tie_outer")
        self.name.clicked.connect(lambda: self.chosen.emit(self.ref))
        self.links.clicked.connect(lambda: self.links_wanted.emit(self.ref))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for widget in (self.name, self.links):
            row = QHBoxLayout()
            row.addWidget(widget)
            row.addStretch(1)
            column.addLayout(row)
        column.insertWidget(1, self.what)
        self.what.setContentsMargins(look.px(4), 0, 0, 0)

    def tell(self, donor: DonorCorner) -> None:
        """Show how it stands now."""
        self.name.setText(donor.name)
        say(self.what, donor_words(donor))
        self.links.setText(links_offered(donor))
        self.links.setVisible(bool(self.links.text()))
