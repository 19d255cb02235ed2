"""The brakes of the car in the window: which axle locks first, what foot and hand must do."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.brakes import BrakesPanel
from app.panels.brakes.lock_bar import LockBar, Locks
from app.panels.step import StepPanel
from app.selection import Selection
from app.session import Session
from core.checks.braking import PROVE
from core.document.base import Ref
from core.document.codec import write_project
from core.document.project import Project
from core.edits.deletions import delete
from core.edits.values import change, set_free
from core.engine.address import Address
from tests.app.cars import tubes_only
from tests.app.panels.conftest import Show

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(session: Session, selection: Selection, look: Look, show: Show) -> BrakesPanel:
    made = BrakesPanel(session, selection, look)
    show(made, 316, 1100)
    return made


def test_an_empty_car_says_what_to_enter(
    panel: BrakesPanel, selection: Selection, qtbot: QtBot
) -> None:
    assert panel.empty.isVisible()
    assert panel.part.remark == "don't know yet"
    assert not panel.caution.isVisible()
    with qtbot.waitSignal(selection.make_wanted) as asked:
        QTest.mouseClick(panel.enter, LEFT)
    assert asked.args == ["brakes"]


def test_a_frame_alone_says_the_same(session: Session, panel: BrakesPanel, tmp_path: Path) -> None:
    path = tmp_path / "car.jigplate"
    write_project(Project(drawn=tubes_only()), path)
    session.open(path)

    assert panel.empty.isVisible()
    assert [panel.shares.isVisible(), panel.foot.isVisible(), panel.hand.isVisible()] == [False] * 3


@pytest.mark.usefixtures("second")
def test_the_second_car_has_no_brakes(panel: BrakesPanel) -> None:
    assert panel.empty.isVisible()
    assert not any(row.isVisible() for row in panel.locks)


def test_the_demo_car_tells_all_of_it_in_each_load(demo: Session, panel: BrakesPanel) -> None:
    loads = 1 + len(demo.state.document.load_cases)

    assert not panel.empty.isVisible()
    assert panel.part.remark == "66 % in front"
    assert len(panel.shares.table.rows) == len(panel.foot.table.rows) == loads
    assert panel.foot.table.rows[0][1] == "416"
    assert panel.hand.table.rows[0] == ("as drawn", "36 %", "20 %")
    assert panel.caution.text() == PROVE
    assert panel.caution.isVisible()


@pytest.mark.usefixtures("demo")
def test_loads_that_lock_alike_share_a_scale(panel: BrakesPanel) -> None:
    shown = [row for row in panel.locks if row.isVisible()]

    assert [row.head.text() for row in shown] == ["as drawn; driver alone", "two people, full tank"]
    assert shown[0].bar.locks.both_at == pytest.approx(1.55, abs=0.01)
    assert shown[0].bar.locks.wanted == 0.8
    assert "The front wheels lock first up to a grip of 1.55" in shown[0].said.text()


def test_a_change_of_the_balance_is_followed(demo: Session, panel: BrakesPanel) -> None:
    system = Ref(demo.state.document.brake_systems[0].id)
    address = Address(system, "front_share_of_rod_force")
    before = panel.locks[0].bar.locks.both_at
    demo.apply("Set it free", lambda document: set_free(document, address))

    demo.apply("Turn the bar", lambda document: change(document, address, 0.35))

    assert panel.locks[0].bar.locks.both_at < before
    demo.undo()
    assert panel.locks[0].bar.locks.both_at == before


def test_without_a_pedal_it_asks_for_one(
    demo: Session, panel: BrakesPanel, selection: Selection, qtbot: QtBot
) -> None:
    system = demo.state.document.brake_systems[0].id

    demo.apply("Take the pedal out", lambda document: delete(document, system))

    assert panel.empty.isVisible()
    with qtbot.waitSignal(selection.make_wanted) as asked:
        QTest.mouseClick(panel.enter, LEFT)
    assert asked.args == ["brake_systems"]


def test_without_weights_why_is_said(demo: Session, panel: BrakesPanel) -> None:
    part = next(each for each in demo.state.document.parts if each.name == "driver")
    address = Address(Ref(part.id), "mass_kg")
    demo.apply("Set it free", lambda document: set_free(document, address))

    demo.apply("Forget the driver", lambda document: change(document, address, None))

    assert panel.locks[0].said.text().startswith("Don't know, because the weight of driver")
    assert not panel.locks[0].bar.isVisible()
    assert "driver" in panel.no_hand.text()


@pytest.mark.parametrize("both", [-0.4, 0.3, 1.0, 1.6, 5.0])
def test_the_scale_holds_its_marks_whatever_the_figure(look: Look, show: Show, both: float) -> None:
    bar = LockBar(look)
    show(bar, 280, 74)
    bar.tell(Locks("as drawn", both, (both - 0.2, both + 0.3), 0.8))
    bar.grab()

    assert 0.0 <= bar.at(both) <= bar.width()
    assert bar.at(0.4) < bar.at(0.8) < bar.at(1.9)
    assert f"{max(both, 0.0):.2f}" in bar.accessibleName()


@pytest.mark.usefixtures("demo")
def test_it_stands_in_the_front_end_and_is_opened_from_any_step(
    right: StepPanel, selection: Selection
) -> None:
    brakes = right.findChild(BrakesPanel)
    assert isinstance(brakes, BrakesPanel)
    selection.go_to("frame")
    assert not brakes.isVisible()

    selection.section_wanted.emit("brakes")

    assert selection.step == "front"
    assert brakes.isVisible()
