"""Lines painted over the car: names of stations, dimensions, gaps, chosen things, before-shapes."""

from itertools import pairwise

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.look.marks import MARK, paint_verdict
from app.look.tokens import ColourName
from app.scene.frame import Frame, halo_text, pen
from app.scene.sweeping import thinned
from core.document.base import SteelState
from core.geometry.types import Array
from core.quantities import number
from core.scene.records import Dimension, GapMark, Scene

TITLES = {"plan": "Plan", "side": "Left side", "front": "Front", "rear": "Rear"}
BAR_MM = 500.0
LEVEL_STEP = 34.0
FIRST_LEVEL = 44.0
TICK = 5.0
LEAST_BAR, LEAST_SPAN = 20.0, 2.0
"""Logical pixels below which a bar of 500 mm, or a dimension, is left out."""


def paint_stations(painter: QPainter, frame: Frame) -> None:
    """Write the name and place of each axle at the table's edge, in the free view and the plan."""
    if frame.kind not in ("free", "plan"):
        return
    half, room = 850.0, frame.area.adjusted(60, 20, -60, -20)
    wheels = sorted({round(h.at.x, 1) for h in frame.scene.handles if h.kind == "wheel_centre"})
    names = ("rear axle", "front axle") if len(wheels) > 1 else ("axle",)
    for name, x in zip(names, wheels, strict=False):
        at = frame.at((x, half + 330.0, 0.0))
        if at is not None and not frame.is_small and room.contains(at):
            words = f"{name} {number(x, 0)}"
            halo_text(painter, frame, words, at, frame.look.colour("ink2"), "small")


def paint_title(painter: QPainter, frame: Frame) -> None:
    """Name a plane view, and give it its own bar of 500 mm."""
    title = TITLES.get(frame.kind)
    if title is None:
        return
    painter.setPen(frame.look.colour("ink2"))
    painter.setFont(frame.look.font("body"))
    painter.drawText(QPointF(14, 24 * frame.look.scale), title)
    length = BAR_MM / frame.projection.mm_per_pixel(frame.pose.target)
    right, y = frame.area.right() - 20, frame.area.bottom() - 18
    if LEAST_BAR < length < frame.area.width() / 2:
        painter.setPen(pen(frame.look.colour("ink"), 1.2))
        painter.drawLine(QPointF(right - length, y), QPointF(right, y))
        for x in (right - length, right):
            painter.drawLine(QPointF(x, y - 4), QPointF(x, y + 4))
        middle = QPointF(right - length / 2, y - 9)
        halo_text(painter, frame, "500 mm", middle, frame.look.colour("ink2"), "rule")


def paint_notes(painter: QPainter, frame: Frame) -> None:
    """Say where something stands that cannot be seen yet."""
    for note in frame.notes:
        at = frame.at(note.place)
        if at is not None and frame.area.contains(at):
            place = at + QPointF(0, -24)
            halo_text(painter, frame, note.words, place, frame.look.colour("ink2"), "small")


def paint_not_design(painter: QPainter, frame: Frame) -> None:
    """Say that figures are those of the design, while the car is shown moved."""
    if not frame.is_design:
        middle = QPointF(frame.area.center().x(), frame.area.bottom() - 16)
        words = "shown moved; handles and figures are of the design position"
        halo_text(painter, frame, words, middle, frame.look.colour("ink2"), "small")


# --- dimensions ------------------------------------------------------------------------------


def paint_dimensions(painter: QPainter, frame: Frame) -> None:
    """Draw the chain of lengths below the car, one level under another."""
    if frame.kind not in ("front", "rear") or not frame.is_dimensioned:
        return
    ends = [frame.at(place) for d in frame.scene.dimensions for place in (d.start, d.end)]
    if not ends or any(end is None for end in ends):
        return
    ground = max(end.y() for end in ends if end is not None)
    below: dict[int, list[tuple[float, float]]] = {}
    placed: dict[tuple[float, float], tuple[Dimension, int]] = {}
    for dimension in frame.scene.dimensions:
        low, high = _span(frame, dimension)
        key = (round(low, 1), round(high, 1))
        if key not in placed:  # both sides' chains share their first length
            placed[key] = dimension, _free_level(frame, dimension, below)
    for (low, high), (dimension, level) in sorted(placed.items(), key=lambda d: d[0][0] - d[0][1]):
        if high - low >= LEAST_SPAN:  # the longest first: the short ones' figures give way
            _paint_dimension(painter, frame, dimension, ground + FIRST_LEVEL + LEVEL_STEP * level)


