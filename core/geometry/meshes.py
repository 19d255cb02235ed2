"""Triangle meshes: boxes, joining, volume, winding number, and their bytes in a file."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from core.geometry.frames import Frame
from core.geometry.types import Array, read_only

IntArray = NDArray[np.int32]

BLOCK = 200_000
"""Point-triangle pairs worked on at once: keeps the winding number under about 30 MB."""

_BOX_TRIANGLES = (
    (0, 2, 1), (1, 2, 3), (4, 5, 6), (5, 7, 6), (0, 1, 4), (1, 5, 4),
    (2, 6, 3), (3, 6, 7), (0, 4, 2), (2, 4, 6), (1, 3, 5), (3, 7, 5),
)  # fmt: skip

_VERTEX = np.dtype("<f8")
_FACE = np.dtype([("count", "u1"), ("corners", "<i4", (3,))])
_HEADER = re.compile(
    rb"ply\nformat binary_little_endian 1\.0\n(?:comment [^\n]*\n)*"
    rb"element vertex ([0-9]{1,9})\n"
    rb"property double x\nproperty double y\nproperty double z\n"
    rb"element face ([0-9]{1,9})\n"
    rb"property list uchar int vertex_ind(?:ices|ex)\nend_header\n"
)


class MeshError(ValueError):
    """What was given is no usable mesh; the message says why, for the builder."""


@dataclass(frozen=True, eq=False)
class TriangleMesh:
    """A mesh of triangles, each seen from outside with its corners anticlockwise.

    Two meshes are equal if their numbers are.

    Attributes:
        vertices: (n, 3) mm, read-only, in whatever frame the owner says.
        triangles: (m, 3) indices into `vertices`, read-only.
        key: digest of the content.

    Raises:
        MeshError: if there is no triangle, a number is not finite or an index out of range.
    """

    vertices: Array
    triangles: IntArray
    key: bytes = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Check the numbers, keep read-only copies and the digest of the content."""
        vertices = read_only(self.vertices)
        wide = np.asarray(self.triangles, dtype=np.int64)
        _refuse_bad_shapes(vertices, wide)
        triangles = wide.astype(np.int32)
        triangles.setflags(write=False)
        object.__setattr__(self, "vertices", vertices)
        object.__setattr__(self, "triangles", triangles)
        object.__setattr__(self, "key", content_key(vertices, triangles))

    def __eq__(self, other: object) -> bool:
        """Return whether the other mesh has the same numbers."""
        return isinstance(other, TriangleMesh) and self.key == other.key

    def __hash__(self) -> int:
        """Return a hash of the content."""
        return hash(self.key)

    def corners(self) -> Array:
        """Return the corners of every triangle, (m, 3, 3) mm."""
        return self.vertices[self.triangles]

    def bounds(self) -> Array:
        """Return the lowest and the highest x, y, z of any triangle, (2, 3) mm."""
        used = self.vertices[self.triangles.ravel()]
        return np.array([used.min(axis=0), used.max(axis=0)])

    def is_closed(self) -> bool:
        """Return whether the triangles bound a volume: no edge without its opposite."""
        return not bool(np.any(self.has_open_edge()))

    def has_open_edge(self) -> NDArray[np.bool_]:
        """Return for each triangle whether one of its edges has no neighbour that fits, (m,)."""
        start = self.triangles.astype(np.int64)
        end = np.roll(start, -1, axis=1)
        size = np.int64(len(self.vertices))
        edges, opposite = (start * size + end).ravel(), (end * size + start).ravel()
        known, back = np.unique(edges, return_inverse=True)
        balance = np.bincount(back, minlength=len(known))
        at = np.minimum(np.searchsorted(known, opposite), len(known) - 1)
        partners = np.where(known[at] == opposite, balance[at], 0)
        unmatched = partners != balance[back]
        return np.asarray(np.any(unmatched.reshape(-1, 3), axis=1))

    def volume(self) -> float:
        """Return the volume of a closed mesh, mm3; negative if it is inside out.

        Source:
            Divergence theorem: a sixth of the sum of a . (b x c) over the triangles.
        """
        first, second, third = np.moveaxis(self.corners() - self.vertices[0], 1, 0)
        return float(np.sum(first * np.cross(second, third))) / 6.0

    def moved(self, place: Frame) -> "TriangleMesh":
        """Return the mesh in the car frame, given in the frame `place` before."""
        return TriangleMesh(place.to_car(self.vertices), self.triangles)


def content_key(*arrays: Array | IntArray) -> bytes:
    """Return a digest of the shapes and numbers of the arrays: equal only for equal content."""
    digest = hashlib.blake2b(digest_size=16)
    for array in arrays:
        digest.update(repr((array.shape, array.dtype.str)).encode())
        digest.update(np.ascontiguousarray(array).tobytes())
    return digest.digest()


def box_mesh(low: Sequence[float] | Array, high: Sequence[float] | Array) -> TriangleMesh:
    """Return the closed mesh of a box along the axes, mm.

    Args:
        low: lowest x, y, z, mm.
        high: highest x, y, z, mm.

    Raises:
        MeshError: if the box has no thickness in some direction.
    """
    ends = np.array([low, high], dtype=np.float64)
    if not np.all(ends[0] < ends[1]):
        message = "A box needs a lowest corner below its highest in x, y and z."
        raise MeshError(message)
    corner = np.arange(8)
    pick = np.stack([corner & 1, corner >> 1 & 1, corner >> 2 & 1], axis=1)
    vertices = ends[pick, np.arange(3)]
    return TriangleMesh(vertices, np.array(_BOX_TRIANGLES, dtype=np.int32))


