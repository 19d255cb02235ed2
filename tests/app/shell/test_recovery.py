"""Unsaved work survives a bad end: a copy is kept, offered once, and never lost on the way."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.files import DEMO
from app.recovery import Keeper, left_behind
from app.session import Session
from app.settings import Settings
from app.window import MainWindow
from core.document.codec import read_project
from core.edits.things import rename
from tests.app.shell.conftest import MakeWindow
from tests.app.shell.plain_parts import Answers


def change(session: Session, name: str = "Another") -> None:
    car = session.state.document.cars[0].id
    session.apply("Call the car otherwise", lambda d: rename(d, car, name))


@pytest.fixture
def session() -> Session:
    return Session()


@pytest.fixture
def demo() -> Session:
    """A car with a mesh."""
    made = Session()
    made.open(DEMO, as_copy=True)
    assert made.meshes
    return made


def abandoned(folder: Path, session: Session) -> None:
    """What a program leaves that ended in the middle of things."""
    keeper = Keeper(session, folder)
    keeper.keep()
    keeper.let_go()


def test_changes_are_kept_by_the_clock(session: Session, tmp_path: Path, qtbot: QtBot) -> None:
    keeper = Keeper(session, tmp_path, every_ms=10)
    change(session)

    qtbot.waitUntil(keeper.file.exists)

    assert read_project(keeper.file) == session.history.present
    keeper.close()


def test_nothing_is_kept_while_nothing_is_unsaved(session: Session, tmp_path: Path) -> None:
    keeper = Keeper(session, tmp_path)

    assert keeper.keep() is None

    assert list(tmp_path.iterdir()) == []
    keeper.close()


def test_the_same_work_is_written_once(session: Session, tmp_path: Path) -> None:
    keeper = Keeper(session, tmp_path)
    change(session)
    keeper.keep()
    first = keeper.file.stat().st_mtime_ns

    keeper.keep()

    assert keeper.file.stat().st_mtime_ns == first
    keeper.close()


def test_work_of_a_program_that_still_runs_is_not_offered(session: Session, tmp_path: Path) -> None:
    keeper = Keeper(session, tmp_path)
    change(session)
    keeper.keep()

    assert left_behind(tmp_path) == []

    keeper.let_go()
    assert [kept.name for kept in left_behind(tmp_path)] == ["Another"]


def test_left_work_is_offered_at_the_next_start_and_opens_whole(
    make_window: MakeWindow, settings: Settings, demo: Session
) -> None:
    change(demo)
    abandoned(settings.recovery, demo)
    window = make_window()
    window.begin()
    assert window.first_run.isVisible()

    window.first_run.buttons["take_up"].click()

    assert window.session.history.present == demo.history.present
    assert dict(window.session.meshes) == dict(demo.meshes)
    assert window.keeper.has_unsaved
    assert window.windowTitle() == "Another, unsaved - Jigplate"
    assert left_behind(settings.recovery) == []  # it is this window's now


def test_recovered_work_is_asked_about_and_saved_with_its_meshes(
    make_window: MakeWindow, settings: Settings, demo: Session, tmp_path: Path
) -> None:
    change(demo)
    abandoned(settings.recovery, demo)
    window = make_window()
    window.begin()
    window.first_run.buttons["take_up"].click()
    assert isinstance(window.asks, Answers)
    window.asks.unsaved_answer = "save"
    window.asks.path = tmp_path / "mine.jigplate"

    assert window.close()

    assert window.asks.asked[0] == "unsaved Another"
    again = Session()
    again.open(tmp_path / "mine.jigplate")
    assert again.history.present == demo.history.present
    assert dict(again.meshes) == dict(demo.meshes)
    assert list(settings.recovery.iterdir()) == []


def test_left_work_can_be_thrown_away(
    make_window: MakeWindow, settings: Settings, session: Session
) -> None:
    change(session)
    abandoned(settings.recovery, session)
    window = make_window()
    window.begin()

    window.first_run.buttons["forget"].click()

    assert left_behind(settings.recovery) == []


def test_left_work_that_is_not_looked_at_stays(
    make_window: MakeWindow, settings: Settings, session: Session
) -> None:
    change(session)
    abandoned(settings.recovery, session)
    window = make_window()
    window.begin()
    window.first_run.buttons["demo"].click()

    window.close()

    assert len(left_behind(settings.recovery)) == 1


def test_a_damaged_copy_is_told_of_and_stays_where_it_is(
    make_window: MakeWindow, settings: Settings, session: Session
) -> None:
    change(session)
    abandoned(settings.recovery, session)
    kept = left_behind(settings.recovery)[0]
    kept.file.write_bytes(kept.file.read_bytes()[:60])
    window = make_window()
    window.begin()

    window.first_run.buttons["take_up"].click()

    assert "stays in" in window.notices.words
    assert kept.file.exists()


def test_saving_drops_the_copy(window: MainWindow, tmp_path: Path) -> None:
    change(window.session)
    kept = window.keeper.keep()
    assert kept is not None

    window.files.save_to(tmp_path / "mine.jigplate")

    assert not kept.exists()


def test_letting_work_go_drops_the_copy(window: MainWindow) -> None:
    change(window.session)
    kept = window.keeper.keep()
    assert kept is not None

    assert window.close()

    assert not kept.exists()


def test_a_disk_that_refuses_does_not_stop_the_clock(
    session: Session, tmp_path: Path, qtbot: QtBot
) -> None:
    blocked = tmp_path / "recovery"
    blocked.write_text("a file where the folder should be")
    keeper = Keeper(session, blocked, every_ms=10)
    change(session)
    qtbot.wait(60)

    blocked.unlink()

    qtbot.waitUntil(keeper.file.exists)
    keeper.close()
