"""Names of joints, mounts and tubes beside them, where they are asked for."""

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainter

from app.scene.frame import Frame, halo_text
from core.document.base import Vec3

BESIDE = 9.0
"""From the middle of a handle to its name, logical pixels."""


def paint_names(painter: QPainter, frame: Frame) -> None:
    """Write the names there is room for, those that matter in this step first; no two overlap.

    Seen-through names are those of this step's handles alone.
    """
    if frame.names == "hidden":
        return
    for at, words in _named(frame):
        place = frame.at(at)
        if place is None or not frame.area.contains(place):
            continue
        box = _box(frame, words, place)
        if not any(box.intersects(other) for other in frame.taken):
            ink = frame.look.colour("ink2")
            halo_text(painter, frame, words, box.center(), ink, "rule")
            frame.taken.append(box)


def _named(frame: Frame) -> Iterator[tuple[Vec3, str]]:
    """Places with their names, in the order in which they get room."""
    handles = [h for h in frame.scene.handles if frame.is_shown(h.ref)]
    forward = [h for h in handles if frame.is_forward(h)]
    yield from ((h.at, frame.label(h.ref)) for h in forward)
    if frame.names != "shown":
        return
    yield from ((h.at, frame.label(h.ref)) for h in handles if not frame.is_forward(h))
    for tube in frame.scene.tubes:
        if frame.is_shown(tube.ref):
            x, y, z = (float(v) for v in (tube.line[0] + tube.line[-1]) / 2.0)
            yield Vec3(x, y, z), frame.label(tube.ref)


def _box(frame: Frame, words: str, place: QPointF) -> QRectF:
    """Where a name stands: at the right of its place, a little above."""
    metrics = QFontMetricsF(frame.look.font("rule"))
    away = BESIDE * frame.mark_scale
    wide, high = metrics.horizontalAdvance(words), metrics.height()
    return QRectF(place.x() + away, place.y() - away - high / 2.0, wide, high)
