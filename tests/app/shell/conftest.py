"""Windows of plain parts, and the watch that nothing outlives its test."""

import gc
import multiprocessing
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.jobs import Jobs
from app.look.look import Look
from app.selection import Selection
from app.session import Session
from app.settings import Settings
from app.window import MainWindow
from tests.app.shell.plain_parts import PLAIN, Answers, answer_with


@pytest.fixture(autouse=True)
def nothing_outlives(qapp: QApplication) -> Iterator[None]:
    threads = set(threading.enumerate())

    yield

    gc.collect()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert qapp.allWidgets() == []
    assert set(threading.enumerate()) <= threads
    assert multiprocessing.active_children() == []


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "settings")


@pytest.fixture
def look() -> Look:
    return Look("light")


MakeWindow = Callable[[], MainWindow]


@pytest.fixture
def make_window(qtbot: QtBot, settings: Settings, look: Look) -> MakeWindow:
    """Makes windows that share settings, each with answers in the place of dialogs."""

    def make() -> MainWindow:
        window = MainWindow(
            Session(), Selection(), look, settings, parts=PLAIN, jobs=Jobs(at_once=True)
        )
        answer_with(window, Answers(look, window))
        qtbot.addWidget(window)
        window.resize(1280, 800)
        window.show()
        qtbot.waitExposed(window)
        return window

    return make


@pytest.fixture
def window(make_window: MakeWindow) -> MainWindow:
    return make_window()


@pytest.fixture
def with_demo(window: MainWindow) -> MainWindow:
    """A window with the demo car open as a copy."""
    assert window.files.open_demo()
    return window
