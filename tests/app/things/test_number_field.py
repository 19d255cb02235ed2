"""Figures in a field: typed, kept, refused in words, nudged, and never lost under a refresh."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.selection import Selection
from app.session import Session
from app.widgets.number_field import NumberField
from core.document.base import Fact, Ref, Vec3
from core.document.facts import fact_at
from core.document.steel import Point, Tube
from core.edits.points import move_point
from core.edits.things import make
from core.edits.values import change, hold, set_fact
from core.engine.address import Address
from tests.app.things.hands import button, click, enter, named, press, thing, type_into, value

POINT = Ref("point1", "left")
X = Address(POINT, "at.x")
OTHER = Ref("point2", "left")

Make = Callable[[Address], NumberField]


@pytest.fixture
def make_field(
    demo: Session, selection: Selection, look: Look, show: Callable[[QWidget], None]
) -> Make:
    def made(address: Address) -> NumberField:
        field = NumberField(demo, selection, look, address)
        show(field)
        return field

    return made


@pytest.fixture
def field(make_field: Make) -> NumberField:
    return make_field(X)


@pytest.mark.parametrize(
    ("typed", "kept"),
    # An inch is 25.4 mm exactly: international yard and pound agreement of 1959.
    [("25.4*3", 76.2), ("1 1/2 in", 38.1), ("-2200", -2200.0), ("12 cm + 3 mm", 123.0)],
)
def test_a_sum_in_any_unit_is_kept_on_enter_and_undone(
    demo: Session, field: NumberField, typed: str, kept: float
) -> None:
    enter(field.line, typed)

    assert value(demo, POINT, "at.x") == pytest.approx(kept, abs=1e-12)
    assert field.typed is None
    demo.undo()
    assert value(demo, POINT, "at.x") == 165.0
    assert field.line.text() == "165.0"


def test_nonsense_stays_with_its_sentence_and_changes_nothing(
    demo: Session, field: NumberField
) -> None:
    before = demo.state

    enter(field.line, "12 elephants")

    assert demo.state is before
    assert field.line.text() == "12 elephants"
    assert "elephants" in field.sentence.text
    assert field.line.line == "wrong"


def test_escape_brings_the_old_figure_back(demo: Session, field: NumberField) -> None:
    before = demo.state
    enter(field.line, "nonsense")

    press(field.line, Qt.Key.Key_Escape)

    assert field.line.text() == "165.0"
    assert field.sentence.text == ""
    assert demo.state is before


def test_what_is_typed_outlives_a_change_from_elsewhere_and_says_so(
    demo: Session, field: NumberField
) -> None:
    type_into(field.line, "170")

    demo.apply("Move", lambda d: move_point(d, POINT, Vec3(180.0, 285.0, 150.0)))

    assert field.line.text() == "170"
    assert "Meanwhile it became 180.0 mm" in field.sentence.text
    press(field.line, Qt.Key.Key_Return)
    assert value(demo, POINT, "at.x") == 170.0


def test_a_change_elsewhere_in_the_car_says_nothing(demo: Session, field: NumberField) -> None:
    type_into(field.line, "170")

    demo.apply("Move", lambda d: move_point(d, OTHER, Vec3(165.0, 311.0, 400.0)))

    assert field.line.text() == "170"
    assert field.sentence.text == ""


def test_a_figure_that_is_not_being_typed_follows_the_car(
    demo: Session, field: NumberField
) -> None:
    demo.apply("Move", lambda d: move_point(d, POINT, Vec3(180.25, 285.0, 150.0)))

    assert field.line.text() == "180.25"


def test_leaving_the_field_keeps_what_is_typed(demo: Session, field: NumberField) -> None:
    type_into(field.line, "171.5")

    press(field.line, Qt.Key.Key_Tab)

    assert value(demo, POINT, "at.x") == 171.5


def test_arrows_nudge_by_the_last_digit_and_one_undo_takes_a_run_back(
    demo: Session, field: NumberField
) -> None:
    field.line.setFocus()
    steps = len(demo.history.done)

    press(field.line, Qt.Key.Key_Up)
    press(field.line, Qt.Key.Key_Up)
    press(field.line, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    press(field.line, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)

    assert value(demo, POINT, "at.x") == pytest.approx(165.0 + 0.1 + 0.1 + 1.0 - 0.01)
    assert len(demo.history.done) == steps + 1
    demo.undo()
    assert value(demo, POINT, "at.x") == 165.0


def test_escape_takes_a_run_of_nudges_back(demo: Session, field: NumberField) -> None:
    field.line.setFocus()
    press(field.line, Qt.Key.Key_Up)
    press(field.line, Qt.Key.Key_Up)

    press(field.line, Qt.Key.Key_Escape)

    assert value(demo, POINT, "at.x") == 165.0
    assert not demo.history.can_redo


def test_a_held_figure_is_refused_with_its_holder_and_changes_once_set_free(
    demo: Session, field: NumberField
) -> None:
    demo.apply("Hold", lambda d: hold(d, X, "the shell sits on it"))
    assert field.line.line == "held"
    assert field.tag.text() == "held: the shell sits on…"
    assert "the shell sits on it" in field.tag.toolTip()

    enter(field.line, "170")

    assert value(demo, POINT, "at.x") == 165.0
    assert field.line.text() == "170"
    assert "the shell sits on it" in field.sentence.text
    click(button(field, "Set free and change"))
    assert value(demo, POINT, "at.x") == 170.0
    assert field.sentence.text == ""
    assert field.line.line != "held"


def test_a_measured_figure_that_is_changed_on_purpose_counts_as_measured_no_more(
    demo: Session, field: NumberField
) -> None:
    demo.apply("Say", lambda d: set_fact(d, X, Fact(source="measured", uncertainty=0.5)))
    assert field.tag.text() == "measured ±0.5"

    enter(field.line, "170")
    click(button(field, "Set free and change"))

    fact = fact_at(thing(demo, "point1"), "left", "at.x")
    assert value(demo, POINT, "at.x") == 170.0
    assert fact is not None
    assert fact.source == "chosen"
    assert fact.uncertainty is None


def test_a_figure_may_be_left_open_only_where_it_need_not_be_known(
    demo: Session, make_field: Make
) -> None:
    corner = named(demo, "front corner")
    droop = make_field(Address(Ref(corner.id, "left"), "droop"))

    enter(droop.line, "")

    assert value(demo, Ref(corner.id, "left"), "droop") is None
    assert droop.line.placeholderText() == "don't know"
    assert droop.line.text() == ""


def test_a_figure_that_must_be_known_cannot_be_left_open(demo: Session, field: NumberField) -> None:
    enter(field.line, "")

    assert value(demo, POINT, "at.x") == 165.0
    assert "cannot be left open" in field.sentence.text


def test_a_rule_of_the_thing_is_told_at_the_field(make_field: Make) -> None:
    wall = make_field(Address(Ref("section1"), "wall"))
    click_free = wall.binding.hold() is not None

    enter(wall.line, "400")
    if click_free:
        click(button(wall, "Set free and change"))

    assert "no bore" in wall.sentence.text
    assert wall.line.text() == "400"


def test_the_right_side_shows_and_sets_its_own_side(demo: Session, make_field: Make) -> None:
    right = make_field(Address(Ref("point1", "right"), "at.y"))
    assert right.line.text() == "\u2212285.0"

    enter(right.line, "-290")

    assert value(demo, POINT, "at.y") == 290.0


def test_a_field_of_a_thing_that_went_stays_quiet(demo: Session, field: NumberField) -> None:
    type_into(field.line, "12")

    demo.new()

    assert field.line.text() == "12"


@pytest.mark.parametrize("path", ["wanted_camber_deg", "unsprung_mass_kg", "damper.spring_rate"])
def test_other_units_are_read_and_shown_too(demo: Session, make_field: Make, path: str) -> None:
    corner = Ref(named(demo, "front corner").id, "left")
    typed = {
        "wanted_camber_deg": ("-1.5", -1.5),
        "unsprung_mass_kg": ("70 lb", 70 * 0.45359237),  # the 1959 agreement, exact
        "damper.spring_rate": ("35 N/mm", 35.0),
    }
    text, kept = typed[path]
    made = make_field(Address(corner, path))

    enter(made.line, text)

    assert value(demo, corner, path) == pytest.approx(kept, rel=1e-12)


def test_a_count_is_whole(demo: Session, make_field: Make) -> None:
    hub = Ref(named(demo, "front_hub").id)
    studs = make_field(Address(hub, "stud_count"))

    enter(studs.line, "4.5")

    assert "not whole" in studs.sentence.text


def test_a_welded_tube_holds_its_points_and_is_named(demo: Session, make_field: Make) -> None:
    tube = named(demo, "M01_main_hoop")
    assert isinstance(tube, Tube)
    demo.apply("Weld", lambda d: change(d, Address(Ref(tube.id), "state"), "welded"))
    foot = make_field(Address(tube.start, "at.x"))

    enter(foot.line, "0")

    assert "M01_main_hoop is welded" in foot.sentence.text
    assert foot.line.line == "wrong"


def test_a_point_alone_in_an_empty_car_is_set(
    session: Session, selection: Selection, look: Look, show: Callable[[QWidget], None]
) -> None:
    session.apply("Point", lambda d: make(d, Point, "A", at=Vec3(0.0, 0.0, 0.0))[0])
    made = NumberField(session, selection, look, Address(Ref("point1"), "at.z"))
    show(made)

    enter(made.line, "1/2 in")

    assert value(session, Ref("point1"), "at.z") == pytest.approx(12.7)
