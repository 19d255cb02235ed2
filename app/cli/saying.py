"""Writing to the console: whole, quiet when nobody reads on, and never failing on a letter."""

import os
import sys
from collections.abc import Iterable
from typing import Final, TextIO

from core.document.errors import JigplateError

_PLAINER: Final = str.maketrans(
    {
        "\u2212": "-",  # minus
        "\u00b1": "+/-",
        "\u00b0": " deg",
        "\u2026": "...",
        "\u00ab": '"',
        "\u00bb": '"',
    }
)
"""Letters that old consoles lack, as such a console can show them."""


class NotWrittenError(JigplateError):
    """An answer that could not be written where answers go."""


def say(lines: Iterable[str]) -> None:
    """Write lines to where answers go.

    Raises:
        NotWrittenError: they cannot be written; nobody reading on is no such thing.
    """
    _answer("".join(f"{line}\n" for line in lines))


def say_bytes(data: bytes) -> None:
    """Write bytes as they are to where answers go.

    Raises:
        NotWrittenError: they cannot be written; nobody reading on is no such thing.
    """
    _answer(data)


def warn(lines: Iterable[str]) -> None:
    """Write lines to where complaints go; where that is nowhere, there is no one left to tell."""
    if sys.stderr is None:
        return
    try:
        _write(sys.stderr, "".join(f"{line}\n" for line in lines))
    except OSError:
        _stop_writing(sys.stderr)


def _answer(what: str | bytes) -> None:
    if sys.stdout is None:
        msg = "The answer cannot be written: there is nowhere to write it"
        raise NotWrittenError(msg)
    try:
        _write(sys.stdout, what)
    except BrokenPipeError:
        _stop_writing(sys.stdout)
    except OSError as error:
        _stop_writing(sys.stdout)
        msg = f"The answer cannot be written: {error.strerror or error}"
        raise NotWrittenError(msg) from error


def _write(stream: TextIO, what: str | bytes) -> None:
    if isinstance(what, bytes):
        stream.flush()
        stream.buffer.write(what)
    else:
        stream.write(_fitting(what, stream.encoding or "utf-8"))
    stream.flush()


def _fitting(text: str, encoding: str) -> str:
    """The text with every letter that the console cannot carry put in a plainer way."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAINER).encode(encoding, "replace").decode(encoding)
    return text


def _stop_writing(stream: TextIO) -> None:
    """Send what is still to come nowhere, so that Python does not complain when it ends.

    Source:
        The way of Python's own manual, library `signal`, «Note on SIGPIPE».
    """
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
