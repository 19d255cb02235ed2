"""The tubes nearest to the engine and gearbox as it hangs."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.clearance.table import Row, RowList
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.following import Following
from app.widgets.rows import Section, say
from app.widgets.telling import BEFORE
from core.assess.clearance import TubeGap, closest_at_rest, gaps_at_rest
from core.assess.limits import Limited, limit
from core.document.lookup import Lookup
from core.engine.cells import NotComputedError
from core.quantities import number

NEAREST = 6
STANDING = "standing, as drawn; not moving on its mounts"


class ClosestPanel(Following):
    """The closest gap, live, and the six nearest tubes once a drag has ended."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the gaps of the session's car."""
        super().__init__(session, parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.section = Section(look, "Closest", STANDING)
        self.words = label("", "body", "ink2")
        self.first = RowList(look, selection)
        self.others = RowList(look, selection)
        for part in (self.words, self.first, self.others):
            self.section.body.addWidget(part)
        column.addWidget(self.section)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        lookup = Lookup(state.document)
        try:
            closest = state.assessment.value(closest_at_rest)
            held = ask(state, limit, "unit_gap")
        except NotComputedError as error:
            self._tell_unknown(str(error))
            return
        self.words.hide()
        self.first.tell([row_of(lookup, closest, held)])
        self._tell_others(state, lookup, held, closest)

    def _tell_others(self, state: State, lookup: Lookup, held: Limited, closest: TubeGap) -> None:
        try:
            gaps = state.assessment.value(gaps_at_rest)
        except NotComputedError:
            self.section.say("Closest", f"the others are of {BEFORE}")
            self.others.tell(self.others.shown, behind=True)
            return
        self.section.say("Closest", STANDING)
        near = [gap for gap in gaps if gap.tube != closest.tube][: NEAREST - 1]
        self.others.tell([row_of(lookup, gap, held) for gap in near])

    def _tell_unknown(self, reason: str) -> None:
        self.section.say("Closest", "don't know yet")
        say(self.words, unknown_words(reason))
        self.words.show()
        self.first.tell([])
        self.others.tell([])


def unknown_words(reason: str) -> str:
    """Why the gaps are not known, and what would answer it."""
    return (
        f"Not known, because {reason}. Enter the outside of the engine and gearbox, and tubes; "
        "every gap between them follows."
    )


def row_of(lookup: Lookup, gap: TubeGap, held: Limited) -> Row:
    """A gap as a row."""
    part, tube = gap.part.replace("_", " "), lookup.label(gap.tube)
    if gap.inside:
        name, figure = f"{tube} inside {part}", f"{number(-gap.gap, 1)} deep"
    elif gap.gap < 0:
        name, figure = f"{part} into {tube}", f"overlap {number(-gap.gap, 1)}"
    else:
        name, figure = f"{part} to {tube}", number(gap.gap, 1)
    return Row(held.verdict_at_least(gap.gap), name, figure, (gap.tube,))
