"""The fault tour: break a copy of the demo car, be shown where it tells, put it right."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.fault_rows import FaultRow, FindingRow
from app.fault_switch import FaultSwitch
from app.fault_work import Request, Tried, not_offered, offered, try_faults
from app.jobs import Answer, Failure, Jobs
from app.look.look import Look
from app.look.style import button, label
from app.selection import Selection
from app.session import Session
from core.document.errors import JigplateError
from core.engine.finding import Finding
from core.study.faults import Fault

LEAD = (
    "Break the demo car on purpose. See what the program says, and why; put it right. "
    "Your own car is not touched."
)


class FaultTour(QFrame):
    """The list of faults, what the one that is on has done, and the way back."""

    left = Signal()
    """The tour is over; the car is as it was."""
    refused = Signal(str)
    """A fault could not be switched on, and why."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        jobs: Jobs,
        parent: QWidget | None = None,
    ) -> None:
        """Make the panel; nothing is switched on."""
        super().__init__(parent)
        self.setProperty("ground", "panel")
        self._session = session
        self._selection = selection
        self._look = look
        self._jobs = jobs
        self._turn = -1
        self.switch = FaultSwitch(session, self)
        self.rows = {fault.name: self._row(fault) for fault in offered()}
        self.told: list[FindingRow] = []
        self._shown: tuple[Finding, ...] = ()
        self._count = label("", "small", "ink2")
        self._count.setWordWrap(False)
        self._told = QVBoxLayout()
        self._told.setSpacing(0)
        self._told_words = label("", "small", "ink2")
        self.try_all = button("Try them all, one after another", "link")
        self.try_all.clicked.connect(self._try_all)
        self.tried_words = label("", "small", "ink2")
        self.right = button("Put it right", "filled")
        self.right.clicked.connect(self.switch.put_right)
        self.next = button("Next fault")
        self.next.clicked.connect(self.next_fault)
        self.leave = button("Leave the tour", "link")
        self.leave.clicked.connect(self.go)
        self._lay_out()
        self.switch.changed.connect(self._refresh)
        jobs.answered.connect(self._all_tried)
        jobs.progressed.connect(self._some_tried)
        jobs.failed.connect(self._not_tried)
        self._refresh()

    # --- laying out --------------------------------------------------------------------------

    def _row(self, fault: Fault) -> FaultRow:
        made = FaultRow(self._look, _capital(fault.what))
        made.clicked.connect(lambda _=False: self.choose(fault))
        return made

    def _lay_out(self) -> None:
        scroll = QScrollArea()
        scroll.setWidget(self._body())
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addLayout(self._head())
        outer.addWidget(scroll, 1)
        outer.addLayout(self._foot())

    def _head(self) -> QVBoxLayout:
        px = self._look.px
        head = QVBoxLayout()
        head.setContentsMargins(px(22), px(16), px(22), px(4))
        line = QHBoxLayout()
        line.addWidget(label("Fault tour", "title"), 1)
        line.addWidget(self._count)
        head.addLayout(line)
        head.addWidget(label(LEAD, "lead", "ink2"))
        return head

    def _body(self) -> QWidget:
        px = self._look.px
        inner = QFrame()
        inner.setProperty("ground", "panel")
        body = QVBoxLayout(inner)
        body.setContentsMargins(px(14), px(4), px(14), px(10))
        inset = (px(8), px(4), px(8), px(4))
        body.setSpacing(0)
        for row in self.rows.values():
            body.addWidget(row)
        body.addSpacing(px(10))
        self._told_words.setContentsMargins(*inset)
        self.tried_words.setContentsMargins(*inset)
        for widget in (_line(), _inset(label("In this one", "head"), inset), self._told_words):
            body.addWidget(widget)
        body.addLayout(self._told)
        body.addSpacing(px(10))
        body.addWidget(_line())
        body.addWidget(self.try_all, 0, Qt.AlignmentFlag.AlignLeft)
        body.addWidget(self.tried_words)
        body.addSpacing(px(10))
        body.addWidget(_line())
        body.addWidget(_inset(label("Not seen yet", "head"), inset))
        for fault in not_offered():
            words = f"{_capital(fault.what)}: not seen yet, because {fault.unseen}."
            body.addWidget(_inset(label(words, "small", "ink2"), inset))
        body.addStretch(1)
        return inner

    def _foot(self) -> QHBoxLayout:
        px = self._look.px
        foot = QHBoxLayout()
        foot.setContentsMargins(px(22), px(8), px(12), px(14))
        foot.addWidget(self.right)
        foot.addWidget(self.next)
        foot.addStretch(1)
        foot.addWidget(self.leave)
        return foot

    # --- one fault at a time -----------------------------------------------------------------

    def choose(self, fault: Fault) -> None:
        """Switch a fault on and go to the worst that it brings up; or off, if it is on."""
        if self.switch.on is fault:
            self.switch.put_right()
            return
        try:
            self.switch.switch_on(fault)
        except JigplateError as error:
            self.refused.emit(f"This fault cannot be switched on here: {error}.")
        if self.switch.findings:
            self.show_place(self.switch.findings[0])
        self._refresh()

    @Slot()
    def next_fault(self) -> None:
        """Put this one right and switch the next one on."""
        faults = offered()
        on = self.switch.on
        at = faults.index(on) if on in faults else -1
        self.choose(faults[(at + 1) % len(faults)])

    @Slot()
    def go(self) -> None:
        """Put it right and leave."""
        self._jobs.stop()
        self.switch.put_right()
        self.left.emit()

    def show_place(self, finding: Finding) -> None:
        """Choose what a finding is about and take the views there."""
        self._selection.choose(*finding.subjects)
        self._selection.looked_at.emit(finding)

    @Slot()
    def _refresh(self) -> None:
        on, seen = self.switch.on, self.switch.seen
        for name, row in self.rows.items():
            is_on = on is not None and on.name == name
            row.setChecked(is_on)
            row.say_second("switched on" if is_on else "seen, put right" if name in seen else "")
        self._count.setText(f"{len(seen)} of {len(self.rows)} seen")
        self.right.setEnabled(on is not None)
        self._told_words.setText(_about(on, len(self.switch.findings)))
        self._show_told()

    def _show_told(self) -> None:
        if self._shown == self.switch.findings:
            return
        self._shown = self.switch.findings
        for row in self.told:
            row.hide()
            row.deleteLater()
        self.told = []
        for finding in self._shown:
            row = FindingRow(self._look, finding)
            row.clicked.connect(lambda _=False, finding=finding: self.show_place(finding))
            self._told.addWidget(row)
            self.told.append(row)

    # --- all of them, in the worker ----------------------------------------------------------

    @Slot()
    def _try_all(self) -> None:
        if self._jobs.is_busy:
            self._jobs.stop()
            self._tried_over("Stopped.")
            return
        self.switch.put_right()
        self.try_all.setText("Stop")
        self.tried_words.setText("Begun.")
        state = self._session.state
        request = Request(state.document, dict(self._session.meshes))
        self._turn = self._jobs.ask(try_faults, request)

    @Slot(object)
    def _some_tried(self, answer: Answer) -> None:
        if answer.turn == self._turn:
            self.tried_words.setText(_so_far(answer.value, len(self.rows)))

    @Slot(object)
    def _all_tried(self, answer: Answer) -> None:
        if answer.turn == self._turn:
            self._tried_over(_so_far(answer.value, len(self.rows)))

    @Slot(object)
    def _not_tried(self, failure: Failure) -> None:
        if failure.turn == self._turn:
            self._tried_over("It broke off; nothing is known of the rest.")

    def _tried_over(self, words: str) -> None:
        self.try_all.setText("Try them all, one after another")
        self.tried_words.setText(words)


def _so_far(tried: tuple[Tried, ...], of: int) -> str:
    missed = [one for one in tried if one.missing]
    words = f"{len(tried)} of {of} tried, {len(tried) - len(missed)} told of as they should be."
    if missed:
        words += " Not told of: " + "; ".join(
            one.why or f"{one.name} lacks {', '.join(one.missing)}" for one in missed
        )
        words += "."
    return words


def _about(on: Fault | None, count: int) -> str:
    if on is None:
        return "Nothing is switched on. The car is as it should be."
    if not count:
        return f"{_capital(on.what)}. Nothing tells of it here, so a check has failed to see it."
    more = f" Not all of it is seen yet: {on.unseen}." if on.unseen else ""
    noun = "thing" if count == 1 else "things"
    return f"{_capital(on.what)}. {count} {noun} to look at, worst first.{more}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _inset(widget: QWidget, inset: tuple[int, int, int, int]) -> QWidget:
    widget.setContentsMargins(*inset)
    return widget


def _line() -> QFrame:
    made = QFrame()
    made.setProperty("line", "below")
    made.setFixedHeight(1)
    return made
