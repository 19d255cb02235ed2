"""Springs in the window: figures of both axles, a spring ordered and taken, by mouse and keys."""

from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLineEdit

from app.look.look import Look
from app.panels.springs import SpringsPanel
from app.panels.springs.figures import NONE
from app.selection import Selection
from app.session import Session
from app.widgets.asking import ask
from app.widgets.telling import BEFORE
from core.assess.springs import ride
from core.document.base import Fact, Ref
from core.document.codec import write_project
from core.document.lookup import Lookup
from core.document.project import Document, Project
from core.document.running_gear import Corner
from core.edits.values import change, set_fact
from core.engine.address import Address
from core.engine.cells import When
from tests.app.panels.conftest import Show
from tests.app.panels.studying import type_into as type_at
from tests.cars.stored import ref
from tests.cars.stored import second as second_car
from tests.core.assess.made_corners import swinging_arm
from tests.core.assess.sprung_cars import barred, level_bar_places, sprung

LEFT = Qt.MouseButton.LeftButton


def shown(
    session: Session, selection: Selection, look: Look, show: Show, which: str = "driven"
) -> SpringsPanel:
    panel = SpringsPanel(session, selection, look, "driven" if which == "driven" else "other")
    show(panel, 306, 1400)  # as wide as the narrowest window leaves it
    return panel


@pytest.fixture
def rear(demo: Session, selection: Selection, look: Look, show: Show) -> SpringsPanel:
    return shown(demo, selection, look, show)


def unfold(panel: SpringsPanel, *lines: QAbstractButton) -> None:
    for line in (panel.fold.line, *lines):
        QTest.mouseClick(line, LEFT, pos=QPoint(20, 12))
        QTest.qWait(10)


def press(button: QAbstractButton) -> None:
    QTest.mouseClick(button, LEFT)


