"""The car in a file, with those of its meshes that are at hand."""

import hashlib
from dataclasses import dataclass
from pathlib import Path

from app import __version__
from core.document.codec import encode_project, read_project, wanted_meshes
from core.document.errors import FileRefusedError
from core.document.mesh_store import MeshStore
from core.document.migrations import CURRENT_VERSION
from core.document.project import Document, Project

PROGRAM = f"Jigplate {__version__}"
DIGITS = 12  # of the content's SHA-256, as it is told; enough to tell states of one car apart


@dataclass(frozen=True)
class Loaded:
    """A project and what came with it.

    Attributes:
        project: the whole of the file.
        meshes: its meshes by SHA-256; one that is missing or damaged is not in it.
        warnings: a sentence for each of those.
    """

    project: Project
    meshes: dict[str, bytes]
    warnings: tuple[str, ...]

    @property
    def drawn(self) -> Document:
        """The car as drawn."""
        return self.project.drawn

    @property
    def version(self) -> str:
        """Which state of the car this is, and which program looked at it."""
        contents = hashlib.sha256(encode_project(self.project)).hexdigest()[:DIGITS]
        words = f"{PROGRAM}, project file version {CURRENT_VERSION}, contents {contents}"
        if self.project.layers:
            names = ", ".join(layer.name for layer in self.project.layers)
            words += f"; as drawn, without its layers ({names})"
        return words


def load(path: Path) -> Loaded:
    """The car in a file.

    Raises:
        FileRefusedError: the file cannot be read as a project.
    """
    project = read_project(path)
    store = MeshStore.beside(path)
    meshes: dict[str, bytes] = {}
    warnings: list[str] = []
    for sha256 in wanted_meshes(project):
        try:
            meshes[sha256] = store.get(sha256)
        except FileRefusedError as error:
            warnings.append(f"Warning: {error}; {_without(project.drawn, sha256)}.")
    return Loaded(project, meshes, tuple(warnings))


def _without(drawn: Document, sha256: str) -> str:
    """What is amiss without a mesh: where there are boxes, they are what is measured."""
    users = [u for u in drawn.power_units if u.mesh is not None and u.mesh.sha256 == sha256]
    if not users:
        return "only a layer needs it, and the car is looked at as drawn"
    if all(unit.solids for unit in users):
        return "only the picture lacks it: gaps are measured to the boxes"
    return "what is measured to it is not known"
