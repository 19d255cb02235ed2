"""Lighter copies of meshes, made in a process of their own so that the window never waits."""

import multiprocessing
import threading
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

import numpy as np
from PySide6.QtCore import QObject, QTimer, Signal

from app.scene.creases import Shaded, shaded
from core.geometry.meshes import IntArray, MeshError, mesh_from_ply
from core.geometry.types import Array

MOST_TRIANGLES = 120_000
"""Triangles of a mesh that the window holds: about as many as a tube frame of 150 tubes costs."""

FIRST_GRID = 0.5
"""mm: the grid on which a mesh that is too heavy is first made lighter; doubled till it is not."""


@dataclass(frozen=True, eq=False)
class LightMesh:
    """A mesh ready to draw.

    Attributes:
        shaded: points, normals and edges, in the mesh's own frame.
        triangles: how many the whole mesh has.
        deviation: mm by which a place of the drawn one may lie beside the true one; 0 if whole.
    """

    shaded: Shaded
    triangles: int
    deviation: float


def light_mesh(data: bytes) -> LightMesh:
    """Return the mesh of a file, made lighter if it is too heavy to draw.

    Raises:
        MeshError: the bytes are no mesh.
    """
    mesh = mesh_from_ply(data)
    vertices, triangles, grid = mesh.vertices, mesh.triangles, 0.0
    while len(triangles) > MOST_TRIANGLES:
        grid = 2.0 * grid if grid else FIRST_GRID
        vertices, triangles = gathered(mesh.vertices, mesh.triangles, grid)
    deviation = grid * float(np.sqrt(3.0))
    return LightMesh(shaded(vertices, triangles), len(mesh.triangles), deviation)


def gathered(vertices: Array, triangles: IntArray, grid: float) -> tuple[Array, IntArray]:
    """Return a mesh with all vertices of one cube of a grid gathered at their mean.

    Args:
        vertices: (n, 3) mm.
        triangles: (m, 3).
        grid: mm, edge of the cubes; no place moves farther than their diagonal.
    """
    cells = np.floor((vertices - vertices.min(axis=0)) / grid).astype(np.int64)
    sizes = cells.max(axis=0) + 1
    keys = (cells[:, 0] * sizes[1] + cells[:, 1]) * sizes[2] + cells[:, 2]
    _, inverse, counts = np.unique(keys, return_inverse=True, return_counts=True)
    sums = [np.bincount(inverse, weights=vertices[:, i]) for i in range(3)]
    fewer = np.column_stack(sums) / counts[:, None]
    moved = inverse[triangles].astype(np.int32)
    a, b, c = moved.T
    kept = moved[(a != b) & (b != c) & (c != a)]
    return fewer, _each_once(kept)


def _each_once(triangles: IntArray) -> IntArray:
    """Triangles with no two of the same three corners the same way round."""
    first = np.argmin(triangles, axis=1)
    turned = np.take_along_axis(triangles, (first[:, None] + np.arange(3)) % 3, axis=1)
    return np.unique(turned, axis=0)


# --- in a process of its own -----------------------------------------------------------------


def _serve(end: Connection) -> None:
    """Runs in the other process: one mesh in, one answer out."""
    with end:
        try:
            answer: object = light_mesh(end.recv_bytes())
        except MeshError as error:
            answer = str(error)
        end.send(answer)


class _Job:
    """One process at work, and a thread that waits for it; neither touches anything of Qt's."""

    def __init__(self, data: bytes) -> None:
        self.answer: object = None
        self.done = threading.Event()
        self._process: BaseProcess | None = None
        self._stopped = False
        self._lock = threading.Lock()
        self._thread = threading.Thread(target=self._run, args=(data,), name="mesh")
        self._thread.start()

    def _run(self, data: bytes) -> None:
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=_serve, args=(theirs,), daemon=True)
        with self._lock:
            if self._stopped:
                return
            process.start()
            self._process = process
        theirs.close()
        try:
            ours.send_bytes(data)
            self.answer = ours.recv()
        except (EOFError, OSError):
            self.answer = "the reading of the mesh was ended before it was done"
        finally:
            ours.close()
            process.join()
            self.done.set()

    def stop(self) -> None:
        """End the process and wait for the thread."""
        with self._lock:
            self._stopped = True
            if self._process is not None:
                self._process.kill()
        self._thread.join()


class MeshLoader(QObject):
    """Lighter copies by SHA-256, made once for all views; `loaded` says which is there now."""

    loaded = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with none."""
        super().__init__(parent)
        self._ready: dict[str, LightMesh | str] = {}
        self._jobs: dict[str, _Job] = {}
        self._look = QTimer(self, interval=20)
        self._look.timeout.connect(self._collect)

    def get(self, sha256: str, data: Callable[[], bytes | None]) -> LightMesh | None:
        """The mesh if it is ready; else it is begun, and `loaded` will say when it is.

        Args:
            sha256: which.
            data: gives the bytes of its file, or nothing if they are not at hand.
        """
        ready = self._ready.get(sha256)
        if isinstance(ready, LightMesh):
            return ready
        if ready is None and sha256 not in self._jobs:
            found = data()
            if found is not None:
                self._jobs[sha256] = _Job(found)
                self._look.start()
        return None

    def refusal(self, sha256: str) -> str:
        """Why a mesh cannot be drawn; nothing if it can, or is not read yet."""
        ready = self._ready.get(sha256)
        return ready if isinstance(ready, str) else ""

    @property
    def is_busy(self) -> bool:
        """Whether a mesh is being read."""
        return bool(self._jobs)

    def close(self) -> None:
        """End what is under way; nothing outlives this."""
        self._look.stop()
        for job in self._jobs.values():
            job.stop()
        self._jobs.clear()

    def _collect(self) -> None:
        for sha256, job in list(self._jobs.items()):
            if job.done.is_set():
                del self._jobs[sha256]
                job.stop()
                answer = job.answer
                self._ready[sha256] = answer if isinstance(answer, LightMesh) else str(answer)
                self.loaded.emit(sha256)
        if not self._jobs:
            self._look.stop()
