"""Clearance of a body to ribbons over a whole stretch of heights at once."""

import numpy as np

from core.clearance.bodies import Body
from core.clearance.distances import nearest, seen_from, solid_of
from core.clearance.lines import LineGroup
from core.geometry.frames import Frame
from core.geometry.meshes import IntArray
from core.geometry.types import Array

_FACES = (
    (0, 1, 3), (0, 3, 2), (4, 5, 7), (4, 7, 6), (0, 1, 5), (0, 5, 4),
    (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 3, 7), (1, 7, 5),
)  # fmt: skip

_BLOCK = 100_000
"""Pairs of places and slabs worked on at once."""


def slab_clearance(body: Body, place: Frame, ribbons: LineGroup, drop: float) -> float:
    """Return the least distance of the body to the ribbons while these sink by `drop`, mm.

    Each ribbon sinking straight fills a slab with six faces. 0 if the body, or any connected
    piece of it, meets a slab or lies in one. The reverse, a slab wholly within the body, cannot
    be: the ribbons reach past its end.

    Args:
        body: in its own frame.
        place: of the body in the car, before the sinking.
        ribbons: swept lines in the car frame.
        drop: mm, along -z of the car.
    """
    sides = np.stack([-np.array(ribbons.sweep), np.array([0.0, 0.0, -drop])])
    ends = ribbons.points[ribbons.segments]
    if _any_within(place.to_car(body.one_of_each_piece), ends, sides):
        return 0.0
    corners = np.stack([ends, ends + sides[0]], axis=1).reshape(-1, 4, 3)
    corners = np.concatenate([corners, corners + sides[1]], axis=1)
    solid = solid_of(corners.reshape(-1, 3), _faces(len(corners)))
    return nearest(body.solid, solid, seen_from(place)).distance


def _faces(count: int) -> IntArray:
    """Return the triangles of `count` slabs of eight corners each."""
    starts = 8 * np.arange(count, dtype=np.int32)
    faces = starts[:, None, None] + np.array(_FACES, dtype=np.int32)
    return np.asarray(faces.reshape(-1, 3), dtype=np.int32)


def _any_within(places: Array, ends: Array, sides: Array) -> bool:
    """Return whether any place (p, 3) lies in a slab over a piece (s, 2, 3) drawn out both ways."""
    along = ends[:, 1] - ends[:, 0]
    square_to = np.cross(sides[0], sides[1])
    volume = along @ square_to
    thick = np.abs(volume) > 0.0
    step = max(1, _BLOCK // max(len(places), 1))
    return any(
        _within(places, ends[thick][i : i + step, 0], along[thick][i : i + step], sides)
        for i in range(0, int(np.count_nonzero(thick)), step)
    )


def _within(places: Array, origins: Array, along: Array, sides: Array) -> bool:
    """Return whether any place has all three shares of any slab between 0 and 1."""
    drawn, down = sides
    offset = places[:, None] - origins[None]
    volume = along @ np.cross(drawn, down)
    shares = (
        (offset @ np.cross(drawn, down)) / volume,
        np.einsum("psk,sk->ps", offset, np.cross(down, along)) / volume,
        np.einsum("psk,sk->ps", offset, np.cross(along, drawn)) / volume,
    )
    return bool(np.any(np.all([(share >= 0.0) & (share <= 1.0) for share in shares], axis=0)))
