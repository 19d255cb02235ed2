"""Work for the worker process, in a module of its own so that it can be found there."""

import os
import time

from app.worker import Progress
from core.document.errors import JigplateError


def double(request: int, progress: Progress) -> int:
    progress("half")
    return 2 * request


def slow(request: tuple[int, float], progress: Progress) -> int:
    value, seconds = request
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        progress(value)
        time.sleep(0.01)
    return value


def deaf(request: tuple[int, float], _progress: Progress) -> int:
    time.sleep(request[1])
    return request[0]


def refuse(request: str, _progress: Progress) -> int:
    raise JigplateError(request)


def break_off(request: str, _progress: Progress) -> int:
    return int(request)


def vanish(request: int, _progress: Progress) -> int:
    os._exit(request)


def unsendable(request: int, _progress: Progress) -> object:
    return lambda: request
