"""Filling a form with keys, as a builder would."""

from msgspec import Struct
from PySide6.QtWidgets import QComboBox, QLineEdit

from app.session import Session
from app.widgets.choice_field import ChoiceField
from app.widgets.draft_form import DraftInput, DraftPart
from app.widgets.field import Field
from app.widgets.number_field import NumberField
from app.widgets.place_field import PlaceField
from app.widgets.reference_field import ReferenceField
from app.widgets.text_field import TextField
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup
from core.workshop.kinds import choice_words
from tests.app.things.hands import click, fill


def fill_part(session: Session, part: DraftPart, values: dict[str, object]) -> None:
    """Type values into the fields of a part."""
    for name, value in values.items():
        fill_input(session, part.inputs[name], value)


def fill_input(session: Session, asked: DraftInput, value: object) -> None:
    """Type a value of any shape."""
    if asked.field is not None:
        fill_field(session, asked.field, value)
    elif asked.part is not None:
        assert isinstance(value, Struct)
        named = {n: getattr(value, n) for n in asked.part.inputs}
        fill_part(session, asked.part, named)
    else:
        assert isinstance(value, tuple)
        while len(asked.items) < len(value):
            click(asked.add)
        for item, each in zip(asked.items, value, strict=False):
            fill_input(session, item, each)


def fill_field(session: Session, field: Field, value: object) -> None:
    """Type a value into a field, or choose it."""
    if isinstance(field, PlaceField):
        assert isinstance(value, Vec3)
        for axis, number in zip("xyz", value, strict=True):
            fill(field.figures[axis].line, f"{number:g}")
    elif isinstance(field, ReferenceField):
        assert isinstance(value, Ref)
        fill(field.line, Lookup(session.state.document).label(value))
    elif isinstance(field, ChoiceField):
        choose(field.box, choice_words(value))
    elif isinstance(field, NumberField):
        fill(field.line, f"{value:g}")
    else:
        assert isinstance(field, TextField)
        assert isinstance(field.line, QLineEdit)
        fill(field.line, str(value))


def choose(box: QComboBox, words: str) -> None:
    """Choose words in a list by typing them, as the keyboard does."""
    number = box.findText(words)
    assert number >= 0, f"«{words}» is not offered"
    box.setCurrentIndex(number)
    box.activated.emit(number)
