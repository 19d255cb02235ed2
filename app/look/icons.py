"""Signs drawn by us: strokes on a grid of 20 by 20 with a margin of 2, no fill, square ends."""

from typing import Literal

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

from app.look.look import Look
from app.look.tokens import ColourName

IconName = Literal[
    "undo",
    "redo",
    "find",
    "menu",
    "sheet",
    "clamp",
    "set_free",
    "eye",
    "tag",
    "note",
    "play",
    "step",
    "open",
    "fold",
    "plus",
    "close",
    "exchange",
    "caution",
    "rule",
    "tube",
    "bend",
    "joint",
    "wheel",
    "save",
    "compare",
]

GRID = 20.0
STROKE = 1.5

# Each sign is strokes: runs of points, or an arc as (x, y, w, h, start, span) in degrees.
Arc = tuple[float, float, float, float, float, float]
Run = list[tuple[float, float]]

_STROKES: dict[IconName, tuple[list[Run], list[Arc]]] = {
    "undo": ([[(7, 3), (3, 7), (7, 11)], [(3, 7), (12, 7)], [(12, 16), (8, 16)]],
             [(7.5, 7, 9, 9, 90, -180)]),
    "redo": ([[(13, 3), (17, 7), (13, 11)], [(17, 7), (8, 7)], [(8, 16), (12, 16)]],
             [(3.5, 7, 9, 9, 90, 180)]),
    "find": ([[(12, 12), (17, 17)]], [(3, 3, 10.5, 10.5, 0, 360)]),
    "menu": ([[(3, 5), (17, 5)], [(3, 10), (17, 10)], [(3, 15), (17, 15)]], []),
    "sheet": ([[(5, 2.5), (12, 2.5), (16, 6.5), (16, 17.5), (5, 17.5), (5, 2.5)],
               [(8, 10), (13, 10)], [(8, 13.5), (13, 13.5)]], []),
    "clamp": ([[(8, 3), (4, 3), (4, 17), (8, 17)], [(12, 3), (16, 3), (16, 17), (12, 17)],
               [(10, 6), (10, 14)]], []),
    "set_free": ([[(3, 3), (7, 7)], [(17, 3), (13, 7)], [(3, 17), (7, 13)], [(17, 17), (13, 13)],
                  [(10, 8), (10, 12)], [(8, 10), (12, 10)]], []),
    "eye": ([], [(2, 4, 16, 14, 20, 140), (2, 2, 16, 14, 200, 140), (7.5, 7.5, 5, 5, 0, 360)]),
    "tag": ([[(7, 4.5), (17.5, 4.5), (17.5, 15.5), (7, 15.5), (2.5, 10), (7, 4.5)]],
            [(6.5, 9, 2, 2, 0, 360)]),
    "note": ([[(3, 3), (17, 3), (17, 12), (12, 17), (3, 17), (3, 3)],
              [(12, 17), (12, 12), (17, 12)]], []),
    "play": ([[(6, 3.5), (15, 10), (6, 16.5), (6, 3.5)]], []),
    "step": ([[(4, 4), (11, 10), (4, 16), (4, 4)], [(15, 4), (15, 16)]], []),
    "open": ([[(8, 4), (14, 10), (8, 16)]], []),
    "fold": ([[(4, 8), (10, 14), (16, 8)]], []),
    "plus": ([[(10, 3), (10, 17)], [(3, 10), (17, 10)]], []),
    "close": ([[(5, 5), (15, 15)], [(15, 5), (5, 15)]], []),
    "exchange": ([[(3, 7), (16, 7)], [(12, 3), (16, 7)], [(17, 13), (4, 13)], [(8, 17), (4, 13)]],
                 []),
    "caution": ([[(10, 3), (18, 16.5), (2, 16.5), (10, 3)], [(10, 8), (10, 12)],
                 [(10, 14), (10, 14.4)]], []),
    "rule": ([[(2, 6), (18, 6), (18, 14), (2, 14), (2, 6)], [(5, 6), (5, 10)], [(8, 6), (8, 9)],
              [(11, 6), (11, 10)], [(14, 6), (14, 9)]], []),
    "tube": ([[(4, 17), (17, 4)], [(2.5, 13), (13, 2.5)]], [(1.9, 12.4, 4.5, 4.5, 0, 360)]),
    "bend": ([[(3, 6), (8, 6)], [(14, 12), (14, 17)]], [(2, 6, 12, 12, 0, 90)]),
    "joint": ([[(10, 4), (16, 10), (10, 16), (4, 10), (10, 4)]], []),
    "wheel": ([[(10, 1.5), (10, 18.5)], [(1.5, 10), (18.5, 10)]], [(4, 4, 12, 12, 0, 360)]),
    "save": ([[(10, 3), (10, 12)], [(6, 8.5), (10, 12.5), (14, 8.5)],
              [(3, 12), (3, 17), (17, 17), (17, 12)]], []),
    "compare": ([[(3, 3), (9, 3), (9, 17), (3, 17), (3, 3)],
                 [(12, 5), (17, 5), (17, 15), (12, 15)]], []),
}  # fmt: skip

NAMES: tuple[IconName, ...] = tuple(_STROKES)


def icon_path(name: IconName) -> QPainterPath:
    """A sign as strokes on its grid."""
    runs, arcs = _STROKES[name]
    path = QPainterPath()
    for run in runs:
        path.moveTo(QPointF(*run[0]))
        for point in run[1:]:
            path.lineTo(QPointF(*point))
    for x, y, w, h, start, span in arcs:
        box = QRectF(x, y, w, h)
        path.arcMoveTo(box, start)
        path.arcTo(box, start, span)
    return path


def paint_icon(painter: QPainter, name: IconName, rect: QRectF, colour: QColor) -> None:
    """Draw a sign into a square."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / GRID, rect.height() / GRID)
    pen = QPen(colour, STROKE)
    pen.setCapStyle(Qt.PenCapStyle.SquareCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(icon_path(name))
    painter.restore()


def pixmap(look: Look, name: IconName, colour: ColourName, size: int, ratio: float) -> QPixmap:
    """A sign as a picture of `size` logical pixels for a screen with `ratio` pixels to one."""
    made = QPixmap(int(size * ratio + 0.5), int(size * ratio + 0.5))
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    paint_icon(painter, name, QRectF(0, 0, size, size), look.colour(colour))
    painter.end()
    return made


def icon(look: Look, name: IconName, colour: ColourName = "ink", ratio: float = 2.0) -> QIcon:
    """A sign for a button or menu, pale when the button cannot act."""
    size = look.px(GRID)
    made = QIcon(pixmap(look, name, colour, size, ratio))
    made.addPixmap(pixmap(look, name, "edge", size, ratio), QIcon.Mode.Disabled)
    return made
