"""The travel strip with real mouse and keys: it moves wheels, rack and engine, and tells figures.

Source of the demo car's figures: its own independent check in numpy (`reference_results`).
"""

import msgspec
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from app.look.look import Look
from app.panels.travel import TravelStrip
from app.panels.travel.panel import LEAST_WIDTH
from app.panels.travel.playing import STOP_TO_STOP_S, place_after
from app.panels.travel.rule import SteelRule
from app.panels.travel.words import NO_STOPS, NOTHING_MOVES
from app.pose import DESIGN, Pose
from app.selection import Selection
from app.session import Session
from core.assess.clearance import gap_at_drop
from core.document.base import Ref
from core.document.project import Document
from core.engine.assess import compute
from tests.app.panels.conftest import Show
from tests.cars.stored import expected, only_tubes

WAY = Ref("way_out1")
TAB = Qt.FocusPolicy.TabFocus
NO_KEY = Qt.KeyboardModifier.NoModifier


def type_into(line: QLineEdit, text: str) -> None:
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def type_figure(panel: TravelStrip, text: str) -> None:
    type_into(panel.engine.slider.figure, text)


def drag(rule: SteelRule, start: int, end: int) -> None:
    """Press on a rule at a pixel and let go at another, on the way through the middle."""
    y = rule.height() // 3
    QTest.mousePress(rule, Qt.MouseButton.LeftButton, NO_KEY, QPoint(start, y))
    QTest.mouseMove(rule, QPoint((start + end) // 2, y))
    QTest.mouseMove(rule, QPoint(end, y))
    QTest.mouseRelease(rule, Qt.MouseButton.LeftButton, NO_KEY, QPoint(end, y))


def turn_wheel(rule: SteelRule, notches: int, keys: Qt.KeyboardModifier = NO_KEY) -> None:
    middle = QPointF(rule.width() / 2, rule.height() / 2)
    event = QWheelEvent(
        middle,
        rule.mapToGlobal(middle),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        keys,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 - as Qt has it
    )
    QApplication.sendEvent(rule, event)


def test_an_empty_car_moves_nothing_and_says_what_is_missing(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(session, selection, look)
    show(panel, 900, 140)

    for slider in (panel.travel, panel.roll, panel.steer, panel.engine.slider):
        assert slider.rule.span is None
        assert slider.unknown.isVisible()
        assert not slider.figure.isVisible()
        assert "don't know" in slider.rule.accessibleName()
    assert "enter" in panel.engine.gap.text()
    assert panel.said.text() == NOTHING_MOVES
    assert not panel.play.isVisible()
    assert not panel.table.isVisible()


def test_dragging_the_rule_lowers_the_engine_and_tells_the_gap_there(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)
    rule = panel.engine.slider.rule
    y = rule.height() // 2

    QTest.mousePress(rule, Qt.MouseButton.LeftButton, pos=QPoint(10, y))
    QTest.mouseMove(rule, QPoint(rule.width() // 3, y))
    QTest.mouseMove(rule, QPoint(rule.width() // 2, y))
    QTest.mouseRelease(rule, Qt.MouseButton.LeftButton, pos=QPoint(rule.width() // 2, y))

    pose = Pose.of(selection)
    assert 500 < pose.drop < 700
    assert pose.shift.z == -pose.drop
    gap = compute(demo.state.document, {}, gap_at_drop, WAY, pose.drop)
    assert panel.engine.gap.text().startswith(f"{gap.gap:.1f} closest here")
    assert "engine" in panel.where.text()


def test_a_typed_figure_is_read_in_any_unit_and_home_returns(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)

    type_figure(panel, "33 cm")

    assert panel.pose.drop == 330.0
    # The gap 330 below is the demo car's own figure of its lower cross tube: 24.0 to the intake.
    assert panel.engine.gap.text().startswith("24.0 closest here, intake")

    panel.engine.slider.rule.setFocus()
    QTest.keyClick(panel.engine.slider.rule, Qt.Key.Key_Home)
    assert panel.pose.is_design
    assert panel.where.text() == "design position"


def test_what_cannot_be_read_is_said_and_moves_nothing(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)

    type_figure(panel, "a hand")

    assert panel.pose.is_design
    assert "no unit known here" in panel.said.text()


def test_arrows_move_by_a_fine_step_and_shift_by_a_coarse_one(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)
    panel.engine.slider.rule.setFocus()

    QTest.keyClick(panel.engine.slider.rule, Qt.Key.Key_Right)
    QTest.keyClick(panel.engine.slider.rule, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert panel.pose.drop == 11.0


def test_an_engine_that_leaves_upwards_is_shown_rising(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(second, selection, look)
    show(panel, 900, 140)

    panel.take_out(100.0)

    assert panel.pose.shift.z == 100.0


def test_the_pose_is_let_go_when_another_car_is_opened(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)
    panel.take_out(100.0)

    demo.new()

    assert panel.pose.is_design
    assert panel.engine.slider.rule.most is None


@pytest.mark.parametrize("width", [LEAST_WIDTH, 300])
def test_a_narrow_strip_keeps_what_can_be_moved(
    demo: Session, selection: Selection, look: Look, show: Show, width: int
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, width, 140)
    QTest.qWait(10)

    assert panel.width() == width
    assert not panel.left.isVisible()
    for slider in (panel.bump, panel.roll, panel.steer, panel.engine.slider):
        assert slider.rule.isVisible()
        assert slider.figure.geometry().right() < width
    type_into(panel.bump.figure, "20")
    assert panel.pose.bump == 20.0
    panel.resize(900, 140)
    QTest.qWait(10)

    assert panel.left.isVisible()
    assert not panel.bump.rule.isVisible()
    assert panel.table.isVisible()


# --- the wheels ------------------------------------------------------------------------------


def test_a_car_of_tubes_alone_moves_nothing(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(session, selection, look)
    show(panel, 900, 140)

    session.apply("Draw", lambda _: only_tubes())

    assert panel.travel.rule.span is None
    assert panel.said.text() == NOTHING_MOVES
    QTest.mouseClick(panel.travel.rule, Qt.MouseButton.LeftButton)
    turn_wheel(panel.roll.rule, 3)
    assert panel.pose.is_design


def test_dragging_bump_and_droop_moves_all_wheels_and_tells_their_figures(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    heard: list[float] = []
    panel.pose.changed.connect(lambda: heard.append(panel.pose.bump))

    drag(panel.travel.rule, panel.travel.rule.width() // 2, panel.travel.rule.width() - 30)

    assert heard[-1] == panel.pose.bump > 50.0
    assert panel.pose.bump == round(panel.pose.bump)
    assert panel.travel.figure.text() == f"{panel.pose.bump:.0f} mm"
    assert f"wheels {panel.pose.bump:.0f} up" in panel.where.text()
    assert [row.name for row in panel.table.rows] == [
        "front left",
        "front right",
        "rear left",
        "rear right",
    ]


@pytest.mark.parametrize(("end", "height"), [("front", 40), ("rear", 60), ("rear", -30)])
def test_typed_bump_gives_the_camber_and_toe_of_the_independent_check(
    demo: Session, selection: Selection, look: Look, show: Show, end: str, height: int
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    wanted = expected("demo-car")[end]
    at = wanted["bump"].index(height)

    type_into(panel.travel.figure, str(height))

    for side in ("left", "right"):
        row = next(row for row in panel.table.rows if row.name == f"{end} {side}")
        camber, toe, turned, _ = (cell.replace("\u2212", "-") for cell in row.cells)
        assert float(camber.rstrip("\u00b0")) == pytest.approx(wanted["camber_deg"][at], abs=6e-3)
        assert float(toe.rstrip("\u00b0")) == pytest.approx(wanted["toe_in_deg"][at], abs=6e-3)
        assert turned in ("", "0.0\u00b0")
        assert f"{wanted['damper_length'][at]:.1f} mm long" in row.told


def test_the_rule_goes_from_the_furthest_droop_to_the_furthest_bump_with_posts_at_all(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    span = panel.travel.rule.span

    assert span is not None
    assert (span.least, span.most) == (-60.0, 70.0)
    assert sorted(span.posts) == [-60.0, -50.0, 60.0, 70.0]
    assert span.notes == ("droop \u221260 front, \u221250 rear", "bump +70 rear, +60 front")
    assert "from \u221260.0 to 70.0" in panel.travel.rule.accessibleDescription()


def test_a_wheel_at_its_stop_is_named_in_words_and_read_aloud(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    type_into(panel.travel.figure, "68 mm")

    assert panel.said.text() == "front left and front right: at its bump stop, 60 up"
    assert "at its bump stop, 60 up" in panel.table.accessibleName()


def test_a_figure_beyond_the_rule_is_held_at_its_end_and_said(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    type_into(panel.travel.figure, "-9 cm")

    assert panel.pose.bump == -60.0
    assert panel.said.text() == "bump and droop goes to \u221260 mm and no further"


def test_roll_and_steer_go_by_keys_and_the_wheel_and_tell_how_far_the_wheels_are_turned(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    panel.roll.rule.setFocus()
    QTest.keyClick(panel.roll.rule, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(panel.roll.rule, Qt.Key.Key_Right)
    turn_wheel(panel.steer.rule, 2)
    turn_wheel(panel.steer.rule, 1, Qt.KeyboardModifier.ShiftModifier)

    assert (panel.pose.roll_deg, panel.pose.rack) == (1.1, 12.0)
    assert panel.roll.figure.text() == "1.1\u00b0"
    assert "roll: 1.1 degrees" in panel.roll.rule.accessibleName()
    assert panel.table.is_steered
    cells = {row.name: row.cells[2] for row in panel.table.rows}
    assert cells["front left"].endswith("\u00b0 L")
    assert cells["front right"].endswith("\u00b0 L")
    assert cells["rear left"] == ""
    assert "rolled 1.1\u00b0, left side up, rack 12 left" in panel.where.text()
    QTest.keyClick(panel.roll.rule, Qt.Key.Key_Home)
    assert panel.pose.roll_deg == 0.0
    QTest.keyClick(panel.roll.rule, Qt.Key.Key_Left)
    assert panel.pose.roll_deg == -0.1


def test_full_lock_turns_the_wheels_as_the_independent_check_says(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    wanted = expected("demo-car")["front"]["steer_at_used_rack_travel_deg"]["rack_to_left"]

    panel.steer.rule.setFocus()
    QTest.keyClick(panel.steer.rule, Qt.Key.Key_End)

    cells = {row.name: row.cells[2] for row in panel.table.rows}
    assert panel.pose.rack == 60.0
    assert cells["front left"] == f"{wanted['left_wheel']:.1f}\u00b0 L"
    assert cells["front right"] == f"{wanted['right_wheel']:.1f}\u00b0 L"


def test_back_to_design_returns_everything(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    assert not panel.back.isVisible()
    panel.pose.set_wheels(30.0, 1.0, -20.0)
    panel.take_out(100.0)

    QTest.mouseClick(panel.back, Qt.MouseButton.LeftButton)

    assert panel.pose.place == DESIGN
    for slider in (panel.travel, panel.roll, panel.steer, panel.engine.slider):
        assert slider.rule.value == 0.0
    assert panel.where.text() == "design position"
    assert not panel.back.isVisible()


def test_moving_the_wheels_writes_nothing_to_the_session(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    before = demo.state

    type_into(panel.travel.figure, "30")
    type_into(panel.roll.figure, "1.5")

    assert demo.state is before
    assert not demo.is_changed


def test_the_scene_at_design_is_the_very_one_of_the_session(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    pose = panel.pose

    assert pose.scene(demo.state) is demo.state.scene
    pose.set_wheels(bump=10.0)
    moved = pose.scene(demo.state)
    assert moved is not demo.state.scene
    assert pose.scene(demo.state) is moved
    pose.set_wheels(bump=0.0)
    assert pose.scene(demo.state) is demo.state.scene


def test_the_wheels_of_another_kind_of_car_move_too(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(second, selection, look)
    show(panel, 1000, 140)
    wanted = expected("second-car")["rear"]

    type_into(panel.travel.figure, "40")

    row = next(row for row in panel.table.rows if row.name == "rear left")
    camber = float(row.cells[0].replace("\u2212", "-").rstrip("\u00b0"))
    assert camber == pytest.approx(wanted["camber_deg"][wanted["bump"].index(40)], abs=6e-3)
    assert panel.said.text() == ""


def without_a_link(document: Document) -> Document:
    """The same with one link fewer at the rear, which five hold."""
    corners = tuple(
        msgspec.structs.replace(corner, links=corner.links[:-1])
        if corner.linkage == "five_links"
        else corner
        for corner in document.corners
    )
    return msgspec.structs.replace(document, corners=corners)


def without_stops(document: Document) -> Document:
    corners = (msgspec.structs.replace(c, droop=None, bump=None) for c in document.corners)
    return msgspec.structs.replace(document, corners=tuple(corners))


def test_a_corner_that_cannot_be_solved_says_why_and_the_others_move(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    demo.apply("Take a link out", without_a_link)
    type_into(panel.travel.figure, "30")

    rows = {row.name: row for row in panel.table.rows}
    assert rows["rear left"].why.startswith("don't know, because ")
    assert "not held" in rows["rear left"].why
    assert rows["front left"].cells[0] != ""
    assert "don't know, because" in panel.said.text()
    assert panel.pose.bump == 30.0


def test_wheels_whose_stops_are_not_entered_are_not_moved(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    type_into(panel.travel.figure, "30")
    type_into(panel.steer.figure, "20")

    demo.apply("Forget the stops", without_stops)

    assert panel.travel.rule.span is None
    assert panel.roll.rule.span is None
    assert panel.said.text() == NO_STOPS
    assert panel.travel.rule.toolTip() == NO_STOPS
    assert panel.pose.is_design


def test_a_stop_brought_nearer_brings_the_wheels_back_with_it(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    type_into(panel.travel.figure, "70")

    def nearer(document: Document) -> Document:
        corners = (msgspec.structs.replace(c, bump=25.0) for c in document.corners)
        return msgspec.structs.replace(document, corners=tuple(corners))

    demo.apply("Nearer", nearer)

    assert panel.pose.bump == 25.0
    assert panel.travel.rule.value == 25.0


# --- playing ---------------------------------------------------------------------------------


def test_playing_goes_up_then_down_then_back_in_the_time_said() -> None:
    way = (10.0, 70.0, -60.0, 10.0)

    assert place_after(way, 0.0) == (10.0, False)
    assert place_after(way, STOP_TO_STOP_S * 60.0 / 130.0)[0] == pytest.approx(70.0)
    down, is_over = place_after(way, STOP_TO_STOP_S * (1.0 + 60.0 / 130.0))
    assert down == pytest.approx(-60.0)
    assert not is_over
    assert place_after(way, 2.01 * STOP_TO_STOP_S) == (10.0, True)


def test_the_wheels_play_and_stop_when_a_rule_is_taken(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)

    QTest.mouseClick(panel.play, Qt.MouseButton.LeftButton)
    assert panel.play.text() == "Stop"
    QTest.qWait(250)
    assert panel.pose.bump > 2.0

    drag(panel.travel.rule, 40, 30)
    assert panel.play.text() == "Play"
    stands = panel.pose.bump
    QTest.qWait(80)
    assert panel.pose.bump == stands


def test_nothing_is_played_unseen_or_with_less_motion(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    QTest.mouseClick(panel.play, Qt.MouseButton.LeftButton)
    assert panel.player.is_on

    panel.hide()
    assert not panel.player.is_on
    panel.show()
    QTest.mouseClick(panel.play, Qt.MouseButton.LeftButton)
    panel.set_reduced_motion(True)

    assert not panel.player.is_on
    assert not panel.play.isVisible()
    panel.set_reduced_motion(False)
    assert panel.play.isVisible()


def test_every_rule_and_figure_can_be_reached_by_key_and_has_a_name(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 1000, 140)
    wanted = {panel.travel.rule, panel.travel.figure, panel.play}
    for slider in (panel.roll, panel.steer, panel.engine.slider):
        wanted |= {slider.rule, slider.figure}
    chain: set[QWidget] = set()
    at = panel.nextInFocusChain()
    while at is not None and at is not panel and at not in chain:
        chain.add(at)
        at = at.nextInFocusChain()

    assert wanted <= {w for w in chain if w.isVisible() and w.focusPolicy() & TAB}
    for each in wanted - {panel.play}:
        assert each.accessibleName()
