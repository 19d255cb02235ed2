"""The right field for each value, and rows of fields with what they are called."""

from dataclasses import dataclass, field

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Draft, Drawn
from app.widgets.choice_field import ChoiceField
from app.widgets.field import Field, fields_in
from app.widgets.number_field import NumberField
from app.widgets.place_field import PlaceField
from app.widgets.reference_field import ReferenceField
from app.widgets.text_field import TextField
from core.engine.address import Address
from core.workshop.field_shapes import Shape, What

LABEL_WIDTH = 98.0

_FIELDS: dict[What, type[Field]] = {
    "number": NumberField,
    "count": NumberField,
    "text": TextField,
    "choice": ChoiceField,
    "flag": ChoiceField,
    "reference": ReferenceField,
    "place": PlaceField,
}


@dataclass
class FieldContext:
    """What the fields of one panel share.

    Attributes:
        session: the car and its past.
        selection: what is chosen.
        look: theme and scale.
        drawn: the car as it is now, looked into once.
        texts: what was being typed in fields that were made anew, by address.
    """

    session: Session
    selection: Selection
    look: Look
    drawn: Drawn
    texts: dict[Address, str] = field(default_factory=dict[Address, str])

    def field_for(self, at: Address | Draft, shape: Shape, parent: QWidget) -> Field:
        """The field that a value of a shape wants; it goes on with what was being typed."""
        kind = _FIELDS[shape.what]
        made = kind(self.session, self.selection, self.look, at, parent, drawn=self.drawn)
        if isinstance(at, Address) and at in self.texts:
            made.take_up(self.texts.pop(at))
        return made

    def save_texts(self, widget: QWidget) -> None:
        """Note what is being typed in a widget that is about to be made anew."""
        for one in fields_in(widget):
            if one.typed is not None and one.address is not None:
                self.texts[one.address] = one.typed


def context_of(session: Session, selection: Selection, look: Look) -> FieldContext:
    """A context for the fields of one panel."""
    return FieldContext(session, selection, look, Drawn(session))


def is_plain(shape: Shape) -> bool:
    """Whether one field shows a value of a shape: it has no parts or items of its own."""
    return shape.what in _FIELDS


class Rows(QWidget):
    """Rows of a name and a field."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Make no rows yet."""
        super().__init__(parent)
        self._look = look
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.px(10))
        self._grid.setVerticalSpacing(look.px(6))
        self._grid.setColumnStretch(1, 1)

    def add(self, words: str, widget: QWidget) -> None:
        """Put a named row below the others; a place stands below its name, to have room."""
        row = self._grid.rowCount()
        if isinstance(widget, PlaceField):
            self._grid.addWidget(label(words, "small", "ink2"), row, 0, 1, 2)
            self._grid.addWidget(widget, row + 1, 0, 1, 2)
            return
        name = label(words, "table")
        name.setFixedWidth(self._look.px(LABEL_WIDTH))
        name.setBuddy(widget)
        name.setContentsMargins(0, self._look.px(5), 0, 0)
        top = Qt.AlignmentFlag.AlignTop
        self._grid.addWidget(name, row, 0, top)
        self._grid.addWidget(widget, row, 1, top)
        self._grid.setRowStretch(row, 0)

    def add_wide(self, widget: QWidget) -> None:
        """Put a widget across the whole width."""
        self._grid.addWidget(widget, self._grid.rowCount(), 0, 1, 2)
