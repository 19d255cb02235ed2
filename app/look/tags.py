"""Tags tied to figures and parts: one pointed end with a hole, the words behind it."""

from typing import Literal

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from app.look.tokens import ColourName

TagKind = Literal["in_hand", "measured", "chosen", "guessed", "held"]

TAG_HEIGHT = 18.0
POINT = 6.0
LEAD = 13.0  # from the tip to the words
TRAIL = 7.0

WORDS: dict[TagKind, str] = {
    "in_hand": "in hand",
    "measured": "measured",
    "chosen": "chosen",
    "guessed": "guessed",
    "held": "held",
}


def tag_path(box: QRectF, point: float = POINT) -> QPainterPath:
    """The outline of a tag in a box, its pointed end to the left."""
    path = QPainterPath(QPointF(box.left(), box.center().y()))
    path.lineTo(box.left() + point, box.top())
    path.lineTo(box.right(), box.top())
    path.lineTo(box.right(), box.bottom())
    path.lineTo(box.left() + point, box.bottom())
    path.closeSubpath()
    return path


def tag_width(look: Look, words: str) -> float:
    """How wide a source tag with these words is, in logical pixels."""
    text = QFontMetricsF(look.font("small")).horizontalAdvance(words)
    return text + (LEAD + TRAIL) * look.scale


def paint_tag(painter: QPainter, look: Look, kind: TagKind, words: str, box: QRectF) -> None:
    """Draw a source tag: filled for in hand, broken for guessed, outlined for the others."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    colour = look.colour(_COLOUR[kind])
    pen = QPen(colour, max(1.0, look.scale))
    if kind == "guessed":
        pen.setDashPattern([3.0, 2.0])
    outline = box.adjusted(0.5, 0.5, -0.5, -0.5)
    painter.setPen(pen)
    painter.setBrush(colour if kind == "in_hand" else look.colour("card"))
    painter.drawPath(tag_path(outline, POINT * look.scale))
    _paint_hole(painter, look, kind, outline)
    painter.setPen(look.colour("card") if kind == "in_hand" else colour)
    painter.setFont(look.font("small"))
    text = box.adjusted(LEAD * look.scale, 0, -3, 0)
    painter.drawText(text, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, words)
    painter.restore()


_COLOUR: dict[TagKind, ColourName] = {
    "in_hand": "ink",
    "measured": "measured",
    "chosen": "ink2",
    "guessed": "guessed",
    "held": "ink2",
}


def _paint_hole(painter: QPainter, look: Look, kind: TagKind, box: QRectF) -> None:
    centre = QPointF(box.left() + 7.5 * look.scale, box.center().y())
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.colour("card" if kind == "in_hand" else _COLOUR[kind]))
    painter.drawEllipse(centre, 1.5 * look.scale, 1.5 * look.scale)


class SourceTag(QAbstractButton):
    """A tag that says where a figure comes from; clicked, it tells what decided the figure."""

    def __init__(
        self, look: Look, kind: TagKind = "guessed", words: str = "", parent: QWidget | None = None
    ) -> None:
        """Show a kind of source, with words of its own or the usual ones."""
        super().__init__(parent)
        self._look = look
        self._kind: TagKind = kind
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.say(kind, words)
        look.changed.connect(self._refit)

    @property
    def kind(self) -> TagKind:
        """What kind of source it shows."""
        return self._kind

    def say(self, kind: TagKind, words: str = "") -> None:
        """Show another source."""
        self._kind = kind
        self.setText(words or WORDS[kind])
        self.setAccessibleName(self.text())
        self._refit()

    def sizeHint(self) -> QSize:
        """Wide enough for the words."""
        width = int(tag_width(self._look, self.text()) + 1)
        return QSize(width, self._look.px(TAG_HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the tag, with a frame when the keyboard is on it."""
        painter = QPainter(self)
        paint_tag(painter, self._look, self._kind, self.text(), QRectF(self.rect()))
        if self.hasFocus():
            painter.setPen(QPen(self._look.colour("sel"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()
