"""Editors of whole things: their fields, the parts inside them, and lists with rows to add."""

from typing import cast

from msgspec import Struct
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.widgets.binding import Bound
from app.widgets.branch import Branch
from app.widgets.field_rows import FieldContext, Rows, is_plain
from app.widgets.fold_line import FoldLine
from app.widgets.summaries import words_of
from app.widgets.word_button import word_button
from core.edits.branches import add_item, put, remove_item, steps_of
from core.engine.address import Address
from core.workshop.field_shapes import Shape, field_shapes
from core.workshop.kinds import WORDS


class PartEditor(QWidget):
    """Every field of a thing, or of a part of one, each as the right widget."""

    def __init__(
        self,
        context: FieldContext,
        address: Address,
        part: type[Struct],
        leave_out: tuple[str, ...] = (),
        parent: QWidget | None = None,
    ) -> None:
        """Show the part at an address; the empty path is the whole thing."""
        super().__init__(parent)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(context.look.px(8))
        shapes = {n: s for n, s in field_shapes(part).items() if n not in leave_out}
        plain = {n: s for n, s in shapes.items() if is_plain(s) and not _folds(s)}
        if plain:
            rows = Rows(context.look, self)
            for name, shape in plain.items():
                at = _below(address, name)
                rows.add(WORDS[part].fields[name].words, context.field_for(at, shape, rows))
            box.addWidget(rows)
        self.parts: dict[str, OpenPart | ListEditor] = {}
        for name, shape in shapes.items():
            if name not in plain:
                made = editor_for(context, _below(address, name), shape, self)
                self.parts[name] = made
                box.addWidget(made)


def _folds(shape: Shape) -> bool:
    """Whether a place may be missing, so that it is entered and taken out as a whole."""
    return shape.what == "place" and shape.optional


def editor_for(
    context: FieldContext, address: Address, shape: Shape, parent: QWidget
) -> "OpenPart | ListEditor":
    """The editor of a part, of a place that may be missing, or of a list."""
    if shape.what == "list":
        return ListEditor(context, address, shape, parent)
    return OpenPart(context, address, shape, parent)


def _below(address: Address, step: str) -> Address:
    return Address(address.ref, f"{address.path}.{step}" if address.path else step)


class OpenPart(Branch):
    """A part of a thing, or a place that may be missing: entered and taken out as a whole."""

    def __init__(
        self, context: FieldContext, address: Address, shape: Shape, parent: QWidget | None = None
    ) -> None:
        """Show the part at an address."""
        super().__init__(context, address, shape, parent)
        self.enter = word_button("Enter it")
        self.drop = word_button("Take it out")
        self.enter.clicked.connect(self.ask)
        self.drop.clicked.connect(self.take_out)
        self.finish(self.enter, self.drop)

    def refresh(self) -> None:
        """Make it anew if it came or went."""
        if (self.inner is not None) != (self.bound.value() is not None):
            self.build()

    def build(self) -> None:
        """Show its fields, or that it is not known."""
        value = self.bound.value()
        if self.inner is not None:
            self.context.save_texts(self.inner)
        self.replace_inner(None if value is None else self._fields())
        known = value is not None
        self.remark.setText("" if known else "don't know")
        self.enter.setVisible(not known)
        self.drop.setVisible(known and self.shape.optional)

    def _fields(self) -> QWidget:
        if self.shape.part is None:
            return self.context.field_for(self.address, self.shape, self)
        return PartEditor(self.context, self.address, self.shape.part, parent=self)

    def ask(self) -> None:
        """Ask for what it cannot be without."""
        self.open_form(self.shape, self.bound.words, self._put)

    def _put(self, value: object) -> bool:
        address = self.address
        words = f"Enter {self.bound.whole_words} of {self._name}"
        return self.try_(words, lambda free: lambda d: put(d, address, value, free=free))

    @property
    def _name(self) -> str:
        return self.context.drawn.lookup.label(self.address.ref)

    def take_out(self) -> None:
        """Say that it is not known."""
        address = self.address
        words = f"Take {self.bound.whole_words} out of {self._name}"
        self.try_(words, lambda free: lambda d: put(d, address, None, free=free))


