"""Older file versions made new, one step at a time, over plain data.

A new version adds a function `n_to_n_plus_1(plain) -> plain` to `STEPS` and a saved file of the
old version to tests/files.
"""

from collections.abc import Callable
from typing import Any

Plain = dict[str, Any]

STEPS: tuple[Callable[[Plain], Plain], ...] = ()
CURRENT_VERSION = len(STEPS) + 1


def migrate(plain: Plain, version: int) -> Plain:
    """Plain data of a version as plain data of the current one."""
    for step in STEPS[version - 1 :]:
        plain = step(plain)
    return plain
