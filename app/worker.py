"""The worker process that does what the window asks for; without Qt."""

import traceback
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any, NamedTuple

from core.document.errors import JigplateError

Progress = Callable[[object], None]
"""Called by work at every step with what to show; raises StoppedError when nobody waits."""

Work = Callable[[Any, Progress], Any]
"""A function of a module: request and progress to answer."""


class StoppedError(Exception):
    """Raised inside work whose answer is no longer wanted."""


class WorkFailedError(Exception):
    """Work broke off in the worker; the text is what the worker's Python had to say."""


class Asked(NamedTuple):
    """A request on its way to the worker."""

    turn: int
    work: Work
    request: Any


class Stop(NamedTuple):
    """Word to the worker that an answer is not wanted any more."""

    turn: int


class Told(NamedTuple):
    """Word from the worker: `progress`, `done`, `failed` or `stopped`."""

    kind: str
    turn: int
    value: Any


def serve(pipe: Connection) -> None:
    """Do what comes down the pipe, until nobody is at its other end."""
    try:
        while True:
            message = pipe.recv()
            if isinstance(message, Asked):
                _answer(pipe, message)
    except (EOFError, OSError):
        return


def _answer(pipe: Connection, asked: Asked) -> None:
    def progress(value: object) -> None:
        while pipe.poll():
            if pipe.recv() == Stop(asked.turn):
                raise StoppedError
        pipe.send(Told("progress", asked.turn, value))

    try:
        pipe.send(Told("done", asked.turn, asked.work(asked.request, progress)))
    except StoppedError:
        pipe.send(Told("stopped", asked.turn, None))
    except (EOFError, BrokenPipeError, ConnectionError):
        raise
    except Exception as error:  # noqa: BLE001 - sent to the window, which reports it
        pipe.send(Told("failed", asked.turn, _to_send(error)))


def _to_send(error: Exception) -> Exception:
    """The error as it can be sent: expected ones with their sentence, bugs with their traceback."""
    if isinstance(error, JigplateError):
        return JigplateError(str(error))
    return WorkFailedError("".join(traceback.format_exception(error)))
