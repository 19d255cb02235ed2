"""Adjusters, set-up aid and toe board in the window, by mouse and keys alone."""

from functools import partial
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.adjusters import AdjustersPanel
from app.panels.adjusters.aid import SetUpAid
from app.panels.adjusters.board import BoardAid
from app.panels.adjusters.readings import ReadingsTable
from app.selection import Selection
from app.session import Session
from core.document.base import Ref
from core.document.codec import write_project
from core.document.project import Document, Project
from core.engine.cells import When
from tests.app.panels.conftest import Show
from tests.core.assess.set_up_cars import adjusters, board_of, point, rods, toe_of, with_corner

LEFT = Qt.MouseButton.LeftButton
UP = np.array([0.0, 0.0, 1.0])


def opened(session: Session, document: Document, folder: Path) -> None:
    path = folder / "car.jigplate"
    write_project(Project(drawn=document), path)
    session.open(path)


@pytest.fixture
def front(demo: Session, selection: Selection, look: Look, show: Show) -> AdjustersPanel:
    """The panel over the front end of the demo car."""
    panel = AdjustersPanel(demo, selection, look, "other")
    show(panel, 392, 1100)
    return panel


@pytest.fixture
def rear(demo: Session, selection: Selection, look: Look, show: Show) -> AdjustersPanel:
    """The panel over the rear end of the demo car."""
    panel = AdjustersPanel(demo, selection, look)
    show(panel, 316, 1100)
    return panel


def aid(panel: AdjustersPanel) -> SetUpAid:
    assert panel.aid is not None
    return panel.aid


def board(panel: AdjustersPanel) -> BoardAid:
    assert panel.board_aid is not None
    return panel.board_aid


def has(table: ReadingsTable, count: int) -> bool:
    return len(table.fields) == count


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, LEFT)


