"""A study that runs in the worker: what begins it, how far it is, what stops it."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.jobs import Answer, Failure
from app.look.look import Look
from app.look.style import label
from app.studies import Studies
from app.widgets.rows import say
from app.widgets.tick_bar import TickBar
from app.widgets.word_button import word_button
from app.worker import Work
from core.document.errors import JigplateError

STOPPED = "Stopped. What is shown is from before."
OVERTAKEN = "Stopped, because something else was begun."

Counted = Callable[[object], tuple[float | None, str]]
"""From what the work says of its progress to the share done, if known, and words."""


class StudyRun(QWidget):
    """One button at rest; a bar, a count and Stop while the work is under way."""

    wanted = Signal()
    """The button was pressed."""
    done = Signal(object)
    """What the work came to."""

    def __init__(
        self,
        look: Look,
        owner: QObject,
        words: str,
        counted: Counted,
        parent: QWidget | None = None,
    ) -> None:
        """Show the button.

        Args:
            look: theme and scale.
            owner: of the runner: the window's selection.
            words: on the button.
            counted: how progress is told.
            parent: the owner of the widget.
        """
        super().__init__(parent)
        self._studies, self._counted = Studies.of(owner), counted
        self._turn: int | None = None
        self.begin = word_button(words, "plain")
        self.halt = word_button("Stop", "plain")
        self.bar = TickBar(look)
        self.count, self.told = label("", "small", "ink2"), label("", "small", "ink2")
        self._lay_out(look)
        self.begin.clicked.connect(self.wanted)
        self.halt.clicked.connect(self.stop)
        self._studies.progressed.connect(self._progressed)
        self._studies.answered.connect(self._answered)
        self._studies.failed.connect(self._failed)
        self._studies.moved_on.connect(self._moved_on)
        self._show_at_rest("")

    def _lay_out(self, look: Look) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, look.px(4), 0, look.px(4))
        column.setSpacing(look.px(5))
        column.addWidget(self.begin, 0, Qt.AlignmentFlag.AlignLeft)
        row = QHBoxLayout()
        row.addWidget(self.bar, 1)
        row.addWidget(self.halt)
        column.addLayout(row)
        column.addWidget(self.count)
        column.addWidget(self.told)

    @property
    def is_running(self) -> bool:
        """Whether an answer is awaited."""
        return self._turn is not None

    def start(self, work: Work, request: object) -> None:
        """Begin work on a request that does not change any more."""
        self._turn = None
        self._show_running(is_running=True)
        self.told.hide()
        self.bar.tell(0.0)
        say(self.count, "Begun.")
        self._turn = self._studies.ask(work, request)

    @Slot()
    def stop(self) -> None:
        """Want no answer any more."""
        if self.is_running:
            self._turn = None
            self._studies.stop()
            self._show_at_rest(STOPPED)

    def tell(self, words: str) -> None:
        """Say something below the button."""
        say(self.told, words)
        self.told.setVisible(bool(words))

    def _show_at_rest(self, words: str) -> None:
        self._turn = None
        self._show_running(is_running=False)
        self.tell(words)

    def _show_running(self, *, is_running: bool) -> None:
        self.begin.setVisible(not is_running)
        for widget in (self.bar, self.halt, self.count):
            widget.setVisible(is_running)

    @Slot(object)
    def _progressed(self, answer: Answer) -> None:
        if answer.turn == self._turn:
            share, words = self._counted(answer.value)
            self.bar.tell(share)
            say(self.count, words)

    @Slot(object)
    def _answered(self, answer: Answer) -> None:
        if answer.turn == self._turn:
            self._show_at_rest("")
            self.done.emit(answer.value)

    @Slot(object)
    def _failed(self, failure: Failure) -> None:
        if failure.turn != self._turn:
            return
        words = str(failure.error)
        expected = isinstance(failure.error, JigplateError)
        self._show_at_rest(f"Don't know, because {words}." if expected else "It broke off.")
        if not expected:
            raise failure.error

    @Slot(int)
    def _moved_on(self, turn: int) -> None:
        if self.is_running and turn != self._turn:
            self._show_at_rest(OVERTAKEN)