def _span(frame: Frame, dimension: Dimension) -> tuple[float, float]:
    start, end = frame.at(dimension.start), frame.at(dimension.end)
    assert start is not None
    assert end is not None
    return min(start.x(), end.x()), max(start.x(), end.x())


def _free_level(
    frame: Frame, dimension: Dimension, taken: dict[int, list[tuple[float, float]]]
) -> int:
    """The first level at which a length lies over no other; whole widths come lowest."""
    low, high = _span(frame, dimension)
    level = 0 if dimension.level == 0 else 2
    while any(low < b - 1 and a + 1 < high for a, b in taken.get(level, [])):
        level += 1
    taken.setdefault(level, []).append((low, high))
    return level


def _paint_dimension(painter: QPainter, frame: Frame, dimension: Dimension, y: float) -> None:
    low, high = _span(frame, dimension)
    painter.setPen(pen(frame.look.colour("edge"), 1.0))
    ground = frame.at(dimension.start)
    assert ground is not None
    for x in (low, high):
        painter.drawLine(QPointF(x, ground.y()), QPointF(x, y + 6))
    painter.setPen(pen(frame.look.colour("ink"), 1.2))
    painter.drawLine(QPointF(low, y), QPointF(high, y))
    for x in (low, high):
        painter.drawLine(QPointF(x - TICK, y + TICK), QPointF(x + TICK, y - TICK))
    wide = QFontMetricsF(frame.look.font("head")).horizontalAdvance(dimension.text)
    middle = QPointF((low + high) / 2, y - 10)
    if wide > high - low:  # no room between the ticks: beside them, away from the middle
        outward = 1.0 if middle.x() > frame.area.center().x() else -1.0
        middle = QPointF(middle.x() + outward * ((high - low + wide) / 2 + 8), y)
    box = QRectF(0, 0, wide + 4, 14)
    box.moveCenter(middle)
    if any(box.intersects(other) for other in frame.taken):
        middle = QPointF(middle.x(), y + 14)
    frame.taken.append(halo_text(painter, frame, dimension.text, middle, frame.look.colour("ink")))


# --- gaps ------------------------------------------------------------------------------------


def paint_gaps(painter: QPainter, frame: Frame) -> None:
    """Draw each gap from foot point to foot point, with its figure and the mark of its verdict."""
    for gap in frame.scene.gaps if frame.is_design else ():
        if frame.is_shown(gap.tube):
            _paint_gap(painter, frame, gap)


def _paint_gap(painter: QPainter, frame: Frame, gap: GapMark) -> None:
    ends = [frame.at(gap.on_unit), frame.at(gap.on_tube)]
    one, other = ends
    if one is None or other is None or not frame.area.contains(one):
        return
    painter.setPen(pen(frame.look.colour("ink"), 1.6))
    painter.drawLine(one, other)
    painter.setBrush(frame.look.colour("ink"))
    for end in (one, other):
        painter.drawEllipse(end, 2.2, 2.2)
    if frame.is_small:
        return
    middle = (one + other) / 2 + QPointF(0, -16)
    box = halo_text(painter, frame, gap.text, middle, frame.look.colour("ink"))
    mark = QRectF(0, 0, MARK * 0.85, MARK * 0.85)
    mark.moveCenter(QPointF(box.left() - 6, box.center().y()))
    paint_verdict(painter, frame.look, gap.verdict, mark)
    frame.taken.append(box.united(mark))


# --- chosen and before -----------------------------------------------------------------------


