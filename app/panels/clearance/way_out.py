"""The way out: the least gap along it, the lift of the frame, and what governs both."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import IconSign
from app.look.style import label
from app.panels.clearance.closest import row_of
from app.panels.clearance.profile import Profile, ProfileChart
from app.panels.clearance.table import RowList
from app.pose import Pose
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.following import Following
from app.widgets.rows import Section, say
from app.widgets.telling import BEFORE
from core.assess.clearance import (
    BodyLift,
    TubeGap,
    gaps_along,
    gaps_on_way_out,
    lift_to_clear,
)
from core.assess.limits import limit
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.records import WayOut
from core.engine.cells import NotComputedError
from core.quantities import number

SAMPLES = 61
NEAREST = 4
CAUTION = (
    "Stand the car on firm level ground on stands rated for it; nobody below what hangs, and never "
    "a jack alone. The lift is a distance, not the rating of a stand."
)
ENTER = (
    "Nothing says which way the engine and gearbox leaves the car. Enter a way out: the least gap "
    "along it and the lift of the frame follow."
)


class WayOutPanel(Following):
    """Figures of the way out; they follow when a drag ends, and are greyed until then."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the way out of the session's car."""
        super().__init__(session, parent)
        self._pose = Pose.of(selection)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.section = Section(look, "Way out")
        self.words = label("", "body", "ink2")
        self.chart = ProfileChart(look)
        self.near = RowList(look, selection)
        for part in (self.words, self.chart, self.near):
            self.section.body.addWidget(part)
        self.lift = Section(look, "Lift of the frame", "to roll it out rearwards")
        self.lift_words = label("", "body", "ink")
        self.lift.body.addWidget(self.lift_words)
        self.lift.body.addLayout(_caution(look))
        for section in (self.section, self.lift):
            column.addWidget(section)
        self._pose.changed.connect(self._point)

    def _point(self) -> None:
        self.chart.point_at(self._pose.drop)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        ways = state.document.ways_out
        if not ways:
            self._tell_unknown(ENTER)
            return
        way = ways[0]
        try:
            gaps = state.assessment.value(gaps_on_way_out, Ref(way.id))
        except NotComputedError as error:
            if state.assessment.behind:
                self._grey()
            else:
                self._tell_unknown(f"Not known, because {error}.")
            return
        self._tell(state, way, gaps)
        self._tell_lift(state, Ref(way.id))

    def _tell(self, state: State, way: WayOut, gaps: tuple[TubeGap, ...]) -> None:
        lookup = Lookup(state.document)
        held = ask(state, limit, "drop_gap")
        out = ", ".join(lookup.label(ref) for ref in way.tubes_out)
        self.section.say("Way out", way_words(way))
        say(self.words, f"with {out} taken out first" if out else "")
        self.words.setVisible(bool(out))
        self.chart.show()
        self.chart.tell(profile_of(state, way, held.value, held.value + held.margin))
        self.near.tell([row_of(lookup, gap, held) for gap in gaps[:NEAREST]])

    def _tell_lift(self, state: State, way: Ref) -> None:
        try:
            found = state.assessment.value(lift_to_clear, way)
        except NotComputedError as error:
            self.lift.show()
            say(self.lift_words, f"Not known, because {error}.")
            return
        self.lift.setVisible(found is not None)
        if found is not None:
            say(self.lift_words, lift_words(state, found))

    def _grey(self) -> None:
        self.section.say("Way out", BEFORE)
        self.chart.tell(self.chart.profile, behind=True)
        self.near.tell(self.near.shown, behind=True)

    def _tell_unknown(self, words: str) -> None:
        self.section.say("Way out", "don't know yet")
        say(self.words, words)
        self.words.show()
        self.chart.tell(None)
        self.chart.hide()
        self.near.tell([])
        self.lift.hide()


def way_words(way: WayOut) -> str:
    """A way out in words."""
    x, y, z = way.direction
    length = number(way.distance, 0)
    if x == y == 0:
        return f"straight {'up' if z > 0 else 'down'}, {length}"
    return f"{way.name}, {length}"


def lift_words(state: State, lift: BodyLift) -> str:
    """How far to raise the frame, on what, and which tube asks for it."""
    words = (
        f"{number(lift.height, 1)}, on a dolly {number(lift.dolly_height, 0)} high, "
        f"{number(lift.wanted_gap, 0)} kept all round"
    )
    by = lift.governed_by
    if by is None:
        return f"{words}. No tube asks for more."
    tube = Lookup(state.document).label(by.tube)
    return f"{words}; {tube} over {by.part.replace('_', ' ')} asks for it."


def profile_of(state: State, way: WayOut, wanted: float, fine_from: float) -> Profile | None:
    """The least gap at places evenly along a way out."""
    places = tuple(way.distance * n / (SAMPLES - 1) for n in range(SAMPLES))
    try:
        gaps = tuple(gap.gap for gap in ask(state, gaps_along, Ref(way.id), SAMPLES))
    except NotComputedError:
        return None
    return Profile(places, gaps, wanted, fine_from)


def _caution(look: Look) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(look.px(8))
    row.addWidget(IconSign(look, "caution", "ink2"), 0, Qt.AlignmentFlag.AlignTop)
    row.addWidget(label(CAUTION, "small", "ink2"), 1)
    return row
