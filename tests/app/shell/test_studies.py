"""The runner that panels share: a later request is told of, and a window takes it down with it."""

import multiprocessing

from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from app.studies import Studies
from app.window import MainWindow
from tests.app.shell import work

LONG = 15_000


def test_there_is_one_runner_for_an_owner(qtbot: QtBot) -> None:
    del qtbot
    owner, other = QObject(), QObject()

    assert Studies.of(owner) is Studies.of(owner)
    assert Studies.of(owner) is not Studies.of(other)


def test_a_later_request_and_a_stop_are_told_of(qtbot: QtBot) -> None:
    del qtbot
    studies, told = Studies(at_once=True), list[int]()
    studies.moved_on.connect(told.append)

    first = studies.ask(work.double, 1)
    second = studies.ask(work.double, 2)
    studies.stop()

    assert told == [first, second, -1]
    studies.close()


def test_a_window_that_closes_ends_the_worker(window: MainWindow, qtbot: QtBot) -> None:
    studies = Studies.of(window.selection)
    studies.ask(work.slow, (1, 600.0))
    with qtbot.waitSignal(studies.progressed, timeout=LONG):
        pass
    assert multiprocessing.active_children()

    window.close()

    assert multiprocessing.active_children() == []
