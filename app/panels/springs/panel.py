"""Springs, one line until it is opened: figures of both axles, and what one end is asked for."""

from collections.abc import Sequence
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.springs.figures import lacking, summary, told
from app.panels.springs.holes import Holes
from app.panels.springs.order import OrderSpring
from app.selection import Selection
from app.session import Session, State
from app.widgets.corner_choice import CornerChoice, corners_at
from app.widgets.figure_table import FigureTable
from app.widgets.fold_line import FoldLine
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.telling import BEFORE
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.engine.address import Address
from core.engine.finding import Finding
from core.quantities import number
from core.study.order import Order

Which = Literal["driven", "other"]

HEAD = "Springs"
EMPTY = "Enter the corners of this end with their dampers: rates and lengths follow from them."
MOST_ASKED = 4
"""Buttons for what is lacking, at once."""


class SpringsPanel(Following):
    """Springs of both axles; ordering, dummy dampers and hanging are about the end in front."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        which: Which = "driven",
        parent: QWidget | None = None,
    ) -> None:
        """Show the axle that is driven, or the other."""
        super().__init__(session, parent)
        self._selection, self._look, self._which = selection, look, which
        driven = which == "driven"
        self.fold = Folded(look)
        self.table = FigureTable(look)
        self.unknown, self.notes = label("", "small", "ink2"), label("", "small", "ink2")
        self.empty = label(EMPTY, "body", "ink2")
        self.asked = [word_button("") for _ in range(MOST_ASKED)]
        self._wanted: list[Address] = []
        self.order_line, self.holes_line = FoldLine(look), FoldLine(look)
        self.hang_line = FoldLine(look)
        self.choice = CornerChoice(look, driven=driven)
        self.order = OrderSpring(session, look)
        self.holes = Holes(look)
        self.hang = label("", "body")
        self._lay_out()
        self.fold.line.toggled.connect(self._again)
        self.choice.changed.connect(self._again)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fold)
        body = self.fold.body
        for widget in (self.empty, self.table, self.unknown, self.notes):
            body.addWidget(widget)
        for at, button in enumerate(self.asked):
            body.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
            button.clicked.connect(lambda _=False, at=at: self._ask(at))
        self._order_part = _together(self.choice, self.order)
        for line, words, part in (
            (self.order_line, "Order a spring", self._order_part),
            (self.holes_line, "Dummy damper", self.holes),
            (self.hang_line, "With the damper off", self.hang),
        ):
            line.setText(words)
            line.setAccessibleName(words)
            body.addWidget(line)
            body.addWidget(part)
            part.hide()
            line.toggled.connect(self._again)

    @property
    def end(self) -> str:
        """The end of the car that it is about."""
        driven = Order(self._session.state.document).driven_end
        other = "front" if driven == "rear" else "rear"
        return driven if self._which == "driven" else other

    def _again(self) -> None:
        if self.isVisible():
            self.refresh(self._session.state)
        else:
            self._waits = True

    def _ask(self, at: int) -> None:
        if at < len(self._wanted):
            self._selection.figure_wanted.emit(self._wanted[at])

    def refresh(self, state: State) -> None:
        """Show how things are now; in a drag, after it."""
        if self._session.history.group is not None and state.assessment.behind:
            self.fold.say(HEAD, BEFORE)
            return
        corners = corners_at(state.document, driven=self._which == "driven")
        self.fold.say(HEAD, summary(state, self.end) if corners else "no corner is entered")
        if not self.fold.is_open:
            return
        self.choice.blockSignals(True)  # noqa: FBT003 - Qt's own
        self.choice.follow(state.document)
        self.choice.blockSignals(False)  # noqa: FBT003 - Qt's own
        self._show(is_known=bool(corners))
        if corners:
            self._tell_figures(state)
            self._tell_parts(state)

    def _show(self, *, is_known: bool) -> None:
        self.empty.setVisible(not is_known)
        lines = (self.order_line, self.holes_line, self.hang_line)
        self.table.setVisible(is_known)
        parts = (self._order_part, self.holes, self.hang)
        for line, part in zip(lines, parts, strict=True):
            line.setVisible(is_known)
            part.setVisible(is_known and line.isChecked())
        if not is_known:
            for widget in (self.unknown, self.notes, *self.asked):
                widget.hide()

    def _tell_figures(self, state: State) -> None:
        found = told(state, self.end)
        self.table.tell(found.table)
        say(self.unknown, "\n".join(f"Don't know: {why}." for why in found.unknown))
        say(self.notes, "\n".join(found.notes))
        self.unknown.setVisible(bool(found.unknown))
        self.notes.setVisible(bool(found.notes))
        corner = self.choice.corner
        wanted = () if corner is None else lacking(state, corner)
        self._wanted = [address for address, _ in wanted]
        for at, button in enumerate(self.asked):
            button.setVisible(at < len(wanted))
            if at < len(wanted):
                _say_button(button, f"Enter {wanted[at][1]}")

    def _tell_parts(self, state: State) -> None:
        self.order.about(self.choice.corner)
        if self.order_line.isChecked():
            self.order.tell(state)
        if self.holes_line.isChecked():
            self.holes.tell(state, self.end)
        if self.hang_line.isChecked():
            refs = corners_at(state.document, driven=self._which == "driven")
            say(self.hang, _hang_words([f for f in state.findings if f.rule == "hangs"], refs))


def _hang_words(found: Sequence[Finding], refs: tuple[Ref, ...]) -> str:
    """What is said of wheels that hang; once where both hang alike."""
    said = [finding for finding in found if set(finding.subjects) & set(refs)]
    if not said:
        return "Don't know: nothing is said of hanging wheels."
    alike = {None if f.measured is None else number(f.measured, 0) for f in said}
    if len(said) > 1 and len(alike) == 1:
        return f"{said[0].sentence} The other side hangs as far."
    return "\n".join(f.sentence for f in said)


def _together(*widgets: QWidget) -> QWidget:
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    for widget in widgets:
        column.addWidget(widget)
    return made


def _say_button(button: QPushButton, words: str) -> None:
    if button.text() != words:
        button.setText(words)
