"""Pieces of a mesh that can be asked whether a place lies inside them."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from core.geometry.meshes import IntArray, TriangleMesh, winding_number, winding_of_corners
from core.geometry.types import Array, read_only

INSIDE = 0.5
"""Winding number above which a place counts as inside. Source: Jacobson, Kavan, Sorkine-Hornung,
SIGGRAPH 2013 (from memory)."""

CELLS = 16
"""Cells along each axis into which an open mesh is gathered. Own choice: at 100,000 triangles
about as many cells as triangles in one."""

FAR = 3.0
"""Distance over the size of a cell from which its triangles count as one; the winding number
then errs by some thousandths, far less than a hole in the mesh. Own choice, measured."""


@dataclass(frozen=True, eq=False, slots=True)
class ClosedPiece:
    """A connected mesh that bounds a volume.

    Attributes:
        mesh: mm.
        bounds: (2, 3) lowest and highest x, y, z, mm.
    """

    mesh: TriangleMesh
    bounds: Array = field(init=False)

    def __post_init__(self) -> None:
        """Find the bounds."""
        object.__setattr__(self, "bounds", read_only(self.mesh.bounds()))

    def holds(self, place: Array) -> bool:
        """Return whether a place (3,), mm, lies inside, whichever way the triangles face."""
        return bool(abs(winding_number(self.mesh, place[None])[0]) > INSIDE)


@dataclass(frozen=True, eq=False, slots=True)
class OpenRest:
    """Triangles that bound no volume, such as a scan with holes.

    Attributes:
        mesh: mm.
        bounds: (2, 3) lowest and highest x, y, z, mm.
        cell: (m,) cell of each triangle.
        middles: (c, 3) middle of the triangles of each cell, mm.
        sizes: (c,) largest distance of a corner from that middle, mm.
        areas: (c, 3) sum of the triangles' areas, along their normals, mm2.
    """

    mesh: TriangleMesh
    bounds: Array = field(init=False)
    cell: NDArray[np.int64] = field(init=False)
    middles: Array = field(init=False)
    sizes: Array = field(init=False)
    areas: Array = field(init=False)

    def __post_init__(self) -> None:
        """Gather the triangles in cells."""
        corners, bounds = self.mesh.corners(), self.mesh.bounds()
        cell = _cells(corners.mean(axis=1), bounds)
        counts = np.bincount(cell).astype(np.float64)[:, None]
        middles = _sums(corners.mean(axis=1), cell) / counts
        away = np.sqrt(np.sum((corners - middles[cell][:, None]) ** 2, axis=2)).max(axis=1)
        sizes = np.zeros(len(middles))
        np.maximum.at(sizes, cell, away)
        double = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        for name, value in {
            "bounds": read_only(bounds),
            "cell": cell,
            "middles": middles,
            "sizes": sizes,
            "areas": _sums(double, cell) / 2.0,
        }.items():
            object.__setattr__(self, name, value)

    def winding_number(self, place: Array) -> float:
        """Return about how often the mesh winds round a place (3,), mm.

        Source:
            A far cell as one area A at r has the solid angle A . r / |r|^3, the first term of
            Barill, Dickson, Schmidt, Levin, Jacobson, Fast winding numbers for soups and
            clouds, SIGGRAPH 2018 (from memory). Near cells triangle by triangle.
        """
        offset = self.middles - place
        distance = np.sqrt(np.sum(offset * offset, axis=1))
        near = distance <= FAR * self.sizes
        far = ~near
        seen = np.sum(self.areas[far] * offset[far], axis=1) / distance[far] ** 3
        triangles = self.mesh.triangles[near[self.cell]]
        total = float(np.sum(seen)) / (4.0 * np.pi)
        close = winding_of_corners(self.mesh.vertices[triangles], place[None])
        return total + float(close[0])

    def holds(self, place: Array) -> bool:
        """Return whether a place (3,), mm, probably lies inside."""
        return abs(self.winding_number(place)) > INSIDE


def piece_of_triangle(mesh: TriangleMesh) -> IntArray:
    """Return the number of the connected piece of each triangle, (m,)."""
    start = mesh.triangles.ravel()
    end = np.roll(mesh.triangles, -1, axis=1).ravel()
    size = len(mesh.vertices)
    edges = coo_array((np.ones(len(start), dtype=np.int8), (start, end)), shape=(size, size))
    _, piece = connected_components(edges.tocsr(), directed=False)
    return np.asarray(piece, dtype=np.int32)[mesh.triangles[:, 0]]


def split(mesh: TriangleMesh, piece: IntArray) -> tuple[tuple[ClosedPiece, ...], OpenRest | None]:
    """Return the closed pieces one by one, and everything else together."""
    leaky = np.unique(piece[mesh.has_open_edge()])
    is_open = np.isin(piece, leaky)
    closed = [ClosedPiece(_part(mesh, piece == n)) for n in np.unique(piece[~is_open])]
    return tuple(closed), OpenRest(_part(mesh, is_open)) if np.any(is_open) else None


def welded(mesh: TriangleMesh) -> TriangleMesh:
    """Return the mesh with vertices at the very same place made one; triangles keep their order.

    Files that store each triangle for itself repeat every vertex: without this nothing in them
    would be connected.
    """
    # Adding 0 makes -0 and 0 the same bytes.
    vertices, number = np.unique(mesh.vertices + 0.0, axis=0, return_inverse=True)
    return TriangleMesh(vertices, number.ravel().astype(np.int32)[mesh.triangles])


def _part(mesh: TriangleMesh, chosen: NDArray[np.bool_]) -> TriangleMesh:
    """Return the chosen triangles (m,) with only the vertices they use."""
    used, triangles = np.unique(mesh.triangles[chosen], return_inverse=True)
    return TriangleMesh(mesh.vertices[used], triangles.reshape(-1, 3).astype(np.int32))


def _cells(places: Array, bounds: Array) -> NDArray[np.int64]:
    """Return for each place (m, 3) the number of its cell, numbered without gaps."""
    span = np.maximum(bounds[1] - bounds[0], np.finfo(np.float64).tiny)
    steps = np.minimum((places - bounds[0]) / span * CELLS, CELLS - 1).astype(np.int64)
    number = steps @ np.array([CELLS * CELLS, CELLS, 1])
    return np.unique(number, return_inverse=True)[1]


def _sums(values: Array, cell: NDArray[np.int64]) -> Array:
    """Return the sum over each cell of values (m, 3), (c, 3)."""
    sums = [np.bincount(cell, weights=column) for column in values.T]
    return np.stack(sums, axis=1).astype(np.float64)
