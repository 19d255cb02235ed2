"""One bought part in the list: its mark, its name, what it is, and how it stands."""

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from app.look.look import Look
from core.study.bought import BoughtPart

MARK = 10.0


class BoughtRow(QAbstractButton):
    """A click or the space bar chooses the part."""

    def __init__(
        self, look: Look, part: BoughtPart, name: str, parent: QWidget | None = None
    ) -> None:
        """Show a part; `name` is the whole name of the thing, for the tooltip."""
        super().__init__(parent)
        self._look, self.part = look, part
        self.setText(part.name.replace("_", " "))
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        state = "in hand" if part.is_in_hand else "not in hand"
        self.setAccessibleName(f"{self.text()}, {part.kind}: {state}")
        self.setToolTip("\n".join(w for w in (name, f"{part.kind}, {state}", part.how) if w))
        look.changed.connect(self._refit)

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()

    def nextCheckState(self) -> None:
        """What is chosen follows the selection, not the click."""

    def sizeHint(self) -> QSize:
        """Two lines."""
        name = QFontMetrics(self._look.font("table")).height()
        small = QFontMetrics(self._look.font("small")).height()
        return QSize(self._look.px(180), name + small + self._look.px(6))

    @property
    def standing(self) -> str:
        """How it stands, in a few words."""
        part = self.part
        told = [part.kind] if part.kind != "part" else []
        if not part.is_in_hand and part.days is not None:
            told.append(f"{part.days:g} days")
        if not part.is_in_hand and part.candidates:
            told.append(f"{part.candidates} candidate{'s' if part.candidates > 1 else ''}")
        if part.how:
            told.append(part.how)
        return ", ".join(told) or "no candidate noted"

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the row."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look, px = self._look, self._look.px
        if self.isChecked():
            painter.fillRect(self.rect(), look.colour("wash_selected"))
        name = QFontMetrics(look.font("table"))
        self._paint_mark(painter, px(3) + name.height() / 2.0)
        left = px(24)
        box = QRect(left, px(3), self.width() - left - px(4), name.height())
        painter.setFont(look.font("table"))
        painter.setPen(look.colour("sel" if self.isChecked() or self.underMouse() else "ink"))
        painter.drawText(box, 0, name.elidedText(self.text(), _RIGHT, box.width()))
        small = QFontMetrics(look.font("small"))
        box = QRect(left, box.bottom() + 1, box.width(), small.height())
        painter.setFont(look.font("small"))
        painter.setPen(look.colour("ink2"))
        painter.drawText(box, 0, small.elidedText(self.standing, _RIGHT, box.width()))
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_mark(self, painter: QPainter, middle: float) -> None:
        """A filled square in hand, a broken one if not: what is bought is card."""
        size = MARK * self._look.scale
        box = QRectF(self._look.px(6), middle - size / 2.0, size, size)
        pen = QPen(self._look.colour("ink" if self.part.is_in_hand else "ink2"), 1.3)
        if not self.part.is_in_hand:
            pen.setDashPattern([2.0, 1.6])
        painter.setPen(pen)
        painter.setBrush(self._look.colour("lath" if self.part.is_in_hand else "panel"))
        painter.drawRect(box)


_RIGHT = Qt.TextElideMode.ElideRight
