"""The panel of loads: folded at first, forces as the cells tell them, its caution always there."""

import csv
from io import StringIO

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.loads import LoadsPanel
from app.panels.loads.words import newtons, pulled
from app.panels.step import StepPanel
from app.selection import Selection
from app.session import Session
from app.widgets.telling import BEFORE
from core.assess.load_report import load_report
from core.assess.loads import corner_loads
from core.assess.wheel_forces import load_names
from core.document.base import Ref, Vec3
from core.document.records import LoadCase
from core.edits.things import make
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import When
from tests.app.panels.conftest import Show
from tests.app.panels.studying import LEFT, press

REAR, FRONT = Ref("corner2", "left"), Ref("corner1", "left")


@pytest.fixture
def panel(demo: Session, selection: Selection, look: Look, show: Show) -> LoadsPanel:
    made = LoadsPanel(demo, selection, look)
    show(made, 316, 1500)
    return made


@pytest.fixture
def front(demo: Session, selection: Selection, look: Look, show: Show) -> LoadsPanel:
    made = LoadsPanel(demo, selection, look, driven=False)
    show(made, 316, 1600)
    return made


def unfold(panel: LoadsPanel) -> None:
    QTest.mouseClick(panel.fold.line, LEFT, pos=QPoint(20, 12))
    QTest.qWait(20)


def choose(panel: LoadsPanel, words: str) -> None:
    """By the keyboard, as in any list of words."""
    panel.box.setFocus()
    wanted = panel.box.findText(words)
    assert wanted >= 0
    while panel.box.currentIndex() != wanted:
        down = panel.box.currentIndex() < wanted
        QTest.keyClick(panel.box, Qt.Key.Key_Down if down else Qt.Key.Key_Up)


def cut(panel: QWidget) -> list[str]:
    """Labels that stick out of the panel."""
    found: list[str] = []
    for label in panel.findChildren(QLabel):
        if label.isVisible() and label.text():
            right = label.mapTo(panel, label.rect().topRight()).x()
            if right > panel.width():
                found.append(label.text())
    return found


@pytest.mark.parametrize(
    ("value", "words"),
    [(0.3, "0"), (27.34, "27"), (654.4, "654"), (6543.0, "6540"), (-29704.0, "\u221229700")],
)
def test_forces_have_three_figures(value: float, words: str) -> None:
    assert newtons(value) == words


def test_what_pulls_and_what_pushes_is_said() -> None:
    assert (pulled(757.2), pulled(-2181.0), pulled(0.2)) == ("757 pull", "2180 push", "0")


def test_it_is_one_line_until_it_is_opened(panel: LoadsPanel) -> None:
    assert panel.fold.line.text() == "Loads: forces in links and on the chassis"
    assert not panel.caution.isVisible()
    assert panel.report is None

    unfold(panel)

    assert panel.links.isVisible()
    assert panel.report is not None


def test_the_caution_stands_above_every_figure(panel: LoadsPanel) -> None:
    unfold(panel)

    assert "nothing of whether" in panel.caution.text()
    assert panel.caution.isVisible()
    assert panel.caution.y() < panel.links.y()
    words = " ".join(label.text() for label in panel.findChildren(QLabel)).lower()
    assert not any(word in words for word in ("safe", "approved", "optimum"))


