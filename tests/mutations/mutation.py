"""What a named fault is."""

from typing import NamedTuple


class Mutation(NamedTuple):
    """One change of the source, and the tests of which at least one must then fail."""

    name: str
    file: str
    old: str
    new: str
    tests: tuple[str, ...]
