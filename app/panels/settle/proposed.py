"""The proposal beside what is drawn: figures, places, what would get worse; taken or dropped."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.widgets.figure_table import FigureTable, Table
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.document.lookup import Lookup
from core.quantities import number
from core.study.settle_records import Aimed, Proposal

TAKE = "Take it"
STALE = "Take it: the car has changed, propose again"
NOTHING = "Nothing near by is better: the points may stay where they are."
MOST = 8
"""Lines of one kind that are shown."""

NEAR_BY = "The nearest that was found from here; further away there may be others."


class Proposed(QWidget):
    """Two tables, words and two buttons."""

    taken = Signal()
    dropped = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show no proposal yet."""
        super().__init__(parent)
        self.proposal: Proposal | None = None
        self.aims, self.places = FigureTable(look), FigureTable(look)
        self.note, self.pair = label(NEAR_BY, "small", "ink2"), label("", "small", "ink2")
        self.worse, self.ends = label("", "small"), label("", "small", "ink2")
        self.take, self.drop = word_button(TAKE, "filled"), word_button("Drop", "plain")
        self.take.clicked.connect(self.taken)
        self.drop.clicked.connect(self.dropped)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(8))
        for widget in (self.aims, self.places, self.pair, self.worse, self.ends, self.note):
            column.addWidget(widget)
        row = QHBoxLayout()
        row.addWidget(self.take)
        row.addWidget(self.drop)
        row.addStretch(1)
        column.addLayout(row)
        self.hide()

    def tell(self, lookup: Lookup, proposal: Proposal | None) -> None:
        """Show a proposal, or none."""
        self.proposal = proposal
        self.setVisible(proposal is not None)
        if proposal is None:
            return
        self.aims.tell(_aims(proposal))
        self.places.tell(_places(lookup, proposal))
        self.places.setVisible(bool(proposal.moves))
        both = any(lookup.by_id[move.ref.id].pair for move in proposal.moves)
        say(self.pair, "Both sides of a pair move alike." if both else "")
        self.pair.setVisible(both)
        _say_lines(self.worse, "It would bring these up:", proposal.worse)
        _say_lines(self.ends, "With more room there may be better:", proposal.ends)
        say(self.note, NEAR_BY if proposal.moves else NOTHING)
        self.take.setVisible(bool(proposal.moves))

    def grey(self, *, behind: bool) -> None:
        """Show whether it is of before the last change; then it cannot be taken."""
        self.aims.tell(self.aims.table, behind=behind)
        self.places.tell(self.places.table, behind=behind)
        self.take.setEnabled(not behind)
        self.take.setText(STALE if behind else TAKE)


def _say_lines(told: QLabel, head: str, lines: tuple[str, ...]) -> None:
    shown = [f"\N{BULLET} {line}" for line in lines[:MOST]]
    if len(lines) > MOST:
        shown.append(f"\N{BULLET} and {len(lines) - MOST} more")
    words = "\n".join((head, *shown)) if lines else ""
    say(told, words)
    told.setVisible(bool(words))


def _aims(proposal: Proposal) -> Table:
    rows = tuple(
        (
            f"{each.kind.words}, {each.kind.unit}",
            number(each.before, each.kind.digits),
            _after(each),
            number(each.wanted, each.kind.digits),
        )
        for each in proposal.aims
    )
    return Table(("", "present", "proposed", "wanted"), rows, strong=2)


def _after(each: Aimed) -> str:
    return "don't know" if each.after is None else number(each.after, each.kind.digits)


def _places(lookup: Lookup, proposal: Proposal) -> Table:
    rows = tuple(
        (lookup.label(move.ref), number(move.before, 1), number(move.placed.to, 1), move.way)
        for move in proposal.moves
    )
    return Table(("", "present", "proposed", "goes"), rows, strong=2)
