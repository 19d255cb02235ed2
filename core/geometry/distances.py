"""Exact distances between points, segments, triangles, arcs and boxes.

All functions work on whole arrays at once: arguments broadcast against each other over their
leading axes, the last axis holds x, y, z. One point is (3,), many are (n, 3). Lengths are in mm,
all arguments of a call in the same frame.

A round tube is its centre line thickened by its outside radius, so a gap to a tube is a distance
from here less that radius: point_segment - R - r for a ball and a straight tube,
segment_segment - r1 - r2 for two. It stays a true signed number until the centre line itself is
touched.

Sources: closed forms of vector geometry; C. Ericson, Real-Time Collision Detection, 2005,
chapter 5, treats the same pairs (from memory).
"""

import numpy as np

from core.geometry.types import Array

TERNARY_STEPS = 90
"""Thirds searches along a segment: (2/3)^90 is below the spacing of floats near 1."""


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


def segments_gap(starts: Array, ends: Array, others: Array, other_ends: Array) -> Array:
    """Return the least distance from each of n segments to each of m others.

    Args:
        starts: (n, 3) mm.
        ends: (n, 3) mm.
        others: (m, 3) mm.
        other_ends: (m, 3) mm.

    Returns:
        (n, m) mm, 0 or more.
    """
    return segment_segment(starts[:, None], ends[:, None], others[None], other_ends[None])


def skew_lines(points: Array, directions: Array, others: Array, other_directions: Array) -> Array:
    """Return the distances between endless lines: |(A2 - A1).(d1 x d2)| / |d1 x d2|.

    Args:
        points: (..., 3) mm, one on each first line.
        directions: (..., 3) of any length above 0.
        others: (..., 3) mm, one on each second line.
        other_directions: (..., 3) of any length above 0.

    Returns:
        (...) mm, 0 or more; for parallel lines the distance from point to line.
    """
    normal = np.cross(directions, other_directions)
    size = _length(normal)
    apart = others - points
    skew = np.abs(_dot(apart, normal)) / np.where(size > 0.0, size, 1.0)
    parallel = _length(np.cross(apart, directions)) / _length(directions)
    return np.asarray(np.where(size > 0.0, skew, parallel), dtype=np.float64)


def point_triangle(points: Array, triangles: Array) -> Array:
    """Return the distances from points to filled triangles.

    Height over the plane where the foot lies inside, otherwise the nearest edge. A triangle
    without area is its edges.

    Args:
        points: (..., 3) mm.
        triangles: (..., 3, 3) mm, corners in the rows.

    Returns:
        (...) mm, 0 or more.
    """
    corners = [triangles[..., i, :] for i in range(3)]
    edge_gap = _least(*(point_segment(points, corners[i - 1], corners[i]) for i in range(3)))
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    area = _length(normal)
    height = np.abs(_dot(points - corners[0], normal)) / np.where(area > 0.0, area, 1.0)
    sides = [
        _dot(np.cross(corners[i] - corners[i - 1], points - corners[i - 1]), normal)
        for i in range(3)
    ]
    inside = (area > 0.0) & (_least(*sides) >= 0.0)
    return np.asarray(np.where(inside, height, edge_gap), dtype=np.float64)


def segment_triangle(starts: Array, ends: Array, triangles: Array) -> Array:
    """Return the least distances from segments to filled triangles.

    The least of both ends to the triangle and of the segment to the three edges; 0 where the
    segment pierces the triangle.

    Args:
        starts: (..., 3) mm.
        ends: (..., 3) mm.
        triangles: (..., 3, 3) mm, corners in the rows.

    Returns:
        (...) mm, 0 or more.
    """
    corners = [triangles[..., i, :] for i in range(3)]
    edges = (segment_segment(starts, ends, corners[i - 1], corners[i]) for i in range(3))
    gap = _least(point_triangle(starts, triangles), point_triangle(ends, triangles), *edges)
    return np.asarray(np.where(_pierces(starts, ends, corners), 0.0, gap), dtype=np.float64)