class ItemRow(QWidget):
    """One item of a list in a few words; clicked, its fields open below."""

    def __init__(self, editor: "ListEditor", number: int, address: Address) -> None:
        """Show an item folded."""
        super().__init__(editor)
        self.editor, self.number, self.address = editor, number, address
        context = editor.context
        self.summary = FoldLine(context.look, self)
        self.remove = word_button("take out")
        self.summary.clicked.connect(self.toggle)
        self.remove.clicked.connect(lambda: editor.remove(number))
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.summary, 1)
        row.addWidget(self.remove)
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(0, 0, 0, 0)
        self.box.setSpacing(context.look.px(2))
        self.box.addLayout(row)
        self.inner: QWidget | None = None
        self._bound = Bound(context.session, address, context.drawn)
        self.refresh()

    def refresh(self) -> None:
        """Show the item as it is now."""
        bound, lookup = self._bound, self.editor.context.drawn.lookup
        words = words_of(lookup, bound.value(), bound.unit)
        words = words or f"{self.editor.item_name} {self.number + 1}"
        if words != self.summary.text():
            self.summary.setText(words)

    def toggle(self) -> None:
        """Open its fields, or fold them."""
        if self.inner is not None:
            self.inner.hide()
            self.inner.deleteLater()
            self.inner = None
            self.summary.setChecked(False)
            self.editor.opened.discard(self.address.path)
            return
        item = self.editor.shape.item
        assert item is not None
        context = self.editor.context
        if item.part is not None:
            self.inner = PartEditor(context, self.address, item.part, parent=self)
        else:
            self.inner = context.field_for(self.address, item, self)
        self.box.addWidget(self.inner)
        self.summary.setChecked(True)
        self.editor.opened.add(self.address.path)


class ListEditor(Branch):
    """A list: its items folded to a line each, to be opened, taken out and added to."""

    def __init__(
        self, context: FieldContext, address: Address, shape: Shape, parent: QWidget | None = None
    ) -> None:
        """Show the list at an address."""
        super().__init__(context, address, shape, parent)
        self.opened: set[str] = set()
        self.items: list[ItemRow] = []
        self.add = word_button(f"Add {_article(self.item_name)}")
        self.add.clicked.connect(self.ask)
        self._steps: tuple[str, ...] = ()
        self.finish(self.add)

    @property
    def item_name(self) -> str:
        """What one item is called."""
        item = self.shape.item
        if item is not None and item.part is not None:
            return WORDS[item.part].words
        return "one more" if self.bound.words.endswith("s") else "item"

    def _values(self) -> tuple[object, ...]:
        value = self.bound.value()
        return cast("tuple[object, ...]", value) if isinstance(value, tuple) else ()

    def refresh(self) -> None:
        """Make the rows anew if items came, went or changed their names; else tell them anew."""
        if steps_of(self._values()) != self._steps:
            self.build()
        else:
            for row in self.items:
                row.refresh()

    def build(self) -> None:
        """Make a row for each item."""
        if self.inner is not None:
            self.context.save_texts(self.inner)
        values = self._values()
        self._steps = steps_of(values)
        rows = QWidget(self)
        box = QVBoxLayout(rows)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        self.items = [
            ItemRow(self, number, _below(self.address, step))
            for number, step in enumerate(self._steps)
        ]
        opened = set(self.opened)
        for row in self.items:
            box.addWidget(row)
            if row.address.path in opened:
                row.toggle()
        self.replace_inner(rows)
        self.remark.setText(str(len(values)) if values else "none")

    def ask(self) -> None:
        """Ask for what one more item cannot be without."""
        item = self.shape.item
        assert item is not None
        self.open_form(item, self.item_name, self._put)

    def _put(self, value: object) -> bool:
        address = self.address
        words = f"Add {_article(self.item_name)} to {self._name}"
        return self.try_(words, lambda free: lambda d: add_item(d, address, value, free=free))

    def remove(self, number: int) -> None:
        """Take an item out."""
        address = self.address
        words = f"Take {self.item_name} {number + 1} out of {self._name}"
        self.try_(words, lambda free: lambda d: remove_item(d, address, number, free=free))

    @property
    def _name(self) -> str:
        return self.context.drawn.lookup.label(self.address.ref)


def _article(words: str) -> str:
    if words.startswith(("one ", "a ")):
        return words
    return f"an {words}" if words[0] in "aeiou" else f"a {words}"
