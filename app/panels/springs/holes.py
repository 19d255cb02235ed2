"""The holes of a dummy damper: a bar that holds the wheel while the car is built."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.session import State
from app.widgets.asking import ask
from app.widgets.figure_table import FigureTable, Table
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.assess.axle_curves import SIDES
from core.assess.pairs import axle_at, pair_of
from core.assess.spring_lengths import dummy
from core.engine.cells import NotComputedError
from core.quantities import number
from core.suspension.damper_over import DummyDamper

WORDS = (
    "A bar with a hole for one eye, and from its middle, eye to eye, three for the other. It "
    "carries the whole corner: the car stands on stands while anyone is under it."
)
HOLES = ("full bump", "as drawn", "full droop")


class Holes(QWidget):
    """A table of both sides, copied as a table for the bench."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show no holes yet."""
        super().__init__(parent)
        self.words, self.unknown = label(WORDS, "small", "ink2"), label("", "body", "ink2")
        self.table = FigureTable(look)
        self.copy = word_button("Copy as CSV")
        self.copied = label("", "small", "ink2")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(6))
        for widget in (self.table, self.unknown, self.words):
            column.addWidget(widget)
        column.addWidget(self.copy, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.copied)
        self.csv = ""
        self.copy.clicked.connect(self._copy)

    def tell(self, state: State, end: str) -> None:
        """Show the holes for both wheels of an axle."""
        try:
            pair = ask(state, pair_of, ask(state, axle_at, end))
            found = [ask(state, dummy, corner) for corner in pair]
        except NotComputedError as error:
            say(self.unknown, f"Don't know, because {error}.")
            self._show(is_known=False)
            return
        rows = [(hole, *(number(_at(each, hole), 1) for each in found)) for hole in HOLES]
        self.table.tell(Table(("hole at, mm", *SIDES), tuple(rows), strong=-1))
        lines = [f"hole,{','.join(f'{side} mm' for side in SIDES)}"]
        lines += [
            ",".join((hole, *(number(_at(each, hole), 1, ascii_only=True) for each in found)))
            for hole in HOLES
        ]
        csv = "\n".join(lines) + "\n"
        if csv != self.csv:
            self.csv = csv
            say(self.copied, "")
        self._show(is_known=True)

    def _show(self, *, is_known: bool) -> None:
        for widget in (self.table, self.words, self.copy):
            widget.setVisible(is_known)
        self.unknown.setVisible(not is_known)
        self.copied.setVisible(is_known and bool(self.copied.text()))

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.csv)
        say(self.copied, "Copied.")
        self.copied.show()


def _at(holes: DummyDamper, hole: str) -> float:
    return {"full bump": holes.full_bump, "as drawn": holes.ride}.get(hole, holes.full_droop)
