"""Older file versions made new, one step at a time, over plain data.

A new version adds a function `n_to_n_plus_1(plain) -> plain` to `STEPS` and a saved file of the
old version to tests/files.
"""

from collections.abc import Callable
from typing import Any

Plain = dict[str, Any]
Step = Callable[[Plain], Plain]


def one_to_two(plain: Plain) -> Plain:
    """The same: version 2 knows more than version 1 did, and calls nothing otherwise.

    It is another version so that a program of version 1 says that the file is newer, and not that
    it is damaged.
    """
    return plain


STEPS: tuple[Step, ...] = (one_to_two,)
FIRST_VERSION = 1
CURRENT_VERSION = FIRST_VERSION + len(STEPS)


def migrate(plain: Plain, version: int, steps: tuple[Step, ...] = STEPS) -> Plain:
    """Plain data of a version as plain data of the version that the steps lead to.

    Raises:
        ValueError: the data are not as that version had them.
    """
    for number, step in enumerate(steps[version - FIRST_VERSION :], version):
        try:
            plain = {**step(plain), "version": number + 1}
        except (AttributeError, LookupError, TypeError, ValueError) as error:
            msg = f"it is not as version {number} had it ({type(error).__name__}: {error})"
            raise ValueError(msg) from error
    return plain
