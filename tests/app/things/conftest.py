"""Fields, details and tables in a bare window, and the watch that nothing outlives its test."""

import gc
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.look.style import dress
from app.panels.details import Details
from app.panels.things import Things
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
def session(qapp: QApplication) -> Session:  # noqa: ARG001 - Qt must be there first
    return Session()


@pytest.fixture
def demo(session: Session) -> Session:
    session.open(DEMO, as_copy=True)
    return session


@pytest.fixture
def selection(qapp: QApplication) -> Selection:  # noqa: ARG001 - Qt must be there first
    return Selection()


@pytest.fixture
def look(qapp: QApplication) -> Look:  # noqa: ARG001 - Qt must be there first
    return Look("light")


Show = Callable[..., None]


@pytest.fixture
def show(qtbot: QtBot, look: Look) -> Show:
    """Shows a widget dressed as the window would, with the keyboard ready."""

    def shown(widget: QWidget, width: int = 392, height: int = 900) -> None:
        qtbot.addWidget(widget)
        dress(widget, look)
        widget.resize(width, height)
        widget.show()
        qtbot.waitExposed(widget)
        widget.activateWindow()

    return shown


@pytest.fixture
def details(session: Session, selection: Selection, look: Look, show: Show) -> Details:
    panel = Details(session, selection, look)
    show(panel)
    return panel


@pytest.fixture
def things(session: Session, selection: Selection, look: Look, show: Show) -> Things:
    panel = Things(session, selection, look)
    show(panel)
    return panel
