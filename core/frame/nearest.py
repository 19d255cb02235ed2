"""Nearest points, where a distance alone does not say enough."""

import numpy as np

from core.geometry.types import Array


def nearest_on_segments(places: Array, starts: Array, ends: Array) -> Array:
    """The point (..., 3) of each straight piece nearest to each place; shapes broadcast, mm.

    A piece without length is its own nearest point.
    """
    run = ends - starts
    square = np.einsum("...i,...i", run, run)
    share = np.einsum("...i,...i", places - starts, run) / np.where(square > 0.0, square, 1.0)
    near: Array = starts + np.clip(share, 0.0, 1.0)[..., None] * run
    return near


def nearest_on_line(places: Array, line: Array) -> tuple[Array, Array]:
    """The nearest point (k, 3) of a polyline (n, 3) to each place (k, 3), and the distance (k,)."""
    near = nearest_on_segments(places[:, None], line[:-1], line[1:])
    distances: Array = np.linalg.norm(near - places[:, None], axis=-1)
    rows, best = np.arange(len(places)), np.argmin(distances, axis=1)
    return near[rows, best], distances[rows, best]


def nearest_between(p: Array, q: Array, a: Array, b: Array) -> tuple[Array, Array]:
    """The places on pieces p-q and on their partners a-b where each pair comes closest.

    The least distance lies either inside both pieces, where the line between them is square to
    both, or at an end of one of them: all five cases are worked out and the least one taken. Of
    parallel pieces, one such place.

    Args:
        p: (k, 3) start of the first piece of each pair, mm.
        q: (k, 3) its end.
        a: (k, 3) start of the second piece.
        b: (k, 3) its end.

    Returns:
        (k, 3) on the first pieces and (k, 3) on the second, mm.
    """
    on_first = [_perpendicular_foot(p, q, a, b), p, q]
    first = [*on_first, nearest_on_segments(a, p, q), nearest_on_segments(b, p, q)]
    second = [*(nearest_on_segments(place, a, b) for place in on_first), a, b]
    firsts, seconds = np.stack(first), np.stack(second)
    best = np.argmin(np.linalg.norm(firsts - seconds, axis=-1), axis=0)
    pairs = np.arange(len(p))
    return firsts[best, pairs], seconds[best, pairs]


def _perpendicular_foot(p: Array, q: Array, a: Array, b: Array) -> Array:
    """The foot of the common perpendicular on each first piece, held within the piece.

    By the vector product, which keeps its digits for pieces that are nearly parallel.
    """
    u, v = q - p, b - a
    normal = np.cross(u, v)
    square = np.einsum("ki,ki->k", normal, normal)
    run = np.einsum("ki,ki->k", np.cross(a - p, v), normal)
    share = np.clip(run / np.where(square > 0.0, square, 1.0), 0.0, 1.0)
    foot: Array = p + share[:, None] * u
    return foot
