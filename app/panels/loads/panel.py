"""The loads of a corner: which, what its links and the chassis get, and the greatest of all."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.loads.words import (
    CAUTION,
    as_csv,
    at_wheel_words,
    chassis_table,
    greatest_table,
    link_table,
    load_words,
    seats_table,
    source_words,
    summary_words,
    tubes_words,
    unknown_words,
)
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.choice_field import WordsBox
from app.widgets.corner_choice import CornerChoice
from app.widgets.figure_table import FigureTable, Table
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.telling import BEFORE
from app.widgets.word_button import word_button
from core.assess.load_report import LoadReport, load_report
from core.assess.wheel_forces import Name
from core.document.lookup import Lookup
from core.engine.cells import NotComputedError

HEAD = "Loads"
FOLDED = "forces in links and on the chassis"
NO_CORNER = "enter a corner first"
COPY, COPIED = "Copy all as CSV", "Copied"
FIRST: Name = "bump"
"""The load that is shown at first."""


class LoadsPanel(Following):
    """One line until it is opened; then the forces of one corner in one load, and the greatest."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        parent: QWidget | None = None,
        *,
        driven: bool = True,
    ) -> None:
        """Show the driven end, or the other one."""
        super().__init__(session, parent)
        del selection
        self.report: LoadReport | None = None
        self._names: tuple[Name, ...] = ()
        self._chosen = FIRST
        self.fold = Folded(look)
        self.choice = CornerChoice(look, driven=driven)
        self.caution, self.unknown = label(CAUTION, "body", "ink2"), label("", "body", "ink2")
        self.box = WordsBox(look)
        self.box.setProperty("role", "table")
        self.box.setAccessibleName("load")
        self.at_wheel, self.source = label("", "body"), label("", "small", "ink2")
        self.heads = [
            label(words, "head")
            for words in (
                "In the links",
                "On the chassis",
                "Most in the links",
                "Most on the chassis",
            )
        ]
        self.links, self.chassis = FigureTable(look), FigureTable(look)
        self.most, self.seats = FigureTable(look), FigureTable(look)
        self.tubes, self.left_out = label("", "small", "ink2"), label("", "small", "ink2")
        self.copy = word_button(COPY)
        self._lay_out()
        self.fold.line.toggled.connect(self._again)
        self.choice.changed.connect(self._again)
        self.box.activated.connect(self._choose)
        self.copy.clicked.connect(self._copy)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fold)
        tables = (self.links, self.chassis, self.most, self.seats)
        self._told: list[QWidget] = [self.box, self.at_wheel, self.source]
        for head, table in zip(self.heads, tables, strict=True):
            self._told += [head, table]
        self._told += [self.tubes, self.left_out, self.copy]
        for widget in (self.caution, self.choice, self.unknown, *self._told[:-1]):
            self.fold.body.addWidget(widget)
        self.fold.body.addWidget(self.copy, 0, Qt.AlignmentFlag.AlignLeft)

    def _again(self) -> None:
        if self.isVisible():
            self.refresh(self._session.state)
        else:
            self._waits = True

    def refresh(self, state: State) -> None:
        """Show how things are now; in a drag, after it; folded, ask for nothing."""
        if self._session.history.group is not None and state.assessment.behind:
            self._grey()
            return
        self.choice.blockSignals(True)  # noqa: FBT003 - Qt's own
        self.choice.follow(state.document)
        self.choice.blockSignals(False)  # noqa: FBT003 - Qt's own
        if self.choice.corner is None or not self.fold.is_open:
            self.report = None
            self.fold.say(HEAD, NO_CORNER if self.choice.corner is None else FOLDED)
            self._show(Lookup(state.document), "")
            return
        self._ask(state)

    def _ask(self, state: State) -> None:
        corner, lookup = self.choice.corner, Lookup(state.document)
        assert corner is not None
        try:
            self.report = ask(state, load_report, corner)
        except NotComputedError as error:
            self.report = None
            self.fold.say(HEAD, "don't know")
            self._show(lookup, f"Don't know, because {error}.")
            return
        self.fold.say(HEAD, summary_words(lookup, self.report))
        self._offer(self.report)
        self._show(lookup, unknown_words(lookup, self.report))

    def _offer(self, report: LoadReport) -> None:
        """Offer the loads that are known; the one in front stays if it is still there."""
        names = tuple(report.loads)
        words = [load_words(report, name) for name in names]
        if names != self._names or words != self._offered:
            self._names = names
            self.box.clear()
            self.box.addItems(words)
        if self._chosen not in names:
            self._chosen = names[0]
        self.box.setCurrentIndex(names.index(self._chosen))

    @property
    def _offered(self) -> list[str]:
        return [self.box.itemText(at) for at in range(self.box.count())]

    def _choose(self, at: int) -> None:
        self._chosen = self._names[at]
        self._show(Lookup(self._session.state.document), self.unknown.text())

    def _show(self, lookup: Lookup, unknown: str) -> None:
        """Show what is known of the load in front."""
        report = self.report
        say(self.unknown, unknown)
        self.unknown.setVisible(bool(unknown))
        for widget in self._told:
            widget.setVisible(report is not None)
        if report is None:
            return
        loads = report.loads[self._chosen]
        say(self.at_wheel, at_wheel_words(loads))
        say(self.source, source_words(loads))
        tables = (
            link_table(loads),
            chassis_table(lookup, loads),
            greatest_table(lookup, report),
            seats_table(lookup, report),
        )
        self._tell(tables)
        say(self.tubes, tubes_words(report))
        say(self.left_out, " ".join(report.left_out))
        self.left_out.setVisible(bool(report.left_out))
        self.copy.setText(COPY)

    def _tell(self, tables: tuple[Table, ...], *, behind: bool = False) -> None:
        shown = (self.links, self.chassis, self.most, self.seats)
        for widget, table in zip(shown, tables, strict=True):
            widget.tell(table, behind=behind)

    def _grey(self) -> None:
        """What stands there is of before the drag."""
        self.fold.say(HEAD, BEFORE)
        shown = (self.links, self.chassis, self.most, self.seats)
        self._tell(tuple(each.table for each in shown), behind=True)

    def _copy(self) -> None:
        if self.report is not None:
            lookup = Lookup(self._session.state.document)
            QGuiApplication.clipboard().setText(as_csv(lookup, self.report))
            self.copy.setText(COPIED)