def point_arc(
    points: Array, centre: Array, outward: Array, forward: Array, radius: float, turn_rad: float
) -> Array:
    """Return the distances from points to an arc of a circle.

    In the sector of the arc, with h the height over its plane and rho the distance from the
    centre within it: hypot(h, rho - radius); elsewhere the distance to the nearer end.

    Args:
        points: (..., 3) mm.
        centre: (3,) mm.
        outward: (3,) unit, from the centre to the start of the arc.
        forward: (3,) unit, square to `outward`, direction of travel at the start.
        radius: mm, above 0.
        turn_rad: angle of the arc, up to a whole turn.

    Returns:
        (...) mm, 0 or more.
    """
    spokes = points - centre
    ahead, out = _dot(spokes, forward), _dot(spokes, outward)
    height = _dot(spokes, np.cross(outward, forward))
    in_sector = np.mod(np.arctan2(ahead, out), 2.0 * np.pi) <= turn_rad
    end = centre + radius * (np.cos(turn_rad) * outward + np.sin(turn_rad) * forward)
    to_ends = _least(_length(points - (centre + radius * outward)), _length(points - end))
    beside = np.hypot(height, np.hypot(ahead, out) - radius)
    return np.asarray(np.where(in_sector, beside, to_ends), dtype=np.float64)


def box_point(half_sizes: Array, points: Array) -> Array:
    """Return the signed distances from a box to points, in the box's own frame.

    Args:
        half_sizes: (3,) mm, half the length of the box along each of its axes.
        points: (..., 3) mm, from the middle of the box along its axes.

    Returns:
        (...) mm: |max(|p| - h, 0)| outside; inside, below zero, the depth under the nearest face.
    """
    over = np.abs(points) - half_sizes
    outside = _length(np.maximum(over, 0.0))
    return np.asarray(outside + np.minimum(np.max(over, axis=-1), 0.0), dtype=np.float64)


def box_segment(half_sizes: Array, starts: Array, ends: Array) -> Array:
    """Return the least signed distances from a box to segments, in the box's own frame.

    The signed distance to a box is convex along a straight line, so a search by thirds finds its
    least value to rounding.

    Args:
        half_sizes: (3,) mm, half the length of the box along each of its axes.
        starts: (..., 3) mm, from the middle of the box along its axes.
        ends: (..., 3) mm.

    Returns:
        (...) mm; below zero where the segment enters the box, the greatest depth.
    """
    low, high = np.zeros(starts.shape[:-1]), np.ones(starts.shape[:-1])

    def gap(share: Array) -> Array:
        return box_point(half_sizes, starts + share[..., None] * (ends - starts))

    for _ in range(TERNARY_STEPS):
        third = (high - low) / 3.0
        left_is_less = gap(low + third) <= gap(high - third)
        low = np.where(left_is_less, low, low + third)
        high = np.where(left_is_less, high - third, high)
    return gap(0.5 * (low + high))


def sagitta(radius: float, step_rad: float) -> float:
    """Return how far a chord over an angle of arc lies inside it: R (1 - cos(step / 2)), mm."""
    # 1 - cos x = 2 sin^2(x / 2) keeps its digits for small steps.
    return float(2.0 * radius * np.sin(0.25 * step_rad) ** 2)


def _foot(points: Array, starts: Array, ends: Array) -> Array:
    """Return the places (..., 3) of segments nearest to points."""
    way = ends - starts
    square = _dot(way, way)
    share = _dot(points - starts, way) / np.where(square > 0.0, square, 1.0)
    return np.asarray(starts + np.clip(share, 0.0, 1.0)[..., None] * way, dtype=np.float64)


def _pierces(starts: Array, ends: Array, corners: list[Array]) -> Array:
    """Return where (...) a segment crosses the plane of a triangle inside it.

    The three tetrahedra the segment's line spans with the edges then have one sign, and the
    ends lie on opposite sides of the plane (signed volumes; Ericson, section 5.3.4, from memory).
    """
    way = ends - starts
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    begin, finish = _dot(starts - corners[0], normal), _dot(ends - corners[0], normal)
    volumes = [_dot(way, np.cross(corners[i - 1] - starts, corners[i] - starts)) for i in range(3)]
    one_sign = (_least(*volumes) >= 0.0) | (_least(*(-volume for volume in volumes)) >= 0.0)
    # Where the segment lies in the plane nothing is pierced: the edges and ends settle it.
    return np.asarray((begin * finish <= 0.0) & (begin != finish) & one_sign)


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
