"""Writing to the console: whole, quiet when nobody reads on, and never failing on a letter."""

import os
import sys
from collections.abc import Iterable
from typing import Final, TextIO

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


def say(lines: Iterable[str]) -> None:
    """Write lines to where answers go."""
    _write(sys.stdout, "".join(f"{line}\n" for line in lines))


def warn(lines: Iterable[str]) -> None:
    """Write lines to where complaints go."""
    sys.stdout.flush()
    _write(sys.stderr, "".join(f"{line}\n" for line in lines))


def say_bytes(data: bytes) -> None:
    """Write bytes as they are to where answers go."""
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.flush()
    except BrokenPipeError:
        _stop_writing(sys.stdout)


def _write(stream: TextIO, text: str) -> None:
    try:
        stream.write(_fitting(text, stream.encoding or "utf-8"))
        stream.flush()
    except BrokenPipeError:
        _stop_writing(stream)


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
