"""A drag frame, edit to picture, against drawing the unchanged car in the same run."""

import time
from collections.abc import Callable

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.app.scene.conftest import Bench

TARGET = 1.25
"""The budget: a drag may cost this much of a plain drawing of the same car."""

MOST_TIMES_A_DRAW = 1.35
"""What is held. Measured on two shared cores: 1.20 to 1.26, so the target is met only just; this
much more keeps other work on the machine from failing it."""

MOST_TURNS, ENOUGH = 160, 15
"""The measuring ends early, after this many turns, once the target holds."""


def test_a_drag_frame_costs_little_more_than_a_drawing(qtbot: QtBot) -> None:
    bench = Bench(qtbot)
    try:
        bench.window.resize(1600, 900)
        bench.settle()
        handle = bench.handle("joint")
        start = bench.at(handle)
        bench.press(start)
        places = iter(range(10, 10_000))

        def draw() -> None:
            bench.view.in_motion()
            bench.view.request_repaint()
            bench.view.overlay.update()
            QApplication.processEvents()

        def drag() -> None:
            i = next(places)
            bench.view.hand.move((start.x() + i % 60, start.y() - i % 37))
            QApplication.processEvents()

        ratio = _ratio(drag, draw)
        bench.release(start + QPoint(10, 10))
        assert ratio <= MOST_TIMES_A_DRAW
    finally:
        bench.window.close()


def _ratio(one: Callable[[], None], other: Callable[[], None]) -> float:
    """Ratio of the best of several turns, by turns, so that other work spoils neither alone."""
    one()
    other()
    best = [float("inf"), float("inf")]
    for turn in range(MOST_TURNS):
        best = [min(best[0], _time(one)), min(best[1], _time(other))]
        if turn >= ENOUGH and best[0] <= TARGET * best[1]:
            break
    return best[0] / best[1]


def _time(what: Callable[[], None]) -> float:
    began = time.perf_counter()
    what()
    return time.perf_counter() - began
