"""The panel about the thing chosen: fields, parts, lists, sides, sources, notes, taking out."""

from pathlib import Path

import msgspec
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from app.panels.details import Details
from app.selection import Selection
from app.session import Session
from app.widgets.branch_editor import ListEditor, OpenPart
from app.widgets.choice_field import ChoiceField
from app.widgets.number_field import NumberField
from app.widgets.reference_field import ReferenceField
from app.widgets.source_popup import SourcePopup
from app.widgets.text_field import TextField
from core.document.base import Fact, Ref, Vec3
from core.document.facts import fact_at
from core.document.lookup import entities, sides
from core.document.running_gear import Corner, DriveShaft
from core.document.steel import Point, Tube
from core.edits.points import move_point
from core.edits.things import make
from core.edits.values import release, set_fact
from core.engine.address import Address
from tests.app.things.conftest import DEMO, SECOND
from tests.app.things.form_filling import choose, fill_part
from tests.app.things.hands import (
    button,
    click,
    enter,
    field_at,
    named,
    press,
    thing,
    type_into,
    value,
)

SHAFT = Ref("drive_shaft1", "right")


def number(details: Details, path: str) -> NumberField:
    found = field_at(details, path)
    assert isinstance(found, NumberField)
    return found


def branch(details: Details, path: str) -> ListEditor | OpenPart:
    assert details.editor is not None
    return details.editor.parts[path]


def a_list(details: Details, path: str) -> ListEditor:
    found = branch(details, path)
    assert isinstance(found, ListEditor)
    return found


def test_nothing_chosen_says_what_to_do(details: Details) -> None:
    assert details.editor is None
    assert not details.foot.isVisibleTo(details)


def test_what_is_chosen_is_shown_and_gone_with_the_car(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "left"))
    assert number(details, "at.x").line.text() == "165.0"

    demo.new()

    assert details.refs == ()
    assert details.editor is None


def test_a_refresh_in_the_middle_of_typing_loses_nothing_even_if_the_rows_are_made_anew(
    demo: Session, details: Details, selection: Selection
) -> None:
    hub = named(demo, "front corner")
    selection.choose(Ref(hub.id, "left"))
    type_into(number(details, "bump").line, "71")

    selection.choose(Ref("point1", "left"))
    selection.choose(Ref(hub.id, "left"))

    # Leaving the field kept it; the way back shows it.
    assert value(demo, Ref(hub.id, "left"), "bump") in (60.0, 71.0)
    shown = number(details, "bump")
    assert shown.line.text() in ("71", "71.0")


def test_nonsense_that_is_left_behind_is_there_again_on_the_way_back(
    demo: Session, details: Details, selection: Selection
) -> None:
    corner = named(demo, "front corner")
    selection.choose(Ref(corner.id, "left"))
    enter(number(details, "bump").line, "7 elephants")

    selection.choose(Ref("point1", "left"))
    selection.choose(Ref(corner.id, "left"))

    assert number(details, "bump").typed == "7 elephants"
    assert value(demo, Ref(corner.id, "left"), "bump") == 60.0


def test_a_change_of_the_car_does_not_make_the_panel_anew(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "left"))
    before = number(details, "at.x")

    demo.apply("Move", lambda d: move_point(d, Ref("point1", "left"), Vec3(1.0, 2.0, 3.0)))

    assert number(details, "at.x") is before
    assert before.line.text() == "1.0"


def test_text_is_kept_on_enter_and_put_back_on_escape(
    demo: Session, details: Details, selection: Selection
) -> None:
    tube = named(demo, "M01_main_hoop")
    selection.choose(Ref(tube.id))
    role = field_at(details, "role")
    assert isinstance(role, TextField)
    assert isinstance(role.line, QLineEdit)

    enter(role.line, "hoop over both heads")
    type_into(role.line, "something else")
    press(role.line, Qt.Key.Key_Escape)

    assert value(demo, Ref(tube.id), "role") == "hoop over both heads"
    assert role.line.text() == "hoop over both heads"


def test_a_choice_is_kept_and_the_wheel_does_not_change_it(
    demo: Session, details: Details, selection: Selection
) -> None:
    tube = Ref(named(demo, "M01_main_hoop").id)
    selection.choose(tube)
    state = field_at(details, "state")
    assert isinstance(state, ChoiceField)

    choose(state.box, "tacked")
    _wheel_over(state)

    assert value(demo, tube, "state") == "tacked"
    demo.undo()
    assert state.box.currentText() == "planned"


