"""Donors beside one another on the same axes: how they stood, and their points; both as files."""

from datetime import datetime
from pathlib import Path
from typing import Final, Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.asks import Asks
from app.look.look import Look
from app.look.style import label, set_property
from app.panels.donors.table_model import TableModel
from app.selection import Selection
from app.session import Session, State
from app.widgets.flow import Flow
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.tabs import Tabs
from app.widgets.tick_box import TickBox
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.workshop.donor_table import on_same_axes, points_table, standing_table
from core.workshop.files import TableFileError, write_table
from core.workshop.table import Table, TableError

Sheet = Literal["points", "standing"]
SHEETS: Final[dict[Sheet, str]] = {"points": "Their points", "standing": "How they stood"}
FILES: Final[dict[Sheet, str]] = {"points": "donor-points", "standing": "donors-as-they-stood"}
NONE = "No donor corner is measured yet."
NO_TICK = "Tick the donors to be held beside one another."


class DonorComparison(Following):
    """A table of the donors that are ticked; every donor is, at first."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the points of all donors."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        self.asks = Asks(look, self)
        self.sheet: Sheet = "points"
        self.tabs: Tabs[Sheet] = Tabs(look, SHEETS, "table")
        self.ticks: dict[Ref, TickBox] = {}
        self.write = word_button("Write this table…")
        self.make = word_button("New donor corner…")
        self.said, self.note = label("", "small", "ink2"), label("", "small", "ink2")
        self.none = label(NONE, "lead", "ink2")
        self.model = TableModel(self)
        self.table = _view(look, self.model, self)
        self._lay_out()
        self.tabs.chosen.connect(self.show_sheet)
        self.write.clicked.connect(self.write_file)
        self.make.clicked.connect(lambda: selection.make_wanted.emit("donor_corners"))
        look.changed.connect(self._dress)
        self._dress()

    def _lay_out(self) -> None:
        px = self._look.px
        top = QHBoxLayout()
        top.addWidget(self.tabs)
        top.addStretch(1)
        top.addWidget(self.write)
        top.addWidget(self.make)
        self._donors = QWidget()
        self._row = Flow()
        self._row.setContentsMargins(0, 0, 0, 0)
        self._donors.setLayout(self._row)
        box = QVBoxLayout(self)
        box.setContentsMargins(px(22), px(8), px(22), px(12))
        box.setSpacing(px(6))
        box.addLayout(top)
        for widget in (self._donors, self.said, self.none):
            box.addWidget(widget)
        box.addWidget(self.table, 1)
        box.addWidget(self.note)
        self.said.hide()
        self.setFocusProxy(self.table)

    def _dress(self) -> None:
        panel, card = self._look.hex("panel"), self._look.hex("card")
        self.table.setStyleSheet(
            f"QHeaderView {{ background: {panel}; border: none; }}"
            f"QAbstractScrollArea::corner {{ background: {card}; border: none; }}"
            f"QTableCornerButton::section {{ background: {panel}; border: none; }}"
        )

    # --- what is shown --------------------------------------------------------------------------

    def show_sheet(self, sheet: Sheet) -> None:
        """Show how they stood, or their points."""
        self.sheet = sheet
        self._say("")
        self.refresh(self._session.state)

    def refresh(self, state: State) -> None:
        """Show the donors as they are now."""
        self.tabs.show_chosen(self.sheet)
        self._follow_ticks(state)
        table = self.shown()
        has_any = bool(self.ticks)
        say(self.none, NO_TICK if has_any else NONE)
        self.none.setVisible(table is None)
        self._donors.setVisible(len(self.ticks) > 1)
        self.tabs.setVisible(has_any)
        for widget in (self.write, self.table, self.note):
            widget.setVisible(table is not None)
        if table is not None:
            self._tell(table)

    def _tell(self, table: Table) -> None:
        lying = self.sheet == "standing"
        self.model.show_table(table, lying=lying)
        self.table.verticalHeader().setVisible(lying)
        self.table.resizeColumnsToContents()
        say(self.note, " ".join(table.notes))

    def shown(self) -> Table | None:
        """The table in front; nothing where no donor is ticked."""
        refs = [ref for ref, tick in self.ticks.items() if tick.isChecked()]
        if not refs:
            return None
        donors = on_same_axes(self._session.state.document, refs)
        return points_table(donors) if self.sheet == "points" else standing_table(donors)

    def _follow_ticks(self, state: State) -> None:
        donors = {Ref(donor.id): donor for donor in state.document.donor_corners}
        for gone in [ref for ref in self.ticks if ref not in donors]:
            tick = self.ticks.pop(gone)
            self._row.removeWidget(tick)
            tick.hide()
            tick.deleteLater()
        for ref, donor in donors.items():
            if ref not in self.ticks:
                self.ticks[ref] = self._tick()
            if self.ticks[ref].text() != donor.name:
                self.ticks[ref].setText(donor.name)
                self.ticks[ref].updateGeometry()

    def _tick(self) -> TickBox:
        made = TickBox(self._look, " ")
        made.setChecked(True)
        made.toggled.connect(self._again)
        self._row.addWidget(made)
        self._row.begin_second()  # ticks stand at the left
        return made

    def _again(self, _on: bool) -> None:  # noqa: FBT001 - as a button gives it
        self.refresh(self._session.state)

    # --- files ----------------------------------------------------------------------------------

    def write_file(self) -> None:
        """Ask for a file and write the table in front."""
        table = self.shown()
        path = None if table is None else self.asks.donors_file(self._suggested())
        if table is None or path is None:
            return
        try:
            write_table(table, path, datetime.now().astimezone().date())
        except (TableError, TableFileError) as error:
            self._say(str(error), wrong=True)
        else:
            self._say(f"{len(table.rows)} lines written to {path.name}.")

    def _suggested(self) -> Path:
        path = self._session.path
        folder = Path.home() if path is None else path.parent
        return folder / f"{FILES[self.sheet]}.xlsx"

    def _say(self, words: str, *, wrong: bool = False) -> None:
        say(self.said, words)
        set_property(self.said, "ink", "no" if wrong else "ink2")
        self.said.setVisible(bool(words))


def _view(look: Look, model: TableModel, parent: QWidget) -> QTableView:
    table = QTableView(parent)
    table.setModel(model)
    table.setProperty("role", "table")
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setShowGrid(False)
    table.setAccessibleName("donors beside one another")
    table.setTabKeyNavigation(False)
    table.setCornerButtonEnabled(False)
    table.verticalHeader().setDefaultSectionSize(look.px(26))
    for head in (table.horizontalHeader(), table.verticalHeader()):
        head.setProperty("role", "small")
        head.setHighlightSections(False)
    head = table.horizontalHeader()
    head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
    return table
