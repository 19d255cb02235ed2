"""Ordering a spring: a ride frequency gives a rate, a rate that can be bought gives its lengths."""

import math

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label, set_property
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.elided import ElidedLabel
from app.widgets.figure_table import FigureTable, Table
from app.widgets.free_figure import FreeFigure
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.assess.spring_lengths import ordered, rate_wanted
from core.assess.springs import ride
from core.document.base import Ref
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.edits.refusals import HeldError
from core.edits.springs import take_spring
from core.engine.cells import NotComputedError
from core.quantities import number
from core.suspension.spring_order import SpringOrder

WIDE = 88.0
"""Width of a field with its unit."""

USUAL_HZ = 1.5
"""Offered where nothing rides yet: between the softest and the hardest of road cars."""

CAUTION = (
    "A coil on its seats holds enough to break bones: it is drawn together and let go with the "
    "tool made for it."
)
TAKEN = "Taken. Undo brings the old spring back."


class OrderSpring(QWidget):
    """Fields, a table of what the spring does, and a button that puts it into the car."""

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        """Ask for nothing yet."""
        super().__init__(parent)
        self._session, self._look = session, look
        self.corner: Ref | None = None
        self.order: SpringOrder | None = None
        self._rate_typed = self._hz_typed = False
        self.hz = FreeFigure(look, "Hz", USUAL_HZ, 0.0, wide=WIDE)
        self.rate = FreeFigure(look, "N/mm", 1.0, 0.0, wide=WIDE)
        self.block = FreeFigure(look, "mm", 0.0, wide=WIDE)
        self.gives, self.does = label("", "body"), label("", "body")
        self.table = FigureTable(look)
        self.take, self.free = word_button("Take it", "filled"), word_button("Set free, take it")
        self.note = label("", "small", "ink2")
        self._lay_out()
        self.hz.kept.connect(self._other_hz)
        self.rate.kept.connect(self._other_rate)
        self.block.kept.connect(self._again)
        self.take.clicked.connect(lambda: self._take(free=False))
        self.free.clicked.connect(lambda: self._take(free=True))

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._look.px(6))
        column.addLayout(self._row("ride frequency wanted", self.hz))
        column.addWidget(self.gives)
        column.addLayout(self._row("rate to buy", self.rate))
        column.addLayout(self._row("coils close at, 0: don't know", self.block))
        caution = label(CAUTION, "small", "ink2")
        for widget in (self.table, self.does, caution, self.note):
            column.addWidget(widget)
        buttons = QHBoxLayout()
        buttons.addWidget(self.take)
        buttons.addWidget(self.free)
        buttons.addStretch(1)
        column.addLayout(buttons)
        self.free.hide()
        self.note.hide()

    def _row(self, words: str, figure: FreeFigure) -> QHBoxLayout:
        figure.setAccessibleName(words)
        row = QHBoxLayout()
        row.addWidget(ElidedLabel(words, "table"), 1)
        row.addWidget(figure, 0, Qt.AlignmentFlag.AlignRight)
        return row

    def about(self, corner: Ref | None) -> None:
        """Be about a corner; what was typed for another one is forgotten."""
        if corner != self.corner:
            self.corner = corner
            self._rate_typed = self._hz_typed = False
            self._say("")

    def _other_hz(self) -> None:
        self._hz_typed, self._rate_typed = True, False
        self._again()

    def _other_rate(self) -> None:
        self._rate_typed = True
        self._again()

    def _again(self) -> None:
        self._say("")
        self.tell(self._session.state)

    def _say(self, words: str) -> None:
        say(self.note, words)
        self.note.setVisible(bool(words))

    def tell(self, state: State) -> None:
        """Show how things are now."""
        self.free.hide()
        if self.corner is None:
            return
        self._offer_hz(state, self.corner)
        why = self._tell_rate(state, self.corner)
        self.order = None
        if not why:
            try:
                self.order = ask(state, ordered, self.corner, self.rate.value, self.known_block)
            except NotComputedError as error:
                why = str(error)
        self._tell_order(why)

    @property
    def known_block(self) -> float | None:
        """The block length that is typed; none where it is not known."""
        return self.block.value or None

    def _offer_hz(self, state: State, corner: Ref) -> None:
        """The frequency it rides at now, until another is typed."""
        if self._hz_typed:
            return
        try:
            found = ask(state, ride, corner)
            now = found.springs_hz if found.road_hz is None else found.road_hz
        except NotComputedError:
            now = math.nan
        self.hz.show_value(round(now, 2) if math.isfinite(now) else USUAL_HZ)

    def _tell_rate(self, state: State, corner: Ref) -> str:
        """Show which rate gives the frequency; or why none is known."""
        try:
            rate = ask(state, rate_wanted, corner, self.hz.value)
        except NotComputedError as error:
            say(self.gives, f"Don't know which rate gives it, because {error}.")
            return "" if self._rate_typed else str(error)
        say(self.gives, f"A spring of {number(rate, 1)} N/mm gives it.")
        if not self._rate_typed:
            self.rate.show_value(round(rate, 1))
        return ""

    def _tell_order(self, why: str) -> None:
        order = self.order
        self.table.setVisible(order is not None)
        self.take.setEnabled(order is not None)
        self.take.setText("Take it" if order is not None else "Take it: not known yet")
        set_property(self.take, "kind", "filled" if order is not None else "plain")
        if order is None:
            told = self.gives.text().endswith(f"because {why}.")
            say(self.does, "" if told else f"Don't know its lengths, because {why}.")
            return
        self.table.tell(_table(order))
        say(self.does, does_words(order))

    def _take(self, *, free: bool) -> None:
        """Put the spring into the car, as one step of undo."""
        order, corner = self.order, self.corner
        if order is None or corner is None:
            return
        name = Lookup(self._session.state.document).label(corner)
        how, block = f"for a ride of {number(self.hz.value, 2)} Hz", self.known_block
        rate, length = order.rate, round(order.free_length, 1)
        try:
            self._session.apply(
                f"Another spring for {name}",
                lambda document: take_spring(
                    document, corner, rate, length, block, how=how, free=free
                ),
            )
        except HeldError as error:
            self._say(f"{str(error).rstrip('.')}.")
            self.free.show()
            return
        except JigplateError as error:
            self._say(f"{str(error).rstrip('.')}.")
            return
        self._hz_typed = self._rate_typed = False
        self._say(TAKEN)
        self.tell(self._session.state)


