"""Python's collector runs on the GUI thread alone; the binding keeps count of its references."""

import gc
import sys
import weakref

import pytest
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.collector import Collector


class _Round:
    """A thing that only the collector can free."""

    def __init__(self) -> None:
        self.me = self


@pytest.mark.parametrize("was_on", [True, False])
def test_it_is_off_while_the_window_lives_and_as_it_was_after(
    monkeypatch: pytest.MonkeyPatch, *, was_on: bool
) -> None:
    calls: list[str] = []
    monkeypatch.setattr(gc, "isenabled", lambda: was_on)
    monkeypatch.setattr(gc, "disable", lambda: calls.append("off"))
    monkeypatch.setattr(gc, "enable", lambda: calls.append("on"))

    collector = Collector()

    assert calls == ["off"]
    collector.close()
    assert calls == (["off", "on"] if was_on else ["off"])


def test_cycles_are_freed_by_the_timer(qtbot: QtBot) -> None:
    collector = Collector(every_ms=1)
    gone = weakref.ref(_Round())
    kept: list[list[int]] = [
        [] for _ in range(gc.get_threshold()[0] + 10)
    ]  # so that a collection is due

    qtbot.waitUntil(lambda: gone() is None, timeout=3000)

    assert kept
    collector.close()


class _Caller(QObject):
    told = Signal(bool)


def test_signals_and_timers_lose_no_reference(qapp: QApplication) -> None:
    # PySide6 6.12.0 on Python 3.11 loses one to True on every emit and to None on every void call;
    # 6.10.3 and 6.11.3 were measured clean. A later release is let in by this, not by hope.
    caller = _Caller()
    got: list[bool] = []
    caller.told.connect(got.append)
    timer = QTimer()
    before = [sys.getrefcount(value) for value in (None, True, False)]

    for _ in range(300):
        caller.told.emit(True)  # noqa: FBT003 - what is sent is what is counted
        timer.setInterval(5)
        qapp.processEvents()

    after = [sys.getrefcount(value) for value in (None, True, False)]
    assert len(got) == 300
    assert all(now > was - 50 for was, now in zip(before, after, strict=True))
