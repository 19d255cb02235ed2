"""Settle the geometry: what may move, what for, and a proposal that is taken or dropped."""

from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.settle.movers import Movers
from app.panels.settle.proposed import Proposed
from app.panels.settle.wishes import Wishes
from app.selection import Selection
from app.session import Session, State
from app.study_work import settle
from app.trial import Trial
from app.widgets.asking import ask
from app.widgets.corner_choice import CornerChoice
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.study_run import StudyRun
from app.widgets.telling import BEFORE
from core.assess.curves import travel_curves
from core.document.base import Ref
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.settle import settle_places
from core.engine.assess import assess
from core.engine.cells import NotComputedError, When
from core.quantities import number
from core.scene.cells import the_scene
from core.study.settle import offered
from core.study.settle_places import coordinates
from core.study.settle_records import Proposal, Settling

HEAD = "Settle the geometry"
LEAD = (
    "Tick what may move and how far, and what the corner is wanted to do. Nothing moves until you "
    "take what is proposed."
)
EMPTY = "Enter the links of this end. Where its points had better go follows from them."
TAKEN = "Taken. Undo brings the old places back."


class SettlePanel(Following):
    """One line until it is opened; a proposal belongs to the car it was made for."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        parent: QWidget | None = None,
        *,
        driven: bool = True,
    ) -> None:
        """Show the driven end, or the other one; nothing is proposed yet."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        self._trial = Trial.of(selection)
        self._of: Document | None = None
        self._asked: Document | None = None
        self.fold = Folded(look)
        self.choice = CornerChoice(look, driven=driven)
        self.lead, self.unknown = label(LEAD, "body", "ink2"), label("", "body", "ink2")
        self.move_head, self.aim_head = label("May move", "head"), label("Settled for", "head")
        self.movers, self.wishes = Movers(look), Wishes(look)
        self.run = StudyRun(look, selection, "Propose", _counted)
        self.proposed = Proposed(look)
        self._lay_out()
        self.fold.line.toggled.connect(self._opened)
        self.choice.changed.connect(self._other_corner)
        self.run.wanted.connect(self.ask)
        self.run.done.connect(self._take_in)
        self.proposed.taken.connect(self.take)
        self.proposed.dropped.connect(self.drop)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fold)
        inside: tuple[QWidget, ...] = (
            *(self.lead, self.choice, self.unknown, self.aim_head, self.wishes),
            *(self.move_head, self.movers, self.run, self.proposed),
        )
        for widget in inside:
            self.fold.body.addWidget(widget)

    # --- what is asked -----------------------------------------------------------------------

    def refresh(self, state: State) -> None:
        """Show how things are now; what may move waits until a drag has ended."""
        self.choice.follow(state.document)
        if self.fold.is_open and self._session.history.group is None:
            self._tell_asked(state)
        self._tell_proposed()

    def _opened(self, _open: bool) -> None:  # noqa: FBT001 - as a button gives it
        self.refresh(self._session.state)

    def _tell_asked(self, state: State) -> None:
        corner = self.choice.corner
        say(self.lead, EMPTY if corner is None else LEAD)
        why = "" if corner is None else self._tell_corner(state, corner)
        say(self.unknown, f"Don't know, because {why}." if why else "")
        self.unknown.setVisible(bool(why))
        for widget in (self.aim_head, self.wishes, self.move_head, self.movers, self.run):
            widget.setVisible(corner is not None and not why)

    def _tell_corner(self, state: State, corner: Ref) -> str:
        """Show what may move and what for; or why nothing can be told."""
        try:
            aims = offered(ask(state, travel_curves, corner))
            found = coordinates(state.document, corner)
        except NotComputedError as error:
            return str(error)
        self.wishes.tell(aims)
        self.movers.tell(Lookup(state.document), found)
        return ""

    def _other_corner(self) -> None:
        self.run.stop()
        self.run.tell("")
        self.wishes.forget()
        self.drop()
        if self.isVisible():
            self.refresh(self._session.state)

    def ask(self) -> None:
        """Have a proposal made in the worker."""
        corner = self.choice.corner
        kept = (self.movers.keep(), self.wishes.keep())
        if corner is None or not all(kept):
            return
        freed, wishes = self.movers.freed(), self.wishes.wanted()
        if not freed or not wishes:
            lacking = "a coordinate that may move" if not freed else "something to settle for"
            self.run.tell(f"Tick {lacking} first.")
            return
        self.drop()
        self._asked = self._session.state.document
        meshes = dict(self._session.meshes)
        self.run.start(settle, Settling(self._asked, meshes, corner, freed, wishes))

    # --- what is proposed --------------------------------------------------------------------

    @property
    def is_behind(self) -> bool:
        """Whether the car has changed since the proposal was asked for."""
        return self._of is not self._session.state.document

    def _take_in(self, proposal: Proposal) -> None:
        self._of = self._asked
        assert self._of is not None
        self.proposed.tell(Lookup(self._of), proposal)
        self._tell_proposed()

    def _tell_proposed(self) -> None:
        proposal = self.proposed.proposal
        self.fold.say(HEAD, self._summary(proposal))
        if proposal is not None:
            self.proposed.grey(behind=self.is_behind)
            if self.is_behind:
                self.run.tell(f"What stands below is of {BEFORE}.")
        self._show_beside(None if self.is_behind else proposal)

    def _summary(self, proposal: Proposal | None) -> str:
        if self.choice.corner is None:
            return "no corner is entered"
        if proposal is None:
            return "nothing proposed"
        first = proposal.aims[0]
        after = "don't know" if first.after is None else number(first.after, first.kind.digits)
        before = number(first.before, first.kind.digits)
        note = f", {BEFORE}" if self.is_behind else ""
        return f"{first.kind.words} {before} to {after} {first.kind.unit}{note}"

    def _show_beside(self, proposal: Proposal | None) -> None:
        """Draw what is proposed in thin lines over the car as it is."""
        shown = self.isVisible() and proposal is not None and bool(proposal.moves)
        if not shown or proposal is None:
            self._trial.drop_if(self)
            return
        if self._trial.is_of(self, proposal):
            return
        state = self._session.state
        try:
            document = settle_places(state.document, proposal.places)
            table = assess(
                document, self._session.meshes, state.assessment, (), When.LIVE, (the_scene,)
            )
            self._trial.show(table.value(the_scene), self, proposal)
        except JigplateError:
            self._trial.drop_if(self)

    def take(self) -> None:
        """Move the points, as one step of undo."""
        proposal = self.proposed.proposal
        if proposal is None or self.is_behind:
            return
        name = Lookup(self._session.state.document).label(proposal.corner)
        try:
            self._session.apply(
                f"Settle {name}",
                lambda document: settle_places(document, proposal.places, proposal.because),
            )
        except JigplateError as error:
            self.run.tell(str(error))
            return
        self.drop()
        self.run.tell(TAKEN)

    def drop(self) -> None:
        """Let go of the proposal."""
        self._of = None
        self.run.tell("")
        self.proposed.tell(Lookup(self._session.state.document), None)
        self._tell_proposed()

    def hideEvent(self, event: QHideEvent) -> None:
        """Take what is drawn beside the car away with the panel."""
        super().hideEvent(event)
        self._trial.drop_if(self)


def _counted(tried: object) -> tuple[float | None, str]:
    return None, f"{tried} drawings tried."
