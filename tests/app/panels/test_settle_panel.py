"""Settling by mouse and keys: nothing moves before it is taken, then all of it in one step."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.settle import SettlePanel
from app.panels.settle.proposed import STALE, TAKE
from app.selection import Selection
from app.session import Session
from app.studies import Studies
from app.trial import Trial
from app.widgets.tick_box import TickBox
from core.document.base import Ref
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.document.steel import Point
from core.edits.values import change, hold
from core.engine.address import Address
from core.study.faults import fault
from core.study.settle_places import Axis
from tests.app.panels.conftest import Show
from tests.app.panels.studying import LONG, ask_and_wait, press, type_into, unfold

TOE_NAME = "rear_toe_inner"


@pytest.fixture
def at_once(selection: Selection) -> Studies:
    return Studies(selection, at_once=True)


@pytest.fixture
def high(demo: Session) -> Session:
    """The demo car with its rear toe link bracket 12 high."""
    demo.apply("Weld it high", fault("SF03").overlay)
    return demo


@pytest.fixture
def panel(
    high: Session, selection: Selection, look: Look, show: Show, at_once: Studies
) -> SettlePanel:
    del at_once
    made = SettlePanel(high, selection, look)
    show(made, 316, 2400)
    unfold(made)
    return made


def toe_inner(session: Session) -> Ref:
    return Lookup(session.state.document).find(TOE_NAME)[0]


def height(session: Session) -> float:
    point = next(p for p in session.state.document.points if p.name == TOE_NAME)
    assert point.at is not None
    return point.at.z


def toe_found(session: Session) -> list[float]:
    """What the rule on bump steer measures at the rear wheels, deg."""
    return [
        finding.measured
        for finding in session.state.findings
        if finding.rule == "bump_steer"
        and finding.subjects[0].id == "corner2"
        and finding.measured is not None
    ]


def click(box: TickBox) -> None:
    QTest.mouseClick(box, Qt.MouseButton.LeftButton)


def leave_only(panel: SettlePanel, wanted: tuple[Ref, Axis]) -> None:
    """Untick with the mouse whatever else may move."""
    for key, box in panel.movers.boxes.items():
        if box.isVisible() and box.isChecked() != (key == wanted):
            click(box)


def test_it_is_one_line_until_it_is_opened(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = SettlePanel(demo, selection, look)
    show(panel, 316, 900)

    assert panel.fold.line.text() == "Settle the geometry: nothing proposed"
    assert not panel.movers.isVisible()
    unfold(panel)
    assert panel.movers.isVisible()


def test_a_link_set_high_is_brought_back_by_its_height_alone_in_one_step_of_undo(
    panel: SettlePanel, high: Session, qtbot: QtBot
) -> None:
    assert min(toe_found(high)) > 2.0
    before, steps = high.state.document, len(high.history.done)
    leave_only(panel, (toe_inner(high), "z"))

    ask_and_wait(panel, qtbot)

    assert high.state.document is before
    assert panel.proposed.isVisible()
    press(panel.proposed.take)
    assert height(high) == pytest.approx(285.0, abs=0.6)
    assert max(toe_found(high)) < 0.15
    assert len(high.history.done) == steps + 1
    assert high.history.done[-1].words == "Settle rear corner left"
    assert not panel.proposed.isVisible()
    high.undo()
    assert high.state.document is before


def test_what_was_settled_keeps_why(panel: SettlePanel, high: Session, qtbot: QtBot) -> None:
    leave_only(panel, (toe_inner(high), "z"))
    ask_and_wait(panel, qtbot)

    press(panel.proposed.take)

    thing = next(p for p in high.state.document.points if p.name == TOE_NAME)
    assert isinstance(thing, Point)
    fact = fact_at(thing, "left", "at.z")
    assert fact is not None
    assert fact.because[0].ref == Ref("corner2", "left")
    assert "toe change over travel 2.05 to" in fact.because[0].words


def test_dropped_it_leaves_no_trace(
    panel: SettlePanel, high: Session, selection: Selection, qtbot: QtBot
) -> None:
    before = high.state.document
    ask_and_wait(panel, qtbot)
    assert Trial.of(selection).scene is not None

    press(panel.proposed.drop)

    assert high.state.document is before
    assert not panel.proposed.isVisible()
    assert Trial.of(selection).scene is None


def test_the_car_as_it_would_be_is_shown_beside_while_the_proposal_stands(
    panel: SettlePanel, high: Session, selection: Selection, qtbot: QtBot
) -> None:
    leave_only(panel, (toe_inner(high), "z"))
    ask_and_wait(panel, qtbot)

    scene = Trial.of(selection).scene
    assert scene is not None
    drawn = {h.ref: h.at for h in high.state.scene.handles}
    moved = {h.ref for h in scene.handles if h.at != drawn.get(h.ref)}
    assert {ref.id for ref in moved} == {toe_inner(high).id}
    panel.hide()
    assert Trial.of(selection).scene is None


def test_after_a_change_it_cannot_be_taken_and_after_undo_it_can(
    panel: SettlePanel, high: Session, selection: Selection, qtbot: QtBot
) -> None:
    ask_and_wait(panel, qtbot)
    address = Address(toe_inner(high), "at.x")

    high.apply("Move", lambda d: change(d, address, -2600.0))

    assert panel.proposed.aims.behind
    assert not panel.proposed.take.isEnabled()
    assert panel.proposed.take.text() == STALE
    assert "before this change" in panel.fold.line.text()
    assert Trial.of(selection).scene is None
    document = high.state.document
    panel.take()
    assert high.state.document is document
    high.undo()
    assert panel.proposed.take.isEnabled()
    assert panel.proposed.take.text() == TAKE


def test_what_is_held_cannot_be_ticked_and_says_what_holds_it(
    panel: SettlePanel, high: Session, qtbot: QtBot
) -> None:
    point = toe_inner(high)
    high.apply("Hold", lambda d: hold(d, Address(point, "at.z"), "the bracket is welded"))
    box = panel.movers.boxes[point, "z"]

    click(box)
    ask_and_wait(panel, qtbot)

    assert not box.isEnabled()
    assert not box.isChecked()
    assert "the bracket is welded" in box.toolTip()
    proposal = panel.proposed.proposal
    assert proposal is not None
    assert all((move.ref, move.axis) != (point, "z") for move in proposal.moves)
    press(panel.proposed.take)
    assert height(high) == 297.0


def test_how_far_a_point_may_go_is_typed(panel: SettlePanel, high: Session, qtbot: QtBot) -> None:
    point = toe_inner(high)
    leave_only(panel, (point, "z"))
    room = panel.movers.rooms[point]
    type_into(room, "1/4in")

    ask_and_wait(panel, qtbot)

    proposal = panel.proposed.proposal
    assert proposal is not None
    assert room.value == pytest.approx(6.35)
    assert proposal.moves[0].before - proposal.moves[0].placed.to == pytest.approx(6.3, abs=0.06)
    assert "With more room" in panel.proposed.ends.text()


def test_a_room_of_nothing_is_refused_and_nothing_is_asked(
    panel: SettlePanel, high: Session
) -> None:
    room = panel.movers.rooms[toe_inner(high)]
    type_into(room, "0")

    press(panel.run.begin)

    assert room.line == "wrong"
    assert not panel.run.is_running
    QTest.keyClick(room, Qt.Key.Key_Escape)
    assert room.value == 15.0
    assert room.line == "rest"


def test_what_is_wanted_and_weighed_is_typed(
    panel: SettlePanel, high: Session, qtbot: QtBot
) -> None:
    leave_only(panel, (toe_inner(high), "z"))
    row = panel.wishes.rows["toe_at_bump"]
    click(row.box)
    type_into(row.wanted, "0.5")
    type_into(row.weight, "500")

    ask_and_wait(panel, qtbot)

    proposal = panel.proposed.proposal
    assert proposal is not None
    told = next(each for each in proposal.aims if each.kind.key == "toe_at_bump")
    assert told.wanted == 0.5
    assert told.after == pytest.approx(0.5, abs=0.05)


def test_with_nothing_ticked_it_asks_for_a_tick(panel: SettlePanel) -> None:
    for row in panel.wishes.rows.values():
        if row.box.isChecked():
            click(row.box)

    press(panel.run.begin)

    assert not panel.run.is_running
    assert panel.run.told.text() == "Tick something to settle for first."


def test_points_of_the_upright_are_folded_and_can_be_ticked(panel: SettlePanel) -> None:
    boxes = {key: box for key, box in panel.movers.boxes.items() if not box.isVisible()}
    assert len(boxes) == 15
    assert not any(box.isChecked() for box in boxes.values())

    press(panel.movers.fold)

    assert all(box.isVisible() for box in boxes.values())
    key, box = next(iter(boxes.items()))
    click(box)
    assert key in {(freed.ref, freed.axis) for freed in panel.movers.freed()}


def test_another_corner_begins_anew(panel: SettlePanel, qtbot: QtBot) -> None:
    ask_and_wait(panel, qtbot)
    assert panel.choice.tabs is not None

    press(panel.choice.tabs.tabs[Ref("corner2", "right")])

    assert not panel.proposed.isVisible()
    assert {ref.side for ref, _ in panel.movers.boxes} == {"right"}


def test_a_car_without_corners_says_what_to_enter(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = SettlePanel(session, selection, look)
    show(panel, 316, 600)

    unfold(panel)

    assert panel.fold.line.text() == "Settle the geometry: no corner is entered"
    assert panel.lead.text().startswith("Enter the links")
    assert not panel.run.isVisible()


def test_a_corner_that_cannot_be_solved_says_why_and_comes_back(
    panel: SettlePanel, high: Session
) -> None:
    address = Address(Ref("corner2", "left"), "links")

    high.apply("Loosen", lambda d: change(d, address, ()))

    assert panel.unknown.text().startswith("Don't know, because nothing is entered that holds")
    assert not panel.movers.isVisible()
    high.undo()
    assert panel.movers.isVisible()
    assert not panel.unknown.isVisible()


@pytest.fixture
def worker(selection: Selection) -> Iterator[Studies]:
    made = Studies.of(selection)
    yield made
    made.close()


def test_it_runs_in_the_worker(
    high: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot, worker: Studies
) -> None:
    panel = SettlePanel(high, selection, look)
    show(panel, 392, 2400)
    unfold(panel)
    leave_only(panel, (toe_inner(high), "z"))

    press(panel.run.begin)
    assert panel.run.is_running
    assert panel.run.halt.isVisible()
    qtbot.waitUntil(lambda: not panel.run.is_running, timeout=LONG)

    assert panel.proposed.proposal is not None
    assert not worker.is_busy


def test_the_front_of_the_demo_car_offers_its_rack(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot, at_once: Studies
) -> None:
    del at_once
    panel = SettlePanel(demo, selection, look, driven=False)
    show(panel, 424, 2600)
    unfold(panel)
    rack = Ref("rack1", "left")
    assert (rack, "y") not in panel.movers.boxes
    leave_only(panel, (rack, "z"))
    row = panel.wishes.rows["toe_at_bump"]
    click(row.box)
    type_into(row.wanted, "0.4")
    type_into(row.weight, "900")

    ask_and_wait(panel, qtbot)
    before = demo.state.document.racks[0].centre
    press(panel.proposed.take)

    after = demo.state.document.racks[0].centre
    assert after.z != before.z
    assert (after.x, after.y) == (before.x, before.y)