def type_into(widget: QWidget, text: str, key: Qt.Key = Qt.Key.Key_Return) -> None:
    widget.window().activateWindow()
    QTest.qWaitForWindowActive(widget.window())
    widget.setFocus()
    QTest.keyClick(widget, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(widget, text)
    QTest.keyClick(widget, key)


def test_the_demo_car_shows_at_once_what_to_set(front: AdjustersPanel) -> None:
    told = [row.told for row in aid(front).rows if row.isVisible()]

    assert front.set_up.fold.line.text() == "Adjusters: reach what is wanted, 3.0 left"
    assert [row.words for row in told] == ["2.6 mm shorter", "3.0 mm shorter", "0.6 mm shorter"]
    assert told[0].left == "3.4 left of 14"
    assert told[0].below == "thread engaged: don't know"
    assert front.board.fold.line.text() == "Toe board: enter toe at three heights"
    assert not front.board.fold.is_open


@pytest.mark.parametrize("which", ["driven", "other"])
def test_an_empty_car_says_what_to_enter_in_one_line(
    session: Session, selection: Selection, look: Look, show: Show, which: str
) -> None:
    panel = AdjustersPanel(session, selection, look, "driven" if which == "driven" else "other")
    show(panel, 316, 600)

    assert panel.set_up.fold.line.text() == "Adjusters: enter a corner first"
    assert not panel.set_up.fold.is_open
    click(panel.set_up.fold.line)
    assert panel.aid is None


def test_the_second_car_is_folded_and_opened_says_what_follows(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = AdjustersPanel(second, selection, look)
    show(panel, 316, 800)
    assert panel.set_up.fold.line.text() == "Adjusters: enter what can be set"
    assert not panel.set_up.fold.is_open

    click(panel.set_up.fold.line)

    assert "how far to set it follows" in aid(panel).result.text()
    assert not any(row.isVisible() for row in aid(panel).rows)


def test_a_wanted_camber_typed_is_an_edit_and_the_amounts_follow(
    front: AdjustersPanel, demo: Session
) -> None:
    before = aid(front).rows[0].told

    type_into(aid(front).fields["wanted_camber_deg"].line, "-1.2")

    corner = next(c for c in demo.state.document.corners if c.name == "front corner")
    assert corner.wanted_camber_deg == -1.2
    assert "camber" in demo.history.done[-1].words.lower()
    after = aid(front).rows[0].told
    assert after.amount is not None
    assert before.amount is not None
    assert after.amount < before.amount < 0.0
    demo.undo()
    assert aid(front).rows[0].told == before


def test_what_runs_out_is_told_in_words_and_by_how_much(front: AdjustersPanel) -> None:
    type_into(aid(front).fields["wanted_camber_deg"].line, "-3")

    assert front.set_up.fold.line.text() == "Adjusters: run out by 5.6"
    told = [row.told for row in aid(front).rows]
    assert [row.left for row in told] == ["4.7 short", "5.6 short", told[2].left]
    assert aid(front).result.text().endswith("not what is wanted.")
    assert aid(front).result.property("ink") == "no"


def test_a_row_clicked_chooses_its_point_and_can_be_pressed_by_key(
    front: AdjustersPanel, selection: Selection
) -> None:
    click(aid(front).rows[1])
    assert selection.refs == (point("front_upper_inner_rear_L"),)

    aid(front).rows[0].setFocus()
    QTest.keyClick(aid(front).rows[0], Qt.Key.Key_Space)

    assert selection.refs == (point("front_upper_inner_front_L"),)


def test_the_right_corner_is_told_of_the_right(front: AdjustersPanel, selection: Selection) -> None:
    tabs = front.set_up.choice.tabs
    assert tabs is not None

    click(list(tabs.tabs.values())[1])

    assert aid(front).corner.side == "right"
    click(aid(front).rows[0])
    assert selection.refs == (point("front_upper_inner_front_R"),)


def test_what_one_step_does_opens_with_a_figure_for_each(front: AdjustersPanel) -> None:
    assert not aid(front).steps.isVisible()

    click(aid(front).steps_line)

    rows = {row[0]: row[1:] for row in aid(front).steps.table.rows}
    assert rows["camber"] == ("+0.12°", "+0.14°", "+0.05°")
    assert rows["castor"][2] == "0.00°"
    assert "none is entered" in aid(front).steps_words.text()


def test_a_step_typed_turns_mm_into_turns(front: AdjustersPanel, demo: Session) -> None:
    click(aid(front).edit_line)
    editor = aid(front).editor
    assert editor is not None
    click(editor.items[0].summary)

    demo.apply("Steps", lambda _: with_corner("front", adjusters=adjusters("front", step=1.5)))

    words = [row.told.words for row in aid(front).rows]
    assert words[:2] == ["1½ turns shorter", "2 turns shorter"]
    assert words[2].endswith("turns shorter")


def test_an_adjuster_is_taken_out_in_the_list_and_comes_back_with_undo(
    front: AdjustersPanel, demo: Session
) -> None:
    click(aid(front).edit_line)
    editor = aid(front).editor
    assert editor is not None

    click(editor.items[2].remove)

    assert len([row for row in aid(front).rows if row.isVisible()]) == 2
    demo.undo()
    assert len([row for row in aid(front).rows if row.isVisible()]) == 3


def test_too_little_thread_is_said_in_words(front: AdjustersPanel, demo: Session) -> None:
    short = adjusters("front", thread_engaged=12.0, thread_needed=16.0)

    demo.apply("Threads", lambda _: with_corner("front", adjusters=short))

    row = aid(front).rows[0].told
    assert row.below == "thread engaged 14.6, needed 16.0: too little"
    assert row.is_bad
    assert front.set_up.fold.line.text() == "Adjusters: too little thread"


def test_readings_typed_one_after_another_find_the_planted_bracket(
    rear: AdjustersPanel, demo: Session, selection: Selection, qtbot: QtBot
) -> None:
    """The bracket of the toe link 12 mm high, by scipy; everything typed as a builder would."""
    click(rear.board.fold.line)
    click(board(rear).begin)
    doubt, table = board(rear).doubt, board(rear).table
    assert doubt is not None
    assert table is not None
    type_into(doubt.line, "0.02")
    toe = toe_of(rods("rear").inner_moved("toe", 12.0 * UP))
    for number, (height, read) in enumerate(zip((-60, -40, -20, 0, 20, 40, 60), toe, strict=True)):
        assert table.next is not None
        type_into(table.next[0].line, str(height), Qt.Key.Key_Tab)
        type_into(table.next[1].line, f"{read:.2f}")
        qtbot.waitUntil(partial(has, table, number + 1))

    round_ = demo.state.document.toe_boards[0]
    assert [reading.height for reading in round_.readings] == [-60, -40, -20, 0, 20, 40, 60]
    assert round_.uncertainty_deg == 0.02
    first = board(rear).rows[0]
    assert first.told.words.name == "rear toe inner L"
    assert first.told.words.off.endswith("too high")
    assert abs(float(first.told.words.off.split()[0]) - 12.0) < 0.3
    assert "lower it by" in first.told.words.mend
    click(first)
    assert selection.refs == (point("rear_toe_inner_L"),)


def test_too_few_readings_are_dont_know_and_a_wrong_figure_is_refused_in_words(
    rear: AdjustersPanel, demo: Session, qtbot: QtBot
) -> None:
    click(rear.board.fold.line)
    click(board(rear).begin)
    table = board(rear).table
    assert table is not None
    assert board(rear).verdict.text().startswith("Don't know, because toe must be read at 3")
    assert table.next is not None
    type_into(table.next[0].line, "ten")
    assert table.next[0].sentence.text
    type_into(table.next[0].line, "1/2 in", Qt.Key.Key_Tab)
    type_into(table.next[1].line, "0.1")
    qtbot.waitUntil(lambda: len(table.fields) == 1)

    assert demo.state.document.toe_boards[0].readings[0].height == pytest.approx(12.7)
    assert rear.board.fold.line.text() == "Toe board: 1 reading"
    click(table.out[0])
    assert demo.state.document.toe_boards[0].readings == ()


def test_readings_on_file_open_the_board_and_show_who_is_not_told_apart(
    session: Session,
    selection: Selection,
    look: Look,
    show: Show,
    tmp_path: Path,
    qtbot: QtBot,
) -> None:
    toe = toe_of(rods("rear").inner_moved("toe", 3.0 * UP))
    noise = np.random.default_rng(5).normal(0.0, 0.02, len(toe))
    opened(session, board_of(np.round(toe + noise, 2))[0], tmp_path)
    panel = AdjustersPanel(session, selection, look)
    show(panel, 316, 1400)

    assert panel.board.fold.is_open
    assert "cannot be told apart" in board(panel).verdict.text()
    rows = board(panel).rows
    qtbot.waitUntil(lambda: [row.isVisible() for row in rows] == [True] * 8)
    shown = [row.told for row in rows]
    assert all(row.is_alike for row in shown)
    assert "more not told apart" in board(panel).more.text()
    assert "Measure with a tape" in board(panel).more.text()


def test_a_fold_shut_by_hand_stays_shut(front: AdjustersPanel, demo: Session) -> None:
    click(front.set_up.fold.line)
    assert not front.set_up.fold.is_open

    demo.apply("Move", lambda _: with_corner("front", wanted_camber_deg=-1.0))

    assert not front.set_up.fold.is_open


def test_in_a_drag_it_is_of_before_and_after_it_of_now(
    front: AdjustersPanel, demo: Session
) -> None:
    shown = aid(front).rows[0].told

    def moved(by: float) -> Document:
        return with_corner("front", wanted_camber_deg=-0.75 - by)

    demo.apply("Drag", lambda _: moved(0.1), group="drag", upto=When.LIVE)
    if demo.state.assessment.behind:
        assert front.set_up.fold.line.text() == "Adjusters: before this change"
        assert aid(front).rows[0].told == shown
    demo.settle()

    assert aid(front).rows[0].told != shown
    assert front.set_up.fold.line.text().startswith("Adjusters: reach")


def test_everything_can_be_read_out_and_reached_by_tab(front: AdjustersPanel) -> None:
    for row in aid(front).rows:
        assert row.accessibleName().split(":")[0][2:] == row.told.name
        assert row.focusPolicy() == Qt.FocusPolicy.StrongFocus
    assert aid(front).fields["wanted_camber_deg"].line.accessibleName() == "wanted camber"
    assert front.set_up.fold.line.accessibleName().startswith("Adjusters")
    assert isinstance(aid(front).corner, Ref)
