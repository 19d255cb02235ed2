"""The raised car: what its stands carry as parts come out, and how far an end goes up."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.widgets.figure_table import FigureTable, Table
from app.widgets.rows import say
from core.assess.stands import HOW_SHARED, EndRaised
from core.checks.weights import SHAKE
from core.quantities import number
from core.workshop.weight_page import Raising, Standing

TIPS = "It tips off its stands"


class StandState(QWidget):
    """One state of a lift: how far it is from tipping, and what each stand carries."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.head, self.words = label("", "head"), label("", "body")
        self.table = FigureTable(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, look.px(8))
        column.setSpacing(look.px(2))
        for widget in (self.head, self.words, self.table):
            column.addWidget(widget)

    def tell(self, state: Standing) -> None:
        """Show another."""
        say(self.head, f"{state.name}, {state.state}")
        say(self.words, tips_words(state))
        self.table.setVisible(bool(state.stands))
        self.table.tell(stands_table(state))


def tips_words(state: Standing) -> str:
    """Which way the car would tip, and how far it is from it."""
    found = state.found
    if found is None:
        return f"Don't know, because {state.why}."
    over = " to ".join(name.replace("_", " ") for name in state.over)
    far = number(abs(found.margin), 0)
    if found.margin < 0.0:
        return f"{TIPS}: its centre of gravity is {far} beyond the line {over}."
    return (
        f"{number(found.mass_kg, 1)} kg; it would tip first over the line {over}, and is {far} "
        "from it."
    )


def stands_table(state: Standing) -> Table:
    """What each stand carries: all giving alike, and the least and most on uneven ground."""
    loads = () if state.found is None else state.found.loads
    rows = tuple(
        (
            name.replace("_", " "),
            number(load.alike_kg, 0),
            f"{number(load.least_kg, 0)} to {number(load.most_kg, 0)}",
        )
        for name, load in zip(state.stands, loads, strict=True)
    )
    return Table(("kg on stand", "alike", "uneven ground"), rows, 1)


class StandsList(QWidget):
    """Every state of every lift, with the usual caution."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty list."""
        super().__init__(parent)
        self._look = look
        self.states: list[StandState] = []
        self.caution = label(f"{SHAKE} Figures {HOW_SHARED}.", "small", "ink2")
        self._rows = QVBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._rows)
        column.addWidget(self.caution)

    def tell(self, states: tuple[Standing, ...]) -> None:
        """Show these."""
        while len(self.states) < len(states):
            self.states.append(StandState(self._look))
            self._rows.addWidget(self.states[-1])
        for at, row in enumerate(self.states):
            row.setVisible(at < len(states))
            if at < len(states):
                row.tell(states[at])


def summary(states: tuple[Standing, ...]) -> str:
    """How the worst state of the lifts stands, in a few words."""
    if not states:
        return "none entered"
    if any(state.found is None for state in states):
        return "don't know"
    worst = min((state for state in states if state.found), key=_margin)
    if _margin(worst) < 0.0:
        return f"tips, {worst.state}"
    return f"{number(_margin(worst), 0)} from tipping, {worst.state}"


def _margin(state: Standing) -> float:
    assert state.found is not None
    return state.found.margin


def raising_words(raising: Raising) -> str:
    """How far an end goes up before the other one meets the floor."""
    if raising.why:
        return f"Raising the {raising.end}: don't know, because {raising.why}."
    if raising.found is None:
        return (
            f"Raising the {raising.end}: no tube, nor the engine, reaches beyond the wheels that "
            "stay down."
        )
    return f"Raising the {raising.end}: {_lift_words(raising.found, raising.meets)}"


def _lift_words(found: EndRaised, meets: str) -> str:
    return (
        f"its wheels go up {number(found.lift, 0)}, {number(found.angle_deg, 1)}°, "
        f"then {meets.replace('_', ' ')} meets the floor."
    )


RAISING_NOTE = "Of tubes and engine alone; the body is not looked at. Chock what stays down."
