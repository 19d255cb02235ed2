"""The one door to the collision library: triangle trees, and the nearest pair between two.

The library ships no types; they are told here once. It holds its trees by reference and
changes none in a query, so a solid may be shared between threads.
"""

from dataclasses import dataclass
from importlib import import_module
from typing import Protocol, cast

import numpy as np

from core.geometry.frames import Frame
from core.geometry.meshes import IntArray
from core.geometry.types import Array


class _Tree(Protocol):
    """A tree of bounding volumes over triangles."""

    def beginModel(self, triangles: int, vertices: int) -> int: ...  # noqa: N802
    def addSubModel(self, vertices: Array, triangles: IntArray) -> bool: ...  # noqa: N802
    def endModel(self) -> int: ...  # noqa: N802


class _Request(Protocol):
    """What to ask of a distance query."""


class _Result(Protocol):
    """Where the least distance was found; places are in the common frame, not in own ones."""

    nearest_points: list[Array]
    b1: int
    b2: int


class _Library(Protocol):
    """The part of the library that is used."""

    def BVHModel(self) -> _Tree: ...  # noqa: N802
    def Transform(self, rotation: Array, shift: Array) -> object: ...  # noqa: N802
    def CollisionObject(self, tree: _Tree, at: object) -> object: ...  # noqa: N802
    def DistanceResult(self) -> _Result: ...  # noqa: N802
    def DistanceRequest(self, *, enable_nearest_points: bool) -> _Request: ...  # noqa: N802
    def distance(self, one: object, other: object, request: _Request, to: _Result) -> float: ...


_LIBRARY = cast("_Library", import_module("fcl"))
_REQUEST = _LIBRARY.DistanceRequest(enable_nearest_points=True)
_IN_PLACE = _LIBRARY.Transform(np.eye(3), np.zeros(3))


@dataclass(frozen=True, eq=False, slots=True)
class Solid:
    """Triangles in a tree, ready to be measured to; degenerate triangles are allowed."""

    tree: _Tree
    in_place: object


@dataclass(frozen=True, slots=True)
class Nearest:
    """The nearest pair of two solids.

    Where they meet, `distance` is 0 and the two places lie in the two triangles that meet,
    but are not the place where they do.

    Attributes:
        distance: mm, 0 where the triangles of the two meet.
        triangle: number of the triangle of the one.
        other_triangle: number of the triangle of the other.
        place: (3,) mm on the one, in its own frame.
        other_place: (3,) mm on the other, in the frame of the one.
    """

    distance: float
    triangle: int
    other_triangle: int
    place: Array
    other_place: Array


def solid_of(vertices: Array, triangles: IntArray) -> Solid:
    """Return the tree of triangles (m, 3) over vertices (n, 3), mm; it keeps copies."""
    tree = _LIBRARY.BVHModel()
    tree.beginModel(len(triangles), len(vertices))
    tree.addSubModel(np.asarray(vertices, dtype=np.float64), triangles)
    tree.endModel()
    return Solid(tree, _LIBRARY.CollisionObject(tree, _IN_PLACE))


def seen_from(place: Frame) -> object:
    """Return the move that brings things of the car frame into the frame `place`."""
    return _LIBRARY.Transform(place.axes.T, -(place.origin @ place.axes))


def nearest(one: Solid, other: Solid, move_of_other: object) -> Nearest:
    """Return the nearest pair of a solid in its own frame and another one moved into it.

    The other, small one is the one moved: to move a tree costs time by its size.
    """
    result = _LIBRARY.DistanceResult()
    moved = _LIBRARY.CollisionObject(other.tree, move_of_other)
    distance = _LIBRARY.distance(one.in_place, moved, _REQUEST, result)
    place, other_place = result.nearest_points
    return Nearest(max(distance, 0.0), result.b1, result.b2, place, other_place)
