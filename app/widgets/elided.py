"""A label of one line that ends in three dots where there is no room, and tells all when asked."""

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLabel, QToolTip, QWidget

from app.look.fonts import FontRole
from app.look.tokens import ColourName

LEAST_LETTERS = 8


class ElidedLabel(QLabel):
    """Words in one line; they never ask for more width than there is."""

    def __init__(
        self,
        words: str = "",
        role: FontRole = "small",
        ink: ColourName = "ink",
        parent: QWidget | None = None,
    ) -> None:
        """Show words in the font of a use and an ink."""
        super().__init__(words, parent)
        self.setProperty("role", role)
        self.setProperty("ink", ink)

    def minimumSizeHint(self) -> QSize:
        """Room for a few letters."""
        metrics = self.fontMetrics()
        least = metrics.averageCharWidth() * LEAST_LETTERS
        return QSize(min(least, super().minimumSizeHint().width()), metrics.height())

    def is_cut_short(self) -> bool:
        """Whether there is no room for all of the words."""
        return self.fontMetrics().horizontalAdvance(self.text()) > self.contentsRect().width()

    def event(self, event: QEvent) -> bool:
        """Tell all of it where it is cut short."""
        if isinstance(event, QHelpEvent) and self.is_cut_short():
            QToolTip.showText(event.globalPos(), self.text(), self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw as many of the words as there is room for."""
        del event
        painter = QPainter(self)
        room = self.contentsRect()
        words = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.setPen(self.palette().color(QPalette.ColorRole.WindowText))
        painter.drawText(room, int(self.alignment()), words)
        painter.end()
