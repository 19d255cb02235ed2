from typing import TypeVar

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.panels.clearance import ClosestPanel, MountsPanel, WayOutPanel
from app.panels.findings import LookAt
from app.panels.load_paths import LoadPathsPanel
from app.panels.step import StepPanel
from app.panels.width import WidthPanel
from app.selection import Selection
from app.session import Session
from core.document.base import Ref, Vec3
from core.edits.unit import move_unit
from core.engine.cells import When
from core.study.faults import fault
from core.study.order import STEPS, PartKey
from tests.app.panels.conftest import DEMO, SECOND
from tests.app.panels.drawing import one_tube

W = TypeVar("W", bound=QWidget)
UNIT = Ref("power_unit1")


def inside(panel: StepPanel, kind: type[W]) -> W:
    return panel.findChildren(kind)[0]


def is_in_view(panel: StepPanel, widget: QWidget) -> bool:
    """Whether it is seen whole, or as much of it as there is room for from its top."""
    top = widget.mapTo(panel.view.viewport(), QPoint(0, 0)).y()
    room = panel.view.viewport().height()
    return top >= 0 and (top + widget.height() <= room or top < room / 4)


def test_an_empty_car_is_told_what_to_enter_and_what_follows(right: StepPanel) -> None:
    assert right.title.text() == "Rear end"
    assert "Enter the engine and gearbox" in right.lead.text()
    assert "follow" in right.lead.text()
    assert "waits on engine and gearbox and drive shafts" in right.waiting_words.text()
    assert not right.known.isVisible()

    right.go_to_part("shafts")
    width = inside(right, WidthPanel)
    assert width.unknown.isVisible()
    assert "bench" in width.unknown_words.text()

    right.go_to_part("out")
    assert "Enter a way out" in inside(right, WayOutPanel).words.text()


def test_a_car_of_one_tube_shows_its_frame_and_what_is_loose(
    session: Session, selection: Selection, right: StepPanel
) -> None:
    one_tube(session)
    selection.go_to("frame")

    frame = inside(right, LoadPathsPanel)
    # A round tube 32 x 2, 600 long: pi x 30 x 2 mm2 x 600 mm x 7.85e-6 kg/mm3 = 0.888 kg.
    assert "1 tubes, 2 tube joints, 0 bends; 0.6 m of tube, 0.9 kg" in frame.figure_words.text()
    assert frame.lines["loose_joint"].answer.verdict == "no"
    assert frame.lines["loose_joint"].answer.words == "2 no"


def test_each_part_of_the_demo_car_brings_its_own_panel(session: Session, right: StepPanel) -> None:
    session.open(DEMO)
    kinds: dict[PartKey, type[QWidget]] = {
        "unit": ClosestPanel,
        "shafts": WidthPanel,
        "mounts": MountsPanel,
        "out": WayOutPanel,
    }
    for part, kind in kinds.items():
        QTest.mouseClick(right.parts.buttons[part], Qt.MouseButton.LeftButton)

        assert right.part == part
        assert [k for k in kinds.values() if inside(right, k).isVisible()] == [kind]


def test_the_width_of_the_demo_car_is_its_reference_chain(
    session: Session, right: StepPanel
) -> None:
    session.open(DEMO)
    right.go_to_part("shafts")
    width = inside(right, WidthPanel)

    # 20 + 150 + 480 + 82 less the wheel offset of 32, the car's own reference figures.
    totals = [row.total for row in width.chains["left"].told]
    assert totals == ["20.0", "170.0", "650.0", "732.0", "700.0", "700.0"]
    assert width.chains["right"].told[0].total == "20.0 left"
    assert width.bars["left"].stroke.kept == 2.0
    assert not any("\u2212" in row.length + row.total for row in width.chains["right"].told)
    assert not any(button.isVisible() for button in width.buttons)


