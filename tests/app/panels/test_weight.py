"""The weight of the car in the window, by mouse and keys: loads, parts, scales, stands."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.step import StepPanel
from app.panels.weight import WeightPanel
from app.panels.weight.panel import NO_SCALES
from app.selection import Selection
from app.session import Session
from core.checks.weights import SHAKE
from core.document.base import Ref
from core.document.codec import write_project
from core.document.project import Document, Project
from core.document.records import LoadCase, Part, Weighing
from core.edits.things import make
from core.engine.address import Address
from tests.app.cars import tubes_only
from tests.app.panels.conftest import Show
from tests.core.assess.weighed_cars import changed, weighed_car

LEFT = Qt.MouseButton.LeftButton
READ = {"front_left_kg": 121.0, "front_right_kg": 119.0, "rear_left_kg": 181.0,
        "rear_right_kg": 179.0}  # fmt: skip


@pytest.fixture
def panel(session: Session, selection: Selection, look: Look, show: Show) -> WeightPanel:
    made = WeightPanel(session, selection, look)
    show(made, 392, 1900)
    return made


@pytest.fixture
def narrow(session: Session, selection: Selection, look: Look, show: Show) -> WeightPanel:
    made = WeightPanel(session, selection, look)
    show(made, 316, 2600)
    return made


def opened(session: Session, document: Document, folder: Path) -> None:
    path = folder / "car.jigplate"
    write_project(Project(drawn=document), path)
    session.open(path)


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, LEFT)


def seen(*widgets: QWidget) -> list[bool]:
    return [widget.isVisible() for widget in widgets]


def cells(panel: WeightPanel, name: str) -> tuple[str, ...]:
    return next(row for row in panel.loads.table.rows if row[0] == name)


def test_an_empty_car_says_what_to_enter(
    panel: WeightPanel, selection: Selection, qtbot: QtBot
) -> None:
    assert panel.empty.isVisible()
    assert seen(panel.loads, panel.where, panel.wheels, panel.heavy_part) == [False] * 4
    assert seen(panel.scales_part, panel.corner_fold, panel.stands_fold) == [False] * 3
    with qtbot.waitSignal(selection.make_wanted) as asked:
        click(panel.new_part)
    assert asked.args == ["parts"]


def test_a_frame_alone_is_weighed_and_the_rest_is_not_called_known(
    session: Session, panel: WeightPanel, tmp_path: Path
) -> None:
    opened(session, tubes_only(), tmp_path)

    assert panel.empty.isVisible()
    assert panel.unknown.text().startswith("At least")
    assert "Don't know the whole" in panel.unknown.text()
    assert [row.text() for row in panel.heavy.rows] == ["tubes of the frame, 3 of them"]
    assert panel.whole.remark == ""
    assert not panel.loads.isVisible()


@pytest.mark.usefixtures("demo")
def test_the_demo_car_is_told_in_a_builder_s_words(narrow: WeightPanel) -> None:
    assert narrow.whole.remark == "874.5 kg as drawn"
    assert narrow.where.text() == (
        "Centre of gravity 1396 behind the front axle, 8 left of the middle, 379 over the ground."
    )
    assert cells(narrow, "two people, full tank")[1] == "955.5"
    assert [row[1:] for row in narrow.wheels.table.rows][2] == ("442.3", "432.2", "874.5")
    assert "both axles to carry the same share" in narrow.how.text()
    assert not narrow.missing_part.isVisible()


def test_a_click_on_a_load_shows_its_wheels(demo: Session, narrow: WeightPanel) -> None:
    case = demo.state.document.load_cases[1]
    before = narrow.wheels.table

    click(narrow.choice.tabs[Ref(case.id)])

    assert narrow.whole.remark == "955.5 kg two people, full tank"
    assert narrow.wheels.table != before
    QTest.keyClick(narrow.choice.tabs[None], Qt.Key.Key_Space)
    assert narrow.wheels.table == before


@pytest.mark.usefixtures("demo")
def test_the_heaviest_are_chosen_by_click_and_key(selection: Selection, panel: WeightPanel) -> None:
    heaviest = panel.heavy.rows[0]

    click(heaviest)

    assert selection.refs == (heaviest.heavy.ref,)
    assert heaviest.isChecked()
    assert panel.heavy.without.text().startswith("Without power unit wet the car weighs 678.5 kg")
    QTest.keyClick(panel.heavy.rows[2], Qt.Key.Key_Space)
    assert selection.refs == (panel.heavy.rows[2].heavy.ref,)
    assert "driver" in panel.heavy.without.text()


@pytest.mark.usefixtures("demo")
def test_the_tubes_together_open_their_table(
    selection: Selection, panel: WeightPanel, qtbot: QtBot
) -> None:
    tubes = next(row for row in panel.heavy.rows if row.heavy.ref is None)

    with qtbot.waitSignal(selection.list_wanted) as asked:
        click(tubes)

    assert asked.args == ["tubes"]


@pytest.mark.usefixtures("demo")
def test_the_rest_is_folded_until_it_is_asked_for(panel: WeightPanel) -> None:
    assert panel.page is not None
    whole = len(panel.page.heavy)
    assert sum(row.isVisible() for row in panel.heavy.rows) == 8

    click(panel.heavy.more)

    assert sum(row.isVisible() for row in panel.heavy.rows) == whole
    click(panel.heavy.more)
    assert sum(row.isVisible() for row in panel.heavy.rows) == 8


def test_what_is_not_weighed_leads_to_its_field(
    session: Session, selection: Selection, panel: WeightPanel, tmp_path: Path, qtbot: QtBot
) -> None:
    car = changed(weighed_car(), "driver", mass_kg=None)
    opened(session, car, tmp_path)

    (row,) = [row for row in panel.missing.rows if row.isVisible()]
    assert row.text() == "The weight of driver"
    assert "At least 400.0 kg" in panel.unknown.text()
    with qtbot.waitSignal(selection.figure_wanted) as asked:
        click(row)
    part = next(each for each in car.parts if each.name == "driver")
    assert asked.args == [Address(Ref(part.id), "mass_kg")]


def test_scales_stand_beside_the_sum(
    session: Session, selection: Selection, panel: WeightPanel, tmp_path: Path, qtbot: QtBot
) -> None:
    opened(session, weighed_car(), tmp_path)
    assert panel.no_scales.text() == NO_SCALES
    assert panel.no_scales.isVisible()
    with qtbot.waitSignal(selection.make_wanted) as asked:
        click(panel.new_weighing)
    assert asked.args == ["weighings"]

    tilt = {"raised_front_kg": 270.0, "tail_raised": 400.0}

    def weigh(document: Document) -> Document:
        return make(document, Weighing, "first time", **READ, **tilt)[0]

    session.apply("Weigh the car", weigh)

    assert seen(panel.scales, panel.no_scales) == [True, False]
    assert panel.scales.table.rows[0][:2] == ("front corner left", "121.0")
    assert panel.how.text() == "Off scales; the height by tilting."
    assert "than by the sum of all weights" in panel.tilted.text()
    assert cells(panel, "as drawn")[1] == "600.0"
    session.undo()
    assert panel.how.text().startswith("By the sum")


def test_a_wheel_that_takes_the_other_one_s_weight_is_named(
    session: Session, panel: WeightPanel, tmp_path: Path
) -> None:
    opened(session, changed(weighed_car(), "front corner left", weight_kg=120.0), tmp_path)

    assert panel.mirrored.isVisible()
    assert panel.mirrored.text().startswith("front corner right has no weight of its own")


@pytest.mark.usefixtures("demo")
def test_stands_say_which_way_it_tips_with_the_caution(narrow: WeightPanel) -> None:
    assert not narrow.stands.isVisible()
    click(narrow.stands_fold.line)

    assert len(narrow.stands.states) == 5
    first = narrow.stands.states[0]
    assert "it would tip first over the line" in first.words.text()
    assert len(first.table.table.rows) == 4
    assert first.table.height() >= 5 * 20
    assert narrow.stands.caution.text().startswith(SHAKE)
    assert "Raising the tail" in narrow.tail.text()
    assert narrow.stands_fold.line.text() == "On stands: 82 from tipping, driver out"


@pytest.mark.usefixtures("second")
def test_without_stands_it_says_what_to_enter(
    selection: Selection, panel: WeightPanel, qtbot: QtBot
) -> None:
    click(panel.stands_fold.line)

    assert seen(panel.no_stands, panel.stands) == [True, False]
    with qtbot.waitSignal(selection.make_wanted) as asked:
        click(panel.new_lift)
    assert asked.args == ["lifts"]


@pytest.mark.usefixtures("demo")
def test_a_corner_tells_roll_and_load_that_moves(panel: WeightPanel) -> None:
    click(panel.corner_fold.line)

    assert panel.corner_fold.line.text() == "In a corner: rolls 4.3° for each g"
    assert [row[0] for row in panel.moved.table.rows] == ["front", "rear"]
    assert "Braking moves 138.2 kg" in panel.shift.text()
    assert panel.granted.isVisible()


def test_without_springs_a_corner_is_not_known(
    session: Session, panel: WeightPanel, tmp_path: Path
) -> None:
    opened(session, weighed_car(), tmp_path)
    click(panel.corner_fold.line)

    assert panel.corner_fold.line.text() == "In a corner: don't know"
    assert panel.corner.text().startswith("Don't know, because")
    assert not panel.moved.isVisible()


def test_loads_follow_those_there_are(session: Session, panel: WeightPanel, tmp_path: Path) -> None:
    opened(session, weighed_car(), tmp_path)
    assert not panel.choice.isVisible()

    session.apply("Make a case", lambda document: make(document, LoadCase, "two up")[0])

    assert panel.choice.isVisible()
    case = session.state.document.load_cases[0]
    click(panel.choice.tabs[Ref(case.id)])
    session.undo()
    assert not panel.choice.isVisible()
    assert panel.choice.case is None
    assert panel.whole.remark == "480.0 kg as drawn"


def test_a_heavier_part_is_seen_at_once(
    session: Session, panel: WeightPanel, tmp_path: Path
) -> None:
    opened(session, weighed_car(), tmp_path)

    session.apply(
        "Put a battery in",
        lambda document: make(
            document, Part, "battery", mass_kg=15.0, centre_of_gravity=(-200.0, 0.0, 300.0)
        )[0],
    )

    assert panel.whole.remark == "495.0 kg as drawn"


@pytest.mark.usefixtures("demo")
def test_it_stands_in_the_bench_and_is_opened_from_any_step(
    right: StepPanel, selection: Selection, qtbot: QtBot
) -> None:
    weight = right.findChild(WeightPanel)
    assert isinstance(weight, WeightPanel)
    assert not weight.isVisible()

    selection.section_wanted.emit("weight")

    assert selection.step == "bench"
    assert weight.isVisible()
    qtbot.wait(350)
    assert right.view.verticalScrollBar().value() >= 0
    assert not weight.visibleRegion().isEmpty()
