"""The table the car stands on: graduated edge, centre and axle lines, floor drawing; lines only."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.scene.records import Scene, TubeRecord

FINE_STEP, COARSE_STEP = 100.0, 500.0
FINE_TICK, COARSE_TICK = 22.0, 55.0
"""mm: the graduations of the edge, and how long their ticks are."""

EDGE_ROOM = 350.0
"""mm of table left round the car before the edge."""

CHAIN = ((140.0, True), (36.0, False), (16.0, True), (36.0, False))
"""mm: a long dash, a gap, a dot, a gap: the line of centre lines and axles."""

DASH = ((42.0, True), (26.0, False))
"""mm: the line of what is not a thing but a room: openings, zones."""

LINES_AT, DRAWING_AT, SHADOW_AT = -1.0, -3.0, -6.0
"""mm: heights of what is drawn on the table, so that the one lies over the other."""

FOOTPRINT = 85.0
"""mm from the axle to the ends of a tyre's footprint; for drawing only."""


@dataclass(frozen=True)
class Extent:
    """The table's edges, mm: whole coarse steps, the same on both sides of the centre line."""

    rear: float
    front: float
    half: float


def extent_of(scene: Scene) -> Extent:
    """Return the table for a car; one of a usual car's size where nothing is drawn yet."""
    found = [tube.line[[0, len(tube.line) // 2, -1]] for tube in scene.tubes]
    found += [rod.line[[0, -1]] for rod in scene.rods]
    found += [np.array([handle.at]) for handle in scene.handles]
    if not found:
        return Extent(-3500.0, 1000.0, 1500.0)
    points = np.concatenate(found)
    low, high = points.min(axis=0), points.max(axis=0)
    return Extent(
        COARSE_STEP * float(np.floor((low[0] - EDGE_ROOM) / COARSE_STEP)),
        COARSE_STEP * float(np.ceil((high[0] + EDGE_ROOM) / COARSE_STEP)),
        COARSE_STEP * float(np.ceil((max(high[1], -low[1]) + EDGE_ROOM) / COARSE_STEP)),
    )


def outline_points(scene: Scene) -> Array:
    """Return (n, 3) mm places that what is drawn reaches: what a view is fitted to."""
    found = [tube.line for tube in scene.tubes]
    found += [rod.line for rod in scene.rods]
    found += [solid.vertices for solid in scene.solids]
    found += [np.array([handle.at]) for handle in scene.handles]
    return np.concatenate(found) if found else np.zeros((0, 3))


def edge_lines(extent: Extent) -> Array:
    """Return the edge of the table with its ticks as pieces (n, 2, 3), mm."""
    ends = [((extent.rear, y), (extent.front, y)) for y in (-extent.half, extent.half)] + [
        ((x, -extent.half), (x, extent.half)) for x in (extent.rear, extent.front)
    ]
    along_x = np.arange(extent.rear, extent.front + 1.0, FINE_STEP)
    along_y = np.arange(-extent.half, extent.half + 1.0, FINE_STEP)
    for x in along_x:
        for sign in (-1.0, 1.0):
            inner = sign * (extent.half - _tick(x))
            ends.append(((x, sign * extent.half), (x, inner)))
    for y in along_y:
        ends.append(((extent.rear, y), (extent.rear + _tick(y), y)))
        ends.append(((extent.front, y), (extent.front - _tick(y), y)))
    flat = np.array(ends, dtype=np.float64)
    return np.concatenate([flat, np.full((*flat.shape[:2], 1), LINES_AT)], axis=2)


def _tick(place: float) -> float:
    return COARSE_TICK if abs(place % COARSE_STEP) < 1.0 else FINE_TICK


Wheels = tuple[tuple[float, ...], ...]


def wheels_of(scene: Scene) -> Wheels:
    """Return what footprints and axle lines follow from, mm: the same while no wheel moves."""
    centres = [(h.at.x, h.at.y) for h in scene.handles if h.kind == "wheel_centre"]
    tyres = [tuple(s.vertices[0].tolist()) for s in scene.solids if s.look == "tyre"]
    return (*centres, *tyres)


def scribed_lines(scene: Scene, extent: Extent) -> Array:
    """Return centre line, axle lines, punch marks and footprints as pieces (n, 2, 3), mm."""
    found = [dashed(_flat([(extent.rear, 0.0), (extent.front, 0.0)]), CHAIN)]
    axles = sorted({round(h.at.x, 1) for h in scene.handles if h.kind == "wheel_centre"})
    for x in axles:
        found.append(dashed(_flat([(x, -extent.half), (x, extent.half)]), CHAIN))
        found.append(pieces_of(_punch(x)))
    found += [pieces_of(footprint) for footprint in _footprints(scene)]
    return np.concatenate(found)


def _flat(places: Sequence[tuple[float, float]]) -> Array:
    return np.array([(x, y, LINES_AT) for x, y in places], dtype=np.float64)


def _punch(x: float) -> Array:
    turns = np.linspace(0.0, 2.0 * np.pi, 17)
    return np.column_stack([x + 14.0 * np.cos(turns), 14.0 * np.sin(turns), np.full(17, LINES_AT)])


def _footprints(scene: Scene) -> list[Array]:
    found: list[Array] = []
    for solid in scene.solids:
        if solid.look == "tyre":
            low, high = solid.vertices.min(axis=0), solid.vertices.max(axis=0)
            x = float(low[0] + high[0]) / 2.0
            ends = ((x - FOOTPRINT, x + FOOTPRINT), (float(low[1]), float(high[1])))
            (x0, x1), (y0, y1) = ends
            found.append(_flat([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]))
    return found


def floor_drawing(tubes: Sequence[TubeRecord], lines: Sequence[Array]) -> Array:
    """Return every tube's plan as flat quadrangles (n, 4, 3) on the table, mm."""
    if not lines:
        return np.zeros((0, 4, 3))
    starts = np.concatenate([line[:-1, :2] for line in lines])
    ends = np.concatenate([line[1:, :2] for line in lines])
    counts = [len(line) - 1 for line in lines]
    radii = np.repeat([tube.radius for tube in tubes], counts)
    steps = ends - starts
    lengths = np.maximum(np.linalg.norm(steps, axis=1, keepdims=True), 1e-9)
    aside = np.column_stack([-steps[:, 1], steps[:, 0]]) / lengths * radii[:, None]
    corners = np.stack([starts - aside, ends - aside, ends + aside, starts + aside], axis=1)
    return np.concatenate([corners, np.full((len(corners), 4, 1), DRAWING_AT)], axis=2)


def pieces_of(line: Array) -> Array:
    """Return a polyline (n, 3) as pieces (n - 1, 2, 3)."""
    return np.stack([line[:-1], line[1:]], axis=1)


def dashed(line: Array, pattern: tuple[tuple[float, bool], ...]) -> Array:
    """Return the dashes of a polyline (n, 3) as pieces (m, 2, 3), mm.

    Args:
        line: mm.
        pattern: lengths along the line, mm, and whether each is drawn; repeated to its end.
    """
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    period = sum(length for length, _ in pattern)
    marks: list[tuple[float, float]] = []
    at = 0.0
    for length, drawn in pattern:
        if drawn:
            marks.append((at, at + length))
        at += length
    firsts = np.arange(0.0, float(along[-1]), period)
    spans = (firsts[:, None, None] + np.array(marks)[None]).reshape(-1, 2)
    spans = spans[spans[:, 0] < along[-1]]
    cuts = np.minimum(spans, along[-1])
    places = np.stack([np.interp(cuts.ravel(), along, line[:, i]) for i in range(3)], axis=-1)
    return places.reshape(-1, 2, 3)
