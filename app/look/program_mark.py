"""The program's own mark: a plate with one cut corner, a drilled hole and a punched cross."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

GRID = 20.0
SIZES = (16, 24, 32, 48, 64, 128, 256)


def plate() -> QPainterPath:
    """The plate on its grid of 20, with the hole left out of it."""
    path = QPainterPath(QPointF(6, 2))
    for x, y in ((18, 2), (18, 18), (2, 18), (2, 6)):
        path.lineTo(x, y)
    path.closeSubpath()
    hole = QPainterPath()
    hole.addEllipse(QRectF(4.4, 8.2, 3.6, 3.6))
    return path.subtracted(hole)


def paint_program_mark(painter: QPainter, rect: QRectF, plate_is: QColor, cross: QColor) -> None:
    """Draw the mark into a square."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / GRID, rect.height() / GRID)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(plate_is)
    painter.drawPath(plate())
    painter.setPen(QPen(cross, 1.4))
    for line in (((12.8, 7.2), (12.8, 12.8)), ((10.0, 10.0), (15.6, 10.0))):
        painter.drawLine(QPointF(*line[0]), QPointF(*line[1]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(QPointF(12.8, 10.0), 1.5, 1.5)
    painter.restore()


def program_icon() -> QIcon:
    """The mark as the window's icon, in every size that desktops ask for."""
    made = QIcon()
    for size in SIZES:
        picture = QPixmap(size, size)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        box = QRectF(0, 0, size, size)
        paint_program_mark(painter, box, QColor("#1E2328"), QColor("#E9E8E3"))
        painter.end()
        made.addPixmap(picture)
    return made
