"""Toe read with a board at one wheel: typing the readings, and what they tell."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.adjusters.readings import ReadingsTable
from app.panels.adjusters.suspect_row import Suspected, SuspectRow
from app.panels.adjusters.words import suspect_words, verdict_words
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows, context_of
from app.widgets.number_field import NumberField
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.assess.boards import BoardTold, Suspect, board_told
from core.document.base import Ref
from core.document.boards import ToeBoard
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.boards import begin_board
from core.engine.address import Address
from core.engine.cells import NotComputedError

MOST = 8
"""Suspects shown; a board tells nothing of those that come after."""

ENTER = (
    "Jack the wheel to three heights or more, read its toe at each with a board, and enter them: "
    "which end or link may be off follows."
)
CAUTION = "A board names suspects. Measure with a tape before anything is cut or welded."


def boards_of(document: Document, corner: Ref) -> tuple[ToeBoard, ...]:
    """The rounds of readings at a wheel."""
    return tuple(board for board in document.toe_boards if board.corner == corner)


class BoardAid(QWidget):
    """The last round of readings at one wheel."""

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
        """Be about a wheel."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.corner = corner
        self.context: FieldContext = context_of(session, selection, look)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(4))
        self.words = label(ENTER, "body", "ink2")
        self.begin = word_button("Enter readings of a board")
        self.begin.clicked.connect(lambda _=False: self._begin())
        self.refusal = Sentence(look, self)
        self.name = label("", "small", "ink2")
        self.doubt: NumberField | None = None
        self.table: ReadingsTable | None = None
        self._round: QWidget | None = None
        self._board = ""
        self.verdict = label("", "body")
        self.rows: list[SuspectRow] = []
        self._rows = QVBoxLayout()
        self._rows.setSpacing(look.px(2))
        self.more = label("", "small", "ink2")
        for widget in (self.words, self.name, self.verdict):
            column.addWidget(widget)
        column.addLayout(self._rows)
        column.addWidget(self.more)
        column.addWidget(self.begin, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.refusal)

    def _begin(self) -> None:
        corner = self.corner
        try:
            self._session.apply("Enter readings of a board", lambda d: begin_board(d, corner)[0])
        except JigplateError as error:
            self.refusal.say(as_sentence(error))
            return
        self.refusal.clear()
        if self.table is not None and self.table.next is not None:
            self.table.next[0].setFocus(Qt.FocusReason.OtherFocusReason)
        self.grown.emit()

    def tell(self, state: State) -> None:
        """Show how things are now."""
        rounds = boards_of(state.document, self.corner)
        board = rounds[-1] if rounds else None
        self.words.setVisible(board is None)
        for widget in (self.name, self.verdict, self.more):
            widget.setVisible(board is not None)
        self.begin.setText("Enter readings of a board" if board is None else "Begin another round")
        self._keep_round(board)
        if board is None or self.table is None:
            self._show([])
            return
        self.table.tell(board)
        when = f", {board.when}" if board.when else ""
        say(self.name, f"{board.name}{when}")
        self._tell_result(state, board)

    def _keep_round(self, board: ToeBoard | None) -> None:
        """Fields of another round where another is the last."""
        wanted = "" if board is None else board.id
        if wanted == self._board:
            return
        self._board = wanted
        if self._round is not None:
            self._round.hide()
            self._column.removeWidget(self._round)
            self._round.deleteLater()
            self._round = self.doubt = self.table = None
        if board is not None:
            self._make_round(board)

    def _make_round(self, board: ToeBoard) -> None:
        self._round = QWidget(self)
        inside = QVBoxLayout(self._round)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(self._look.px(4))
        rows = Rows(self._look, self._round)
        address = Address(Ref(board.id), "uncertainty_deg")
        self.doubt = NumberField(
            self._session, self._selection, self._look, address, rows, drawn=self.context.drawn
        )
        rows.add("likely error of one reading", self.doubt)
        self.table = ReadingsTable(self.context, board.id, self._round)
        self.table.grown.connect(self.grown)
        inside.addWidget(rows)
        inside.addWidget(self.table)
        self._column.insertWidget(2, self._round)

    def _tell_result(self, state: State, board: ToeBoard) -> None:
        try:
            told = ask(state, board_told, Ref(board.id))
        except NotComputedError as error:
            say(self.verdict, f"Don't know, because {error}.")
            self._show([])
            say(self.more, "")
            return
        say(self.verdict, verdict_words(told))
        shown = _shown(told)
        lookup = Lookup(state.document)
        self._show([_suspected(lookup, each) for each in shown])
        say(self.more, f"{_counted(told, len(shown))}{CAUTION}" if shown else "")

    def _show(self, told: list[Suspected]) -> None:
        while len(self.rows) < len(told):
            made = SuspectRow(self._look, told[len(self.rows)])
            made.clicked.connect(lambda _=False, row=made: self._selection.choose(row.told.ref))
            self.rows.append(made)
            self._rows.addWidget(made)
        for at, row in enumerate(self.rows):
            row.setVisible(at < len(told))
            if at < len(told):
                row.tell(told[at])


def _shown(told: BoardTold) -> tuple[Suspect, ...]:
    """The likeliest; nothing where nothing is shown to be off."""
    if told.verdict == "nothing shown":
        return ()
    return told.suspects[:MOST]


def _counted(told: BoardTold, shown: int) -> str:
    """How many more there are, of those not told apart and of the others."""
    alike = max(len(told.alike) - shown, 0)
    others = len(told.suspects) - shown - alike
    parts = (f"{alike} more not told apart" if alike else "", f"{others} less likely")
    return f"{', '.join(part for part in parts if part)}. " if alike or others else ""


def _suspected(lookup: Lookup, suspect: Suspect) -> Suspected:
    words = suspect_words(suspect, lookup.label(suspect.ref))
    return Suspected(suspect.ref, words, suspect.is_alike)
