"""What to look at: the findings of a step, worst first, those that just got worse before all."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.findings.listing import Key, Listed, listed, rank, unanswered
from app.selection import Selection
from app.session import Session, State
from app.widgets.finding_card import FindingCard, UnansweredCard
from app.widgets.finding_details import FindingDetails
from app.widgets.rows import Section, pressed
from app.widgets.telling import BEFORE
from core.engine.finding import WORDS, WORST_FIRST, Finding, Verdict
from core.study.order import Order, Place

Keeps = Callable[[Place], bool]
NOTHING = "Nothing is amiss here, as far as this version looks."


class LookAt(QWidget):
    """The list of findings; a click goes to the place and opens the finding where it stands."""

    opened = Signal(QWidget)
    """A card that was opened, to be brought into view."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show all findings of a car; `keep_to` narrows them."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self._keeps: Keeps = _all
        self._baseline = session.state
        self._group: object = None
        self._open: Key | None = None
        self._fine_open = False
        self._verdicts: dict[Key, Verdict] = {}
        self.cards: dict[Key, FindingCard] = {}
        self.asks: dict[str, UnansweredCard] = {}
        self._build()
        session.changed.connect(self._follow)
        selection.looked_at.connect(self.look_at)
        self._refresh(session.state)

    def _build(self) -> None:
        layout = _column(self)
        self.head = Section(self._look, "To look at")
        self.head.body.setContentsMargins(
            self._look.px(22), self._look.px(12), self._look.px(22), 0
        )
        self._nothing = label(NOTHING, "body", "ink2")
        self.head.body.addWidget(self._nothing)
        layout.addWidget(self.head)
        self._worst, self._waiting = _column(), _column()
        self._rest, self._fine_list = _column(), _column()
        for part in (self._worst, self._waiting, self._rest):
            layout.addLayout(part)
        self.fine = pressed("", "link")
        self.fine.clicked.connect(self._turn_fine)
        row = _column()
        row.setContentsMargins(self._look.px(18), self._look.px(4), 0, self._look.px(4))
        row.addWidget(self.fine, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addLayout(row)
        layout.addLayout(self._fine_list)

    def keep_to(self, keeps: Keeps) -> None:
        """Show only what is found in some places of the order of work."""
        self._keeps = keeps
        self._refresh(self._session.state)

    def look_at(self, finding: Finding) -> None:
        """Open the card of a finding, wherever it was clicked."""
        key = self._key_of(finding)
        if key is None or key == self._open:
            return
        self._close()
        if finding.verdict == "fine" and key not in self.cards:
            self._turn_fine()
        card = self.cards[key]
        self._open = key
        card.open_with(FindingDetails(self._session, self._look, card.finding))
        self.opened.emit(card)

    def _key_of(self, finding: Finding) -> Key | None:
        found = listed(self._session.state, self._session.state, self._wanted())
        exact = (each.key for each in found if each.finding is finding)
        alike = (each.key for each in found if each.finding.key == finding.key)
        return next(exact, None) or next(alike, None)

    def _wanted(self) -> Callable[[Finding], bool]:
        order = Order(self._session.state.document)
        return lambda finding: self._keeps(order.place(finding))

    def _close(self) -> None:
        if self._open in self.cards:
            self.cards[self._open].close_body()
        self._open = None

    def _clicked(self, key: Key) -> None:
        if key == self._open:
            self._close()
            return
        finding = self.cards[key].finding
        self._selection.choose(*finding.subjects)
        self._selection.looked_at.emit(finding)

    def _follow(self, before: State, after: State) -> None:
        self._note_baseline(before, after)
        self._refresh(after)

    def _note_baseline(self, before: State, after: State) -> None:
        """Hold what things were like when the change in hand began."""
        history = self._session.history
        goes_on = history.group is not None and history.group == self._group
        self._group = history.group
        if not (history.can_undo or history.can_redo):
            self._baseline = after
        elif not goes_on and after.document is not before.document:
            self._baseline = before

    def _refresh(self, state: State) -> None:
        wanted = self._wanted()
        shown = self._sorted(listed(state, self._baseline, wanted))
        asks = unanswered(state.assessment, wanted)
        amiss = [each for each in shown if self._verdict(each) != "fine" or each.worse]
        fine = [each for each in shown if each not in amiss]
        worst = [each for each in amiss if self._before_unanswered(each)]
        self._drop_missing(amiss + (fine if self._fine_open else []))
        self._place(self._worst, worst)
        self._place_asks(asks)
        self._place(self._rest, [each for each in amiss if each not in worst])
        self._place(self._fine_list, fine if self._fine_open else [])
        self._tell_fine(len(fine))
        self.head.say("To look at", _remark((each.finding for each in shown), len(asks)))
        self._nothing.setVisible(bool(fine) and not amiss and not asks)
        self._renew_open()

    def _sorted(self, shown: list[Listed]) -> list[Listed]:
        """What got worse first, then worst first; what has not caught up stays where it was."""
        for each in shown:
            if not each.finding.behind:
                self._verdicts[each.key] = each.finding.verdict
        return sorted(shown, key=self._rank)

    def _rank(self, each: Listed) -> tuple[bool, bool, int]:
        accepted = bool(each.finding.accepted)
        return not each.worse, *rank(self._verdict(each), accepted=accepted)

    def _verdict(self, each: Listed) -> Verdict:
        return self._verdicts.get(each.key, each.finding.verdict)

    def _before_unanswered(self, each: Listed) -> bool:
        bad = self._verdict(each) in ("no", "unknown") and not each.finding.accepted
        return each.worse or bad

    def _drop_missing(self, shown: Sequence[Listed]) -> None:
        keys = {each.key for each in shown}
        for key in [key for key in self.cards if key not in keys]:
            card = self.cards.pop(key)
            card.hide()
            card.deleteLater()
        if self._open not in keys:
            self._open = None

    def _place(self, layout: QVBoxLayout, shown: Sequence[Listed]) -> None:
        """Bring the cards into order; a card that stands right is not touched."""
        for at, each in enumerate(shown):
            card = self.cards.get(each.key) or self._make(each)
            card.show_finding(each.finding, worse=each.worse)
            item = layout.itemAt(at)
            if item is None or item.widget() is not card:
                layout.insertWidget(at, card)
                card.show()

    def _make(self, each: Listed) -> FindingCard:
        card = FindingCard(self._look, each.finding, parent=self)
        card.clicked.connect(self._clicker(each.key))
        self.cards[each.key] = card
        return card

    def _clicker(self, key: Key) -> Callable[[], None]:
        return lambda: self._clicked(key)

    def _place_asks(self, asks: dict[str, tuple[str, ...]]) -> None:
        for reason in [reason for reason in self.asks if reason not in asks]:
            card = self.asks.pop(reason)
            card.hide()
            card.deleteLater()
        for reason, questions in asks.items():
            if reason not in self.asks:
                self.asks[reason] = UnansweredCard(self._look, reason, questions, self)
                self._waiting.addWidget(self.asks[reason])
            self.asks[reason].tell(questions)

    def _tell_fine(self, count: int) -> None:
        words = f"{'Hide' if self._fine_open else 'Show'} {count} fine"
        if self.fine.text() != words:
            self.fine.setText(words)
        self.fine.setVisible(bool(count))

    def _turn_fine(self) -> None:
        self._fine_open = not self._fine_open
        self._refresh(self._session.state)

    def _renew_open(self) -> None:
        """What an open card offers follows the finding; a reason being typed is not lost."""
        card = self.cards.get(self._open) if self._open is not None else None
        body = None if card is None else card.body
        if card is None or not isinstance(body, FindingDetails):
            return
        if body.is_about(card.finding):
            return
        card.open_with(FindingDetails(self._session, self._look, card.finding))


def _all(_place: Place) -> bool:
    return True


def _column(parent: QWidget | None = None) -> QVBoxLayout:
    layout = QVBoxLayout() if parent is None else QVBoxLayout(parent)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    return layout


def _remark(shown: Iterable[Finding], unanswered_groups: int) -> str:
    found = list(shown)
    count = Counter(f.verdict for f in found if not (f.accepted or f.behind))
    count["unknown"] += unanswered_groups
    parts = [f"{count[v]} {WORDS[v]}" for v in WORST_FIRST if count[v] and v != "fine"]
    accepted = sum(bool(f.accepted) for f in found)
    if accepted:
        parts.append(f"{accepted} accepted")
    behind = sum(f.behind for f in found)
    if behind:
        parts.append(f"{behind} {BEFORE}")
    return " · ".join(parts)
