"""Lines and pages of words that hand Enter, Esc and the leaving of the keyboard on."""

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHelpEvent, QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import (
    QLineEdit,
    QPlainTextEdit,
    QStyle,
    QStyleOptionFrame,
    QToolTip,
    QWidget,
)

from app.look.look import Look
from app.widgets.field import is_leaving
from app.widgets.flat import line_sheet, page_sheet

ROWS = 3
_KEEP = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_OWN = (Qt.Key.Key_Escape,)


def takes_first(event: QEvent, keys: tuple[Qt.Key, ...]) -> bool:
    """Whether a field takes a key that a shortcut of the window would take otherwise."""
    if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
        return False
    if event.key() in keys:
        event.accept()
        return True
    return False


class WordsLine(QLineEdit):
    """One line of words."""

    escaped = Signal()
    left = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make an empty line."""
        super().__init__(parent)
        self.look = look
        self.is_in_form = False
        """Whether Enter, once it has kept what is typed, is also for the form around the line."""
        look.changed.connect(self.dress)
        self.dress()

    def dress(self) -> None:
        """Take the colours in force."""
        self.setStyleSheet(line_sheet(self.look))

    def event(self, event: QEvent) -> bool:
        """Take its keys before the window's shortcuts do; tell in full what is cut short."""
        if isinstance(event, QHelpEvent) and self.is_cut_short():
            QToolTip.showText(event.globalPos(), self.text(), self)
            return True
        return takes_first(event, _OWN) or super().event(event)

    def is_cut_short(self) -> bool:
        """Whether there is no room for all of its words."""
        return self.fontMetrics().horizontalAdvance(self.text()) > self._room().width()

    def _room(self) -> QRect:
        option = QStyleOptionFrame()
        self.initStyleOption(option)
        inner = self.style().subElementRect(QStyle.SubElement.SE_LineEditContents, option, self)
        return inner.adjusted(2, 0, -2, 0)  # Qt leaves as much at either side

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw words that are too long with three dots at their end while they are at rest."""
        if self.hasFocus() or not self.is_cut_short():
            super().paintEvent(event)
            return
        option = QStyleOptionFrame()
        self.initStyleOption(option)
        painter = QPainter(self)
        frame = QStyle.PrimitiveElement.PE_PanelLineEdit
        self.style().drawPrimitive(frame, option, painter, self)
        room = self._room()
        right = Qt.TextElideMode.ElideRight
        words = self.fontMetrics().elidedText(self.text(), right, room.width())
        painter.setPen(self.palette().color(QPalette.ColorRole.Text))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Esc restores; what has nothing to do here goes on to the form around."""
        typed = self.isModified()
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
            event.setAccepted(typed)
        elif event.key() in _KEEP:
            self.returnPressed.emit()
            event.setAccepted(not self.is_in_form)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the keyboard went elsewhere in the window."""
        super().focusOutEvent(event)
        if is_leaving(event.reason()):
            self.left.emit()


class WordsPage(QPlainTextEdit):
    """Several lines of words; Shift and Enter begin a new one."""

    escaped = Signal()
    returnPressed = Signal()  # noqa: N815 - named as the line's, so that either may stand
    left = Signal()
    textEdited = Signal(str)  # noqa: N815 - the same

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make a page of a few lines."""
        super().__init__(parent)
        self.setTabChangesFocus(True)
        self.look = look
        look.changed.connect(self.dress)
        self.dress()
        self.setFixedHeight(look.px(22.0 * ROWS))
        self._setting = False
        self.textChanged.connect(self._changed)

    def dress(self) -> None:
        """Take the colours in force."""
        self.setStyleSheet(page_sheet(self.look))

    def _changed(self) -> None:
        if not self._setting:
            self.textEdited.emit(self.toPlainText())

    def text(self) -> str:
        """What it holds."""
        return self.toPlainText()

    def setText(self, text: str) -> None:
        """Show a text without calling it typed."""
        if text != self.toPlainText():
            self._setting = True
            self.setPlainText(text)
            self._setting = False

    def event(self, event: QEvent) -> bool:
        """Take its keys before the window's shortcuts do."""
        return takes_first(event, _OWN) or super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps, Shift and Enter begin a new line, Esc restores."""
        shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        elif event.key() in _KEEP and not shifted:
            self.returnPressed.emit()
        else:
            super().keyPressEvent(event)
            return
        event.accept()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the keyboard went elsewhere in the window."""
        super().focusOutEvent(event)
        if is_leaving(event.reason()):
            self.left.emit()
