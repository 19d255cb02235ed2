"""A window with a view of a small car, real mouse moves, and nothing left behind."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import cast

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.scene.cameras import CameraKind
from app.scene.mesh_loading import LightMesh, MeshLoader
from app.scene.view import CarView
from app.selection import Selection
from app.session import Session
from core.document.project import Document
from core.geometry.types import Array
from core.scene.records import Handle

DEMO = Path(__file__).parents[3] / "assets" / "demo-car.jigplate"

LEFT = Qt.MouseButton.LeftButton


class Window(QMainWindow):
    """Closes the view in it, as every window with a view must."""

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        view = self.centralWidget()
        if isinstance(view, CarView):
            view.close()
        super().closeEvent(event)


class NoMeshes(MeshLoader):
    """Has no mesh ever: they are loaded in tests of their own."""

    def get(self, sha256: str, data: Callable[[], bytes | None]) -> LightMesh | None:
        del sha256, data
        return None


class Bench:
    """One session, one selection, one view, and hands to work it."""

    def __init__(self, qtbot: QtBot, camera: str = "free") -> None:
        self.qtbot = qtbot
        self.session, self.selection = Session(), Selection()
        self.session.open(DEMO, as_copy=True)
        self.look = Look("light")
        kind = cast("CameraKind", camera)
        self.loader = NoMeshes()
        self.view = CarView(self.session, self.selection, self.look, kind, self.loader)
        self.window = Window()
        self.window.setCentralWidget(self.view)
        self.window.resize(1000, 720)
        qtbot.addWidget(self.window)
        with qtbot.waitExposed(self.window):
            self.window.show()
        qtbot.waitUntil(lambda: self.view.draws > 0)
        self.view.activateWindow()
        self.view.setFocus()

    @property
    def document(self) -> Document:
        return self.session.state.document

    def handle(self, kind: str, side: str = "left", *, held: bool = False) -> Handle:
        """A handle with none in front of it, whole in view."""
        return next(
            h
            for h in self.view.scene.handles
            if h.kind == kind
            and h.ref.side == side
            and any(h.held_axes) == held
            and h.along is None
            and self.is_in_front(h)
        )

    def is_in_front(self, handle: Handle) -> bool:
        x, y = self.pixel(handle)
        inside = 120 < x < self.view.width() - 120 and 120 < y < self.view.height() - 120
        return inside and self.view.pointing.handle_at(round(x), round(y)) == handle

    def now(self, handle: Handle) -> Handle:
        key = (handle.ref, handle.path)
        return next(h for h in self.view.scene.handles if (h.ref, h.path) == key)

    def pixel(self, handle: Handle) -> Array:
        return self.view.projection().to_screen(np.array([handle.at]))[0, :2]

    def at(self, handle: Handle) -> QPoint:
        x, y = self.pixel(handle)
        return QPoint(round(x), round(y))

    def press(self, at: QPoint) -> None:
        QTest.mousePress(self.view, LEFT, Qt.KeyboardModifier.NoModifier, at)

    def move(self, to: QPoint) -> None:
        QTest.mouseMove(self.view, to)
        self.settle()

    def release(self, at: QPoint) -> None:
        QTest.mouseRelease(self.view, LEFT, Qt.KeyboardModifier.NoModifier, at)
        self.settle()

    def settle(self) -> None:
        self.qtbot.wait(1)
        QApplication.processEvents()

    def drag(self, handle: Handle, by: tuple[int, int], steps: int = 5) -> QPoint:
        """Press on a handle and move; the button stays down."""
        start = self.at(handle)
        self.press(start)
        for i in range(1, steps + 1):
            self.move(start + QPoint(by[0] * i // steps, by[1] * i // steps))
        return start + QPoint(*by)


@pytest.fixture
def look(qapp: QApplication) -> Look:
    del qapp
    return Look("light")


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench(qtbot)
    yield made
    made.window.close()


MakeBench = Callable[[str], Bench]


@pytest.fixture
def bench_of(qtbot: QtBot) -> Iterator[MakeBench]:
    made: list[Bench] = []

    def make(camera: str) -> Bench:
        made.append(Bench(qtbot, camera))
        return made[-1]

    yield make
    for each in made:
        each.window.close()
