"""One thing of every kind: made in its form, then read, renamed, mirrored and taken out."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.panels.details import Details
from app.panels.things import Things, make_action_specs
from app.panels.things.actions import NOT_MADE_BY_HAND
from app.selection import Selection
from app.session import Session
from app.widgets.field import Field
from core.document.base import Entity, Ref
from core.document.project import KINDS
from core.edits.things import make
from core.workshop.field_shapes import field_shapes, required_fields
from tests.app.things.form_filling import fill_part
from tests.app.things.hands import button, click, enter, named, press, thing, type_into
from tests.app.things.makings import Ground, least_fields

BY_HAND = [field for field, kind in KINDS.items() if kind not in NOT_MADE_BY_HAND]

HANG_ON_PAIRS = ("tubes", "corners", "drive_shafts")
"""Kinds whose pairs need pairs to hang on; they are tried on the demo car."""
PAIRS = [f for f, kind in KINDS.items() if kind.may_be_pair and f not in HANG_ON_PAIRS]

ONE_OF_EACH = ("cars", "axles", "drive_shafts", "limits")
"""Kinds of which a second one just like the first contradicts it."""


@pytest.fixture
def ground(session: Session) -> Ground:
    made = Ground(session.state.document)
    session.apply("ground", lambda _: made.document)
    return made


@pytest.fixture
def field(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def of_kind(session: Session, ground: Ground, field: str) -> Entity:
    """The least thing of a kind in the car."""
    kind = KINDS[field]
    if not getattr(session.state.document, field):
        fields = least_fields(ground, field)
        session.apply("make", lambda d: make(d, kind, "the one", **fields)[0])
    found: Entity = getattr(session.state.document, field)[-1]
    return found


@pytest.mark.parametrize("field", BY_HAND)
def test_the_form_asks_for_no_more_than_is_needed_and_makes_it(
    session: Session, things: Things, selection: Selection, ground: Ground, field: str
) -> None:
    before = len(getattr(session.state.document, field))
    values = least_fields(ground, field)

    things.begin(field)
    assert things.form is not None
    assert set(required_fields(KINDS[field])) <= set(things.form.values.inputs)
    fill_part(session, things.form.values, values)
    click(things.form.make)

    assert things.form is None
    made = getattr(session.state.document, field)
    assert len(made) == before + 1
    assert selection.refs == (Ref(made[-1].id),)
    for name, value in values.items():
        assert getattr(made[-1], name) == value
    session.undo()
    assert len(getattr(session.state.document, field)) == before


@pytest.mark.parametrize("field", [f for f in BY_HAND if required_fields(KINDS[f])])
def test_an_empty_form_says_what_is_missing_and_makes_nothing(
    session: Session, things: Things, field: str
) -> None:
    before = session.state

    things.begin(field)
    assert things.form is not None
    for asked in things.form.values.inputs.values():
        if asked.field is not None and asked.field.binding.value() is not None:
            asked.field.binding.keep(None)
    click(things.form.make)

    assert session.state is before
    assert things.form is not None
    assert things.form.sentence.text


@pytest.mark.parametrize("field", KINDS)
@pytest.mark.usefixtures("field")
def test_details_show_every_field_of_the_kind(
    details: Details, selection: Selection, of_kind: Entity
) -> None:
    selection.choose(Ref(of_kind.id))

    assert details.editor is not None
    shown = {f.address.path.split(".")[0] for f in details.findChildren(Field) if f.address}
    shown |= set(details.editor.parts)
    if details.place is not None:
        shown |= {"at", "along"}
    assert shown >= set(field_shapes(type(of_kind)))


@pytest.mark.parametrize("field", KINDS)
@pytest.mark.usefixtures("field")
def test_a_thing_is_renamed_in_place_and_undone(
    session: Session, details: Details, selection: Selection, of_kind: Entity
) -> None:
    selection.choose(Ref(of_kind.id))
    assert details.head is not None
    line = details.head.name.line
    assert isinstance(line, QLineEdit)

    enter(line, "another name")

    assert thing(session, of_kind.id).name == "another name"
    session.undo()
    assert thing(session, of_kind.id).name == of_kind.name
    assert line.text() == of_kind.name


@pytest.mark.parametrize("field", KINDS)
@pytest.mark.usefixtures("field")
def test_a_thing_cannot_be_left_without_a_name(
    session: Session, details: Details, selection: Selection, of_kind: Entity
) -> None:
    selection.choose(Ref(of_kind.id))
    assert details.head is not None
    line = details.head.name.line

    type_into(line, "")
    press(line, Qt.Key.Key_Return)

    assert thing(session, of_kind.id).name == of_kind.name
    assert "name" in details.head.name.sentence.text


@pytest.mark.parametrize("field", KINDS)
@pytest.mark.usefixtures("field")
def test_a_thing_is_mirrored_where_it_has_two_sides_and_refused_in_words_where_not(
    session: Session, details: Details, selection: Selection, of_kind: Entity
) -> None:
    selection.choose(Ref(of_kind.id))
    if not of_kind.may_be_pair or of_kind.pair:
        assert not details.pair.isVisibleTo(details)
        return

    click(details.pair)

    if thing(session, of_kind.id).pair:
        assert selection.refs == (Ref(of_kind.id, "left"),)
        assert details.head is not None
        assert details.head.sides is not None
    else:
        assert details.sentence.text


@pytest.mark.parametrize("field", KINDS)
def test_a_thing_is_taken_out_after_what_hangs_on_it_is_named(
    session: Session, details: Details, selection: Selection, of_kind: Entity, field: str
) -> None:
    selection.choose(Ref(of_kind.id))

    click(details.out)
    if details.card is not None:
        assert of_kind.id in {t.id for t in getattr(session.state.document, field)}
        click(button(details, "Take all of it out"))

    assert of_kind.id not in {t.id for t in getattr(session.state.document, field)}
    session.undo()
    assert thing(session, of_kind.id) == of_kind


@pytest.mark.parametrize("field", PAIRS)
def test_the_right_of_a_pair_is_set_apart_in_any_field_and_joined_again(
    session: Session, details: Details, selection: Selection, ground: Ground, field: str
) -> None:
    fields = least_fields(ground, field)
    session.apply("pair", lambda d: make(d, KINDS[field], "a pair", pair=True, **fields)[0])
    made = getattr(session.state.document, field)[-1]
    selection.choose(Ref(made.id, "right"))

    set_apart_and_join(session, details, made)


def set_apart_and_join(session: Session, details: Details, pair: Entity) -> None:
    assert details.apart is not None

    click(details.apart.set_apart)

    first = next(iter(field_shapes(type(pair))))
    assert [own.of for own in thing(session, pair.id).right] == [first]
    click(button(details.apart, "join again"))
    assert thing(session, pair.id) == pair


@pytest.mark.parametrize("name", ["M03_roof_rail", "front corner"])
def test_the_right_of_a_pair_in_the_demo_car_is_set_apart_and_joined_again(
    demo: Session, details: Details, selection: Selection, name: str
) -> None:
    pair = named(demo, name)
    selection.choose(Ref(pair.id, "right"))

    set_apart_and_join(demo, details, pair)


@pytest.mark.parametrize("field", KINDS)
def test_a_copy_is_made_beside_it(
    session: Session, details: Details, selection: Selection, of_kind: Entity, field: str
) -> None:
    selection.choose(Ref(of_kind.id))
    count = len(getattr(session.state.document, field))

    click(details.copy)

    if field in ONE_OF_EACH:
        assert details.sentence.text
        assert len(getattr(session.state.document, field)) == count
        return
    made = getattr(session.state.document, field)
    assert len(made) == count + 1
    assert selection.refs[0].id == made[-1].id


@pytest.mark.parametrize("field", KINDS)
def test_every_kind_has_a_table_with_its_rows(
    session: Session, things: Things, of_kind: Entity, field: str
) -> None:
    things.show_kind(field)

    assert [row.thing.id for row in things.model.rows] == [
        t.id for t in getattr(session.state.document, field)
    ]
    assert of_kind.name in {row.cells[0] for row in things.model.rows}


def test_every_kind_has_an_action_to_list_it_and_all_but_two_one_to_make_it() -> None:
    specs = make_action_specs()

    assert {s.field for s in specs if s.does == "list"} == set(KINDS)
    assert {s.field for s in specs if s.does == "make"} == set(BY_HAND)
    assert len({s.id for s in specs}) == len(specs)
    assert all(s.words and s.tooltip for s in specs)
