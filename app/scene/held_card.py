"""The card beside the pointer that says what holds a thing that was asked to move."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from app.look.style import button, label
from core.scene.records import Handle

WIDTH = 320
AWAY = 22


class HeldCard(QFrame):
    """Says what stays, why, by how much it would miss, and how to set it free; Esc closes it."""

    free_wanted = Signal(object)

    def __init__(self, look: Look, parent: QWidget) -> None:
        """Make the card, hidden."""
        super().__init__(parent)
        self._look = look
        self._handle: Handle | None = None
        self.setProperty("ground", "no")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._title, self._body = label("", "finding"), label("", "body")
        self.free_button = button("Set free", "link")
        self.free_button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.free_button.setProperty("role", "body")
        self.free_button.clicked.connect(self._want_free)
        self._esc = label("Esc", "body", "ink3")
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        px = self._look.px
        column = QVBoxLayout(self)
        column.setContentsMargins(px(38), px(10), px(14), px(8))
        column.setSpacing(px(4))
        column.addWidget(self._title)
        column.addWidget(self._body)
        foot = QHBoxLayout()
        foot.addWidget(self.free_button)
        foot.addWidget(self._esc, 1)
        column.addLayout(foot)

    @property
    def words(self) -> str:
        """All it says."""
        return f"{self._title.text()} {self._body.text()}"

    def say(self, handle: Handle, title: str, body: str, at: QPoint, *, can_free: bool) -> None:
        """Show it beside a place of the view."""
        self._handle = handle
        self._title.setText(title)
        self._body.setText(body)
        self.free_button.setVisible(can_free)
        self.setAccessibleName(self.words)
        self.setFixedWidth(min(self._look.px(WIDTH), self._room().width() - 8))
        self.adjustSize()
        self.move(self._beside(at))
        self.show()
        self.raise_()

    def _room(self) -> QSize:
        parent = self.parentWidget()
        return parent.size() if parent is not None else QSize(WIDTH, WIDTH)

    def _beside(self, at: QPoint) -> QPoint:
        room = self._room()
        x = at.x() + AWAY
        if x + self.width() > room.width() - 4:
            x = at.x() - AWAY - self.width()
        y = min(at.y() + AWAY, room.height() - self.height() - 4)
        return QPoint(max(4, x), max(4, y))

    def _want_free(self) -> None:
        if self._handle is not None:
            handle, self._handle = self._handle, None
            self.hide()
            self.free_wanted.emit(handle)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close at Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark beside the words; frame and ground come from the style."""
        super().paintEvent(event)
        painter = QPainter(self)
        size = MARK * self._look.scale
        paint_verdict(painter, self._look, "no", QRectF(12, 12, size, size))
        painter.end()
