"""How far work has come: a scribed scale that fills tick by tick."""

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.look import Look

TICKS = 40
LONG_EVERY = 10


class TickBar(QWidget):
    """A rule with so many ticks inked; where the end is not known, a stretch walks along."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show nothing done."""
        super().__init__(parent)
        self._look = look
        self.share: float | None = 0.0
        self._walked = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.updateGeometry)

    def tell(self, share: float | None) -> None:
        """Show how much is done, 0 to 1; None where nobody knows how much there is."""
        self.share = share
        self._walked = (self._walked + 1) % TICKS if share is None else 0
        told = "under way" if share is None else f"{round(100 * share)} % done"
        self.setAccessibleName(told)
        self.update()

    def sizeHint(self) -> QSize:
        """As high as a long tick."""
        return QSize(self._look.px(120), self._look.px(16))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line and its ticks."""
        del event
        painter = QPainter(self)
        look, foot = self._look, self.height() - 1
        painter.setPen(QPen(look.colour("edge"), 1))
        painter.drawLine(0, foot, self.width(), foot)
        for tick in range(TICKS + 1):
            x = 0.5 + tick * (self.width() - 1) / TICKS
            high = look.px(13 if tick % LONG_EVERY == 0 else 8)
            is_inked = self._is_inked(tick)
            painter.setPen(QPen(look.colour("ink" if is_inked else "rule"), 2 if is_inked else 1))
            painter.drawLine(QPointF(x, foot - high), QPointF(x, foot))
        painter.end()

    def _is_inked(self, tick: int) -> bool:
        if self.share is None:
            return (tick - self._walked) % TICKS < LONG_EVERY
        return tick <= self.share * TICKS and self.share > 0.0
