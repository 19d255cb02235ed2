"""Tags tied with a string, and the read-out at the pointer."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen

from app.scene.drag_edits import way
from app.scene.frame import Frame, Tag
from core.document.base import Vec3
from core.quantities import number

MOST = 6
"""Tags at once."""

PAD, HOLE, CUT = 10.0, 2.2, 7.0
AWAY = ((34.0, -64.0), (34.0, 34.0), (-34.0, -64.0), (-34.0, 34.0), (60.0, -130.0), (-60.0, 96.0))
"""Logical pixels from a part to its tag, in the order in which places are tried."""


def paint_tags(painter: QPainter, frame: Frame) -> None:
    """Draw the tags, none over another and none over what it names."""
    for tag in frame.tags[:MOST]:
        at = frame.at(tag.place)
        if at is not None and frame.area.contains(at):
            _paint_tag(painter, frame, tag, at)


def _paint_tag(painter: QPainter, frame: Frame, tag: Tag, at: QPointF) -> None:
    box = _place(frame, at, _size(frame, tag))
    frame.taken.append(box)
    colour = frame.look.colour("sel" if tag.is_chosen else "ink")
    is_right = box.center().x() >= at.x()
    hole = QPointF(box.left() + CUT + 4 if is_right else box.right() - CUT - 4, box.center().y())
    painter.setPen(QPen(colour, 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    string = QPainterPath(at)
    string.cubicTo(QPointF(at.x(), (at.y() + hole.y()) / 2), QPointF(at.x(), hole.y()), hole)
    painter.drawPath(string)
    painter.setBrush(frame.look.colour("card"))
    painter.drawPath(_outline(box, points_left=is_right))
    painter.drawEllipse(hole, HOLE, HOLE)
    left = box.left() + (CUT + 14 if is_right else PAD)
    _write(painter, frame, tag, left, box)


def _size(frame: Frame, tag: Tag) -> tuple[float, float]:
    head, small = QFontMetricsF(frame.look.font("head")), QFontMetricsF(frame.look.font("small"))
    wide = max(head.horizontalAdvance(tag.title), small.horizontalAdvance(tag.line))
    tall = head.height() + (small.height() if tag.line else 0.0) + 10.0
    return wide + 2 * PAD + CUT + 8, tall


def _place(frame: Frame, at: QPointF, size: tuple[float, float]) -> QRectF:
    """The first place tried that is free; else the first, slid down past what is in its way."""
    room = frame.area.adjusted(6, 6, -6, -6)
    for dx, dy in AWAY:
        box = _box(at, dx, dy, size)
        if room.contains(box) and not _is_taken(frame, box, at):
            return box
    box = _box(at, *AWAY[0], size)
    box.moveLeft(min(max(box.left(), room.left()), room.right() - box.width()))
    box.moveTop(min(max(box.top(), room.top()), room.bottom() - box.height()))
    while _is_taken(frame, box, at) and box.bottom() < room.bottom():
        box.translate(0.0, 12.0)
    return box


def _box(at: QPointF, dx: float, dy: float, size: tuple[float, float]) -> QRectF:
    left = at.x() + dx if dx > 0 else at.x() + dx - size[0]
    return QRectF(left, at.y() + dy, *size)


def _is_taken(frame: Frame, box: QRectF, at: QPointF) -> bool:
    wide = box.adjusted(-4, -4, 4, 4)
    return wide.contains(at) or any(wide.intersects(other) for other in frame.taken)


def _outline(box: QRectF, *, points_left: bool) -> QPainterPath:
    """A card with two cut corners at the end with the hole."""
    x, far = (box.left(), box.right()) if points_left else (box.right(), box.left())
    step = CUT if points_left else -CUT
    path = QPainterPath(QPointF(x + step, box.top()))
    for point in (
        QPointF(far, box.top()),
        QPointF(far, box.bottom()),
        QPointF(x + step, box.bottom()),
        QPointF(x, box.bottom() - CUT),
        QPointF(x, box.top() + CUT),
    ):
        path.lineTo(point)
    path.closeSubpath()
    return path


def _write(painter: QPainter, frame: Frame, tag: Tag, left: float, box: QRectF) -> None:
    head = QFontMetricsF(frame.look.font("head"))
    painter.setPen(frame.look.colour("ink"))
    painter.setFont(frame.look.font("head"))
    top = box.top() + 5.0 + head.ascent()
    painter.drawText(QPointF(left, top), tag.title)
    if tag.line:
        small = QFontMetricsF(frame.look.font("small"))
        painter.setPen(frame.look.colour("ink2"))
        painter.setFont(frame.look.font("small"))
        painter.drawText(QPointF(left, top + head.descent() + small.ascent()), tag.line)


# --- read-out --------------------------------------------------------------------------------


def place_words(at: Vec3) -> str:
    """Coordinates as they are shown."""
    return "  ".join(f"{name} {number(value, 1)}" for name, value in zip("xyz", at, strict=True))


def paint_read_out(painter: QPainter, frame: Frame) -> None:
    """Write how far the drag has gone, and where the handle is now, beside the pointer."""
    grip, asked = frame.drag.grip, frame.asked
    if grip is None or asked is None or frame.drag.phase != "dragging" or asked.is_held:
        return
    now = Vec3(*(float(v) for v in asked.place))
    lines = [way(asked.place - grip.start), place_words(now)]
    if frame.drag.lock is not None:
        lines.append(f"only along {'xyz'[frame.drag.lock]}")
    if asked.stopped:
        lines.append(asked.stopped)
    lines += [because.words for because in asked.because]
    _paint_lines(painter, frame, lines)


def _paint_lines(painter: QPainter, frame: Frame, lines: list[str]) -> None:
    fonts = [frame.look.font("head"), *[frame.look.font("small")] * (len(lines) - 1)]
    metrics = [QFontMetricsF(font) for font in fonts]
    wide = max(m.horizontalAdvance(words) for m, words in zip(metrics, lines, strict=True))
    tall = sum(m.height() for m in metrics)
    box = QRectF(frame.pointer[0] + 22, frame.pointer[1] + 18, wide + 16, tall + 10)
    box.moveRight(min(box.right(), frame.area.right() - 6))
    box.moveBottom(min(box.bottom(), frame.area.bottom() - 6))
    painter.setPen(QPen(frame.look.colour("sel"), 1.0))
    painter.setBrush(frame.look.colour("card"))
    painter.drawRect(box)
    top = box.top() + 5.0
    for font, metric, words in zip(fonts, metrics, lines, strict=True):
        painter.setFont(font)
        painter.setPen(frame.look.colour("ink"))
        painter.drawText(QPointF(box.left() + 8, top + metric.ascent()), words)
        top += metric.height()
    frame.taken.append(box)
