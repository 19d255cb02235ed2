"""Working in the real window by keys alone, as a builder does whose hands stay on the keyboard."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from app.window import MainWindow

MOST_TABS = 40
CTRL = Qt.KeyboardModifier.ControlModifier
NONE = Qt.KeyboardModifier.NoModifier


class Hands:
    """Presses keys wherever the keyboard is."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        window.activateWindow()
        QTest.qWaitForWindowActive(window)

    @property
    def at(self) -> QWidget:
        return self.window.focusWidget() or self.window

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(self.at, key, held)

    def type(self, text: str) -> None:
        """Replace what stands there."""
        self.press(Qt.Key.Key_A, CTRL)
        QTest.keyClicks(self.at, text)

    def tab_to(self, name: str) -> None:
        """Go on by Tab to what is read out so."""
        for _ in range(MOST_TABS):
            if self.at.accessibleName() == name:
                return
            self.press(Qt.Key.Key_Tab)
        msg = f"Tab never came to «{name}»"
        raise AssertionError(msg)

    def find(self, typed: str) -> None:
        """Do what the command box finds first."""
        self.press(Qt.Key.Key_K, CTRL)
        QTest.keyClicks(self.at, typed)
        self.press(Qt.Key.Key_Return)

    def fill(self, values: dict[str, str]) -> None:
        """Type into fields, each reached by Tab, and press Enter at the end."""
        for name, text in values.items():
            self.tab_to(name)
            self.type(text)
            self.press(Qt.Key.Key_Tab)
        self.press(Qt.Key.Key_Return)
