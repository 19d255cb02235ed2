"""How far a joint must tilt: a link from square to its bolt, or a stud from the middle of its cup.

Directions are unit vectors (..., 3) as they lie in what carries the bolt or cup, by the axes of
design: `Poses.turned_back` and `ArmPoses.turned_back` bring them there.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import nnls
from scipy.spatial import ConvexHull

from core.geometry.types import Array, unit

FLAT = 1e-9
"""Links that lie in one plane to within this, as a sine, are taken to lie in it."""


@dataclass(frozen=True, eq=False, slots=True)
class LeastTilt:
    """The best that any direction of a bolt or cup can do.

    Attributes:
        tilt_deg: largest tilt over all positions.
        direction: (3,) unit, of the bolt or cup, as it lies in what carries it.
    """

    tilt_deg: float
    direction: Array


def tilt_from_square_deg(links: Array, bolt: Array) -> Array:
    """Return how far (...) links are from square to a bolt: rod ends, eyes and bushes."""
    sine = np.abs(np.sum(links * bolt, axis=-1))
    return np.asarray(np.degrees(np.arcsin(np.minimum(sine, 1.0))))


def tilt_from_axis_deg(links: Array, axis: Array) -> Array:
    """Return the angle (...) between links or studs and an axis: ball and axial ball joints.

    Exact for small angles, where an arc cosine is not.
    """
    apart, beside = np.linalg.norm(links - axis, axis=-1), np.linalg.norm(links + axis, axis=-1)
    return np.asarray(np.degrees(2.0 * np.arctan2(apart, beside)))


def least_tilt_from_square(links: Array, drawn: Array) -> LeastTilt:
    """Return the bolt direction for which the worst tilt from square is least.

    The bolts b with |u.b| <= 1 for every link u make a polytope, and the longest b, which is the
    best direction, is one of its corners; these are the faces of the convex hull of all u and -u,
    each 1 / |b| from the origin. So the answer is exact, and the best of all.

    Args:
        links: (..., 3) unit, nan where there is no pose.
        drawn: (3,) unit, the bolt as drawn; the answer lies near it where many are equal.

    Raises:
        ValueError: if there is no link at all.
    """
    flat = _known(links)
    _, sizes, axes = np.linalg.svd(flat, full_matrices=True)
    free = axes[np.sum(sizes > FLAT * sizes[0]) :] if len(sizes) else axes
    if len(free):
        best = _within(free, drawn)
    else:
        faces = ConvexHull(np.concatenate([flat, -flat])).equations
        best = faces[np.argmin(np.abs(faces[:, 3])), :3]
    best = best if best @ drawn >= 0.0 else -best
    return LeastTilt(float(tilt_from_square_deg(flat, best).max()), np.asarray(best))


def least_tilt_from_axis(links: Array) -> LeastTilt:
    """Return the axis for which the worst angle to links or studs is least, below 90 degrees.

    The axis of the narrowest cone about them points at the place of their convex hull that is
    nearest to the origin. Source: C. L. Lawson, R. J. Hanson, Solving Least Squares Problems,
    1974, chapter 23, least distance by non-negative least squares (from memory).

    Args:
        links: (..., 3) unit, nan where there is no pose.

    Raises:
        ValueError: if there is no link, or no cone under a right angle holds all.
    """
    flat = _known(links)
    wanted = np.array([0.0, 0.0, 0.0, 1.0])
    shares, missed = nnls(np.column_stack([flat, np.ones(len(flat))]).T, wanted)
    if missed < FLAT:
        raise ValueError("no cone under a right angle holds every direction")
    axis = unit(np.asarray(shares @ flat))
    return LeastTilt(float(tilt_from_axis_deg(flat, axis).max()), axis)


def _known(links: Array) -> Array:
    flat = links.reshape(-1, 3)
    flat = flat[np.isfinite(flat).all(axis=1)]
    if not len(flat):
        raise ValueError("a tilt needs a position at which there is a pose")
    return flat


def _within(free: Array, drawn: Array) -> Array:
    """The direction nearest to the drawn one among those square to every link."""
    part = free.T @ (free @ drawn)
    return unit(part) if np.linalg.norm(part) > FLAT else np.asarray(free[0])
