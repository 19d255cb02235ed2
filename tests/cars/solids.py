"""Closed bodies for drawing castings: lofts, turned bodies, bent pipes and belts, mm."""

import math
from collections.abc import Sequence

import numpy as np

from core.geometry.meshes import TriangleMesh
from core.geometry.types import Array, unit

Pair = tuple[float, float]
ACROSS = {"x": (1, 2), "y": (0, 2), "z": (0, 1)}
"""The two directions across an axis, in the order in which pairs of numbers are given."""


def loft(rings: Array) -> TriangleMesh:
    """A closed body over rings (m, n, 3), with flat ends; each ring sees all of its own middle."""
    count, around = rings.shape[:2]
    vertices = np.concatenate([rings.reshape(-1, 3), rings[[0, -1]].mean(axis=1)])
    here = np.arange(around)
    after = (here + 1) % around
    triangles = [
        np.stack([row * around + here, row * around + after, (row + 1) * around + after], axis=1)
        for row in range(count - 1)
    ]
    triangles += [
        np.stack(
            [row * around + here, (row + 1) * around + after, (row + 1) * around + here], axis=1
        )
        for row in range(count - 1)
    ]
    last = (count - 1) * around
    triangles.append(np.stack([after, here, np.full(around, count * around)], axis=1))
    ends = [last + here, last + after, np.full(around, count * around + 1)]
    triangles.append(np.stack(ends, axis=1))
    return outward(vertices, np.concatenate(triangles))


def outward(vertices: Array, triangles: Array) -> TriangleMesh:
    """A closed mesh with its triangles seen from outside."""
    mesh = TriangleMesh(vertices, np.asarray(triangles, dtype=np.int32))
    if mesh.volume() > 0:
        return mesh
    return TriangleMesh(vertices, np.asarray(triangles[:, ::-1], dtype=np.int32))


def across(axis: str, profile: Array, position: float) -> Array:
    """A flat outline (n, 2) set square across an axis at a position, (n, 3)."""
    ring = np.empty((len(profile), 3))
    ring[:, ACROSS[axis]] = profile
    ring[:, "xyz".index(axis)] = position
    return ring


def rounded_rectangle(low: Pair, high: Pair, corners: Sequence[float], steps: int = 3) -> Array:
    """An outline (4 (steps + 1), 2) with its corner radii from low-low round by high-low."""
    (left, bottom), (right, top) = low, high
    centres = ((left, bottom), (right, bottom), (right, top), (left, top))
    inwards = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    points: list[Pair] = []
    for quarter, ((x, y), (u, v), radius) in enumerate(zip(centres, inwards, corners, strict=True)):
        for step in range(steps + 1):
            angle = math.pi + (quarter + step / steps) * math.pi / 2
            points.append(
                (
                    x + radius * (u + math.cos(angle)),
                    y + radius * (v + math.sin(angle)),
                )
            )
    return np.array(points)


def block(
    axis: str,
    low: Pair,
    high: Pair,
    along: Pair,
    corners: float | Sequence[float] = 1.0,
    ends: Pair = (0.0, 0.0),
    steps: int = 3,
) -> TriangleMesh:
    """A block along an axis.

    Args:
        axis: x, y or z.
        low: its lowest figures in the two directions across.
        high: its highest.
        along: where it starts and ends along the axis.
        corners: radius of its four long edges, or one radius each.
        ends: radius of the rounding round its start and its end; 0 for a sharp edge.
        steps: flats to each rounding; with 1 it is a chamfer.
    """
    radii = [corners] * 4 if isinstance(corners, float | int) else list(corners)
    rings = [
        across(axis, _inset(low, high, radii, inset, steps), position)
        for position, inset in _stations(along, ends, steps)
    ]
    return loft(np.array(rings))


def _stations(along: Pair, ends: Pair, steps: int) -> list[Pair]:
    """Places along a block and how far its outline is drawn in there."""
    result: list[Pair] = []
    for place, radius, way in ((along[0], ends[0], 1.0), (along[1], ends[1], -1.0)):
        turns = [i / steps * math.pi / 2 for i in range(steps + 1)] if radius else [math.pi / 2]
        run = [
            (place + way * radius * (1 - math.cos(turn)), radius * (1 - math.sin(turn)))
            for turn in turns
        ]
        result += run if way > 0 else run[::-1]
    return result


