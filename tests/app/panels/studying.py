"""Panels that have studies done: how a person opens them, asks and waits."""

from typing import Protocol

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLineEdit
from pytestqt.qtbot import QtBot

from app.widgets.folded import Folded
from app.widgets.study_run import StudyRun

LONG = 60_000
LEFT = Qt.MouseButton.LeftButton


class Studying(Protocol):
    """A panel with a study in it."""

    fold: Folded
    run: StudyRun


def unfold(panel: Studying) -> None:
    QTest.mouseClick(panel.fold.line, LEFT, pos=QPoint(20, 12))
    QTest.qWait(20)


def press(button: QAbstractButton) -> None:
    QTest.mouseClick(button, LEFT)


def ask_and_wait(panel: Studying, qtbot: QtBot) -> None:
    press(panel.run.begin)
    qtbot.waitUntil(lambda: not panel.run.is_running, timeout=LONG)


def type_into(line: QLineEdit, words: str, key: Qt.Key = Qt.Key.Key_Return) -> None:
    """Take the keyboard to a figure, type another, and press a key."""
    line.window().activateWindow()
    line.setFocus(Qt.FocusReason.TabFocusReason)
    for _ in range(100):
        if line.hasFocus():
            break
        QTest.qWait(20)
    assert line.hasFocus()
    QTest.keyClicks(line, words)
    QTest.keyClick(line, key)
