"""Normals and scribed edges of meshes of triangles: smooth where they bend little, sharp else."""

from typing import NamedTuple

import numpy as np

from core.geometry.meshes import IntArray
from core.geometry.types import Array

CREASE_DEG = 32.0
"""Faces that meet at more than this are shown with an edge between them."""

TINY = 1e-12
"""A sum of normals shorter than this says nothing; the face's own is taken."""


class Shaded(NamedTuple):
    """A mesh with its own corner at every triangle, so that normals may differ across an edge.

    Attributes:
        points: (3 m, 3) mm, three for each triangle.
        normals: (3 m, 3) unit.
        edges: (e, 2, 3) mm, the lines to scribe.
    """

    points: Array
    normals: Array
    edges: Array


def shaded(vertices: Array, triangles: IntArray) -> Shaded:
    """Return the points, normals and edges to draw of a mesh, turned to face outwards.

    Args:
        vertices: (n, 3) mm.
        triangles: (m, 3) indices.
    """
    corners = vertices[triangles]
    if _is_inside_out(corners):
        triangles = triangles[:, ::-1]
        corners = vertices[triangles]
    raw = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(raw, axis=1, keepdims=True)
    flat = raw / np.maximum(sizes, 1e-12)
    normals = _corner_normals(triangles, raw, flat, len(vertices))
    return Shaded(corners.reshape(-1, 3), normals, _edges(vertices, triangles, flat))


def _is_inside_out(corners: Array) -> bool:
    """Whether the volume that the triangles (m, 3, 3) bound is below zero: they face inwards."""
    first, second, third = np.moveaxis(corners - corners[0, 0], 1, 0)
    return float(np.sum(first * np.cross(second, third))) < 0.0


def _corner_normals(triangles: IntArray, raw: Array, flat: Array, count: int) -> Array:
    """For each corner the mean of the faces round its vertex that bend little from its own."""
    around = _neighbours(triangles.ravel(), count)
    own, other = around
    own_face, other_face = own // 3, other // 3
    alike = np.sum(flat[own_face] * flat[other_face], axis=1) > np.cos(np.radians(CREASE_DEG))
    sums = np.zeros((triangles.size, 3))
    for axis in range(3):
        sums[:, axis] = np.bincount(
            own[alike], weights=raw[other_face[alike], axis], minlength=triangles.size
        )
    lengths = np.linalg.norm(sums, axis=1, keepdims=True)
    plain = np.repeat(flat, 3, axis=0)
    return np.where(lengths > TINY, sums / np.maximum(lengths, 1e-12), plain)


def _neighbours(vertex_of: IntArray, count: int) -> tuple[IntArray, IntArray]:
    """Every pair of corners that share a vertex, each with itself too."""
    order = np.argsort(vertex_of, kind="stable")
    sizes = np.bincount(vertex_of, minlength=count)
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
    mine = sizes[vertex_of[order]]
    own = np.repeat(order, mine)
    firsts = np.repeat(starts[vertex_of[order]], mine)
    within = np.arange(len(own)) - np.repeat(np.cumsum(mine) - mine, mine)
    return own.astype(np.int32), order[firsts + within].astype(np.int32)


def _edges(vertices: Array, triangles: IntArray, flat: Array) -> Array:
    """Edges where two faces meet sharply, or with no face beyond them."""
    size = len(vertices)
    start, end = triangles.astype(np.int64), np.roll(triangles, -1, axis=1).astype(np.int64)
    keys = (np.minimum(start, end) * size + np.maximum(start, end)).ravel()
    faces = np.repeat(np.arange(len(triangles)), 3)
    order = np.argsort(keys, kind="stable")
    keys, faces = keys[order], faces[order]
    new = np.concatenate([[True], keys[1:] != keys[:-1]])
    firsts = np.flatnonzero(new)
    counts = np.diff(np.append(firsts, len(keys)))
    seconds = np.minimum(firsts + 1, len(keys) - 1)
    bend = np.sum(flat[faces[firsts]] * flat[faces[seconds]], axis=1)
    sharp = (counts != 2) | (bend < np.cos(np.radians(CREASE_DEG)))
    chosen = keys[firsts[sharp]]
    return np.stack([vertices[chosen // size], vertices[chosen % size]], axis=1)
