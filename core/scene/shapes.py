"""Simple solids to draw: boxes, balls, tyres."""

import numpy as np

from core.geometry.meshes import TriangleMesh
from core.geometry.types import Array, unit

ROUND = 40
"""Facets round a tyre or a ball; for drawing only."""


def lathe(centre: Array, axis: Array, outline: Array) -> TriangleMesh:
    """A closed ring turned about an axis.

    Args:
        centre: (3,) place on the axis, mm.
        axis: (3,) direction of the axis.
        outline: (k, 2) closed outline: along the axis and away from it, mm.

    Returns:
        The skin of the ring, mm, in the frame of `centre`.
    """
    along = unit(axis)
    aside = unit(np.cross(along, [1.0, 0.0, 0.0] if abs(along[0]) < 0.9 else [0.0, 0.0, 1.0]))  # noqa: PLR2004 - any axis that is not parallel will do
    third = np.cross(along, aside)
    turns = np.linspace(0.0, 2 * np.pi, ROUND, endpoint=False)
    spokes = np.outer(np.cos(turns), aside) + np.outer(np.sin(turns), third)
    points = centre + outline[None, :, :1] * along + outline[None, :, 1:] * spokes[:, None, :]
    return TriangleMesh(points.reshape(-1, 3), _quilt(ROUND, len(outline)))


def _quilt(around: int, across: int) -> "np.ndarray[tuple[int, ...], np.dtype[np.int32]]":
    """Triangles of a torus-like grid, closed both ways."""
    i, j = np.meshgrid(np.arange(around), np.arange(across), indexing="ij")
    a = i * across + j
    b = i * across + (j + 1) % across
    c = (i + 1) % around * across + j
    d = (i + 1) % around * across + (j + 1) % across
    first = np.stack([a, d, b], axis=-1).reshape(-1, 3)
    second = np.stack([a, c, d], axis=-1).reshape(-1, 3)
    return np.concatenate([first, second]).astype(np.int32)


def tyre_mesh(
    centre: Array, axis: Array, section: float, radius: float, rim_radius: float
) -> TriangleMesh:
    """A tyre round a wheel centre, with its shoulders rounded off; mm, car frame."""
    half, wall = section / 2, radius - rim_radius
    outline = np.array(
        [
            [-half * 0.86, rim_radius],
            [-half, rim_radius + wall * 0.35],
            [-half * 0.97, rim_radius + wall * 0.70],
            [-half * 0.80, radius - wall * 0.06],
            [-half * 0.55, radius],
            [half * 0.55, radius],
            [half * 0.80, radius - wall * 0.06],
            [half * 0.97, rim_radius + wall * 0.70],
            [half, rim_radius + wall * 0.35],
            [half * 0.86, rim_radius],
        ]
    )
    return lathe(centre, axis, outline)


def rim_mesh(centre: Array, axis: Array, width: float, radius: float) -> TriangleMesh:
    """A rim as a dished disc inside its tyre; mm, car frame."""
    half = width / 2
    outline = np.array(
        [
            [half * 0.9, radius],
            [half * 0.55, radius * 0.92],
            [half * 0.30, radius * 0.45],
            [half * 0.45, radius * 0.12],
            [half * 0.25, radius * 0.12],
            [half * 0.10, radius * 0.45],
            [-half * 0.9, radius * 0.9],
            [-half * 0.9, radius],
        ]
    )
    return lathe(centre, axis, outline)


def ball_mesh(centre: Array, radius: float) -> TriangleMesh:
    """A ball; mm, in the frame of `centre`."""
    angles = np.linspace(-np.pi / 2 + 1e-3, np.pi / 2 - 1e-3, ROUND // 2)
    outline = np.column_stack([radius * np.sin(angles), radius * np.cos(angles)])
    return lathe(centre, np.array([0.0, 0.0, 1.0]), outline)