def type_into(line: QLineEdit, words: str) -> None:
    """Type another figure in place of all that stands there."""
    QTest.keyClick(line, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    type_at(line, words)


def rows(panel: SpringsPanel) -> dict[str, tuple[str, ...]]:
    return {row[0]: row[1:] for row in panel.table.table.rows}


def corner(document: Document, label: str) -> Corner:
    thing = Lookup(document).by_id[ref(document, label).id]
    assert isinstance(thing, Corner)
    return thing


def rear_rate(session: Session) -> float | None:
    damper = corner(session.state.document, "rear corner left").damper
    assert damper is not None
    return damper.spring_rate


def test_it_is_one_line_until_it_is_opened(rear: SpringsPanel) -> None:
    assert rear.fold.line.text() == "Springs: 22.6 N/mm, 1.55/1.58 Hz"
    assert not rear.table.isVisible()

    unfold(rear)

    assert rear.table.isVisible()
    assert not rear.order.isVisible()
    assert not rear.holes.isVisible()


def test_both_axles_stand_side_by_side_with_left_and_right_where_they_differ(
    rear: SpringsPanel, look: Look
) -> None:
    unfold(rear)
    found = rows(rear)

    assert found["spring rate, N/mm"] == ("30.0", "26.0")
    assert found["damper to wheel"] == ("0.684", "0.913")
    assert found["wheel rate, N/mm"] == ("15.3", "22.6")
    assert found["ride on tyres, Hz"] == ("1.53/1.56", "1.55/1.58")
    assert found["roll, N m/°"] == ("235", "348")
    assert found["share of roll, %"] == ("40", "60")
    assert rear.table.height() == 13 * look.px(21.0)  # names stand beside their figures
    assert not rear.unknown.isVisible()
    assert not any(button.isVisible() for button in rear.asked)


def test_the_front_end_has_a_panel_of_its_own(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = shown(demo, selection, look, show, "other")

    assert panel.end == "front"
    assert panel.fold.line.text() == "Springs: 15.3 N/mm, 1.53/1.56 Hz"


def test_a_typed_frequency_gives_a_rate_and_that_a_spring(rear: SpringsPanel) -> None:
    unfold(rear, rear.order_line)
    before = rear.order.rate.value

    type_into(rear.order.hz, "1.7")

    assert rear.order.rate.value > before
    order = rear.order.order
    assert order is not None
    assert order.rate == rear.order.rate.value
    assert order.frequency_hz == pytest.approx(1.7, abs=0.01)
    assert rear.order.gives.text() == f"A spring of {order.rate:.1f} N/mm gives it."
    assert f"Free length {order.free_length:.1f} mm" in rear.order.does.text()
    assert "is not known before its coils' closed length is" in rear.order.does.text()
    lengths = rear.order.table.table.rows[0]
    assert lengths[0] == "spring length, mm"
    assert [float(cell) for cell in lengths[1:]] == sorted(float(cell) for cell in lengths[1:])


def test_a_rate_that_can_be_bought_is_reckoned_with_and_stays_typed(rear: SpringsPanel) -> None:
    unfold(rear, rear.order_line)
    type_into(rear.order.rate, "28")
    type_into(rear.order.block, "130")

    assert rear.order.order is not None
    assert rear.order.order.rate == 28.0
    assert "left at full bump before its coils close" in rear.order.does.text()
    type_into(rear.order.block, "160")
    assert "before full bump: not this one" in rear.order.does.text()


def test_taking_it_puts_it_into_the_car_on_both_sides_and_undo_brings_the_old_one_back(
    rear: SpringsPanel, demo: Session
) -> None:
    unfold(rear, rear.order_line)
    type_into(rear.order.hz, "1.7")
    type_into(rear.order.rate, "31")
    type_into(rear.order.block, "125")
    press(rear.order.take)

    damper = corner(demo.state.document, "rear corner left").damper
    assert damper is not None
    assert (damper.spring_rate, damper.spring_block_length) == (31.0, 125.0)
    facts = {f.of: f for f in corner(demo.state.document, "rear corner left").facts}
    assert facts["damper.spring_rate"].how == "for a ride of 1.70 Hz"
    assert "Taken." in rear.order.note.text()
    sits = ask(demo.state, ride, ref(demo.state.document, "rear corner left")).sits_off
    assert sits == pytest.approx(0.0, abs=0.06)  # free lengths are ordered to a tenth
    assert rows(rear)["spring rate, N/mm"] == ("30.0", "31.0")

    demo.undo()

    assert rear_rate(demo) == 26.0
    assert rows(rear)["spring rate, N/mm"] == ("30.0", "26.0")


def test_what_is_in_hand_is_not_taken_from_until_it_is_set_free(
    rear: SpringsPanel, demo: Session
) -> None:
    address = Address(ref(demo.state.document, "rear corner left"), "damper.spring_rate")
    fact = Fact(source="in_hand", how="on the shelf")
    demo.apply("Say where it is from", lambda document: set_fact(document, address, fact))
    unfold(rear, rear.order_line)
    type_into(rear.order.rate, "31")
    assert not rear.order.free.isVisible()

    press(rear.order.take)

    assert rear_rate(demo) == 26.0
    assert "in hand" in rear.order.note.text()
    press(rear.order.free)
    assert rear_rate(demo) == 31.0
    assert not rear.order.free.isVisible()


def test_a_frequency_of_nothing_is_refused_and_the_old_one_kept(rear: SpringsPanel) -> None:
    unfold(rear, rear.order_line)
    before = rear.order.hz.value

    type_into(rear.order.hz, "0")

    assert rear.order.hz.value == before
    assert "above" in rear.order.hz.toolTip()


def test_one_that_the_tyre_is_too_soft_for_is_told(rear: SpringsPanel) -> None:
    unfold(rear, rear.order_line)
    type_into(rear.order.hz, "9")

    assert "the tyre alone is too soft for 9 Hz" in rear.order.gives.text()
    assert not rear.order.take.isEnabled()
    assert rear.order.take.text() == "Take it: not known yet"


def test_the_holes_of_a_dummy_damper_are_copied_as_a_table(rear: SpringsPanel) -> None:
    unfold(rear, rear.holes_line)
    press(rear.holes.copy)

    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines == [
        "hole,left mm,right mm",
        "full bump,340.7,340.7",
        "as drawn,405.7,405.7",
        "full droop,451.0,451.0",
    ]
    assert rear.holes.copied.text() == "Copied."
    assert "stands on stands while anyone is under it" in rear.holes.words.text()


def test_a_hanging_wheel_is_told_of(rear: SpringsPanel) -> None:
    unfold(rear, rear.hang_line)

    words = rear.hang.text()
    assert "hangs 133 down, where the joint at rear_toe_outer_L" in words
    assert "The drive shaft is no stop" in words
    assert words.endswith("The other side hangs as far.")


def test_the_second_car_asks_for_what_is_lacking(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = shown(second, selection, look, show, "driven")
    wanted: list[Address] = []
    selection.figure_wanted.connect(wanted.append)
    unfold(panel, panel.order_line)

    assert rows(panel)["to coil bind, mm"] == ("?", "?")
    assert "no bump stop is entered for front corner" in panel.unknown.text()
    assert "rear corner" not in panel.unknown.text()
    assert [b.text() for b in panel.asked if b.isVisible()] == [
        "Enter eyes to spring seats",
        "Enter the spring's free length",
        "Enter its length with coils closed",
        "Enter the bump stop",
    ]
    assert "A spring of" in panel.order.gives.text()
    assert "Don't know its lengths, because" in panel.order.does.text()
    press(panel.asked[0])
    corner_left = ref(second_car().drawn, "front corner left")
    assert wanted == [Address(corner_left, "damper.spring_seats")]


def test_a_car_of_unknown_weight_says_why_there_is_no_frequency(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    for end in ("front", "rear"):
        address = Address(ref(demo.state.document, f"{end} corner left"), "unsprung_mass_kg")
        demo.apply("Forget", partial(change, address=address, value=None))
    panel = shown(demo, selection, look, show)
    unfold(panel, panel.order_line)

    assert panel.fold.line.text() == "Springs: 22.6 N/mm, ride: don't know"
    assert rows(panel)["ride on tyres, Hz"] == ("?", "?")
    assert "the unsprung mass of rear corner is not known" in panel.unknown.text()
    assert "Don't know which rate gives it" in panel.order.gives.text()
    assert panel.asked[0].text() == "Enter the unsprung mass"


def opened(session: Session, document: Document, folder: Path) -> None:
    path = folder / "car.jigplate"
    write_project(Project(drawn=document), path)
    session.open(path)


def test_a_bar_and_stiff_tyres_are_told_of(
    session: Session, selection: Selection, look: Look, show: Show, tmp_path: Path
) -> None:
    car = barred(sprung(swinging_arm(), kg=None), level_bar_places(), "upright", rate_nm_per_deg=9)
    opened(session, car.document, tmp_path)
    panel = shown(session, selection, look, show, "other")
    unfold(panel)

    assert rows(panel)["of it by the bar"][0] != NONE
    assert "Roll at the front takes the tyres for stiff" in panel.notes.text()
    assert "Wheel rate at the front is spring rate times ratio squared" in panel.notes.text()
    assert rows(panel)["wheel rate, N/mm"] == ("30.0", "?")


@pytest.mark.parametrize("which", ["driven", "other"])
def test_an_empty_car_says_what_to_enter(
    session: Session, selection: Selection, look: Look, show: Show, which: str
) -> None:
    panel = shown(session, selection, look, show, which)

    assert panel.fold.line.text() == "Springs: no corner is entered"
    unfold(panel)
    assert panel.empty.isVisible()
    assert not panel.table.isVisible()
    assert not panel.order_line.isVisible()


def test_in_a_drag_it_is_of_before_and_catches_up_when_the_hand_lets_go(
    rear: SpringsPanel, demo: Session
) -> None:
    unfold(rear)
    before = rows(rear)
    eye = Address(_lower_eye(demo), "at.y")

    demo.apply("Move", lambda d: change(d, eye, 560.0), group="drag", upto=When.LIVE)
    assert rear.fold.line.text() == f"Springs: {BEFORE}"
    assert rows(rear) == before

    demo.settle()
    assert rows(rear)["damper to wheel"] != before["damper to wheel"]
    assert BEFORE not in rear.fold.line.text()


def _lower_eye(session: Session) -> Ref:
    damper = corner(session.state.document, "rear corner left").damper
    assert damper is not None
    return damper.lower


def test_another_corner_is_asked_of_by_its_word(rear: SpringsPanel, demo: Session) -> None:
    unfold(rear, rear.order_line)
    left = rear.order.rate.value
    assert rear.choice.tabs is not None
    type_into(rear.order.rate, "40")

    right = ref(demo.state.document, "rear corner right")
    press(rear.choice.tabs.tabs[right])

    assert rear.order.corner == right
    assert rear.order.rate.value != 40.0
    assert rear.order.rate.value == pytest.approx(left, abs=1.0)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_it_is_drawn_in_both_themes_and_sizes(
    demo: Session, selection: Selection, show: Show, look: Look, theme: str
) -> None:
    del look
    other = Look("light" if theme == "light" else "dark", 1.3)
    panel = SpringsPanel(demo, selection, other)
    show(panel, 420, 1800)
    unfold(panel, panel.order_line, panel.holes_line, panel.hang_line)

    assert panel.grab().width() == 420
    assert panel.table.height() == 12 * other.px(21.0) + other.px(21.0)
