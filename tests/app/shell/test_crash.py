"""Bugs: work first, then the log, then one report."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from app.crash import LARGEST_LOG, Crash, CrashReport, Log
from app.jobs import Failure
from app.window import MainWindow
from app.worker import WorkFailedError
from core.document.errors import JigplateError
from core.edits.things import rename


@pytest.fixture
def watched(window: MainWindow) -> Iterator[MainWindow]:
    crash = Crash(Log(window.settings.log), window.keeper.keep, window)
    window.watch(crash)
    yield window
    crash.remove()


def change(window: MainWindow) -> None:
    car = window.session.state.document.cars[0].id
    window.session.apply("Rename", lambda d: rename(d, car, "Another"))


def test_a_bug_keeps_the_work_logs_and_reports_once(watched: MainWindow, qtbot: QtBot) -> None:
    assert watched.crash is not None
    change(watched)

    for number in range(3):
        watched.crash.take(ZeroDivisionError(f"number {number}"))

    (report,) = watched.findChildren(CrashReport)
    qtbot.waitUntil(report.isVisible)
    assert watched.keeper.file.exists()
    assert "ZeroDivisionError: number 0" in report.details
    log = watched.settings.log.read_text(encoding="utf-8")
    assert all(f"number {number}" in log for number in range(3))
    report.accept()
    qtbot.waitUntil(lambda: watched.findChild(CrashReport) is None)


def test_a_report_says_where_the_work_is_and_can_close_the_program(
    watched: MainWindow, qtbot: QtBot
) -> None:
    assert watched.crash is not None
    watched.crash.take(RuntimeError("bug"))
    report = watched.findChild(CrashReport)
    assert report is not None

    report.leave.click()

    qtbot.waitUntil(lambda: not watched.isVisible())


def test_a_slot_that_raises_reaches_the_hook(watched: MainWindow, qtbot: QtBot) -> None:
    assert watched.crash is not None
    caught: list[type[BaseException]] = []

    def break_off() -> None:
        raise KeyError("in a slot")

    with capture_exceptions() as exceptions:
        QTimer.singleShot(0, break_off)
        qtbot.waitUntil(lambda: bool(exceptions))
    caught += [kind for kind, _, _ in exceptions]

    watched.crash.caught(*exceptions[0])

    assert caught == [KeyError]
    assert watched.findChild(CrashReport) is not None


def test_a_bug_in_the_worker_is_reported_like_one_here(watched: MainWindow) -> None:
    watched.jobs.failed.emit(Failure(1, WorkFailedError("Traceback of afar")))

    report = watched.findChild(CrashReport)
    assert report is not None
    assert "Traceback of afar" in report.details


def test_an_expected_failure_of_the_worker_is_told_in_words(watched: MainWindow) -> None:
    watched.jobs.failed.emit(Failure(1, JigplateError("There is no way out.")))

    assert watched.notices.words == "There is no way out."
    assert watched.findChild(CrashReport) is None


def test_a_bug_is_told_even_if_the_work_cannot_be_kept(tmp_path: Path) -> None:
    def refuse() -> Path:
        raise OSError("disk full")

    told: list[str] = []
    crash = Crash(Log(tmp_path / "log"), refuse)
    crash.reported.connect(lambda words, _kept: told.append(words))

    crash.take(ValueError("first"))

    assert "first" in told[0]
    assert "disk full" in told[0]


def test_the_log_begins_anew_when_it_is_large(tmp_path: Path) -> None:
    file = tmp_path / "jigplate.log"
    file.write_text("x" * (LARGEST_LOG + 1))

    Log(file).write("fresh")

    assert file.read_text().endswith("fresh\n")
    assert file.stat().st_size < 200
    assert (tmp_path / "jigplate.old.log").exists()


def test_a_log_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")

    Log(tmp_path / "file" / "jigplate.log").write("words")


HOOKED = """
import sys
from pathlib import Path
from PySide6.QtCore import QCoreApplication, QTimer, qWarning
from app.crash import Crash, Log
program = QCoreApplication([])
crash = Crash(Log(Path(sys.argv[1])), lambda: None)
crash.install()
crash.reported.connect(lambda words, kept: program.quit())
def break_off():
    qWarning("a word from Qt")
    raise LookupError("in the wild")
QTimer.singleShot(0, break_off)
QTimer.singleShot(20000, lambda: program.exit(3))
code = program.exec()
crash.remove()
sys.exit(code)
"""


def test_installed_it_catches_what_slots_raise_and_what_qt_says(tmp_path: Path) -> None:
    log = tmp_path / "jigplate.log"

    done = subprocess.run(
        [sys.executable, "-c", HOOKED, str(log)],
        env={**os.environ, "PYTHONPATH": str(Path.cwd())},
        timeout=60,
        check=False,
    )

    assert done.returncode == 0
    words = log.read_text(encoding="utf-8")
    assert "LookupError: in the wild" in words
    assert "Qt (Warning): a word from Qt" in words
