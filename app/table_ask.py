"""The question before a table is written: from where to measure, and in which unit."""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import button, dress, label
from app.widgets.choice_field import WordsBox
from core.document.base import Ref
from core.workshop.hardpoint_table import LengthUnit

FROM_THE_CAR = "the car: x ahead, y left, z up"
UNITS: dict[LengthUnit, str] = {"mm": "millimetres", "in": "inches"}


class TableWish(NamedTuple):
    """How a table is wanted.

    Attributes:
        datum: what to measure from; none for the car itself.
        unit: of its lengths.
    """

    datum: Ref | None = None
    unit: LengthUnit = "mm"


class TableAsk(QDialog):
    """Asks for datum and unit; where the file goes is asked next."""

    def __init__(self, look: Look, datums: Sequence[tuple[str, Ref]], parent: QWidget) -> None:
        """Offer the car itself and its datums, by name."""
        super().__init__(parent)
        self.setWindowTitle("Hardpoint table")
        self.setModal(True)
        dress(self, look)
        self._values: list[Ref | None] = [None, *(ref for _, ref in datums)]
        names = [FROM_THE_CAR, *(name for name, _ in datums)]
        self.datum = self._box(look, "measured from", names)
        self.unit = self._box(look, "lengths in", list(UNITS.values()))
        self.go_on = button("Choose the file…", "filled")
        self._lay_out(look)
        self.datum.setFocus(Qt.FocusReason.OtherFocusReason)

    def _box(self, look: Look, name: str, words: list[str]) -> QComboBox:
        made = WordsBox(look, self)
        made.setAccessibleName(name)
        made.setProperty("role", "field")
        made.addItems(words)
        return made

    def _lay_out(self, look: Look) -> None:
        px = look.px
        layout = QVBoxLayout(self)
        layout.setContentsMargins(*(px(n) for n in (22, 16, 22, 16)))
        layout.setSpacing(px(12))
        layout.addWidget(label("Export the hardpoint table", "title"))
        layout.addWidget(label("Every hardpoint with where it comes from and its ±.", "lead"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(12))
        grid.setColumnStretch(1, 1)
        for row, box in enumerate((self.datum, self.unit)):
            grid.addWidget(label(box.accessibleName(), "body", "ink2"), row, 0)
            grid.addWidget(box, row, 1)
        layout.addLayout(grid)
        if len(self._values) == 1:
            words = "A datum of your workshop to measure from can be made under Make."
            layout.addWidget(label(words, "small", "ink2"))
        layout.addLayout(self._foot())
        self.setMinimumWidth(px(420))

    def _foot(self) -> QHBoxLayout:
        foot = QHBoxLayout()
        foot.addStretch(1)
        leave = button("Leave it")
        leave.clicked.connect(self.reject)
        self.go_on.setDefault(True)
        self.go_on.clicked.connect(self.accept)
        foot.addWidget(leave)
        foot.addWidget(self.go_on)
        return foot

    def wish(self) -> TableWish:
        """What was chosen."""
        unit = list(UNITS)[self.unit.currentIndex()]
        return TableWish(self._values[self.datum.currentIndex()], unit)
