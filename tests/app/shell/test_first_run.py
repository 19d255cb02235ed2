"""The ways to begin, and notices."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from app.files import DEMO
from app.look.look import Look
from app.notices import Notices, WayOn
from app.window import MainWindow


def test_a_start_without_a_file_shows_the_ways_to_begin(window: MainWindow) -> None:
    window.begin()

    assert window.first_run.isVisible()
    assert not window.first_run.buttons["back"].isVisible()


def test_the_demo_car_is_one_click_away(window: MainWindow) -> None:
    window.begin()

    window.first_run.buttons["demo"].click()

    assert window.session.state.document.cars[0].name == "Fennock One"
    assert window.session.path is None
    assert not window.first_run.isVisible()


def test_the_tour_is_one_click_away(window: MainWindow) -> None:
    window.begin()

    window.first_run.buttons["tour"].click()

    assert window.right.page == "tour"


def test_an_empty_car_is_one_click_away(window: MainWindow) -> None:
    window.begin()

    window.first_run.buttons["empty"].click()

    assert window.session.state.document.cars[0].name == "Unnamed car"
    assert not window.first_run.isVisible()


def test_asked_for_later_there_is_a_way_back_to_the_car(with_demo: MainWindow) -> None:
    with_demo.bound["welcome"].trigger()
    assert with_demo.first_run.isVisible()

    with_demo.first_run.buttons["back"].click()

    assert not with_demo.first_run.isVisible()
    assert with_demo.session.state.document.cars[0].name == "Fennock One"


def test_a_file_named_at_the_start_is_opened(window: MainWindow, tmp_path: Path) -> None:
    window.files.save_to(tmp_path / "mine.jigplate")

    window.begin(tmp_path / "mine.jigplate")

    assert window.session.path == tmp_path / "mine.jigplate"
    assert not window.first_run.isVisible()


def test_the_demo_car_named_as_a_file_is_still_a_copy(window: MainWindow) -> None:
    window.begin(DEMO)

    assert window.session.path is None
    assert window.session.state.document.cars[0].name == "Fennock One"


def test_a_file_that_is_not_there_is_told_and_the_ways_to_begin_are_shown(
    window: MainWindow, tmp_path: Path
) -> None:
    window.begin(tmp_path / "nowhere.jigplate")

    assert window.first_run.isVisible()
    assert "nowhere.jigplate" in window.notices.words


def test_what_was_done_goes_away_and_what_was_refused_stays(qtbot: QtBot) -> None:
    notices = Notices(Look("light"), stays_ms=20)
    qtbot.addWidget(notices)

    notices.tell("Done.")
    qtbot.waitUntil(lambda: notices.words == "")
    notices.refuse("Not done.")
    qtbot.wait(60)

    assert notices.words == "Not done."


def test_a_notice_offers_one_way_on(qtbot: QtBot) -> None:
    went: list[str] = []
    notices = Notices(Look("light"))
    qtbot.addWidget(notices)
    notices.refuse("Not done.", WayOn("Do it so", lambda: went.append("so")))

    notices.way.click()

    assert went == ["so"]
    assert notices.words == ""