def paint_chosen(painter: QPainter, frame: Frame) -> None:
    """Draw the edges of tubes that are chosen or pointed at, so that this rests on no colour."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for tube in frame.scene.tubes:
        is_chosen = tube.ref in frame.chosen
        if (is_chosen or tube.ref == frame.pointed) and frame.is_shown(tube.ref):
            name: ColourName = "sel" if is_chosen else "hover"
            painter.setPen(QPen(frame.look.colour(name), 2.0 if is_chosen else 1.5))
            for line in _edges(frame, tube.line, tube.radius):
                painter.drawPath(frame.line(line))


def paint_made_edges(painter: QPainter, frame: Frame) -> None:
    """Draw the edges of steel that is pale or seen through, where steel is told apart by state."""
    if not frame.by_state:
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for tube in frame.scene.tubes:
        if tube.state in _EDGED and frame.is_shown(tube.ref):
            name: ColourName = "no" if tube.state == "spoilt" else "ink2"
            painter.setPen(pen(frame.look.colour(name, _EDGED[tube.state]), 1.0))
            for line in _edges(frame, thinned(tube.line), tube.radius):
                painter.drawPath(frame.line(line))


_EDGED: dict[SteelState, float] = {"planned": 0.4, "cut": 1.0, "bent": 1.0, "spoilt": 1.0}


def _edges(frame: Frame, line: Array, radius: float) -> tuple[Array, Array]:
    """Both outlines of a tube as seen from the eye."""
    steps = np.gradient(line, axis=0)
    eye = (
        frame.pose.eye - line
        if not frame.pose.parallel
        else np.tile(frame.pose.back, (len(line), 1))
    )
    aside = np.cross(steps, eye)
    aside /= np.maximum(np.linalg.norm(aside, axis=1, keepdims=True), 1e-9)
    return line + radius * aside, line - radius * aside


def paint_before(painter: QPainter, frame: Frame) -> None:
    """Draw what moved as it was, in a thin line."""
    if frame.before is None:
        return
    painter.setPen(pen(frame.look.colour("ink2"), 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for line in moved_lines(frame.before, frame.scene):
        painter.drawPath(frame.line(line))


def moved_lines(before: Scene, now: Scene) -> list[Array]:
    """The lines, as they were, of what is no longer where it was; wheels as circles."""
    here = {(tube.ref, ""): tube.line for tube in now.tubes}
    here |= {(rod.ref, f"{rod.part}{i}"): rod.line for i, rod in enumerate(now.rods)}
    there = {(tube.ref, ""): tube.line for tube in before.tubes}
    there |= {(rod.ref, f"{rod.part}{i}"): rod.line for i, rod in enumerate(before.rods)}
    lines = [
        line
        for key, line in there.items()
        if here.get(key) is not line and not _alike(here.get(key), line)
    ]
    return lines + _moved_wheels(before, now) + _moved_units(before, now)


def _alike(one: Array | None, other: Array) -> bool:
    return one is not None and one.shape == other.shape and np.allclose(one, other, atol=1e-6)


def _moved_wheels(before: Scene, now: Scene) -> list[Array]:
    here = {(s.ref, s.part): s.vertices for s in now.solids}
    turns = np.linspace(0.0, 2.0 * np.pi, 41)
    found: list[Array] = []
    for solid in before.solids:
        same = here.get((solid.ref, solid.part))
        if solid.look == "tyre" and same is not solid.vertices and not _alike(same, solid.vertices):
            low, high = solid.vertices.min(axis=0), solid.vertices.max(axis=0)
            middle, radius = (low + high) / 2.0, float(high[2] - low[2]) / 2.0
            spokes = np.column_stack([np.cos(turns), np.zeros_like(turns), np.sin(turns)])
            found.append(middle + radius * spokes)
    return found


def _moved_units(before: Scene, now: Scene) -> list[Array]:
    """A cross of 200 mm where the engine and gearbox had its origin."""
    here = {mesh.ref: mesh.origin for mesh in now.meshes}
    found: list[Array] = []
    for mesh in before.meshes:
        if here.get(mesh.ref) != mesh.origin:
            found += [np.array(mesh.origin) + np.outer([-100.0, 100.0], row) for row in np.eye(3)]
    return found


def paint_join(painter: QPainter, frame: Frame) -> None:
    """Draw the way from where a handle was to where it is."""
    grip = frame.drag.grip
    if grip is None or frame.asked is None or frame.drag.phase != "dragging":
        return
    painter.setPen(pen(frame.look.colour("sel"), 1.2, broken=True))
    for one, other in pairwise([grip.start, frame.asked.place]):
        start, end = frame.at(one), frame.at(other)
        if start is not None and end is not None:
            painter.drawLine(start, end)
