"""The links of an axle: figures where the strip stands, joints with their bolts, dampers."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.links import LinksPanel
from app.panels.links.figures import Line
from app.panels.links.joints import JointRow
from app.panels.step import StepPanel
from app.selection import Selection
from app.session import Session
from app.widgets.telling import BEFORE
from core.assess.dampers import damper_travel
from core.assess.tilts import EndTilt, tilts
from core.assess.travels import corner_at
from core.document.base import Ref
from core.document.project import Document
from core.edits.branches import put
from core.edits.deletions import delete
from core.edits.values import change, hold, release
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import When
from core.quantities import format_signed, number
from core.suspension.wheel import camber_deg, toe_in_deg
from tests.app.panels.conftest import Show
from tests.app.panels.drawing import one_tube

LEFT = Qt.MouseButton.LeftButton
REAR, FRONT = Ref("corner2", "left"), Ref("corner1", "left")


@pytest.fixture
def rear(session: Session, selection: Selection, look: Look, show: Show) -> LinksPanel:
    made = LinksPanel(session, selection, look)
    show(made, 316, 1500)
    return made


@pytest.fixture
def other(session: Session, selection: Selection, look: Look, show: Show) -> LinksPanel:
    made = LinksPanel(session, selection, look, "other")
    show(made, 316, 1600)
    return made


def figures(panel: LinksPanel) -> dict[str, Line]:
    return {line.name: line for line in panel.table.shown}


def more(panel: LinksPanel) -> dict[str, Line]:
    if not panel.more.isChecked():
        QTest.mouseClick(panel.more, LEFT)
    return {line.name: line for line in panel.more_table.shown}


def row(panel: LinksPanel, name: str) -> JointRow:
    return next(r for r in panel.joints.rows if r.line is not None and r.line.name == name)


def point(session: Session, name: str, side: str = "left") -> Ref:
    found = next(p for p in session.state.document.points if p.name.startswith(name))
    return Ref(found.id, "right" if side == "right" else "left")


def nothing_is_cut(panel: QWidget) -> list[str]:
    """Labels and buttons that are narrower than one of their words, or stick out."""
    cut: list[str] = []
    for label in panel.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        words = label.text().split() if label.wordWrap() else [label.text()]
        widest = max(label.fontMetrics().horizontalAdvance(word) for word in words)
        right = label.mapTo(panel, label.rect().topRight()).x()
        if widest > label.width() or right > panel.width():
            cut.append(label.text())
        if label.wordWrap() and label.height() < label.heightForWidth(label.width()):
            cut.append(label.text())
    return cut


# --- what is known -------------------------------------------------------------------------------


def test_an_empty_car_says_what_to_enter(
    rear: LinksPanel, selection: Selection, qtbot: QtBot
) -> None:
    assert rear.unknown_words.text().startswith("Don't know, because there is no rear axle. Enter")
    assert not rear.now.isVisible()
    with qtbot.waitSignal(selection.make_wanted) as asked:
        QTest.mouseClick(rear.enter, LEFT)
    assert asked.args == ["axles"]


def test_a_car_of_tubes_only_says_the_same(rear: LinksPanel, session: Session) -> None:
    one_tube(session)

    assert rear.unknown.isVisible()
    assert not rear.joint_part.isVisible()


def test_at_design_the_figures_are_those_of_the_design(rear: LinksPanel, demo: Session) -> None:
    shown = figures(rear)

    assert rear.now.remark == "at the design position"
    assert (shown["camber"].left, shown["camber"].right) == ("0.00°", "0.00°")
    assert shown["camber"].below[1] == "wanted \N{MINUS SIGN}1.25° at design"
    found = compute(demo.state.document, {}, damper_travel, REAR)
    assert shown["damper, eye to eye"].left == number(found.at_design, 1)
    assert shown["damper, eye to eye"].below == (
        f"{number(found.shortest, 1)} to {number(found.longest, 1)} over travel",
    )
    assert "top outward above zero" in shown["camber"].convention
    assert "some texts use the inverse" in shown["damper to wheel"].convention
    # Five separate links steer about no two balls.
    assert not {"castor", "trail"} & shown.keys()
    assert "no castor" in rear.note.text()


def test_the_second_car_shows_its_driven_front_end(rear: LinksPanel, second: Session) -> None:
    shown = figures(rear)

    assert rear.end == "front"
    assert list(shown)[:6] == [
        "camber", "toe-in", "castor", "kingpin inclination", "trail", "scrub radius",
    ]  # fmt: skip
    del second


def test_moved_each_side_is_read_where_its_wheel_stands(rear: LinksPanel, demo: Session) -> None:
    rear.pose.set_wheels(bump=40.0, roll_deg=1.5)

    shown = figures(rear)
    for side, told in (("left", shown["camber"].left), ("right", shown["camber"].right)):
        corner = Ref("corner2", "left" if side == "left" else "right")
        pose = compute(demo.state.document, {}, corner_at, corner, 40.0, 1.5, 0.0)
        assert told == f"{format_signed(float(camber_deg(pose)), 2)}°"
    assert rear.now.remark.startswith("left +21.")
    assert "right +58." in rear.now.remark

    rear.pose.to_design()
    assert rear.now.remark == "at the design position"


def test_steered_the_front_is_read_with_the_rack_over(other: LinksPanel, demo: Session) -> None:
    other.pose.set_wheels(rack=20.0)

    pose = compute(demo.state.document, {}, corner_at, FRONT, 0.0, 0.0, 20.0)
    told = f"{format_signed(float(toe_in_deg(pose)), 3)}°"
    assert figures(other)["toe-in"].left == told
    assert "rack 20 left" in other.now.remark


def test_a_drag_is_followed_at_once(rear: LinksPanel, demo: Session) -> None:
    at = Address(point(demo, "rear_toe_inner"), "at.z")
    before = figures(rear)["toe-in"].below

    demo.apply("Move", lambda d: change(d, at, 300.0), "drag", When.LIVE)

    assert figures(rear)["toe-in"].below != before


def test_a_travel_that_is_not_entered_costs_only_the_range(rear: LinksPanel, demo: Session) -> None:
    demo.apply("Forget", lambda d: put(d, Address(REAR, "bump"), None, free=True))

    assert figures(rear)["camber"].left == "0.00°"
    assert not any("travel" in words for words in figures(rear)["camber"].below)
    assert "Enter how far the wheels bump" in rear.note.text()


def test_more_is_folded_and_names_the_construction(other: LinksPanel, demo: Session) -> None:
    del demo
    assert not other.more_table.isVisible()

    shown = more(other)

    assert "contacts' true motion" in shown["roll centre at design"].below[0]
    assert shown["roll centre at design"].right == "29.0"
    assert shown["front centre, height"].left == "104"
    assert shown["side centre, ahead"].left == "far off"  # hinges all but parallel to the road
    assert shown["turning circle"].right == "10.59 m"
    assert shown["Ackermann share"].right == "8 %"
    assert "against dive at the front" in shown["slope at the contact"].convention
    QTest.mouseClick(other.more, LEFT)
    assert not other.more_table.isVisible()


def test_what_is_not_steered_has_no_turning_circle(rear: LinksPanel, demo: Session) -> None:
    del demo

    assert "turning circle" not in more(rear)
    assert not rear.more_note.isVisible()


def test_the_curves_are_asked_for(
    rear: LinksPanel, demo: Session, selection: Selection, qtbot: QtBot
) -> None:
    del demo
    with qtbot.waitSignal(selection.curves_wanted):
        QTest.mouseClick(rear.curves, LEFT)


# --- joints --------------------------------------------------------------------------------------


def test_each_joint_tells_need_limit_and_spare(rear: LinksPanel, demo: Session) -> None:
    found = compute(demo.state.document, {}, tilts, REAR)

    assert len(rear.joints.shown) == len(found)  # both sides are alike, and told once
    for line, tilt in zip(rear.joints.shown, found, strict=True):
        assert isinstance(tilt, EndTilt)
        assert line.needs == f"{number(tilt.tilt_deg, 1)}°"
        assert line.allows == "12.0°"
        assert line.spare == f"{number(12.0 - tilt.tilt_deg, 1)}°"
    radius = row(rear, "lower radius, inner")
    QTest.mouseClick(radius.name, LEFT)
    assert "worst at 23 of bump" in radius.detail.text()
    assert "rod end" in radius.detail.text()


def test_sides_that_differ_are_told_apart(rear: LinksPanel, demo: Session) -> None:
    end = point(demo, "rear_toe_inner")

    def apart(document: Document) -> Document:
        freed = release(document, end.mirrored(), "joint.direction")
        return change(freed, Address(end.mirrored(), "joint.direction.x"), 0.3)

    demo.apply("Turn the right one", apart)

    names = [line.name for line in rear.joints.shown]
    assert "toe, inner, left" in names
    assert "toe, inner, right" in names


def test_a_limit_that_is_not_known_is_a_way_to_its_field(
    rear: LinksPanel, demo: Session, selection: Selection, qtbot: QtBot
) -> None:
    own = next(limit for limit in demo.state.document.limits if limit.rule == "link_tilt")
    demo.apply("No limit", lambda d: delete(d, own.id))
    toe = row(rear, "toe, inner")
    assert toe.enter.isVisible()
    assert toe.enter.text() == "don't know"
    assert toe.line is not None
    assert toe.line.verdict == "unknown"
    assert rear.joint_part.remark == "12 of 12 don't know"

    with qtbot.waitSignal(selection.figure_wanted) as asked:
        QTest.mouseClick(toe.enter, LEFT)

    end = point(demo, "rear_toe_inner")
    assert asked.args == [Address(end, "joint.tilt_limit_deg")]


def test_joints_of_which_nothing_is_entered_are_no_joints_that_are_fine(
    rear: LinksPanel, second: Session, selection: Selection, qtbot: QtBot
) -> None:
    shown = rear.joints.shown

    assert shown
    assert {line.verdict for line in shown} == {"unknown"}
    assert all(not line.needs and not line.allows for line in shown)
    with qtbot.waitSignal(selection.figure_wanted) as asked:
        QTest.mouseClick(row(rear, "lower front, inner").enter, LEFT)
    assert asked.args == [Address(point(second, "front_lower_inner_front"), "joint")]


def test_in_a_drag_what_was_known_is_of_before(rear: LinksPanel, demo: Session) -> None:
    at = Address(point(demo, "rear_toe_inner"), "at.z")

    demo.apply("Move", lambda d: change(d, at, 300.0), "drag", When.LIVE)

    assert rear.joint_part.remark == BEFORE
    assert {r.mark.verdict for r in rear.joints.rows if r.isVisible()} == {"unknown"}
    demo.settle()
    assert rear.joint_part.remark != BEFORE


def test_the_bolt_is_turned_as_offered_in_one_step(rear: LinksPanel, demo: Session) -> None:
    radius = row(rear, "lower radius, inner")
    assert not radius.turn.isVisible()
    QTest.mouseClick(radius.name, LEFT)
    assert radius.turn.text().startswith("Turn the bolt by 7.6°")
    assert radius.offer is not None
    least = radius.offer.tilt_deg
    steps = len(demo.history.done)

    QTest.mouseClick(radius.turn, LEFT)

    assert len(demo.history.done) == steps + 1
    assert demo.history.done[-1].words == "Turn the bolt of lower radius, inner"
    found = compute(demo.state.document, {}, tilts, REAR)
    end = point(demo, "rear_lower_radius_inner")
    now = next(t for t in found if t.end == end and isinstance(t, EndTilt))
    assert now.tilt_deg == pytest.approx(least, abs=0.01)
    assert row(rear, "lower radius, inner").line == rear.joints.shown[4]
    assert rear.joints.shown[4].needs == f"{number(now.tilt_deg, 1)}°"
    assert not radius.turn.isVisible()  # there is no better one left


def test_a_bolt_that_is_held_says_why_and_can_be_set_free(rear: LinksPanel, demo: Session) -> None:
    end = Address(point(demo, "rear_lower_radius_inner"), "joint.direction")
    demo.apply("Hold", lambda d: hold(d, end, "the bracket is drilled"))
    radius = row(rear, "lower radius, inner")
    QTest.mouseClick(radius.name, LEFT)
    document = demo.state.document

    QTest.mouseClick(radius.turn, LEFT)
    assert demo.state.document is document
    assert "the bracket is drilled" in radius.sentence.text
    assert radius.sentence.way_on == "Set free and turn"

    free = next(b for b in radius.sentence.findChildren(QWidget) if b.property("kind") == "link")
    QTest.mouseClick(free, LEFT)
    assert demo.state.document is not document
    assert radius.sentence.text == ""


def test_the_ball_of_a_rack_is_not_offered_to_be_turned(other: LinksPanel, demo: Session) -> None:
    del demo
    ball = row(other, "tie, rack ball")

    QTest.mouseClick(ball.name, LEFT)

    assert not ball.turn.isVisible()
    assert "given with the bought rack" in ball.detail.text()


# --- dampers -------------------------------------------------------------------------------------


def test_a_damper_shows_what_is_left_at_both_ends(rear: LinksPanel, demo: Session) -> None:
    found = compute(demo.state.document, {}, damper_travel, REAR)
    assert found.closed is not None
    assert found.open is not None

    bar = rear.dampers.bars["left"]

    assert bar.stroke.left_in == pytest.approx(found.shortest - found.closed)
    assert bar.stroke.left_out == pytest.approx(found.open - found.longest)
    assert bar.accessibleName() == "left damper: 4.7 left closing, 17.0 left opening"
    rear.pose.set_wheels(bump=70.0)
    assert bar.lengths[1] == pytest.approx(found.shortest, abs=0.01)


def test_a_length_of_a_damper_that_is_not_known_is_a_way_to_its_field(
    rear: LinksPanel, demo: Session, selection: Selection, qtbot: QtBot
) -> None:
    path = Address(REAR, "damper.closed_length")
    demo.apply("Forget", lambda d: put(d, path, None, free=True))

    assert not rear.dampers.bars["left"].isVisible()
    assert "don't know how long it is fully closed" in rear.dampers.words["left"].text()
    with qtbot.waitSignal(selection.figure_wanted) as asked:
        QTest.mouseClick(rear.dampers.enter, LEFT)
    assert asked.args == [path]


def test_a_corner_without_a_damper_says_so(rear: LinksPanel, demo: Session) -> None:
    demo.apply("Forget", lambda d: put(d, Address(REAR, "damper"), None, free=True))

    assert rear.dampers.words["right"].text().startswith("right: don't know, because no damper")
    assert rear.dampers.enter.text() == "Enter the damper"
    assert "damper, eye to eye" not in figures(rear)


# --- room ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("width", "scale"), [(316, 1.0), (424, 1.0), (474, 1.5)])
@pytest.mark.parametrize("which", ["driven", "other"])
def test_nothing_is_cut(
    demo: Session, selection: Selection, look: Look, show: Show, which: str, width: int,
    scale: float,
) -> None:  # fmt: skip
    look.set_scale(scale)
    panel = LinksPanel(demo, selection, look, "driven" if which == "driven" else "other")
    show(panel, width, 5000)  # in its window it scrolls
    more(panel)
    for each in panel.joints.rows:
        each.name.setChecked(True)
    panel.pose.set_wheels(bump=40.0, roll_deg=1.5, rack=30.0)
    QTest.qWait(30)

    assert nothing_is_cut(panel) == []
    cut = [each.line.name for each in (*panel.table.rows, *panel.more_table.rows)
           if not each.is_whole()]  # fmt: skip
    assert cut == []
    assert panel.minimumSizeHint().width() <= width


def test_it_stands_in_the_step_panel_at_the_links_and_at_the_other_end(
    right: StepPanel, session: Session, selection: Selection
) -> None:
    panels = right.findChildren(LinksPanel)
    del session
    right.go_to_part("links")
    assert [panel.isVisible() for panel in panels] == [True, False]
    right.go_to_part("mounts")
    assert [panel.isVisible() for panel in panels] == [False, False]
    selection.go_to("front")
    assert [panel.isVisible() for panel in panels] == [False, True]
