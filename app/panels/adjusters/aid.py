"""The set-up aid of one corner: what is wanted, what to set, and what one step of each does."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label, set_property
from app.panels.adjusters.setting_row import SettingRow, Told
from app.panels.adjusters.words import (
    DONT_KNOW,
    amount_words,
    besides_words,
    effect_rows,
    is_thread_short,
    label_words,
    range_words,
    reached_words,
    steps_words,
    thread_words,
)
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.branch_editor import ListEditor
from app.widgets.field_rows import FieldContext, Rows, context_of
from app.widgets.figure_table import FigureTable, Table
from app.widgets.finding_details import sentence
from app.widgets.fold_line import FoldLine
from app.widgets.number_field import NumberField
from app.widgets.rows import say
from core.assess.adjusters import CornerAdjusters, Fitted, adjuster_effects, adjusters_of
from core.assess.setting_up import CornerSetUp, Setting, set_up_of
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.workshop.field_shapes import shape_at

FIELDS = (("camber wanted", "wanted_camber_deg"), ("toe-in wanted", "wanted_toe_in_deg"))
ENTER = (
    "Enter the camber and toe-in wanted, and each place where something is screwed, shimmed or "
    "slotted: how far to set it follows."
)


class SetUpAid(QWidget):
    """Everything about setting one corner; made anew when another corner comes to the front."""

    grown = Signal()
    """More is shown than before."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        corner: Ref,
        parent: QWidget | None = None,
    ) -> None:
        """Be about a corner."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.corner = corner
        self.context: FieldContext = context_of(session, selection, look)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(4))
        self.fields: dict[str, NumberField] = {}
        self._ask_for_wanted()
        self.result = label("", "body")
        self.besides = label("", "small", "ink2")
        self.rows: list[SettingRow] = []
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self._make_folds()
        column.addWidget(self.result)
        column.addLayout(self._rows)
        column.addWidget(self.besides)
        for widget in (self.steps_line, self.steps, self.steps_words, self.edit_line):
            column.addWidget(widget)
        self.editor: ListEditor | None = None

    def _ask_for_wanted(self) -> None:
        rows = Rows(self._look, self)
        for words, path in FIELDS:
            field = NumberField(
                self._session,
                self._selection,
                self._look,
                Address(self.corner, path),
                rows,
                drawn=self.context.drawn,
            )
            self.fields[path] = field
            rows.add(words, field)
        self._column.addWidget(rows)

    def _make_folds(self) -> None:
        look = self._look
        self.steps_line, self.edit_line = FoldLine(look), FoldLine(look)
        self.steps_line.setText("What one step of each does")
        self.edit_line.setText("Enter and change adjusters")
        for line in (self.steps_line, self.edit_line):
            line.setAccessibleName(line.text())
        self.steps = FigureTable(look)
        self.steps_words = label("", "small", "ink2")
        self.steps_line.toggled.connect(self._turn)
        self.edit_line.toggled.connect(self._turn_editor)

    def _turn(self) -> None:
        self.tell(self._session.state)
        self.grown.emit()

    def _turn_editor(self) -> None:
        if self.editor is not None:
            self.editor.hide()
            self._column.removeWidget(self.editor)
            self.editor.deleteLater()
            self.editor = None
        if self.edit_line.isChecked():
            shape = shape_at(Corner, "adjusters")
            address = Address(self.corner, "adjusters")
            self.editor = ListEditor(self.context, address, shape, self)
            self._column.addWidget(self.editor)
        self.grown.emit()

    def tell(self, state: State) -> None:
        """Show how things are now."""
        try:
            fitted = ask(state, adjusters_of, self.corner)
        except NotComputedError as error:
            self._tell_unknown(f"Don't know, because {error}.")
            return
        try:
            found: CornerSetUp | None = ask(state, set_up_of, self.corner)
            self._tell_result(found)
        except NotComputedError as error:
            found = None
            self._tell_unknown(_why(fitted, str(error)))
        self._tell_rows(fitted, found)
        self._tell_steps(state, fitted)

    def _tell_unknown(self, words: str) -> None:
        say(self.result, words)
        set_property(self.result, "ink", "ink2")
        say(self.besides, "")
        self.besides.hide()
        self._show([])
        for widget in (self.steps_line, self.steps, self.steps_words):
            widget.hide()

    def _tell_result(self, found: CornerSetUp | None) -> None:
        assert found is not None
        is_met = found.found.is_met_rounded
        missed = "" if is_met else ", not what is wanted"
        say(self.result, sentence(f"{reached_words(found)}{missed}"))
        set_property(self.result, "ink", "ink" if is_met else "no")
        say(self.besides, besides_words(found))
        self.besides.setVisible(bool(self.besides.text()))

    def _tell_rows(self, fitted: CornerAdjusters, found: CornerSetUp | None) -> None:
        settings = {} if found is None else {s.adjuster.number: s for s in found.settings}
        told = [_row(each, settings.get(each.number)) for each in fitted.known]
        told += [
            Told(each.number, each.point, label_words(each.label), "left out", 0.0, 0.0, None, 0.0,
                 "", each.reason, is_bad=False)
            for each in fitted.unknown
        ]  # fmt: skip
        self._show(sorted(told, key=lambda row: row.number))

    def _show(self, told: list[Told]) -> None:
        while len(self.rows) < len(told):
            made = SettingRow(self._look, told[len(self.rows)])
            made.clicked.connect(lambda _=False, row=made: self._selection.choose(row.told.ref))
            self.rows.append(made)
            self._rows.addWidget(made)
        for at, row in enumerate(self.rows):
            row.setVisible(at < len(told))
            if at < len(told):
                row.tell(told[at])

    def _tell_steps(self, state: State, fitted: CornerAdjusters) -> None:
        is_open = self.steps_line.isChecked()
        self.steps_line.setVisible(bool(fitted.known))
        self.steps.setVisible(is_open and bool(fitted.known))
        self.steps_words.setVisible(is_open and bool(fitted.known))
        if not is_open or not fitted.known:
            return
        try:
            effects = ask(state, adjuster_effects, self.corner)
        except NotComputedError as error:
            self.steps.hide()
            say(self.steps_words, f"Don't know, because {error}.")
            return
        heads = ("", *(str(each.number + 1) for each in fitted.known))
        self.steps.tell(Table(heads, effect_rows(effects)))
        say(self.steps_words, steps_words(fitted.known))


def _why(fitted: CornerAdjusters, reason: str) -> str:
    """What to enter, or why it is not known."""
    if not fitted.known and not fitted.unknown:
        return ENTER
    return f"Don't know, because {reason}."


def _row(fitted: Fitted, setting: Setting | None) -> Told:
    room, name = fitted.room, label_words(fitted.label)
    if setting is None:
        as_drawn = Setting(fitted, 0.0, 0.0)
        left, thread = f"range {room.most - room.least:.0f}", thread_words(as_drawn)
        return Told(
            fitted.number, fitted.point, name, DONT_KNOW, room.least, room.most, None, 0.0, left,
            thread, is_thread_short(as_drawn),
        )  # fmt: skip
    return Told(
        fitted.number,
        fitted.point,
        name,
        amount_words(setting),
        room.least,
        room.most,
        setting.amount,
        setting.lacking,
        range_words(setting),
        thread_words(setting),
        is_thread_short(setting),
    )
