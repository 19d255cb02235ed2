"""A form for a new thing: its name, and what it cannot be without."""

from typing import cast

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.widgets.binding import Draft
from app.widgets.draft_form import DraftPart, NotGivenError
from app.widgets.field import Field, Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows
from app.widgets.named import next_name
from app.widgets.text_field import TextField
from app.widgets.word_button import word_button
from app.widgets.words_line import WordsLine
from core.assess.limits import DEFAULTS
from core.document.base import Entity, Ref
from core.document.donors import DonorCorner, DonorPoint, usual_links
from core.document.errors import JigplateError
from core.document.project import KINDS, Document
from core.document.records import Limit
from core.edits.things import make
from core.workshop.field_shapes import Shape, required_fields
from core.workshop.kinds import kind_words

LEAST_ITEMS = {"outline": 3, "points": 2, "line": 2}
"""Rows that a list shows at first, where fewer items would be no use."""


class MakeForm(QFrame):
    """A card that makes a thing of one kind."""

    made = Signal(object)
    """The new thing, as a reference."""
    dropped = Signal()

    def __init__(self, context: FieldContext, field: str, parent: QWidget | None = None) -> None:
        """Ask for a thing of a kind, by its list in the document."""
        super().__init__(parent)
        self._context, self._field = context, field
        self._kind: type[Entity] = KINDS[field]
        words = kind_words(self._kind)
        look = context.look
        self.setProperty("ground", "card")
        box = QVBoxLayout(self)
        box.setContentsMargins(look.px(14), look.px(10), look.px(14), look.px(10))
        box.setSpacing(look.px(8))
        box.addWidget(label(f"New: {words.words}", "title"))
        box.addWidget(label(words.help, "small", "ink2"))
        self.name = Draft(Shape("text"), "name", value=next_name(context.drawn.lookup, self._kind))
        self.pair = Draft(Shape("flag"), "left and right", value=False)
        self.name_field, self.pair_field = self._ask_name(box)
        asked = required_fields(self._kind)
        names = (*asked, *(name for name in words.asks if name not in asked))
        self.values = DraftPart(context, self._kind, names, self, LEAST_ITEMS)
        box.addWidget(self.values)
        self.sentence = Sentence(look, self)
        box.addWidget(self.sentence)
        self.make, self.drop = (
            word_button(f"Make the {words.words}", "filled"),
            word_button("Leave it", "plain"),
        )
        self.make.clicked.connect(self.do)
        self.drop.clicked.connect(self.dropped.emit)
        row = QHBoxLayout()
        row.addWidget(self.make)
        row.addWidget(self.drop)
        row.addStretch(1)
        box.addLayout(row)
        box.addStretch(1)
        self.setFocusProxy(self.name_field)

    def _ask_name(self, box: QVBoxLayout) -> tuple[Field, Field]:
        rows = Rows(self._context.look, self)
        name = self._context.field_for(self.name, self.name.shape, rows)
        pair = self._context.field_for(self.pair, self.pair.shape, rows)
        rows.add("name", name)
        if self._kind.may_be_pair:
            rows.add("left and right", pair)
        else:
            pair.hide()
        box.addWidget(rows)
        return name, pair

    def take_keyboard(self) -> None:
        """Take the keyboard to the name, ready to be typed over."""
        self.name_field.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(self.name_field, TextField) and isinstance(self.name_field.line, WordsLine):
            self.name_field.line.selectAll()

    def do(self) -> None:
        """Make it, or say what is missing or wrong."""
        try:
            values = self.values.values()
        except NotGivenError as error:
            self.sentence.say(as_sentence(error))
            return
        self.name_field.settle()
        name, pair = str(self.name.value() or ""), self.pair.value() is True
        kind, session = self._kind, self._context.session
        if kind is Limit:
            values["unit"] = DEFAULTS[str(values["rule"])].unit
        if kind is DonorCorner:
            values["links"] = usual_links(_points(values))

        def edit(document: Document) -> Document:
            return make(document, kind, name, pair=pair, **values)[0]

        try:
            session.apply(f"Make {name}", edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return
        thing: Entity = getattr(session.state.document, self._field)[-1]
        self.made.emit(Ref(thing.id, "left" if thing.pair else "one"))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter makes it, Esc leaves it."""
        if event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.do()
        else:
            super().keyPressEvent(event)
            return
        event.accept()


def _points(values: dict[str, object]) -> tuple[DonorPoint, ...]:
    return cast("tuple[DonorPoint, ...]", values.get("points", ()))
