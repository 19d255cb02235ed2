"""Panels in a bare window, and the watch that nothing outlives its test."""

import gc
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.look.style import dress
from app.panels.step import StepPanel
from app.right_panel import right_panel
from app.selection import Selection
from app.session import Session

HOME = Path(__file__).resolve().parents[3]
DEMO = HOME / "assets" / "demo-car.jigplate"
SECOND = HOME / "tests" / "cars" / "second-car.jigplate"


@pytest.fixture(autouse=True)
def nothing_outlives(qapp: QApplication) -> Iterator[None]:
    yield

    gc.collect()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert qapp.allWidgets() == []


@pytest.fixture
def session(qtbot: QtBot) -> Session:
    del qtbot  # Qt must run first
    return Session()


@pytest.fixture
def demo(session: Session) -> Session:
    session.open(DEMO)
    return session


@pytest.fixture
def second(session: Session) -> Session:
    session.open(SECOND)
    return session


@pytest.fixture
def selection(qtbot: QtBot) -> Selection:
    del qtbot
    return Selection()


@pytest.fixture
def look(qtbot: QtBot) -> Look:
    del qtbot
    return Look("light")


Show = Callable[[QWidget, int, int], None]


@pytest.fixture
def show(qtbot: QtBot, look: Look) -> Show:
    """Shows a panel at a size, dressed as the window would."""

    def shown(panel: QWidget, width: int, height: int) -> None:
        qtbot.addWidget(panel)
        dress(panel, look)
        panel.resize(width, height)
        panel.show()
        qtbot.waitExposed(panel)

    return shown


@pytest.fixture
def right(session: Session, selection: Selection, look: Look, show: Show) -> StepPanel:
    """The right panel over the session as it is at first: an empty car."""
    panel = right_panel(session, selection, look)
    show(panel, 392, 900)
    return panel
