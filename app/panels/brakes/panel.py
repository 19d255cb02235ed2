"""The brakes: how their force is shared, which axle locks first, what foot and hand must do."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.brakes import words
from app.panels.brakes.lock_bar import LockBar, Locks
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.figure_table import FigureTable
from app.widgets.following import Following
from app.widgets.rows import Section, say
from app.widgets.word_button import word_button
from core.checks.braking import PROVE
from core.quantities import number
from core.workshop.brakes_page import BrakedLoad, BrakesPage, brakes_page

EMPTY = (
    "Enter the brakes of both axles, then the pedal with its balance and pads. Which axle locks "
    "first, the foot's force and the slope the hand brake holds follow."
)
HAND_NOTE = "By the lowest grip of its pads; the tyres may slide before. Chock the wheels too."
LACKS = {"brakes": "Brakes of an axle…", "brake_systems": "Pedal and hand brake…"}


class LoadLocks(QWidget):
    """Which axle locks first in one load: a head, the scale, and the sentence."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.head, self.said = label("", "head"), label("", "small", "ink2")
        self.bar = LockBar(look)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, look.px(2), 0, look.px(4))
        column.setSpacing(0)
        for widget in (self.head, self.bar, self.said):
            column.addWidget(widget)

    def tell(self, name: str, load: BrakedLoad, wanted: float | None) -> None:
        """Show another load, or loads that are alike, under one name."""
        found = load.braking
        say(self.head, name)
        self.bar.setVisible(found is not None)
        if found is None:
            say(self.said, f"Don't know, because {load.why}.")
            return
        self.bar.tell(Locks(name, found.both_lock_at, found.both_lock_by_bar, wanted))
        say(self.said, words.locks_words(found))


class BrakesPanel(Following):
    """Stands in the step of the front end, where pedal and rack are."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the brakes of the car."""
        super().__init__(session, parent)
        self._look = look
        self._lacks = ""
        self.part = Section(look, "Brakes")
        self.empty, self.share = label(EMPTY, "body", "ink2"), label("", "body")
        self.enter = word_button("")
        self.shares, self.foot, self.hand = (FigureTable(look) for _ in range(3))
        self.foot_note = label("On a road that grips that well.", "small", "ink2")
        self.hand_note, self.no_hand = label(HAND_NOTE, "small", "ink2"), label("", "body")
        self.caution = label(PROVE, "small", "ink2")
        self.locks: list[LoadLocks] = []
        self.locks_column = QVBoxLayout()
        self._lay_out()
        self.enter.clicked.connect(lambda: selection.make_wanted.emit(self._lacks))

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.part)
        body = self.part.body
        body.addWidget(self.empty)
        body.addWidget(self.enter, 0, Qt.AlignmentFlag.AlignLeft)
        body.addWidget(self.share)
        body.addWidget(self.shares)
        body.addLayout(self.locks_column)
        inside: tuple[QWidget, ...] = (
            *(self.foot, self.foot_note, self.hand, self.hand_note, self.no_hand, self.caution),
        )
        for widget in inside:
            body.addWidget(widget)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        page = ask(state, brakes_page)
        self.empty.setVisible(bool(page.lacks))
        self._lacks = page.lacks
        self.enter.setVisible(bool(page.lacks))
        self.enter.setText(LACKS.get(page.lacks, ""))
        is_known = any(load.braking is not None for load in page.loads)
        for widget in (self.shares, self.foot, self.foot_note):
            widget.setVisible(is_known)
        self._tell_share(page, is_known=is_known)
        self._tell_locks(page)
        self.foot.tell(words.foot_table(page.loads))
        self._tell_hand(page)
        self.caution.setVisible(not page.is_empty)

    def _tell_share(self, page: BrakesPage, *, is_known: bool) -> None:
        _tell(self.share, words.share_words(page))
        self.shares.tell(words.shares_table(page.loads))
        share = (
            "" if page.front_share is None else f"{number(100 * page.front_share, 0)} % in front"
        )
        remark = "don't know yet" if not is_known else share
        self.part.say("Brakes", remark)

    def _tell_locks(self, page: BrakesPage) -> None:
        loads = words.alike(() if page.lacks else page.loads)
        while len(self.locks) < len(loads):
            self.locks.append(LoadLocks(self._look))
            self.locks_column.addWidget(self.locks[-1])
        wanted = None if page.wanted is None else page.wanted.value
        for at, row in enumerate(self.locks):
            row.setVisible(at < len(loads))
            if at < len(loads):
                row.tell(*loads[at], wanted)

    def _tell_hand(self, page: BrakesPage) -> None:
        holds = any(load.slope_percent is not None for load in page.loads)
        self.hand.setVisible(holds)
        self.hand_note.setVisible(holds)
        self.hand.tell(words.hand_table(page))
        why = "" if holds or page.lacks else page.loads[0].why_no_slope
        _tell(self.no_hand, f"Hand brake: don't know, because {why}." if why else "")


def _tell(told: QLabel, said: str) -> None:
    say(told, said)
    told.setVisible(bool(said))
