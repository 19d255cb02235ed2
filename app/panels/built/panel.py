"""Built many times: how a corner's figures spread, what its adjusters mend, which points to jig."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.built.ranked import RankedPoint
from app.panels.built.words import (
    left_out_words,
    most_words,
    point_words,
    reached_words,
    right_words,
    share_words,
    spread_words,
    table_of,
    tolerance_words,
)
from app.selection import Selection
from app.session import Session, State
from app.study_work import ToBuild, build
from app.widgets.corner_choice import CornerChoice
from app.widgets.figure_table import FigureTable
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.study_run import StudyRun
from app.widgets.telling import BEFORE
from core.assess.places import place
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.lookup import label as label_of
from core.document.project import Document
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.engine.finding import Finding
from core.study.built import COUNT, TO_JIG, Built

HEAD = "Built many times"
LEAD = (
    "The corner is built on paper, again and again, each hardpoint anywhere within its tolerance. "
    "What spreads tells which points to jig with care."
)
EMPTY = "Enter the links of this end. How it comes out when it is built follows from them."


class BuiltPanel(Following):
    """One line until it is opened; the answer belongs to the car it was asked of."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        parent: QWidget | None = None,
        *,
        driven: bool = True,
        count: int = COUNT,
    ) -> None:
        """Show the driven end, or the other one; nothing is asked yet."""
        super().__init__(session, parent)
        self._selection, self._look, self._cars = selection, look, count
        self.built: Built | None = None
        self._of: Document | None = None
        self._asked: Document | None = None
        self.fold = Folded(look)
        self.choice = CornerChoice(look, driven=driven)
        self.run = StudyRun(look, selection, f"Build {count:,} cars on paper", _counted)
        self.table = FigureTable(look)
        self.lead = label(LEAD, "body", "ink2")
        self.right, self.lost = label("", "body"), label("", "small", "no")
        self.jig_head = label("Jig these with care", "head")
        self.jig_note = label("share of what spreads, mean over the figures", "small", "ink2")
        self.points = [self._point() for _ in range(TO_JIG)]
        self.tolerances, self.left_out = label("", "small", "ink2"), label("", "small", "ink2")
        self._lay_out()
        self.run.wanted.connect(self.ask)
        self.run.done.connect(self._take)
        self.choice.changed.connect(self._other_corner)

    def _point(self) -> RankedPoint:
        made = RankedPoint(self._look)
        made.clicked.connect(lambda _=False: self._go(made.ref))
        return made

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fold)
        inside: tuple[QWidget, ...] = (
            *(self.lead, self.choice, self.run, self.table, self.right, self.lost),
            *(self.jig_head, self.jig_note, *self.points, self.tolerances, self.left_out),
        )
        for widget in inside:
            self.fold.body.addWidget(widget)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        self.choice.follow(state.document)
        corner = self.choice.corner
        say(self.lead, EMPTY if corner is None else LEAD)
        self.run.setVisible(corner is not None)
        self._tell()

    def ask(self) -> None:
        """Build the corner in the worker."""
        if self.choice.corner is not None:
            self._asked = self._session.state.document
            request = ToBuild(self._asked, self.choice.corner, self._cars)
            self.run.start(build, request)

    def _other_corner(self) -> None:
        self.run.stop()
        self.built = self._of = None
        self.run.tell("")
        self._tell()

    def _take(self, built: Built) -> None:
        self.built, self._of = built, self._asked
        self._tell_built(built)
        self._tell()

    @property
    def is_behind(self) -> bool:
        """Whether the car has changed since it was asked."""
        return self.built is not None and self._of is not self._session.state.document

    def _tell(self) -> None:
        built, behind = self.built, self.is_behind
        self.fold.say(HEAD, self._summary())
        for widget in (self.table, self.right, self.jig_head, self.jig_note, self.tolerances):
            widget.setVisible(built is not None)
        self.left_out.setVisible(built is not None)
        self.lost.setVisible(built is not None and bool(self.lost.text()))
        for at, row in enumerate(self.points):
            row.setVisible(built is not None and at < len(built.to_jig))
            row.grey(behind=behind)
        self.table.tell(self.table.table, behind=behind)
        if behind:
            self.run.tell(f"What stands below is of {BEFORE}.")
        elif built is not None and not self.run.is_running:
            self.run.tell("")

    def _summary(self) -> str:
        if self.choice.corner is None:
            return "no corner is entered"
        if self.built is None:
            return "not asked yet"
        return f"{spread_words(self.built)}{f', {BEFORE}' if self.is_behind else ''}"

    def _tell_built(self, built: Built) -> None:
        assert self._of is not None
        lookup = Lookup(self._of)
        self.table.tell(table_of(built))
        say(self.right, right_words(built))
        say(self.lost, reached_words(built))
        say(self.tolerances, tolerance_words(built))
        say(self.left_out, left_out_words(lookup, built))
        for at, (row, each) in enumerate(zip(self.points, built.to_jig, strict=False), 1):
            name, axis = point_words(lookup, each)
            row.tell(each.ref, at, (name, f"{axis}; {most_words(built, each)}"), each.share)
            row.setToolTip(f"{name}, {axis}: {share_words(built, each)}")

    def _go(self, ref: Ref | None) -> None:
        """Choose a point and take the views there."""
        document = self._session.state.document
        thing = None if ref is None else Lookup(document).by_id.get(ref.id)
        if ref is None or thing is None:
            return
        chosen = ref if thing.pair else Ref(ref.id)
        self._selection.choose(chosen)
        try:
            at = compute(document, {}, place, ref)
        except NotComputedError:
            return
        words = f"{label_of(thing, chosen)} is to be jigged with care."
        self._selection.looked_at.emit(Finding("built", "unknown", (chosen,), words, place=at))


def _counted(share: object) -> tuple[float | None, str]:
    assert isinstance(share, float)
    if share == 1.0:
        return share, "All are built; some are being set up exactly."
    return share, f"{round(100 * share)} % of the cars are built."
