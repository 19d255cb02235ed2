"""The fault tour: each fault on offer is told of, shown, and put right to the last byte."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.fault_work import not_offered, offered
from app.files import DEMO
from app.window import MainWindow
from core.document.codec import encode_project
from core.edits.things import rename
from core.study.faults import FAULTS
from tests.app.shell.plain_parts import Answers


@pytest.fixture
def touring(window: MainWindow) -> MainWindow:
    window.bound["fault_tour"].trigger()
    assert window.right.page == "tour"
    return window


def test_only_faults_that_some_rule_sees_are_offered_and_the_others_say_why(
    touring: MainWindow,
) -> None:
    assert set(touring.tour.rows) == {fault.name for fault in FAULTS if fault.seen_by}
    assert offered()
    for fault in not_offered():
        assert fault.unseen


def test_every_fault_on_offer_is_told_of_by_the_rules_named_and_put_right(
    touring: MainWindow,
) -> None:
    sound = encode_project(touring.session.history.present)

    for fault in offered():
        row = touring.tour.rows[fault.name]
        row.click()

        told = {finding.rule for finding in touring.tour.switch.findings}
        assert set(fault.seen_by) <= told, fault.name
        assert row.isChecked()
        assert row.second == "switched on"
        touring.tour.right.click()
        assert encode_project(touring.session.history.present) == sound
        assert row.second == "seen, put right"

    assert touring.tour.switch.seen == {fault.name for fault in offered()}


def test_the_worst_place_is_chosen_and_gone_to(touring: MainWindow, qtbot: QtBot) -> None:
    fault = offered()[0]

    with qtbot.waitSignal(touring.selection.looked_at) as caught:
        touring.tour.rows[fault.name].click()

    finding = touring.tour.switch.findings[0]
    assert caught.args == [finding]
    assert finding.verdict == "no"
    assert touring.selection.refs == finding.subjects
    assert touring.right.page == "tour"


def test_each_thing_told_can_be_gone_to(touring: MainWindow, qtbot: QtBot) -> None:
    touring.tour.rows["SF02"].click()
    last = touring.tour.told[-1]

    with qtbot.waitSignal(touring.selection.looked_at) as caught:
        last.click()

    assert caught.args == [last.finding]


def test_the_next_fault_puts_this_one_right_first(touring: MainWindow) -> None:
    first, second = offered()[:2]
    touring.tour.rows[first.name].click()

    touring.tour.next.click()

    assert touring.tour.switch.on is second
    words = [step.words for step in touring.session.history.done]
    assert sum(word.startswith("Fault:") for word in words) == 1


def test_undo_puts_it_right_too(touring: MainWindow) -> None:
    touring.tour.rows[offered()[0].name].click()

    touring.bound["undo"].trigger()

    assert touring.tour.switch.on is None
    assert not touring.tour.right.isEnabled()


def test_what_was_done_since_goes_with_the_fault(touring: MainWindow) -> None:
    sound = touring.session.history.present
    touring.tour.rows[offered()[0].name].click()
    car = touring.session.state.document.cars[0].id
    touring.session.apply("Rename", lambda d: rename(d, car, "Broken"))

    touring.tour.right.click()

    assert touring.session.history.present == sound


def test_the_builders_own_car_is_back_after_the_tour(window: MainWindow, tmp_path: Path) -> None:
    window.files.open_demo()
    own = tmp_path / "own.jigplate"
    window.files.save_to(own)
    before = own.read_bytes()
    window.bound["fault_tour"].trigger()
    assert window.session.path is None
    window.tour.rows[offered()[0].name].click()

    window.tour.leave.click()

    assert window.session.path == own
    assert own.read_bytes() == before
    assert window.right.page == "step"


def test_a_fault_that_is_on_is_no_unsaved_work(touring: MainWindow) -> None:
    touring.tour.rows[offered()[0].name].click()

    assert touring.close()

    assert isinstance(touring.asks, Answers)
    assert touring.asks.asked == []
    assert DEMO.exists()


def test_a_fault_that_does_not_fit_the_car_is_refused_in_words(window: MainWindow) -> None:
    window.tour.choose(offered()[0])

    assert window.tour.switch.on is None
    assert "cannot be switched on here" in window.notices.words


def test_all_are_tried_away_from_the_window(touring: MainWindow, qtbot: QtBot) -> None:
    QTest.mouseClick(touring.tour.try_all, Qt.MouseButton.LeftButton)

    count = len(offered())
    wanted = f"{count} of {count} tried, {count} told of as they should be."
    qtbot.waitUntil(lambda: touring.tour.tried_words.text() == wanted, timeout=20_000)
    assert touring.tour.switch.on is None
