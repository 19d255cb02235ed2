"""Forms for what is not made yet: only what it cannot be without, with one button to keep it."""

from msgspec import Struct
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.widgets.binding import Draft
from app.widgets.field import Field, Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows, is_plain
from app.widgets.place_field import PlaceField
from app.widgets.word_button import word_button
from core.workshop.field_shapes import Shape, field_shapes, required_fields
from core.workshop.kinds import WORDS

LEAST_ROWS = 1


class NotGivenError(ValueError):
    """Something that is needed is not given yet, or cannot be read; the text says which."""


class DraftPart(QWidget):
    """Fields for some of the values of a part or a thing that is not made yet."""

    def __init__(
        self,
        context: FieldContext,
        part: type[Struct],
        names: tuple[str, ...],
        parent: QWidget | None = None,
        rows: dict[str, int] | None = None,
    ) -> None:
        """Ask for the named fields of a part."""
        super().__init__(parent)
        self.part, self.names = part, names
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(context.look.px(6))
        table = Rows(context.look, self)
        self.inputs: dict[str, DraftInput] = {}
        for name in names:
            words = WORDS[part].fields[name]
            shape = field_shapes(part)[name]
            made = DraftInput(
                context, shape, words.words, words.unit, words.help, self, (rows or {}).get(name, 0)
            )
            self.inputs[name] = made
            if is_plain(shape) and shape.what != "place":
                table.add(words.words, made)
            else:
                table.add_wide(made)
        box.addWidget(table)

    @property
    def is_empty(self) -> bool:
        """Whether nothing at all is given."""
        return all(one.is_empty for one in self.inputs.values())

    def values(self) -> dict[str, object]:
        """What is given, by field; fields with a value of their own are left out when empty.

        Raises:
            NotGivenError: something is missing, or half given, or cannot be read.
        """
        needed = required_fields(self.part)
        found: dict[str, object] = {}
        for name, one in self.inputs.items():
            if one.is_empty and name not in needed:
                continue
            if one.is_empty and one.items:
                raise NotGivenError(f"«{one.words}» is not given yet.")
            found[name] = one.value()
        return found


class DraftInput(QWidget):
    """One value of any shape that is not made yet: a field, a part, or a list of them."""

    def __init__(
        self,
        context: FieldContext,
        shape: Shape,
        words: str,
        unit: str = "",
        help_: str = "",
        parent: QWidget | None = None,
        rows: int = 0,
    ) -> None:
        """Ask for a value of a shape."""
        super().__init__(parent)
        self.context, self.shape, self.words, self.unit = context, shape, words, unit
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(0, 0, 0, 0)
        self.box.setSpacing(context.look.px(3))
        self.field: Field | None = None
        self.part: DraftPart | None = None
        self.items: list[DraftInput] = []
        if is_plain(shape):
            self._ask_plain(help_)
        elif shape.part is not None:
            self._ask_part(shape.part)
        else:
            self._ask_list(max(rows, LEAST_ROWS))

    def _ask_plain(self, help_: str) -> None:
        draft = Draft(self.shape, self.words, self.unit, help_)
        self.field = self.context.field_for(draft, self.shape, self)
        if self.shape.what == "place":
            self.box.addWidget(label(self.words, "small", "ink2"))
        self.box.addWidget(self.field)
        self.setFocusProxy(self.field)

    def _ask_part(self, part: type[Struct]) -> None:
        self.box.addWidget(label(self.words, "head"))
        self.part = DraftPart(self.context, part, required_fields(part), self)
        self.box.addWidget(self.part)
        for first in list(self.part.inputs.values())[:1]:
            self.setFocusProxy(first)

    def _ask_list(self, rows: int) -> None:
        self.box.addWidget(label(self.words, "small", "ink2"))
        self.add = word_button("Add one more")
        self.add.clicked.connect(self.add_row)
        self.box.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        for _ in range(rows):
            self.add_row()
        self.setFocusProxy(self.items[0])

    def add_row(self) -> None:
        """Ask for one more item."""
        item = self.shape.item
        assert item is not None
        words = f"{self.words} {len(self.items) + 1}"
        made = DraftInput(self.context, item, words, self.unit, parent=self)
        self.items.append(made)
        self.box.insertWidget(self.box.count() - 1, made)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is given."""
        if self.field is not None:
            begun = isinstance(self.field, PlaceField) and self.field.is_begun
            return self.field.typed is None and self.field.binding.value() is None and not begun
        if self.part is not None:
            return self.part.is_empty
        return all(item.is_empty for item in self.items)

    def value(self) -> object:
        """What is given.

        Raises:
            NotGivenError: it is missing, half given, or cannot be read.
        """
        if self.field is not None:
            return self._plain(self.field)
        if self.part is not None:
            try:
                return self.part.part(**self.part.values())
            except (ValueError, TypeError) as error:
                raise NotGivenError(as_sentence(error)) from error
        return tuple(item.value() for item in self.items if not item.is_empty)

    def _plain(self, field: Field) -> object:
        settled = field.settle()
        value = field.binding.value()
        if not settled:
            field.setFocus(Qt.FocusReason.OtherFocusReason)
            raise NotGivenError(f"What is typed for «{self.words}» cannot be kept yet.")
        if value is None and not self.shape.optional:
            field.setFocus(Qt.FocusReason.OtherFocusReason)
            raise NotGivenError(f"«{self.words}» is not given yet.")
        return value


class DraftForm(QFrame):
    """A card that asks for one value, with a button that gives it and one that drops it."""

    given = Signal(object)
    dropped = Signal()

    def __init__(
        self,
        context: FieldContext,
        shape: Shape,
        words: str,
        unit: str = "",
        parent: QWidget | None = None,
    ) -> None:
        """Ask for a value of a shape."""
        super().__init__(parent)
        self.setProperty("ground", "card")
        look = context.look
        box = QVBoxLayout(self)
        box.setContentsMargins(look.px(10), look.px(8), look.px(10), look.px(8))
        self.input = DraftInput(context, shape, words, unit, parent=self)
        self.sentence = Sentence(look, self)
        self.keep, self.drop = word_button("Enter it", "filled"), word_button("Leave it", "plain")
        self.keep.clicked.connect(self.give)
        self.drop.clicked.connect(self.dropped.emit)
        row = QHBoxLayout()
        row.addWidget(self.keep)
        row.addWidget(self.drop)
        row.addStretch(1)
        box.addWidget(self.input)
        box.addWidget(self.sentence)
        box.addLayout(row)
        self.setFocusProxy(self.input)

    def give(self) -> None:
        """Give what is entered, or say what is missing."""
        try:
            value = self.input.value()
        except NotGivenError as error:
            self.sentence.say(as_sentence(error))
            return
        self.sentence.clear()
        self.given.emit(value)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter gives it, Esc drops it."""
        if event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.give()
        else:
            super().keyPressEvent(event)
            return
        event.accept()
