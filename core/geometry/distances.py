"""Exact distances between points and segments.

All functions work on whole arrays at once: arguments broadcast against each other over their
leading axes, the last axis holds x, y, z. One point is (3,), many are (n, 3). Lengths are in mm,
all arguments of a call in the same frame.

A round tube is its centre line thickened by its outside radius, so a gap between two straight
tubes is segment_segment - r1 - r2. It stays a true signed number until the centre lines touch.

Sources: closed forms of vector geometry; C. Ericson, Real-Time Collision Detection, 2005,
chapter 5, treats the same pairs (from memory).
"""

import numpy as np

from core.geometry.types import Array


def point_segment(points: Array, starts: Array, ends: Array) -> Array:
    """Return the distances from points to segments.

    The foot is at clamp((P - A).(B - A) / |B - A|^2, 0, 1); a segment without length is a point.

    Args:
        points: (..., 3) mm.
        starts: (..., 3) mm.
        ends: (..., 3) mm.

    Returns:
        (...) mm, 0 or more.
    """
    return _length(points - _foot(points, starts, ends))


def segment_segment(starts: Array, ends: Array, others: Array, other_ends: Array) -> Array:
    """Return the least distances between segments, each pair by itself.

    The least distance lies either between the feet of the common perpendicular or at one of the
    four ends. The perpendicular's foot on the first segment comes from the vector product of the
    directions, which keeps its digits for nearly parallel segments where
    (d1.d1)(d2.d2) - (d1.d2)^2 loses them.

    Args:
        starts: (..., 3) mm, of the first segments.
        ends: (..., 3) mm.
        others: (..., 3) mm, starts of the second segments.
        other_ends: (..., 3) mm.

    Returns:
        (...) mm, 0 or more.
    """
    first, second = ends - starts, other_ends - others
    normal = np.cross(first, second)
    square = _dot(normal, normal)
    run = _dot(np.cross(others - starts, second), normal) / np.where(square > 0.0, square, 1.0)
    on_first = starts + np.clip(run, 0.0, 1.0)[..., None] * first
    candidates = (
        point_segment(on_first, others, other_ends),
        point_segment(starts, others, other_ends),
        point_segment(ends, others, other_ends),
        point_segment(others, starts, ends),
        point_segment(other_ends, starts, ends),
    )
    return _least(*candidates)


def _foot(points: Array, starts: Array, ends: Array) -> Array:
    """Return the places (..., 3) of segments nearest to points."""
    way = ends - starts
    square = _dot(way, way)
    share = _dot(points - starts, way) / np.where(square > 0.0, square, 1.0)
    return np.asarray(starts + np.clip(share, 0.0, 1.0)[..., None] * way, dtype=np.float64)


def _dot(one: Array, other: Array) -> Array:
    """Return the scalar products (...) over the last axis."""
    return np.asarray(np.einsum("...i,...i->...", one, other), dtype=np.float64)


def _length(vectors: Array) -> Array:
    """Return the lengths (...) over the last axis."""
    return np.sqrt(_dot(vectors, vectors))


def _least(*values: Array) -> Array:
    """Return the least (...) of several arrays, place by place."""
    least = values[0]
    for value in values[1:]:
        least = np.minimum(least, value)
    return least
