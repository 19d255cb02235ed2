"""Adjusters, set-up aid and board readings of one axle, each a line until it is opened."""

from typing import Literal, TypeVar

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.panels.adjusters.aid import SetUpAid
from app.panels.adjusters.board import BoardAid, boards_of
from app.panels.adjusters.words import summary_words
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.corner_choice import CornerChoice, corners_at
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.telling import BEFORE
from core.assess.setting_up import set_up_of
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError

Which = Literal["driven", "other"]
A = TypeVar("A", SetUpAid, BoardAid)
SET_UP, BOARD = "Adjusters", "Toe board"
ENTER_SET_UP = "enter what can be set"
ENTER_BOARD = "enter toe at three heights"
NO_CORNER = "enter a corner first"


class Part:
    """A line that opens, the corner it is about, and what is said of that corner."""

    def __init__(self, look: Look, *, driven: bool) -> None:
        """Begin shut."""
        self.fold = Folded(look)
        self.choice = CornerChoice(look, driven=driven)
        self.fold.body.addWidget(self.choice)
        self.has_opened = False

    def open_once(self) -> None:
        """Open it for the first thing that is entered; shut again, it stays shut."""
        if not self.has_opened:
            self.has_opened = True
            self.fold.line.setChecked(True)


class AdjustersPanel(Following):
    """What can be set on one axle, what it is to be set to, and what a board tells of it."""

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
        self._selection, self._look = selection, look
        self._driven = which == "driven"
        self.set_up = Part(look, driven=self._driven)
        self.board = Part(look, driven=self._driven)
        self.aid: SetUpAid | None = None
        self.board_aid: BoardAid | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (self.set_up, self.board):
            column.addWidget(part.fold)
            part.fold.line.toggled.connect(self._again)
            part.choice.changed.connect(self._again)

    def _again(self) -> None:
        if self.isVisible():
            self.refresh(self._session.state)
        else:
            self._waits = True

    def refresh(self, state: State) -> None:
        """Show how things are now; in a drag, after it."""
        document = state.document
        if self._session.history.group is not None and state.assessment.behind:
            self._say_before()
            return
        corners = corners_at(document, driven=self._driven)
        for part in (self.set_up, self.board):
            part.choice.blockSignals(True)  # noqa: FBT003 - Qt's own
            part.choice.follow(document)
            part.choice.blockSignals(False)  # noqa: FBT003 - Qt's own
        if _is_entered(document, corners):
            self.set_up.open_once()
        if any(boards_of(document, ref) for ref in corners):
            self.board.open_once()
        self._tell_set_up(state)
        self._tell_board(state)

    def _say_before(self) -> None:
        self.set_up.fold.say(SET_UP, BEFORE)
        self.board.fold.say(BOARD, BEFORE)

    def _tell_set_up(self, state: State) -> None:
        corner = self.set_up.choice.corner
        self.aid = self._kept(self.aid, SetUpAid, self.set_up, corner)
        self.set_up.fold.say(SET_UP, _summary(state, corner))
        if self.aid is not None and self.set_up.fold.is_open:
            self.aid.tell(state)

    def _tell_board(self, state: State) -> None:
        corner = self.board.choice.corner
        self.board_aid = self._kept(self.board_aid, BoardAid, self.board, corner)
        self.board.fold.say(BOARD, _board_summary(state.document, corner))
        if self.board_aid is not None and self.board.fold.is_open:
            self.board_aid.tell(state)

    def _kept(self, aid: A | None, kind: type[A], part: Part, corner: Ref | None) -> A | None:
        """The same as long as the corner is; another for another corner."""
        if aid is not None and aid.corner == corner:
            return aid
        if aid is not None:
            aid.hide()
            part.fold.body.removeWidget(aid)
            aid.deleteLater()
        if corner is None:
            return None
        made = kind(self._session, self._selection, self._look, corner)
        made.grown.connect(part.fold.updateGeometry)
        part.fold.body.addWidget(made)
        return made


def _is_entered(document: Document, corners: tuple[Ref, ...]) -> bool:
    """Whether anything of setting up is entered for one of the corners."""
    lookup = Lookup(document)
    things = (lookup.by_id[ref.id] for ref in corners)
    return any(
        isinstance(thing, Corner)
        and (thing.adjusters or thing.wanted_camber_deg is not None
             or thing.wanted_toe_in_deg is not None)
        for thing in things
    )  # fmt: skip


def _summary(state: State, corner: Ref | None) -> str:
    if corner is None:
        return NO_CORNER
    if not _is_entered(state.document, (corner,)):
        return ENTER_SET_UP
    try:
        return summary_words(ask(state, set_up_of, corner))
    except NotComputedError:
        return "don't know"


def _board_summary(document: Document, corner: Ref | None) -> str:
    if corner is None:
        return NO_CORNER
    rounds = boards_of(document, corner)
    if not rounds:
        return ENTER_BOARD
    count = len(rounds[-1].readings)
    return f"{count} reading{'' if count == 1 else 's'}"
