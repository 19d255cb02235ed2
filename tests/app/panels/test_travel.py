import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.look.look import Look
from app.panels.travel import TravelStrip
from app.panels.travel.panel import LEAST_WIDTH
from app.pose import Pose
from app.selection import Selection
from app.session import Session
from core.assess.clearance import gap_at_drop
from core.document.base import Ref
from core.engine.assess import compute
from tests.app.panels.conftest import Show

WAY = Ref("way_out1")


def type_figure(panel: TravelStrip, text: str) -> None:
    panel.figure.selectAll()
    QTest.keyClicks(panel.figure, text)
    QTest.keyClick(panel.figure, Qt.Key.Key_Return)


def test_an_empty_car_moves_nothing_and_says_what_is_missing(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(session, selection, look)
    show(panel, 900, 140)

    assert panel.engine.most is None
    assert panel.unknown.isVisible()
    assert "enter" in panel.gap.text()
    assert panel.unlinked.text().startswith("don't know")


def test_dragging_the_rule_lowers_the_engine_and_tells_the_gap_there(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)
    rule = panel.engine
    y = rule.height() // 2

    QTest.mousePress(rule, Qt.MouseButton.LeftButton, pos=QPoint(10, y))
    QTest.mouseMove(rule, QPoint(rule.width() // 3, y))
    QTest.mouseMove(rule, QPoint(rule.width() // 2, y))
    QTest.mouseRelease(rule, Qt.MouseButton.LeftButton, pos=QPoint(rule.width() // 2, y))

    pose = Pose.of(selection)
    assert 500 < pose.drop < 700
    assert pose.shift.z == -pose.drop
    gap = compute(demo.state.document, {}, gap_at_drop, WAY, pose.drop)
    assert panel.gap.text().startswith(f"{gap.gap:.1f} closest here")
    assert "engine" in panel.where.text()


def test_a_typed_figure_is_read_in_any_unit_and_home_returns(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)

    type_figure(panel, "33 cm")

    assert panel.pose.drop == 330.0
    # The gap 330 below is the demo car's own figure of its lower cross tube: 24.0 to the intake.
    assert panel.gap.text().startswith("24.0 closest here, intake")

    panel.engine.setFocus()
    QTest.keyClick(panel.engine, Qt.Key.Key_Home)
    assert panel.pose.is_design
    assert panel.where.text() == "design position"


def test_what_cannot_be_read_is_said_and_moves_nothing(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)

    type_figure(panel, "a hand")

    assert panel.pose.is_design
    assert "no unit known here" in panel.gap.text()


def test_arrows_move_by_a_fine_step_and_shift_by_a_coarse_one(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, 900, 140)
    panel.engine.setFocus()

    QTest.keyClick(panel.engine, Qt.Key.Key_Right)
    QTest.keyClick(panel.engine, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

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
    assert panel.engine.most is None


@pytest.mark.parametrize("width", [LEAST_WIDTH, 300])
def test_a_narrow_strip_keeps_what_can_be_moved(
    demo: Session, selection: Selection, look: Look, show: Show, width: int
) -> None:
    panel = TravelStrip(demo, selection, look)
    show(panel, width, 140)
    QTest.qWait(10)

    assert panel.width() == width
    assert not panel.left.isVisible()
    assert panel.engine.isVisible()
    assert panel.figure.geometry().right() < width
    panel.resize(900, 140)
    QTest.qWait(10)

    assert panel.left.isVisible()