def test_it_tells_what_the_cells_found(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    loads = compute(demo.state.document, {}, corner_loads, REAR, "bump")

    rows = {row[0]: row[1] for row in panel.links.table.rows}
    assert rows == {leg.name: pulled(leg.pull) for leg in loads.legs}
    assert [row[4] for row in panel.chassis.table.rows] == [
        newtons(each.size) for each in loads.on_chassis
    ]
    assert "7570 N up" in panel.at_wheel.text()
    assert "Barton" in panel.source.text()


def test_another_load_is_chosen_by_keys(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    choose(panel, "launch at a grip of 1.2")

    loads = compute(demo.state.document, {}, corner_loads, REAR, "launch")
    assert panel.links.table.rows[0][1] == pulled(loads.legs[0].pull)
    assert "The shaft turns the wheel" in panel.at_wheel.text()


def test_the_greatest_says_in_which_load(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    most = compute(demo.state.document, {}, load_report, REAR).most

    leg = next(each for each in most.legs if each.name == "lower_lateral")
    assert leg.push is not None
    row = next(row for row in panel.most.table.rows if row[0] == "lower_lateral")
    assert row[3:] == (newtons(leg.push.value), leg.push.load)
    assert leg.push.load == "kerb"


def test_a_bent_leg_has_a_column_of_its_own(front: LoadsPanel) -> None:
    unfold(front)

    assert front.links.table.head[2] == "across, N"
    lower = next(row for row in front.links.table.rows if row[0] == "lower_front")
    assert lower[2] != "0"
    assert "both legs" in front.left_out.text()


def test_what_is_not_known_of_the_tubes_is_said(front: LoadsPanel) -> None:
    unfold(front)

    rack = next(row for row in front.seats.table.rows if row[0].startswith("steering_rack"))
    assert rack[3:] == ("?", "?")
    assert "feet" in front.tubes.text()


def test_a_load_case_of_the_builder_s_own_is_offered(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    demo.apply(
        "Make",
        lambda d: make(d, LoadCase, "hard stop", acceleration_g=Vec3(-1.75, 0.0, 0.0))[0],
    )

    assert panel.box.findText("hard stop") == len(compute(demo.state.document, {}, load_names)) - 1
    choose(panel, "hard stop")
    assert "back" in panel.at_wheel.text()


def test_in_a_drag_what_stands_there_is_told_to_be_of_before(
    panel: LoadsPanel, demo: Session
) -> None:
    unfold(panel)
    point = next(p for p in demo.state.document.points if p.name.startswith("rear_toe_inner"))
    before = panel.links.table

    demo.apply(
        "Move",
        lambda d: change(d, Address(Ref(point.id, "left"), "at.z"), 300.0),
        group="drag",
        upto=When.LIVE,
    )

    assert panel.links.behind
    assert panel.links.table == before
    assert BEFORE in panel.fold.line.text()

    demo.settle()

    assert not panel.links.behind
    assert panel.links.table != before


def test_the_copy_has_every_load(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    press(panel.copy)

    lines = list(csv.DictReader(StringIO(QGuiApplication.clipboard().text())))
    names = [str(name) for name in compute(demo.state.document, {}, load_names)]
    assert list(dict.fromkeys(line["load"] for line in lines)) == names
    loads = compute(demo.state.document, {}, corner_loads, REAR, "kerb")
    pull = next(line["pull_N"] for line in lines if (line["load"], line["of"]) == ("kerb", "toe"))
    assert float(pull) == pytest.approx(
        next(leg.pull for leg in loads.legs if leg.name == "toe"), abs=0.06
    )
    assert panel.copy.text() == "Copied"


def test_without_its_unsprung_mass_a_corner_says_so(panel: LoadsPanel, demo: Session) -> None:
    unfold(panel)

    demo.apply("Forget", lambda d: change(d, Address(REAR, "unsprung_mass_kg"), None))

    assert "the unsprung mass of rear corner" in panel.unknown.text()
    assert not panel.links.isVisible()


def test_an_empty_car_is_told_what_to_enter(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = LoadsPanel(session, selection, look)
    show(panel, 316, 400)

    assert panel.fold.line.text() == "Loads: enter a corner first"


@pytest.mark.parametrize("end", ["panel", "front"])
def test_nothing_sticks_out(request: pytest.FixtureRequest, end: str) -> None:
    panel = request.getfixturevalue(end)

    unfold(panel)

    assert cut(panel) == []


def test_no_row_of_a_table_is_cut_off_in_the_right_panel(
    demo: Session, right: StepPanel, selection: Selection, qtbot: QtBot
) -> None:
    selection.go_to("front")
    panel = next(each for each in right.findChildren(LoadsPanel) if each.isVisible())
    panel.fold.line.setChecked(True)
    assert demo.state.document.corners

    tables = (panel.links, panel.chassis, panel.most, panel.seats)
    qtbot.waitUntil(
        lambda: all(table.height() == table.heightForWidth(table.width()) for table in tables)
    )


def test_it_is_in_the_right_panel(right: StepPanel) -> None:
    assert len(right.findChildren(LoadsPanel)) == 2