def joined(meshes: Sequence[TriangleMesh]) -> tuple[TriangleMesh, IntArray]:
    """Return one mesh of all, and for each triangle the number of the mesh it came from.

    Raises:
        MeshError: if there is no mesh.
    """
    if not meshes:
        message = "There is no mesh to join."
        raise MeshError(message)
    counts = [len(mesh.vertices) for mesh in meshes]
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    triangles = [mesh.triangles + start for mesh, start in zip(meshes, starts, strict=True)]
    sizes = [len(mesh.triangles) for mesh in meshes]
    mesh = TriangleMesh(np.concatenate([m.vertices for m in meshes]), np.concatenate(triangles))
    return mesh, np.repeat(np.arange(len(meshes), dtype=np.int32), sizes)


def winding_number(mesh: TriangleMesh, points: Array) -> Array:
    """Return how often the mesh winds round each point: 1 inside, 0 outside a closed one.

    On an open mesh it varies smoothly between; a point on the skin itself has no clear answer.

    Args:
        mesh: triangles anticlockwise from outside.
        points: (n, 3) mm, frame of the mesh.

    Returns:
        (n,) no unit.

    Source:
        Solid angle of a triangle: Van Oosterom, Strackee, IEEE Transactions on Biomedical
        Engineering 30, 1983, p. 125, equation 8. As an inside test for open meshes: Jacobson,
        Kavan, Sorkine-Hornung, SIGGRAPH 2013 (from memory).
    """
    return winding_of_corners(mesh.corners(), points)


def winding_of_corners(corners: Array, points: Array) -> Array:
    """Return the winding number of bare triangles (m, 3, 3), mm; see `winding_number`."""
    total = np.zeros(len(points))
    for first in range(0, len(corners), BLOCK):
        block = corners[first : first + BLOCK]
        step = max(1, BLOCK // len(block))
        for start in range(0, len(points), step):
            total[start : start + step] += _solid_angles(block, points[start : start + step])
    return total / (4.0 * np.pi)


def _solid_angles(corners: Array, points: Array) -> Array:
    """Return the sum of the solid angles of triangles (m, 3, 3) at points (n, 3), (n,) sr."""
    a, b, c = (corners[None, :, i] - points[:, None] for i in range(3))
    len_a, len_b, len_c = (np.sqrt(np.einsum("ijk,ijk->ij", v, v)) for v in (a, b, c))
    over = np.einsum("ijk,ijk->ij", a, np.cross(b, c))
    under = len_a * len_b * len_c
    under += np.einsum("ijk,ijk->ij", a, b) * len_c
    under += np.einsum("ijk,ijk->ij", b, c) * len_a
    under += np.einsum("ijk,ijk->ij", c, a) * len_b
    return np.asarray(2.0 * np.sum(np.arctan2(over, under), axis=1), dtype=np.float64)


def ply_bytes(mesh: TriangleMesh) -> bytes:
    """Return the mesh as a binary little-endian PLY file; equal meshes give equal bytes."""
    head = (
        "ply\nformat binary_little_endian 1.0\n"
        f"element vertex {len(mesh.vertices)}\n"
        "property double x\nproperty double y\nproperty double z\n"
        f"element face {len(mesh.triangles)}\n"
        "property list uchar int vertex_indices\nend_header\n"
    )
    faces = np.empty(len(mesh.triangles), dtype=_FACE)
    faces["count"] = 3
    faces["corners"] = mesh.triangles
    return head.encode("ascii") + mesh.vertices.astype(_VERTEX).tobytes() + faces.tobytes()


def mesh_from_ply(data: bytes) -> TriangleMesh:
    """Return the mesh of a PLY file of the one form `ply_bytes` writes.

    Raises:
        MeshError: if the bytes are no such file, cut short, too long or hold a wrong figure.
    """
    head = _HEADER.match(data)
    if head is None:
        message = "This is no mesh file of this program: its first lines are not as expected."
        raise MeshError(message)
    vertex_count, face_count = int(head[1]), int(head[2])
    middle = head.end() + vertex_count * 3 * _VERTEX.itemsize
    # The length is compared before anything is made, so a wrong count costs no memory.
    _refuse_wrong_length(len(data), middle + face_count * _FACE.itemsize)
    numbers = np.frombuffer(data, _VERTEX, vertex_count * 3, head.end())
    faces = np.frombuffer(data, _FACE, face_count, middle)
    if np.any(faces["count"] != 3):
        message = "The mesh file has a face that is no triangle."
        raise MeshError(message)
    return TriangleMesh(numbers.reshape(-1, 3), faces["corners"])


def _refuse_wrong_length(length: int, wanted: int) -> None:
    if length != wanted:
        what = "cut short" if length < wanted else "too long"
        message = f"The mesh file is {what}: {length} bytes where its first lines tell {wanted}."
        raise MeshError(message)


def _refuse_bad_shapes(vertices: Array, triangles: NDArray[np.int64]) -> None:
    if vertices.ndim != 2 or vertices.shape[1] != 3 or not np.all(np.isfinite(vertices)):
        message = "A mesh needs the x, y and z of each vertex as finite numbers."
        raise MeshError(message)
    if triangles.ndim != 2 or triangles.shape[1] != 3 or not len(triangles):
        message = "A mesh needs at least one triangle of three corners."
        raise MeshError(message)
    if triangles.min() < 0 or triangles.max() >= len(vertices):
        message = "A triangle of the mesh names a vertex that does not exist."
        raise MeshError(message)
