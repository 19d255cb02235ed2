"""The list of bought parts: what is missing first, and a click chooses."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.bought import BoughtList
from app.selection import Selection
from app.session import Session
from core.document.base import Fact, Ref
from core.document.records import Candidate, Part
from core.edits.things import make
from core.edits.values import change, set_fact
from core.engine.address import Address
from tests.app.panels.conftest import Show


def names(panel: BoughtList) -> list[str]:
    return [row.text() for row in panel.rows]


def test_an_empty_car_says_what_to_enter(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = BoughtList(session, selection, look)
    show(panel, 316, 700)

    assert panel.rows == []
    assert panel.none.isVisible()
    assert not panel.missing.isVisible()


def test_the_demo_car_tells_what_its_facts_say_is_in_hand(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = BoughtList(demo, selection, look)
    show(panel, 316, 700)

    assert panel.words.text() == "13 of 33 in hand"
    assert panel.missing.remark == "20"
    assert panel.there.remark == "13"
    assert "front hub" in [row.text() for row in panel.rows if row.part.is_in_hand]


def test_what_is_awaited_longest_stands_first_and_a_change_is_followed(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = BoughtList(session, selection, look)
    show(panel, 316, 700)
    session.apply("Make", lambda d: make(d, Part, "a", lead_days=3.0)[0])
    session.apply("Make", lambda d: make(d, Part, "b", lead_days=30.0)[0])
    assert names(panel) == ["b", "a"]
    assert panel.rows[0].standing == "30 days"

    b = Ref(session.state.document.parts[1].id)
    session.apply("Got it", lambda d: set_fact(d, Address(b, ""), Fact(source="in_hand")))

    assert names(panel) == ["a", "b"]
    assert panel.words.text() == "1 of 2 in hand"


def test_candidates_are_told(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = BoughtList(session, selection, look)
    show(panel, 316, 700)
    session.apply("Make", lambda d: make(d, Part, "rack")[0])
    assert panel.rows[0].standing == "no candidate noted"
    rack = Ref(session.state.document.parts[0].id)
    both = (Candidate(name="new"), Candidate(name="used", state="ordered", lead_days=8.0))

    session.apply("Note", lambda d: change(d, Address(rack, "candidates"), both))

    assert panel.rows[0].standing == "8 days, 2 candidates, ordered: used"


@pytest.mark.parametrize("by_key", [False, True])
def test_a_click_or_the_space_bar_chooses_and_the_row_is_marked(
    demo: Session, selection: Selection, look: Look, show: Show, *, by_key: bool
) -> None:
    panel = BoughtList(demo, selection, look)
    show(panel, 316, 2400)
    row = panel.rows[3]

    if by_key:
        row.setFocus()
        QTest.keyClick(row, Qt.Key.Key_Space)
    else:
        QTest.mouseClick(row, Qt.MouseButton.LeftButton)

    assert selection.refs == (row.part.ref,)
    assert [each.isChecked() for each in panel.rows].count(True) == 1
    assert row.isChecked()


def test_a_table_and_a_new_part_are_asked_for(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot
) -> None:
    panel = BoughtList(demo, selection, look)
    show(panel, 316, 700)

    with qtbot.waitSignal(selection.list_wanted) as listed:
        QTest.mouseClick(panel.table, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(selection.make_wanted) as made:
        QTest.mouseClick(panel.new, Qt.MouseButton.LeftButton)

    assert (listed.args, made.args) == (["parts"], ["parts"])
