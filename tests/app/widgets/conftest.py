"""Single widgets in a bare window, and the watch that nothing outlives its test."""

import gc
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.look.style import dress

Show = Callable[[QWidget, int, int], None]


@pytest.fixture(autouse=True)
def nothing_outlives(qapp: QApplication) -> Iterator[None]:
    yield

    gc.collect()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert qapp.allWidgets() == []


@pytest.fixture
def look(qtbot: QtBot) -> Look:
    del qtbot  # Qt must run first
    return Look("light")


@pytest.fixture
def show(qtbot: QtBot, look: Look) -> Show:
    """Shows a widget at a size, dressed as the window would."""

    def shown(widget: QWidget, width: int, height: int) -> None:
        qtbot.addWidget(widget)
        dress(widget, look)
        widget.resize(width, height)
        widget.show()
        qtbot.waitExposed(widget)

    return shown
