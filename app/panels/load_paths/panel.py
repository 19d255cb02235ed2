"""Load paths by geometry: what each rule found, and what the frame is in figures."""

from collections import Counter

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.load_paths.asked import Answer, answers
from app.panels.load_paths.lines import AnswerLine
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.following import Following
from app.widgets.rows import Section, pressed, say
from app.widgets.telling import BEFORE
from core.assess.frame import FrameFigures, frame_figures
from core.engine.cells import NotComputedError
from core.engine.finding import WORDS, WORST_FIRST
from core.quantities import number

LEAD = "A force should run on along other tubes; where none lies in its line, a tube must bend."
NO_TUBES = (
    "No tube is drawn yet. Draw the first one between two tube joints: which bends are met, what "
    "ends in mid-tube, and the weight follow."
)
CAUTION = (
    "Not a check of strength. Roll structure and belt mounts are judged by licensed practice and "
    "local rules."
)


class LoadPathsPanel(Following):
    """A line for every question asked of the frame, with how many places answer it badly."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the load paths of the session's car."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.figures = Section(look, "The frame")
        self.figure_words = label("", "body", "ink2")
        self.figures.body.addWidget(self.figure_words)
        self.section = Section(look, "Load paths, by geometry")
        self.lines: dict[str, AnswerLine] = {}
        self._all_shown = False
        self.fold = pressed("", "link")
        self.fold.clicked.connect(self._turn)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.section.body.addLayout(self._rows)
        self.section.body.addWidget(self.fold, 0, Qt.AlignmentFlag.AlignLeft)
        self.section.body.addWidget(label(CAUTION, "small", "ink2"))
        for part in (self.figures, self.section):
            column.addWidget(part)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        told = answers(state)
        for answer in told:
            line = self._line(answer.key)
            line.tell(answer)
            line.setVisible(self._all_shown or answer.verdict != "fine")
        fine = sum(answer.verdict == "fine" for answer in told)
        self._tell_fold(fine)
        count = Counter(answer.verdict for answer in told)
        parts = [f"{count[v]} {WORDS[v]}" for v in WORST_FIRST if count[v]]
        behind = f" · some {BEFORE}" if any(answer.behind for answer in told) else ""
        self.section.setVisible(bool(state.document.tubes))
        self.section.say("Load paths, by geometry", " · ".join(parts) + behind)
        self._tell_figures(state)

    def _tell_fold(self, fine: int) -> None:
        things = "question" if fine == 1 else "questions"
        words = f"{'Hide' if self._all_shown else 'Show'} {fine} {things} with nothing amiss"
        if self.fold.text() != words:
            self.fold.setText(words)
        self.fold.setVisible(bool(fine))

    def _turn(self) -> None:
        self._all_shown = not self._all_shown
        self.refresh(self._session.state)

    def _line(self, key: str) -> AnswerLine:
        if key not in self.lines:
            made = AnswerLine(self._look)
            made.clicked.connect(lambda _=False, line=made: self._go(line.answer))
            self.lines[key] = made
            self._rows.addWidget(made)
        return self.lines[key]

    def _go(self, answer: Answer) -> None:
        if answer.worst is not None:
            self._selection.choose(*answer.worst.subjects)
            self._selection.looked_at.emit(answer.worst)

    def _tell_figures(self, state: State) -> None:
        if not state.document.tubes:
            self.figures.say("The frame", "don't know yet")
            say(self.figure_words, NO_TUBES)
            return
        if self._session.history.group is not None and state.assessment.behind:
            return  # weights follow when the drag ends
        try:
            say(self.figure_words, frame_words(ask(state, frame_figures)))
        except NotComputedError as error:
            say(self.figure_words, f"Not known, because {error}.")
        self.figures.say("The frame", "worked out")


def frame_words(found: FrameFigures) -> str:
    """The frame in figures."""
    metres = number(found.weight.length / 1000, 1)
    return (
        f"{found.tubes} tubes, {found.joints} tube joints, {found.bends} bends; "
        f"{metres} m of tube, {number(found.weight.mass_kg, 1)} kg"
    )
