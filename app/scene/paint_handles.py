"""Handles: shapes by kind, rings round what is pointed at and chosen, jaws on what is held."""

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QTransform

from app.look.marks import clamp_path, handle_path, ring_path
from app.look.tokens import ColourName
from app.scene.frame import Frame, pen
from core.geometry.types import Array
from core.scene.records import Handle

LINE = 1.5
DOT = 1.8
ARROW = 34.0
"""How long an arrow along a free direction is, logical pixels."""

LEAST_ARROW = 6.0
"""A direction that 200 mm of look shorter than this, in pixels, points at the eye: no arrow."""


def paint_handles(painter: QPainter, frame: Frame) -> None:
    """Draw every handle; those of other steps as dots, until they are pointed at."""
    handles = [h for h in frame.scene.handles if frame.is_shown(h.ref)]
    if not handles:
        return
    places = np.array([h.at for h in handles], dtype=np.float64)
    shown = frame.projection.to_screen(places)
    for i in np.argsort(-np.nan_to_num(shown[:, 2], nan=2.0)):
        x, y, depth = (float(v) for v in shown[i])
        if np.isfinite(depth) and frame.area.contains(x, y):
            _paint_one(painter, frame, handles[int(i)], QPointF(x, y))


def _paint_one(painter: QPainter, frame: Frame, handle: Handle, at: QPointF) -> None:
    is_chosen = handle.ref in frame.chosen
    is_hovered = _same(handle, frame.hovered)
    in_hand = frame.drag.grip.handle if frame.drag.grip is not None else None
    is_current = _same(handle, frame.current) or _same(handle, in_hand)
    if not (is_chosen or is_hovered or is_current or frame.is_forward(handle)):
        _paint_dot(painter, frame, at)
        return
    colour: ColourName = "sel" if is_chosen or is_current else "hover" if is_hovered else "ink"
    _stroke(painter, frame, handle_path(handle.kind), at, colour, filled=True)
    if is_chosen or is_current:
        _stroke(painter, frame, ring_path(double=True), at, "sel")
    elif is_hovered:
        _stroke(painter, frame, ring_path(double=False), at, "hover")
    if any(handle.held_axes):
        _stroke(painter, frame, clamp_path(), at, "ink")


def _same(handle: Handle, other: Handle | None) -> bool:
    return other is not None and (handle.ref, handle.path) == (other.ref, other.path)


def _paint_dot(painter: QPainter, frame: Frame, at: QPointF) -> None:
    painter.setPen(QPen(frame.look.colour("ink2"), 1.0))
    painter.setBrush(frame.look.colour("card"))
    size = DOT * frame.mark_scale
    painter.drawEllipse(at, size, size)


def _stroke(
    painter: QPainter,
    frame: Frame,
    path: QPainterPath,
    at: QPointF,
    name: ColourName,
    *,
    filled: bool = False,
) -> None:
    scale = frame.mark_scale
    placed = QTransform(scale, 0.0, 0.0, scale, at.x(), at.y()).map(path)
    painter.setPen(QPen(frame.look.colour(name), LINE * scale))
    painter.setBrush(frame.look.colour("card") if filled else Qt.BrushStyle.NoBrush)
    painter.drawPath(placed)


def paint_free_directions(painter: QPainter, frame: Frame) -> None:
    """Draw arrows from what is in the hand along the coordinates that may change."""
    grip = frame.drag.grip
    if grip is None or frame.drag.phase == "idle":
        return
    now = next((h for h in frame.scene.handles if _same(h, grip.handle)), None)
    middle = None if now is None else frame.at(now.at)
    if now is None or middle is None:
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for axis in range(3):
        is_free = not now.held_axes[axis] and frame.drag.lock in (None, axis)
        if is_free and grip.rail is None:
            _paint_arrows(painter, frame, np.array(now.at), axis, middle)


def _paint_arrows(
    painter: QPainter, frame: Frame, place: Array, axis: int, middle: QPointF
) -> None:
    unit = 200.0 * np.eye(3)[axis]
    for sign in (1.0, -1.0):
        end = frame.at(place + sign * unit)
        if end is None:
            continue
        way = end - middle
        length = float(np.hypot(way.x(), way.y()))
        if length < LEAST_ARROW:
            continue
        along = way / length
        painter.setPen(pen(frame.look.colour("sel"), 1.5))
        tip = middle + along * ARROW
        painter.drawLine(middle + along * 16.0, tip)
        aside = QPointF(-along.y(), along.x())
        painter.drawLine(tip, tip - along * 6.0 + aside * 3.5)
        painter.drawLine(tip, tip - along * 6.0 - aside * 3.5)