def test_move_it_brings_both_wheel_planes_within_stroke(session: Session, right: StepPanel) -> None:
    session.open(DEMO)
    session.apply("Fault", fault("SF02").overlay)
    right.go_to_part("shafts")
    width = inside(right, WidthPanel)
    offered = [button for button in width.buttons if button.isVisible()]
    assert offered[0].text().startswith("Move it")
    assert "further left" in width.help.text()

    QTest.mouseClick(offered[0], Qt.MouseButton.LeftButton)

    assert all(f.verdict != "no" for f in session.state.findings if f.rule == "wheel_planes")
    assert not any(button.isVisible() for button in width.buttons)


def test_the_way_out_shows_the_lift_and_the_tube_that_asks_for_it(
    session: Session, right: StepPanel
) -> None:
    session.open(DEMO)
    right.go_to_part("out")
    out = inside(right, WayOutPanel)

    # The car's own reference: lift 605.4, governed by the right lower rail; closest 14.5.
    assert out.lift_words.text().startswith("605.4")
    assert "M13_rear_lower_rail_R" in out.lift_words.text()
    assert out.near.shown[0].figure == "14.5"
    assert out.chart.profile is not None
    assert round(min(out.chart.profile.gaps), 1) == 14.5


def test_the_mounts_show_their_reach(session: Session, right: StepPanel) -> None:
    session.open(DEMO)
    right.go_to_part("mounts")

    rows = {row.name: row.figure for row in inside(right, MountsPanel).rows.shown}
    # The car's own reference: the left mount reaches 73.6.
    assert rows["M2 left gearbox to K_L"] == "73.6"


def test_figures_of_before_are_greyed_in_a_drag_and_never_mixed_with_new_ones(
    session: Session, right: StepPanel
) -> None:
    session.open(DEMO)
    right.go_to_part("out")
    out, closest = inside(right, WayOutPanel), inside(right, ClosestPanel)

    session.apply("Move it", lambda d: move_unit(d, UNIT, Vec3(0.0, 0.0, -2.0)), "drag", When.LIVE)

    assert out.section.remark == "before this change"
    assert all(button.behind for button in out.near.rows if button.isVisibleTo(out.near))
    session.settle()
    assert not any(button.behind for button in out.near.rows)

    right.go_to_part("unit")
    session.apply("Move it", lambda d: move_unit(d, UNIT, Vec3(0.0, 0.0, -2.0)), "more", When.LIVE)

    assert not any(button.behind for button in closest.first.rows)
    assert all(b.behind for b in closest.others.rows if b.isVisibleTo(closest.others))
    session.settle()
    assert not any(button.behind for button in closest.others.rows)


def test_a_finding_that_is_looked_at_brings_its_step_and_part_to_the_front(
    session: Session, selection: Selection, right: StepPanel, qtbot: QtBot
) -> None:
    session.open(DEMO)
    finding = next(f for f in session.state.findings if f.rule == "way_out")
    selection.go_to("bench")

    selection.looked_at.emit(finding)

    assert right.place == ("rear", "out")
    cards = inside(right, LookAt).cards.values()
    opened = [card for card in cards if card.is_open]
    assert [card.finding.rule for card in opened] == ["way_out"]
    qtbot.waitUntil(lambda: is_in_view(right, opened[0]))


def test_the_second_car_shows_a_panel_for_every_step(
    session: Session, selection: Selection, right: StepPanel
) -> None:
    session.open(SECOND)
    for step in STEPS:
        selection.go_to(step)

        assert right.title.text()
        assert right.lead.text()
    selection.go_to("rear")
    right.go_to_part("out")
    assert not inside(right, WayOutPanel).lift.isVisible()  # it leaves upwards
    assert "taken out first" in inside(right, WayOutPanel).words.text()


def test_fields_are_those_of_the_step_and_not_made_anew_by_a_change(
    session: Session, right: StepPanel
) -> None:
    session.open(DEMO)
    fields = dict(right.fields.fields)
    assert "mass, wet" in fields

    session.apply("Move it", lambda d: move_unit(d, UNIT, Vec3(0.0, 0.0, -2.0)), "drag", When.LIVE)

    assert right.fields.fields == fields
    session.settle()
