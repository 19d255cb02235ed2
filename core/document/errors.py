"""Failures that are expected: told in one sentence with what to do."""

from typing import NamedTuple


class JigplateError(Exception):
    """An expected failure; its text is a sentence for the builder."""


class FileRefusedError(JigplateError):
    """A file that cannot be read as what it should be, or a project that no file could hold."""


class Fault(NamedTuple):
    """One way in which the things of a project contradict one another.

    Attributes:
        id: of the thing at fault; empty for the document itself.
        path: dotted, inside it.
        words: a sentence for the builder.
    """

    id: str
    path: str
    words: str


class BrokenRulesError(ValueError):
    """A document whose things contradict one another."""

    def __init__(self, faults: list[Fault]) -> None:
        """Say the first fault, keep them all."""
        super().__init__(faults[0].words)
        self.faults = faults
