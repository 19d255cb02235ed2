"""Work over a twentieth of a second: one worker process, the newest request wins.

The window asks with a function of a module and a frozen request; the answer comes on the GUI
thread, with its turn. One request runs and at most one waits. What was asked for earlier is stopped
at its next sign of progress, and its answer, should it still come, is dropped.
"""

import multiprocessing
from multiprocessing.process import BaseProcess
from typing import Any, NamedTuple

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal, Slot

from app.worker import Asked, Stop, Told, Work, WorkFailedError, serve

LOOK_EVERY_MS = 20
PATIENCE_MS = 2000
"""How long a worker that was told to stop may take before it is ended."""


class Answer(NamedTuple):
    """What came of a request, or what it has to show so far."""

    turn: int
    value: Any


class Failure(NamedTuple):
    """A request whose work raised; the error is a JigplateError if it was an expected one."""

    turn: int
    error: Exception


class Jobs(QObject):
    """The one runner; its signals only ever tell of the newest request."""

    answered = Signal(object)
    """An Answer."""
    failed = Signal(object)
    """A Failure; the window treats it like a failure of its own."""
    progressed = Signal(object)
    """An Answer whose value is what the work has to show so far."""

    def __init__(self, parent: QObject | None = None, *, at_once: bool = False) -> None:
        """Begin without a worker; one is started when first asked.

        Args:
            parent: the owner.
            at_once: run in this process, before `ask` returns; the answer still comes in a later
                pass of the event loop. For tests.
        """
        super().__init__(parent)
        self._at_once = at_once
        self._newest = 0
        self._running: Asked | None = None
        self._waiting: Asked | None = None
        self._process: BaseProcess | None = None
        self._pipe: Any = None  # a Connection; its class is another on each system
        self._said_here: list[Told] = []
        self._since_stop = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.look)

    @property
    def is_busy(self) -> bool:
        """Whether an answer is still awaited."""
        return any(
            asked is not None and asked.turn == self._newest
            for asked in (self._running, self._waiting)
        )

    def ask(self, work: Work, request: object) -> int:
        """Ask for work; the turn that its answer will carry.

        Args:
            work: a function that can be found by its module and name.
            request: a value that can be sent to another process; it must not change any more.
        """
        self._newest += 1
        asked = Asked(self._newest, work, request)
        if self._running is None:
            self._send(asked)
        else:
            self._tell_to_stop()
            self._waiting = asked
        return asked.turn

    def stop(self) -> None:
        """Want no answer any more to what was asked."""
        self._newest += 1
        self._waiting = None
        self._tell_to_stop()

    def close(self) -> None:
        """Stop, and wait until the worker is gone."""
        self.stop()
        self._running = None
        self._said_here.clear()
        self._end_worker()

    @Slot()
    def look(self) -> None:
        """Take in what the worker has sent."""
        while self._said_here:
            self.take(self._said_here.pop(0))
        try:
            while self._pipe is not None and self._pipe.poll():
                self.take(self._pipe.recv())
        except (EOFError, OSError):
            self._lost_worker()
        if self._since_stop.isValid() and self._since_stop.hasExpired(PATIENCE_MS):
            self._lost_worker()

    def take(self, told: Told) -> None:
        """Take in one word from the worker; of an old turn, or said twice, it goes no further."""
        if self._running is None or told.turn != self._running.turn:
            return
        is_wanted = told.turn == self._newest
        if told.kind == "progress":
            if is_wanted:
                self.progressed.emit(Answer(told.turn, told.value))
            return
        self._go_on()
        if is_wanted and told.kind == "done":
            self.answered.emit(Answer(told.turn, told.value))
        elif is_wanted and told.kind == "failed":
            self.failed.emit(Failure(told.turn, told.value))

    def _go_on(self) -> None:
        """What ran is over: send what waits."""
        self._since_stop.invalidate()
        waiting, self._waiting, self._running = self._waiting, None, None
        if waiting is not None:
            self._send(waiting)
        else:
            self._timer.stop()

    def _send(self, asked: Asked) -> None:
        if self._at_once:
            self._running = asked
            self._timer.start()
            self._said_here += run_here(asked)
            return
        if self._process is None:
            self._start_worker()
        assert self._pipe is not None
        self._pipe.send(asked)
        self._running = asked
        self._timer.start()

    def _start_worker(self) -> None:
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        self._pipe = ours
        self._process = context.Process(target=serve, args=(theirs,), daemon=True)
        self._process.start()
        theirs.close()

    def _end_worker(self) -> None:
        self._timer.stop()
        self._since_stop.invalidate()
        process, pipe = self._process, self._pipe
        self._process = self._pipe = None
        if pipe is not None:
            pipe.close()  # a worker that is at rest ends when nobody listens
        if process is not None:
            process.join(PATIENCE_MS / 1000)
            if process.is_alive():
                process.kill()
                process.join()
            process.close()

    def _tell_to_stop(self) -> None:
        if self._running is None or self._pipe is None:
            return
        try:
            self._pipe.send(Stop(self._running.turn))
        except OSError:
            return  # it is gone; the next look finds that out
        if not self._since_stop.isValid():
            self._since_stop.start()

    def _lost_worker(self) -> None:
        """The worker ended by itself, for instance because memory ran out, or will not stop."""
        lost = self._running
        if self._process is not None and self._since_stop.isValid():
            self._process.kill()
        self._end_worker()
        self._go_on()
        if lost is not None and lost.turn == self._newest:
            words = "the worker process ended without an answer"
            self.failed.emit(Failure(lost.turn, WorkFailedError(words)))


def run_here(asked: Asked) -> list[Told]:
    """What a worker would have said about a request, all at once."""
    said: list[Told] = []

    def progress(value: object) -> None:
        said.append(Told("progress", asked.turn, value))

    try:
        said.append(Told("done", asked.turn, asked.work(asked.request, progress)))
    except Exception as error:  # noqa: BLE001 - handed on whole, as from the worker
        said.append(Told("failed", asked.turn, error))
    return said
