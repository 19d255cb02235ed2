"""A body to be kept clear of tubes: a mesh whose triangles belong to named parts."""

from dataclasses import dataclass, field

import numpy as np

from core.clearance.distances import Solid, solid_of
from core.clearance.pieces import ClosedPiece, OpenRest, piece_of_triangle, split, welded
from core.geometry.meshes import IntArray, MeshError, TriangleMesh, content_key
from core.geometry.types import Array, read_only


@dataclass(frozen=True, eq=False, slots=True)
class Body:
    """A body in its own frame, with its tree built once; equal if the numbers are equal.

    Attributes:
        mesh: mm, own frame.
        part_of_triangle: (m,) number of the part each triangle belongs to.
        key: digest of the content.
        solid: the tree of the mesh.
        bounds: (2, 3) lowest and highest x, y, z, mm.
        one_of_each_piece: (k, 3) one vertex of every connected piece, mm.
        closed_pieces: the connected pieces that bound a volume.
        open_rest: all other triangles together, or None. Whether a tube lies wholly inside
            these can only be estimated: whoever shows a gap should say so.

    Raises:
        MeshError: if there is not one part number for each triangle.
    """

    mesh: TriangleMesh
    part_of_triangle: IntArray
    key: bytes = field(init=False, repr=False)
    solid: Solid = field(init=False, repr=False)
    bounds: Array = field(init=False, repr=False)
    one_of_each_piece: Array = field(init=False, repr=False)
    closed_pieces: tuple[ClosedPiece, ...] = field(init=False, repr=False)
    open_rest: OpenRest | None = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Build the tree and find the pieces."""
        parts = np.array(self.part_of_triangle, dtype=np.int32)
        if parts.shape != (len(self.mesh.triangles),):
            raise MeshError("A body needs one part number for each of its triangles.")
        parts.setflags(write=False)
        mesh, whole = self.mesh, welded(self.mesh)
        piece = piece_of_triangle(whole)
        firsts = np.unique(piece, return_index=True)[1]
        closed, rest = split(whole, piece)
        for name, value in {
            "part_of_triangle": parts,
            "key": mesh.key + content_key(parts),
            "solid": solid_of(mesh.vertices, mesh.triangles),
            "bounds": read_only(mesh.bounds()),
            "one_of_each_piece": read_only(mesh.vertices[mesh.triangles[firsts, 0]]),
            "closed_pieces": closed,
            "open_rest": rest,
        }.items():
            object.__setattr__(self, name, value)

    def __eq__(self, other: object) -> bool:
        """Return whether the other body has the same numbers."""
        return isinstance(other, Body) and self.key == other.key

    def __hash__(self) -> int:
        """Return a hash of the content."""
        return hash(self.key)
