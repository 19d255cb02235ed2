"""The panel of cars built many times: asked with the mouse, told in words, marked when stale."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.built import BuiltPanel
from app.panels.step import StepPanel
from app.selection import Selection
from app.session import Session
from app.studies import Studies
from app.widgets.study_run import OVERTAKEN, STOPPED
from core.document.base import Ref
from core.document.lookup import Lookup
from core.edits.values import change
from core.engine.address import Address
from core.engine.finding import Finding
from core.study.built import built_cars
from tests.app.panels.conftest import Show
from tests.app.panels.studying import LEFT, LONG, ask_and_wait, press, unfold

CARS = 2000


@pytest.fixture
def at_once(selection: Selection) -> Studies:
    return Studies(selection, at_once=True)


@pytest.fixture
def panel(
    demo: Session, selection: Selection, look: Look, show: Show, at_once: Studies
) -> BuiltPanel:
    del at_once
    made = BuiltPanel(demo, selection, look, count=CARS)
    show(made, 316, 1400)
    return made


def move_toe_link(session: Session) -> None:
    point = Lookup(session.state.document).find("rear_toe_inner")[0]
    session.apply("Move", lambda d: change(d, Address(point, "at.z"), 290.0))


def test_it_is_one_line_until_it_is_opened(panel: BuiltPanel) -> None:
    assert panel.fold.line.text() == "Built many times: not asked yet"
    assert not panel.run.begin.isVisible()

    unfold(panel)

    assert panel.run.begin.isVisible()
    assert not panel.table.isVisible()


def test_the_keyboard_opens_it_and_asks(panel: BuiltPanel, qtbot: QtBot) -> None:
    panel.fold.line.setFocus()
    QTest.keyClick(panel.fold.line, Qt.Key.Key_Space)
    panel.run.begin.setFocus()

    QTest.keyClick(panel.run.begin, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not panel.run.is_running, timeout=LONG)

    assert panel.table.isVisible()


def test_it_tells_what_the_study_found(panel: BuiltPanel, demo: Session, qtbot: QtBot) -> None:
    unfold(panel)

    ask_and_wait(panel, qtbot)

    expected = built_cars(demo.state.document, Ref("corner2", "left"), CARS)
    assert panel.built == expected
    toe = next(each for each in expected.spreads if each.key == "toe_in")
    row = next(row for row in panel.table.table.rows if row[0] == "toe-in, deg")
    assert row[3] == f"{toe.high:.2f}"
    assert [point.ref for point in panel.points] == [each.ref for each in expected.to_jig]
    assert panel.points[0].text() == "rear_toe_inner_L"
    assert "±1.0" in panel.tolerances.text()
    assert "30" in panel.tolerances.text()


def test_a_click_on_a_point_chooses_it_and_goes_there(
    panel: BuiltPanel, selection: Selection, qtbot: QtBot
) -> None:
    gone: list[Finding] = []
    selection.looked_at.connect(gone.append)
    unfold(panel)
    ask_and_wait(panel, qtbot)

    press(panel.points[0])

    ref = panel.points[0].ref
    assert selection.refs == (ref,)
    assert gone[0].subjects == (ref,)
    assert gone[0].place is not None
    assert gone[0].place.z == pytest.approx(285.0)


def test_a_rack_s_ball_chooses_the_rack(
    demo: Session,
    selection: Selection,
    look: Look,
    show: Show,
    qtbot: QtBot,
    at_once: Studies,
) -> None:
    del at_once
    panel = BuiltPanel(demo, selection, look, driven=False, count=CARS)
    show(panel, 392, 1400)
    unfold(panel)
    ask_and_wait(panel, qtbot)

    press(next(point for point in panel.points if point.text().startswith("steering_rack")))

    assert selection.refs == (Ref("rack1"),)


def test_after_a_change_the_answer_is_marked_and_undo_makes_it_good_again(
    panel: BuiltPanel, demo: Session, qtbot: QtBot
) -> None:
    unfold(panel)
    ask_and_wait(panel, qtbot)
    assert not panel.is_behind

    move_toe_link(demo)

    assert panel.is_behind
    assert panel.table.behind
    assert panel.points[0].behind
    assert "before this change" in panel.fold.line.text()
    demo.undo()
    assert not panel.is_behind
    assert not panel.table.behind
    assert "before this change" not in panel.fold.line.text()


def test_an_answer_to_an_older_car_is_marked_from_the_first(
    panel: BuiltPanel, demo: Session, qtbot: QtBot
) -> None:
    unfold(panel)
    press(panel.run.begin)

    move_toe_link(demo)
    qtbot.waitUntil(lambda: not panel.run.is_running, timeout=LONG)

    assert panel.built is not None
    assert panel.is_behind
    assert panel.table.behind


def test_another_corner_begins_with_no_answer(panel: BuiltPanel, qtbot: QtBot) -> None:
    unfold(panel)
    ask_and_wait(panel, qtbot)
    assert panel.choice.tabs is not None

    press(panel.choice.tabs.tabs[Ref("corner2", "right")])

    assert panel.built is None
    assert not panel.table.isVisible()
    ask_and_wait(panel, qtbot)
    assert panel.built is not None
    assert panel.points[0].text() == "rear_toe_inner_R"


def test_a_car_without_corners_says_what_to_enter(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = BuiltPanel(session, selection, look)
    show(panel, 316, 600)

    unfold(panel)

    assert panel.fold.line.text() == "Built many times: no corner is entered"
    assert panel.lead.text().startswith("Enter the links")
    assert not panel.run.isVisible()


def test_a_corner_that_cannot_be_solved_says_why(
    panel: BuiltPanel, demo: Session, qtbot: QtBot
) -> None:
    demo.apply("Loosen", lambda d: change(d, Address(Ref("corner2", "left"), "links"), ()))
    unfold(panel)

    ask_and_wait(panel, qtbot)

    assert panel.built is None
    assert panel.run.told.text().startswith("Don't know, because nothing is entered that holds")


def test_the_driven_end_of_the_second_car_is_its_front(
    second: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot, at_once: Studies
) -> None:
    del at_once
    panel = BuiltPanel(second, selection, look, count=CARS)
    show(panel, 392, 1400)
    unfold(panel)

    ask_and_wait(panel, qtbot)

    assert {row[0] for row in panel.table.table.rows} >= {"castor, deg"}
    assert all(point.text().startswith(("front", "steering")) for point in panel.points)


# --- in the worker ------------------------------------------------------------------------------


@pytest.fixture
def worker(selection: Selection) -> Iterator[Studies]:
    made = Studies.of(selection)
    yield made
    made.close()


def test_it_runs_in_the_worker_shows_how_far_it_is_and_can_be_stopped(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot, worker: Studies
) -> None:
    panel = BuiltPanel(demo, selection, look, count=3_000_000)
    show(panel, 316, 1400)
    unfold(panel)
    press(panel.run.begin)
    assert panel.run.halt.isVisible()
    qtbot.waitUntil(lambda: (panel.run.bar.share or 0.0) > 0.0, timeout=LONG)

    QTest.mouseClick(panel.run.halt, LEFT)

    assert not panel.run.is_running
    assert panel.run.told.text() == STOPPED
    assert panel.run.begin.isVisible()
    assert not worker.is_busy
    assert panel.built is None


def test_one_study_gives_way_to_another_and_says_so(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot, worker: Studies
) -> None:
    slow, quick = (
        BuiltPanel(demo, selection, look, driven=driven, count=count)
        for driven, count in ((True, 3_000_000), (False, CARS))
    )
    for panel in (slow, quick):
        show(panel, 316, 1400)
        unfold(panel)
    press(slow.run.begin)

    press(quick.run.begin)

    assert slow.run.told.text() == OVERTAKEN
    qtbot.waitUntil(lambda: quick.built is not None, timeout=LONG)
    assert slow.built is None
    assert not worker.is_busy


def test_it_stands_in_its_step_and_nowhere_else(
    right: StepPanel, demo: Session, selection: Selection
) -> None:
    del demo
    panels = right.findChildren(BuiltPanel)
    assert len(panels) == 2

    right.go_to_part("links")
    assert [panel.isVisible() for panel in panels] == [True, False]
    right.go_to_part("unit")
    assert [panel.isVisible() for panel in panels] == [False, False]
    selection.go_to("front")
    assert [panel.isVisible() for panel in panels] == [False, True]