def _table(order: SpringOrder) -> Table:
    states = (order.bump, order.design, order.droop)
    left = (number(order.bump.travel_left, 1), "", number(order.droop.travel_left, 1))
    rows = (
        ("spring length, mm", *(number(each.length, 1) for each in states)),
        ("spring force, N", *(number(each.force, 0) for each in states)),
        ("load at wheel, N", *(number(each.wheel_load, 0) for each in states)),
        ("damper left, mm", *left),
    )
    return Table(("", "bump", "design", "droop"), rows)


def does_words(order: SpringOrder) -> str:
    """Free length, rate and ride, and what is left to coil bind and of looseness."""
    comes_back = math.isfinite(order.frequency_hz)
    rides = f"{number(order.frequency_hz, 2)} Hz" if comes_back else "nothing comes back"
    words = (
        f"Free length {number(order.free_length, 1)} mm. At the wheel "
        f"{number(order.wheel_rate, 1)} N/mm, and {rides}. "
    )
    if order.to_block is None:
        words += "What is left to coil bind is not known before its coils' closed length is. "
    elif order.to_block < 0.0:
        words += f"Its coils close {number(-order.to_block, 1)} before full bump: not this one. "
    else:
        kept = "" if order.has_reserve else ", less than is kept back"
        words += f"{number(order.to_block, 1)} left at full bump before its coils close{kept}. "
    if order.loose_at_droop > 0.0:
        return f"{words}It lies {number(order.loose_at_droop, 1)} loose at full droop."
    return f"{words}Still pressed at full droop."