def _wheel_over(field: ChoiceField) -> None:
    spot = QPointF(5, 5)
    event = QWheelEvent(
        spot,
        field.box.mapToGlobal(spot),
        QPoint(0, 0),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 - Qt's
    )
    QApplication.sendEvent(field.box, event)


def test_a_reference_is_set_by_typing_part_of_a_name(
    demo: Session, details: Details, selection: Selection
) -> None:
    tube = Ref(named(demo, "M01_main_hoop").id)
    selection.choose(tube)
    section = field_at(details, "section")
    assert isinstance(section, ReferenceField)

    enter(section.line, "t25")

    assert value(demo, tube, "section") == Ref(named(demo, "T25").id)
    assert section.line.text() == "T25"


def test_a_name_that_nothing_has_stays_with_a_sentence(
    demo: Session, details: Details, selection: Selection
) -> None:
    tube = Ref(named(demo, "M01_main_hoop").id)
    before = demo.state
    selection.choose(tube)
    section = field_at(details, "section")
    assert isinstance(section, ReferenceField)

    enter(section.line, "nonsense")

    assert demo.state is before
    assert section.line.text() == "nonsense"
    assert "Nothing here is called «nonsense»" in section.sentence.text


def test_what_is_named_is_one_click_away(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref(named(demo, "M01_main_hoop").id))
    section = field_at(details, "section")

    click(button(section, "go to"))

    assert selection.refs[0].id == value(demo, Ref(named(demo, "M01_main_hoop").id), "section").id  # type: ignore[attr-defined]


def test_the_sides_of_a_pair_are_shown_apart_and_each_is_set_on_its_own_side(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "left"))
    assert number(details, "at.y").line.text() == "285.0"

    click(button(details, "right"))

    assert selection.refs == (Ref("point1", "right"),)
    assert number(details, "at.y").line.text() == "\u2212285.0"
    assert demo.state.document.points[0].at == Vec3(165.0, 285.0, 150.0)


def test_an_own_value_of_the_right_is_said_with_the_other_side_and_joined_again(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(SHAFT)
    length = number(details, "length")
    assert "own on the right" in length.side_note.text
    assert "480.48 mm" in length.side_note.text

    demo.apply(
        "free", lambda d: set_fact(d, Address(SHAFT, "length"), Fact(source="chosen", free=True))
    )
    click(button(length, "join again"))

    assert value(demo, SHAFT, "length") == pytest.approx(480.48)
    assert length.side_note.text == ""
    demo.undo()
    assert value(demo, SHAFT, "length") == pytest.approx(400.58)


def test_a_figure_is_set_apart_on_the_right_and_then_moves_alone(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "right"))
    height = number(details, "at.z")
    click(height.tag)
    click(button(height, "Set the right one apart here"))

    enter(height.line, "155")

    assert value(demo, Ref("point1", "right"), "at.z") == 155.0
    assert value(demo, Ref("point1", "left"), "at.z") == 150.0
    assert "left: 150.0 mm" in height.side_note.text


def test_any_field_is_set_apart_and_joined_again_in_the_list_of_sides(
    demo: Session, details: Details, selection: Selection
) -> None:
    corner = named(demo, "front corner")
    selection.choose(Ref(corner.id, "right"))
    assert details.apart is not None
    number_of_bump = details.apart.fields.findText("bump")
    details.apart.fields.setCurrentIndex(number_of_bump)

    click(details.apart.set_apart)

    assert [own.of for own in thing(demo, corner.id).right] == ["bump"]
    click(button(details.apart, "join again"))
    assert thing(demo, corner.id).right == ()


def test_the_source_of_a_figure_is_said_and_undone(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "left"))
    x = number(details, "at.x")
    assert x.tag.kind == "guessed"
    click(x.tag)
    popup = _popup(x)

    click(popup.sources.tabs["measured"])
    enter(popup.words["uncertainty"], "1/2")
    enter(popup.words["how"], "plumb bob")

    fact = fact_at(thing(demo, "point1"), "left", "at.x")
    assert fact == Fact(of="at.x", source="measured", uncertainty=0.5, how="plumb bob")
    assert x.tag.text() == "measured ±0.5"
    demo.undo()
    demo.undo()
    demo.undo()
    assert fact_at(thing(demo, "point1"), "left", "at.x") is None


def _popup(field: NumberField) -> SourcePopup:
    assert field.popup is not None
    return field.popup


