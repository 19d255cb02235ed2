"""What a builder does with keyboard and mouse, and finding where to do it."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

from app.session import Session
from app.widgets.field import Field
from core.document.base import Entity, Ref
from core.document.lookup import Lookup
from core.engine.address import Address, value_of


def type_into(line: QLineEdit | QPlainTextEdit, text: str) -> None:
    """Replace what stands in a line by typing, as after a double click or Ctrl+A."""
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    if text:
        QTest.keyClicks(line, text)
    else:
        QTest.keyClick(line, Qt.Key.Key_Delete)


def press(widget: QWidget, key: Qt.Key, *modifiers: Qt.KeyboardModifier) -> None:
    """Press a key in a widget."""
    held = Qt.KeyboardModifier.NoModifier
    for modifier in modifiers:
        held |= modifier
    QTest.keyClick(widget, key, held)


def enter(line: QLineEdit | QPlainTextEdit, text: str) -> None:
    """Type a text and press Enter."""
    type_into(line, text)
    press(line, Qt.Key.Key_Return)


def fill(line: QLineEdit | QPlainTextEdit, text: str) -> None:
    """Type a text and go on with Tab, as in a form."""
    type_into(line, text)
    press(line, Qt.Key.Key_Tab)


def click(widget: QWidget) -> None:
    """Click a widget in its middle, after scrolling to it."""
    QApplication.processEvents()
    area = _area_of(widget)
    if area is not None:
        area.ensureWidgetVisible(widget)
        QApplication.processEvents()
        area.ensureWidgetVisible(widget)
    spot = widget.rect().center() if isinstance(widget, QAbstractButton) else QPoint(4, 4)
    assert widget.isVisible()
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=spot)


def _area_of(widget: QWidget) -> QScrollArea | None:
    parent = widget.parentWidget()
    while parent is not None and not isinstance(parent, QScrollArea):
        parent = parent.parentWidget()
    return parent


def button(inside: QWidget, words: str) -> QAbstractButton:
    """The one button to be seen with these words."""
    QApplication.processEvents()
    found = [
        each
        for each in inside.findChildren(QAbstractButton)
        if each.text() == words and each.isVisibleTo(inside)
    ]
    assert len(found) == 1, f"{len(found)} buttons say «{words}»"
    return found[0]


def field_at(inside: QWidget, path: str) -> Field:
    """The one field to be seen for a path."""
    QApplication.processEvents()
    found = [
        each
        for each in inside.findChildren(Field)
        if each.address is not None and each.address.path == path and each.isVisibleTo(inside)
    ]
    assert len(found) == 1, f"{len(found)} fields show «{path}»"
    return found[0]


def value(session: Session, ref: Ref, path: str) -> object:
    """A value of the car as it is now."""
    return value_of(Lookup(session.state.document), Address(ref, path))


def thing(session: Session, thing_id: str) -> Entity:
    """A thing of the car as it is now."""
    return Lookup(session.state.document).by_id[thing_id]


def named(session: Session, name: str) -> Entity:
    """The one thing of that name."""
    found = [t for t in Lookup(session.state.document).by_id.values() if t.name == name]
    assert len(found) == 1, f"{len(found)} things are called «{name}»"
    return found[0]
