"""The parts of the driven end on one scribed line: the worst mark of each, its name below."""

from collections.abc import Callable

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from app.look.look import Look
from app.look.marks import MARK, paint_verdict
from core.engine.finding import WORDS
from core.study.order import PartKey
from core.study.steps import PartState

HEIGHT = 60.0
LINE = 16.0
STRETCH: dict[PartKey, int] = {"unit": 6, "shafts": 5, "links": 3, "mounts": 4, "out": 4}
"""How the row is shared, by how long the names are."""


class PartButton(QAbstractButton):
    """One part: mark on the line, name under it in two lines."""

    walked = Signal(int)

    def __init__(self, look: Look, state: PartState, parent: QWidget | None = None) -> None:
        """Show a part."""
        super().__init__(parent)
        self._look = look
        self.state = state
        self.is_current = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._name()
        look.changed.connect(self._refit)

    def tell(self, state: PartState, *, is_current: bool) -> None:
        """Show how the part is now."""
        if (state, is_current) != (self.state, self.is_current):
            self.state, self.is_current = state, is_current
            self._name()
            self.update()

    def _name(self) -> None:
        words = f": {self.state.words}" if self.state.words else ""
        told = f"{self.state.title}, {WORDS[self.state.verdict]}{words}"
        self.setAccessibleName(told)
        self.setToolTip(told)

    def sizeHint(self) -> QSize:
        """A fifth of the row."""
        return QSize(self._look.px(20), self._look.px(HEIGHT))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the row, or choose."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is not None:
            self.walked.emit(step)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw line, mark and name."""
        painter = QPainter(self)
        look, scale = self._look, self._look.scale
        y, mark = LINE * scale, MARK * scale
        painter.setPen(QPen(look.colour("rule"), 1))
        painter.drawLine(0, int(y), self.width(), int(y))
        if self.is_current:
            painter.setPen(QPen(look.colour("sel"), 3))
            painter.drawLine(int(mark + 5), int(y), self.width() - 6, int(y))
        painter.setOpacity(0.45 if self.state.behind else 1.0)
        painter.fillRect(QRectF(0, y - mark / 2, mark + 2, mark), look.colour("panel"))
        paint_verdict(painter, look, self.state.verdict, QRectF(0, y - mark / 2, mark, mark))
        painter.setOpacity(1.0)
        painter.setFont(look.font("small"))
        painter.setPen(look.colour("sel" if self.is_current else "ink"))
        box = QRect(0, int(y + mark / 2 + 3), self.width() - 2, self.height())
        flags = Qt.TextFlag.TextWordWrap.value | Qt.AlignmentFlag.AlignLeft.value
        painter.drawText(box, flags, self.state.title)
        if self.hasFocus():
            painter.setPen(QPen(look.colour("sel"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _refit(self) -> None:
        self.updateGeometry()
        self.update()


class PartsRow(QWidget):
    """The five parts; a click, or arrows and Enter, choose one."""

    chosen = Signal(str)

    def __init__(
        self, look: Look, states: tuple[PartState, ...], parent: QWidget | None = None
    ) -> None:
        """Show the parts."""
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self.buttons: dict[PartKey, PartButton] = {}
        for state in states:
            made = PartButton(look, state)
            made.clicked.connect(self._chooser(state.key))
            made.walked.connect(self._walker(state.key))
            self.buttons[state.key] = made
            row.addWidget(made, STRETCH[state.key])

    def tell(self, states: tuple[PartState, ...], current: PartKey) -> None:
        """Show how the parts are now, and which is in front."""
        for state in states:
            self.buttons[state.key].tell(state, is_current=state.key == current)

    def _chooser(self, key: PartKey) -> Callable[[], None]:
        return lambda: self.chosen.emit(key)

    def _walker(self, key: PartKey) -> Callable[[int], None]:
        return lambda by: self._walk(key, by)

    def _walk(self, key: PartKey, by: int) -> None:
        keys = list(self.buttons)
        at = min(max(keys.index(key) + by, 0), len(keys) - 1)
        self.buttons[keys[at]].setFocus(Qt.FocusReason.OtherFocusReason)