def test_why_is_one_click_away(demo: Session, details: Details, selection: Selection) -> None:
    selection.choose(SHAFT)
    length = number(details, "length")

    click(length.tag)

    assert any("400.58 mm" in line for line in _popup(length).reasons())
    press(_popup(length), Qt.Key.Key_Escape)
    assert length.popup is None
    assert demo.state


@pytest.mark.usefixtures("demo")
def test_a_figure_is_held_with_a_reason_and_set_free(
    details: Details, selection: Selection
) -> None:
    selection.choose(Ref("point1", "left"))
    x = number(details, "at.x")
    click(x.tag)

    click(button(x, "Hold it"))
    assert "needs a reason" in _popup(x).sentence.text
    enter(_popup(x).hold_reason, "the jig stands there")

    assert x.line.line == "held"
    click(button(x, "Set free"))
    assert x.line.line != "held"


def test_a_guess_inside_what_is_in_hand_counts_as_a_guess(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("drive_shaft1", "left"))
    bar = number(details, "bar_outside")
    assert bar.tag.text() == "in hand"
    click(bar.tag)

    click(_popup(bar).sources.tabs["guessed"])

    assert bar.tag.kind == "guessed"
    fact = fact_at(thing(demo, "drive_shaft1"), "left", "bar_outside")
    assert fact is not None
    assert fact.source == "guessed"


def test_a_part_that_may_be_missing_is_entered_and_taken_out(
    demo: Session, details: Details, selection: Selection
) -> None:
    point = named(demo, "A_low")
    selection.choose(Ref(point.id, "left"))
    joint = branch(details, "joint")
    assert isinstance(joint, OpenPart)
    click(joint.enter)
    assert joint.form is not None
    assert joint.form.input.part is not None
    fill_part(
        demo,
        joint.form.input.part,
        {"kind": "rod_end", "carried_by": "frame", "direction": Vec3(0.0, 1.0, 0.0)},
    )

    click(joint.form.keep)

    stored = thing(demo, point.id)
    assert isinstance(stored, Point)
    assert stored.joint is not None
    assert stored.joint.kind == "rod_end"
    click(joint.drop)
    after = thing(demo, point.id)
    assert isinstance(after, Point)
    assert after.joint is None


def test_a_row_is_added_to_a_list_opened_changed_and_taken_out(
    demo: Session, details: Details, selection: Selection
) -> None:
    corner = named(demo, "front corner")
    ref = Ref(corner.id, "left")
    selection.choose(ref)
    roles = a_list(details, "points")
    count = len(roles.items)
    click(roles.add)
    assert roles.form is not None
    assert roles.form.input.part is not None
    fill_part(demo, roles.form.input.part, {"role": "spare", "point": Ref("point1", "left")})

    click(roles.form.keep)

    assert len(roles.items) == count + 1
    row = roles.items[-1]
    click(row.summary)
    name = field_at(details, "points.spare.role")
    assert isinstance(name, TextField)
    assert isinstance(name.line, QLineEdit)
    enter(name.line, "spare two")
    assert _roles(demo, corner.id)[-1] == "spare two"
    click(roles.items[-1].remove)
    assert len(_roles(demo, corner.id)) == count


def _roles(session: Session, corner_id: str) -> list[str]:
    corner = thing(session, corner_id)
    assert isinstance(corner, Corner)
    return [role.role for role in corner.points]


def test_a_fact_about_a_part_goes_with_the_part(
    demo: Session, details: Details, selection: Selection
) -> None:
    corner = named(demo, "front corner")
    selection.choose(Ref(corner.id, "left"))
    damper = branch(details, "damper")
    assert isinstance(damper, OpenPart)
    assert any(fact.of.startswith("damper") for fact in corner.facts)

    click(damper.drop)
    if damper.sentence.text:  # what is in hand is only let go of on purpose
        click(button(damper, "Set free and change"))

    after = thing(demo, corner.id)
    assert isinstance(after, Corner)
    assert after.damper is None
    assert not any(fact.of.startswith("damper.") for fact in after.facts)
    assert damper.remark.text() == "don't know"


def test_an_own_value_inside_a_list_goes_with_its_item(
    demo: Session, details: Details, selection: Selection
) -> None:
    corner = named(demo, "front corner")
    left = Ref(corner.id, "left")
    demo.apply("apart", lambda d: release(d, left, "links.tie.outside"))
    selection.choose(left)
    links = a_list(details, "links")
    tie = next(r for r in links.items if r.address.path == "links.tie")

    click(tie.remove)

    after = thing(demo, corner.id)
    assert isinstance(after, Corner)
    assert after.right == ()
    assert "tie" not in {link.name for link in after.links}


