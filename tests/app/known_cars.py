"""What is known of the cars that many tests open, worked out once for all of them.

A project and an assessment are never changed, so that every test may be given the same ones; what
a test changes is assessed anew from there, as in the program.
"""

import gc
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from core.checks.rules import assess_all
from core.document.codec import read_project
from core.document.project import Document, Project
from core.engine.assess import Assessment
from core.engine.cells import Cell, When

MOST = 8
"""Assessments kept; the cars of a few tests only make room for one another."""


LARGE = 500
"""Cells from which an assessment is that of a whole car."""


class KnownCars:
    """Reads and assesses as the program does, and keeps what it found."""

    def __init__(self) -> None:
        self._projects: dict[bytes, Project] = {}
        self._tables: dict[tuple[object, ...], tuple[Document, Assessment]] = {}

    def read(self, path: Path) -> Project:
        """The project of a file; files of the same bytes have the same."""
        try:
            content = path.read_bytes()
        except OSError:
            return read_project(path)
        if content not in self._projects:
            self._projects[content] = read_project(path)
        return self._projects[content]

    def assess(
        self,
        document: Document,
        meshes: Mapping[str, bytes],
        last: Assessment | None = None,
        upto: When = When.ASKED,
        also: Sequence[Cell[[], Any]] = (),
    ) -> Assessment:
        """The assessment of a car; of one that is opened, the same every time."""
        if last is not None:
            return assess_all(document, meshes, last, upto, also)
        key = (id(document), tuple(sorted(meshes)), upto, tuple(also))
        found = self._tables.pop(key, None)
        if found is None:
            table = assess_all(document, meshes, last, upto, also)
            found = (document, table)  # the document too, so that no other has its id
            if len(table.entries) > LARGE:  # kept for all tests: no collection need look at it
                gc.collect()
                gc.freeze()
        self._tables[key] = found  # last asked for stands last
        while len(self._tables) > MOST:
            self._tables.pop(next(iter(self._tables)))
        return found[1]
