"""Words on a plot of curves: on the ground, or on a patch where lines lie under them."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPaintEngine, QPainter, QPainterPath

from app.look.fonts import FontRole
from app.look.look import Look
from app.look.tokens import ColourName

PATCH = 2.5


def write(
    painter: QPainter, look: Look, words: str, place: QPointF, role: FontRole, ink: ColourName
) -> None:
    """Write words whose line begins at a place."""
    font = look.font(role)
    if _needs_outlines(painter):
        painter.fillPath(_outlines(words, place, font), look.colour(ink))
        return
    painter.setFont(font)
    painter.setPen(look.colour(ink))
    painter.drawText(place, words)


def write_over(
    painter: QPainter, look: Look, words: str, middle: QPointF, role: FontRole, ink: ColourName
) -> None:
    """Write words round a place, on a patch of the ground that quietens the lines under them."""
    metrics = QFontMetricsF(look.font(role))
    width, height = metrics.horizontalAdvance(words), metrics.capHeight()
    patch = QRectF(0, 0, width + 2 * PATCH * look.scale, height + 2 * PATCH * look.scale)
    patch.moveCenter(middle)
    painter.fillRect(patch, look.colour("panel", 0.85))
    place = QPointF(middle.x() - width / 2, middle.y() + height / 2)
    write(painter, look, words, place, role, ink)


def elided(look: Look, words: str, role: FontRole, room: float) -> str:
    """Words cut to the room there is."""
    metrics = QFontMetricsF(look.font(role))
    return metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)


def _needs_outlines(painter: QPainter) -> bool:
    """Whether it is written to a file that is read where the typeface may be missing."""
    return painter.paintEngine().type() == QPaintEngine.Type.SVG


def _outlines(words: str, place: QPointF, font: QFont) -> QPainterPath:
    path = QPainterPath()
    path.addText(place, font, words)
    return path