def test_a_note_is_kept(demo: Session, details: Details, selection: Selection) -> None:
    selection.choose(Ref("point1", "left"))
    assert details.note is not None

    type_into(details.note.line, "moved for the tank")
    press(details.note.line, Qt.Key.Key_Return)

    assert thing(demo, "point1").note == "moved for the tank"


def test_what_hangs_on_a_thing_is_named_before_it_goes(
    demo: Session, details: Details, selection: Selection
) -> None:
    tube = named(demo, "M01_main_hoop")
    assert isinstance(tube, Tube)
    selection.choose(tube.start)

    click(details.out)

    assert details.card is not None
    told = " ".join(label.text() for label in details.card.findChildren(type(details.head.kind)))  # type: ignore[union-attr]
    assert "M01_main_hoop" in told
    click(button(details, "Keep it"))
    QApplication.processEvents()
    assert details.card is None
    assert thing(demo, tube.id) == tube


def test_escape_keeps_a_thing_that_was_about_to_go(
    demo: Session, details: Details, selection: Selection
) -> None:
    selection.choose(Ref("section1"))
    click(details.out)
    assert details.card is not None

    press(details.card, Qt.Key.Key_Escape)
    QApplication.processEvents()

    assert details.card is None
    assert thing(demo, "section1")


def test_several_tubes_get_another_section_at_once(
    demo: Session, details: Details, selection: Selection
) -> None:
    tubes = demo.state.document.tubes[:3]
    refs = [Ref(t.id, "left" if t.pair else "one") for t in tubes]
    selection.choose(*refs)
    assert details.several is not None
    field = details.several.section_field
    assert isinstance(field, ReferenceField)

    enter(field.line, "T38")

    section = Ref(named(demo, "T38").id)
    assert [value(demo, ref, "section") for ref in refs] == [section] * 3
    demo.undo()
    assert [value(demo, ref, "section") for ref in refs] == [t.section for t in tubes]


def test_several_tubes_get_another_state_at_once(
    demo: Session, details: Details, selection: Selection
) -> None:
    refs = [Ref(t.id, "left" if t.pair else "one") for t in demo.state.document.tubes[:2]]
    selection.choose(*refs)
    assert details.several is not None

    click(details.several.states.tabs["cut"])

    assert [value(demo, ref, "state") for ref in refs] == ["cut", "cut"]


def test_a_point_is_tied_to_a_tube_and_set_loose(
    demo: Session, details: Details, selection: Selection
) -> None:
    demo.apply("free", lambda d: make(d, Point, "loose", at=Vec3(-600.0, 10.0, 1100.0))[0])
    free = named(demo, "loose")
    selection.choose(Ref(free.id))
    assert details.place is not None
    click(details.place.tie)
    tube = details.place.tube
    assert isinstance(tube, ReferenceField)
    enter(tube.line, "M01_main_hoop")

    after = thing(demo, free.id)
    assert isinstance(after, Point)
    assert after.along is not None
    click(details.place.loosen)
    loose = thing(demo, free.id)
    assert isinstance(loose, Point)
    assert loose.at is not None
    assert number(details, "at.x").line.text()


@pytest.mark.parametrize("car", [DEMO, SECOND], ids=["demo car", "second car"])
def test_every_thing_of_a_car_is_shown_and_nothing_is_written(
    session: Session, details: Details, selection: Selection, car: Path
) -> None:
    session.open(car, as_copy=True)

    for entity in entities(session.state.document):
        selection.choose(sides(entity)[-1])
        assert details.head is not None
        assert details.head.name.line.text() == entity.name
    assert not session.history.can_undo


def test_showing_a_shaft_writes_nothing(
    demo: Session, details: Details, selection: Selection
) -> None:
    shaft = thing(demo, "drive_shaft1")
    assert isinstance(shaft, DriveShaft)
    selection.choose(SHAFT)

    for field in details.findChildren(NumberField):
        field.line.setFocus()
        QTest.keyClick(field.line, Qt.Key.Key_Return)
        QTest.keyClick(field.line, Qt.Key.Key_Tab)

    assert thing(demo, "drive_shaft1") is shaft
    assert msgspec.to_builtins(shaft)
    assert not demo.history.can_undo
