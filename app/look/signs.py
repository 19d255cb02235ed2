"""Small widgets that show a mark or a sign, each with its word for a screen reader."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.icons import GRID, IconName, paint_icon
from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from app.look.tokens import ColourName
from core.engine.finding import WORDS, Verdict


class _Sign(QWidget):
    """A square of fixed size that follows the look."""

    def __init__(self, look: Look, size: float, parent: QWidget | None) -> None:
        super().__init__(parent)
        self._look = look
        self._size = size
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self._refit)

    def sizeHint(self) -> QSize:
        """Its size at the scale in force."""
        return QSize(self._look.px(self._size), self._look.px(self._size))

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


class VerdictMark(_Sign):
    """The mark of a verdict; its accessible name is the verdict's word."""

    def __init__(self, look: Look, verdict: Verdict, parent: QWidget | None = None) -> None:
        """Show a verdict."""
        super().__init__(look, MARK + 2, parent)
        self.verdict: Verdict = verdict
        self.show_verdict(verdict)

    def show_verdict(self, verdict: Verdict) -> None:
        """Show another verdict."""
        self.verdict = verdict
        self.setAccessibleName(WORDS[verdict])
        self.setToolTip(WORDS[verdict])
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark."""
        painter = QPainter(self)
        paint_verdict(painter, self._look, self.verdict, QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()


class IconSign(_Sign):
    """A drawn sign beside its word."""

    def __init__(
        self,
        look: Look,
        name: IconName,
        colour: ColourName = "ink",
        parent: QWidget | None = None,
    ) -> None:
        """Show a sign."""
        super().__init__(look, GRID, parent)
        self._name: IconName = name
        self._colour: ColourName = colour

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sign."""
        painter = QPainter(self)
        paint_icon(painter, self._name, QRectF(self.rect()), self._look.colour(self._colour))
        painter.end()