LEAST_CORNER = 0.5
"""mm; a corner drawn in keeps this much, so that no two points of an outline are one."""


def _inset(low: Pair, high: Pair, radii: Sequence[float], inset: float, steps: int) -> Array:
    inner_low = (low[0] + inset, low[1] + inset)
    inner_high = (high[0] - inset, high[1] - inset)
    drawn_in = [max(radius - inset, LEAST_CORNER) for radius in radii]
    return rounded_rectangle(inner_low, inner_high, drawn_in, steps)


def turned(
    axis: str, centre: Pair, stations: Sequence[tuple[float, float, float]], around: int = 20
) -> TriangleMesh:
    """A round or oval body.

    Args:
        axis: x, y or z.
        centre: its middle in the two directions across.
        stations: place along the axis and half widths in the two directions across.
        around: corners of the outline.
    """
    turn = np.arange(around) * (2 * math.pi / around)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    rings = [
        across(axis, np.array(centre) + circle * np.array([half, other]), position)
        for position, half, other in stations
    ]
    return loft(np.array(rings))


def disc(axis: str, centre: Pair, along: Pair, radius: float, edge: float = 2.0) -> TriangleMesh:
    """A round disc with its two edges broken."""
    start, end = along
    small = radius - edge
    stations = [
        (start, small, small),
        (start + edge, radius, radius),
        (end - edge, radius, radius),
        (end, small, small),
    ]
    return turned(axis, centre, stations, around=8 if radius < 10 else 12 if radius < 31 else 16)


def pipe(start: Array, bend: Array, end: Array, radius: float, around: int = 12) -> TriangleMesh:
    """A round pipe along the curve that leaves `start` and meets `end` towards `bend`.

    Args:
        start: (3,).
        bend: (3,), where the two end directions meet; not on a line with the ends.
        end: (3,).
        radius: of the outside.
        around: corners of the outline.
    """
    share = np.linspace(0.0, 1.0, 8)[:, None]
    line = (1 - share) ** 2 * start + 2 * share * (1 - share) * bend + share**2 * end
    ahead = unit(2 * (1 - share) * (bend - start) + 2 * share * (end - bend))
    aside = unit(np.cross(bend - start, end - bend))  # the curve lies flat: one side fits all
    upward = np.cross(ahead, aside)
    turn = np.arange(around) * (2 * math.pi / around)
    spokes = np.cos(turn)[:, None, None] * aside + np.sin(turn)[:, None, None] * upward
    return loft(line[:, None] + radius * np.moveaxis(spokes, 0, 1))


def belt(circles: Sequence[tuple[Pair, float]], along: Pair, thick: float) -> TriangleMesh:
    """A belt across the y axis, round the outside of several pulleys (middle and radius)."""
    turn = np.arange(40) * (2 * math.pi / 40)
    ways = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    middles = np.array([middle for middle, _ in circles])
    radii = np.array([radius for _, radius in circles])
    touched = np.argmax(ways @ middles.T + radii, axis=1)
    inner = middles[touched] + radii[touched, None] * ways
    outer = middles[touched] + (radii[touched, None] + thick) * ways
    start, end = along
    loops = [(outer, start), (outer, end), (inner, end), (inner, start)]
    rings = np.array([across("y", outline, position) for outline, position in loops])
    return _round_and_round(rings)


def _round_and_round(rings: Array) -> TriangleMesh:
    """A closed body over rings (m, n, 3) of which the last is joined to the first."""
    count, around = rings.shape[:2]
    row, column = np.meshgrid(np.arange(count), np.arange(around), indexing="ij")
    below, right = (row + 1) % count, (column + 1) % around
    a, b = row * around + column, row * around + right
    c, d = below * around + right, below * around + column
    triangles = np.concatenate(
        [np.stack([a, b, c], axis=-1).reshape(-1, 3), np.stack([a, c, d], axis=-1).reshape(-1, 3)]
    )
    return outward(rings.reshape(-1, 3), triangles)
