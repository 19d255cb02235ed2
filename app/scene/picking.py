"""What is under the pointer: our own search, for a handle may be grabbed behind a tube."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from app.scene.projection import Projection, Ray
from core.document.base import Ref
from core.geometry.meshes import IntArray
from core.geometry.types import Array
from core.scene.records import Handle, MeshRecord, RodRecord, Scene, SolidRecord, TubeRecord

REACH = 12.0
"""Logical pixels within which a handle is hit: its hit area of 24."""

ALONG = 1e-12
"""A triangle whose six-fold volume with the ray is less than this lies along it: not met."""

ALIKE = 1e6
"""Handles whose depths, of -1 to 1, agree to one part in this are equally near to the eye."""

NEAR_ENOUGH = 4.0
"""Logical pixels beside a thin tube at which it still counts as pointed at."""


def nearest_handle(
    handles: Sequence[Handle], projection: Projection, x: float, y: float
) -> Handle | None:
    """Return the handle in reach of a pixel: the nearest to the eye, then to the pixel."""
    if not handles:
        return None
    places = np.array([handle.at for handle in handles], dtype=np.float64)
    seen = projection.to_screen(places)
    gaps = np.hypot(seen[:, 0] - x, seen[:, 1] - y)
    within = np.flatnonzero(gaps <= REACH)
    if not len(within):
        return None
    depth = np.asarray(np.rint(seen[within, 2] * ALIKE), dtype=np.float64)
    return handles[int(within[np.lexsort((gaps[within], depth))[0]])]


@dataclass(frozen=True, eq=False)
class PlacedMesh:
    """A mesh of the store where it stands.

    Attributes:
        record: which, and where.
        points: (3 m, 3) mm, three for each triangle, in its own frame.
    """

    record: MeshRecord
    points: Array


def thing_at(
    scene: Scene,
    projection: Projection,
    x: float,
    y: float,
    is_shown: Callable[[Ref], bool],
    meshes: Sequence[PlacedMesh] = (),
) -> Ref | None:
    """Return the nearest tube, rod, solid or mesh that a pixel shows."""
    ray = projection.ray(x, y)
    bars: list[TubeRecord | RodRecord] = [tube for tube in scene.tubes if is_shown(tube.ref)]
    bars += [rod for rod in scene.rods if is_shown(rod.ref)]
    solids = [solid for solid in scene.solids if is_shown(solid.ref)]
    placed = [mesh for mesh in meshes if is_shown(mesh.record.ref)]
    hits = [
        *_bars_hit(bars, ray, projection),
        *_solids_hit(solids, ray),
        *_meshes_hit(placed, ray),
    ]
    return min(hits, key=lambda hit: hit[0])[1] if hits else None


def _bars_hit(
    bars: Sequence[TubeRecord | RodRecord], ray: Ray, projection: Projection
) -> list[tuple[float, Ref]]:
    if not bars:
        return []
    counts = [len(bar.line) - 1 for bar in bars]
    starts = np.concatenate([bar.line[:-1] for bar in bars])
    steps = np.concatenate([np.diff(bar.line, axis=0) for bar in bars])
    owners = np.repeat(np.arange(len(bars)), counts)
    radii = np.repeat([bar.radius for bar in bars], counts)
    gaps, depths = _gaps(ray, starts, steps)
    slack = NEAR_ENOUGH * projection.mm_per_pixel(ray.origin + ray.direction * np.median(depths))
    hit = np.flatnonzero(gaps <= np.maximum(radii, slack))
    return [(float(depths[i] - radii[i]), bars[int(owners[i])].ref) for i in hit]


def _gaps(ray: Ray, starts: Array, steps: Array) -> tuple[Array, Array]:
    """Least distance of a ray to pieces of line, and how far along the ray that is."""
    square = steps - np.outer(steps @ ray.direction, ray.direction)
    offset = starts - ray.origin
    flat = offset - np.outer(offset @ ray.direction, ray.direction)
    size = np.maximum(np.sum(square * square, axis=1), 1e-12)
    share = np.clip(-np.sum(flat * square, axis=1) / size, 0.0, 1.0)
    gaps = np.linalg.norm(flat + share[:, None] * square, axis=1)
    places = offset + share[:, None] * steps
    return gaps, np.asarray(places @ ray.direction, dtype=np.float64)


def _solids_hit(solids: Sequence[SolidRecord], ray: Ray) -> list[tuple[float, Ref]]:
    found: list[tuple[float, Ref]] = []
    for solid in solids:
        depth = first_triangle(solid.vertices, solid.triangles, ray)
        if depth is not None:
            found.append((depth, solid.ref))
    return found


def _meshes_hit(meshes: Sequence[PlacedMesh], ray: Ray) -> list[tuple[float, Ref]]:
    found: list[tuple[float, Ref]] = []
    for mesh in meshes:
        axes = mesh.record.axes
        origin = (ray.origin - np.array(mesh.record.origin)) @ axes
        corners = np.arange(len(mesh.points), dtype=np.int32).reshape(-1, 3)
        depth = first_triangle(mesh.points, corners, Ray(origin, ray.direction @ axes))
        if depth is not None:
            found.append((depth, mesh.record.ref))
    return found


def first_triangle(vertices: Array, triangles: IntArray, ray: Ray) -> float | None:
    """Return how far along a ray, mm, it first meets a triangle; nothing if it meets none.

    Source:
        T. Moeller, B. Trumbore, Fast, minimum storage ray-triangle intersection, Journal of
        Graphics Tools 2 (1), 1997 (from memory).
    """
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    one, two = b - a, c - a
    across = np.cross(ray.direction, two)
    scale = np.sum(one * across, axis=1)
    inverse = 1.0 / np.where(np.abs(scale) < ALONG, np.inf, scale)
    away = ray.origin - a
    u = np.sum(away * across, axis=1) * inverse
    turned = np.cross(away, one)
    v = (turned @ ray.direction) * inverse
    depth = np.sum(two * turned, axis=1) * inverse
    hit = (np.abs(scale) >= ALONG) & (u >= 0) & (v >= 0) & (u + v <= 1) & (depth > 0)
    return float(depth[hit].min()) if np.any(hit) else None
