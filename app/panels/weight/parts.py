"""What each thing weighs, what is not weighed yet, and the car without what is chosen."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.weight.heavy import HeavyRow
from app.panels.weight.words import without_words
from app.selection import Selection
from app.session import State
from app.widgets.asking import ask
from app.widgets.fold_line import FoldLine
from app.widgets.rows import say
from app.widgets.wrapping_button import WrappingButton
from core.assess.weights import weight_without
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.workshop.weight_page import Heavy, Missing, WeightPage

OPEN = 8
"""How many of the heaviest stand open."""


class HeavyList(QWidget):
    """The heaviest first; the rest under a line that opens."""

    def __init__(self, look: Look, selection: Selection, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look, self._selection = look, selection
        self._told: tuple[Heavy, ...] = ()
        self.rows: list[HeavyRow] = []
        self.more = FoldLine(look)
        self.without = label("", "body", "ink2")
        self._first, self._rest = QVBoxLayout(), QVBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._first)
        column.addWidget(self.more)
        column.addLayout(self._rest)
        column.addWidget(self.without)
        self.more.toggled.connect(self._show_rows)

    def tell(self, state: State, page: WeightPage) -> None:
        """Show what weighs something, and the car without what is chosen."""
        self._told = page.heavy
        self._show_rows()
        self.show_chosen(state, page)

    def _show_rows(self) -> None:
        told = self._told
        shown = len(told) if self.more.isChecked() else min(OPEN, len(told))
        while len(self.rows) < shown:
            self._add_row()
        most = max((each.kg for each in told), default=1.0)
        for at, row in enumerate(self.rows):
            row.setVisible(at < shown)
            if at < shown:
                row.tell(told[at], most)
        rest = sum(each.kg for each in told[OPEN:])
        self.more.setText(f"{len(told) - OPEN} more, {rest:.1f} kg together")
        self.more.setAccessibleName(self.more.text())
        self.more.setVisible(len(told) > OPEN)
        self._check()

    def _add_row(self) -> None:
        row = HeavyRow(self._look)
        row.clicked.connect(partial(self._choose, row))
        column = self._first if len(self.rows) < OPEN else self._rest
        self.rows.append(row)
        column.addWidget(row)

    def _choose(self, row: HeavyRow, _on: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        if row.heavy.ref is None:
            self._selection.list_wanted.emit("tubes")
        else:
            self._selection.choose(row.heavy.ref)

    def _check(self) -> None:
        for row in self.rows:
            row.setChecked(row.heavy.ref is not None and row.heavy.ref in self._selection.refs)

    def show_chosen(self, state: State, page: WeightPage) -> None:
        """Mark what is chosen, and tell what the car weighs without it."""
        self._check()
        chosen = [h for h in page.heavy if h.ref is not None and h.ref in self._selection.refs]
        words = ""
        if len(chosen) == 1 and chosen[0].ref is not None:
            name = chosen[0].name.replace("_", " ")
            try:
                words = without_words(name, ask(state, weight_without, chosen[0].ref), page.weight)
            except NotComputedError as error:
                words = f"Without {name}: don't know, because {error}."
        say(self.without, words)
        self.without.setVisible(bool(words))


class MissingList(QWidget):
    """What is not weighed: a click takes the keyboard to its field."""

    def __init__(self, look: Look, selection: Selection, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look, self._selection = look, selection
        self._told: tuple[Missing, ...] = ()
        self.rows: list[WrappingButton] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look.px(4))

    def tell(self, missing: Sequence[Missing]) -> None:
        """Show these."""
        self._told = tuple(missing)
        while len(self.rows) < len(missing):
            self.rows.append(WrappingButton(self._look))
            self.rows[-1].clicked.connect(partial(self._go, len(self.rows) - 1))
            self._column.addWidget(self.rows[-1])
        for at, row in enumerate(self.rows):
            row.setVisible(at < len(missing))
            if at < len(missing):
                words = missing[at].words.replace("_", " ")
                row.say(f"{words[0].upper()}{words[1:]}")

    def _go(self, at: int, _on: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        missing = self._told[at]
        if missing.path:
            self._selection.figure_wanted.emit(Address(missing.ref, missing.path))
        else:
            self._selection.choose(missing.ref)
