"""Names for what an edit makes of itself."""

from collections.abc import Iterable

from core.document.base import LONGEST_NAME


def free_name(taken: Iterable[str], wanted: str) -> str:
    """A name that is not taken: the wanted one, cut to length, with a number if it must be."""
    known = set(taken)
    name, number = wanted[:LONGEST_NAME].strip(), 1
    while name in known:
        number += 1
        ending = f" {number}"
        name = f"{wanted[: LONGEST_NAME - len(ending)].strip()}{ending}"
    return name
