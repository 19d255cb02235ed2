"""Names for what an edit makes of itself."""

import re
from collections.abc import Iterable
from typing import Final

from core.document.base import LONGEST_NAME

_NUMBERED: Final = re.compile(r"(.*\S) [0-9]+", re.DOTALL)


def name_of_copy(taken: Iterable[str], name: str) -> str:
    """A name for a copy: the same with the next free number, whether it had one or not."""
    numbered = _NUMBERED.fullmatch(name)
    stem = numbered.group(1) if numbered else name
    return free_name((*taken, stem), stem)


def free_name(taken: Iterable[str], wanted: str) -> str:
    """A name that is not taken: the wanted one, cut to length, with a number if it must be."""
    known = set(taken)
    name, number = wanted[:LONGEST_NAME].strip(), 1
    while name in known:
        number += 1
        ending = f" {number}"
        name = f"{wanted[: LONGEST_NAME - len(ending)].strip()}{ending}"
    return name
