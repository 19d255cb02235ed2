"""What the forms of the tube tools share: asked values, one button, and a sentence at the place."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.widgets.binding import Draft
from app.widgets.field import Field, Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows
from app.widgets.word_button import word_button
from core.document.base import Entity, Ref, Side
from core.document.errors import JigplateError
from core.document.project import Document
from core.workshop.field_shapes import Shape

Making = Callable[[Document], tuple[Document, Entity]]


class NotYetError(Exception):
    """Something is not given yet; the text says what."""


class ToolForm(QFrame):
    """A card with asked values and a button that does one thing with them."""

    done = Signal(object)
    """What was made or changed, as a reference."""
    dropped = Signal()

    def __init__(
        self,
        context: FieldContext,
        title: str,
        words: str,
        do: str,
        parent: QWidget | None = None,
    ) -> None:
        """Begin a card with its title, a sentence about it and the words of its button."""
        super().__init__(parent)
        self.context = context
        look = context.look
        self.setProperty("ground", "card")
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(look.px(12), look.px(8), look.px(12), look.px(10))
        self.box.setSpacing(look.px(6))
        self.box.addWidget(label(title, "head"))
        self.box.addWidget(label(words, "small", "ink2"))
        self.rows = Rows(look, self)
        self.box.addWidget(self.rows)
        self.sentence = Sentence(look, self)
        self.do = word_button(do, "filled")
        self.do.clicked.connect(self.run)
        self.fields: dict[str, Field] = {}

    def ask(
        self, name: str, words: str, shape: Shape, unit: str = "", value: object = None
    ) -> None:
        """Ask for a value."""
        draft = Draft(shape, words, unit, value=value)
        field = self.context.field_for(draft, shape, self.rows)
        self.fields[name] = field
        self.rows.add(words, field)
        if len(self.fields) == 1:
            self.setFocusProxy(field)

    def finish(self) -> None:
        """Put the button at the foot; the end of every constructor."""
        self.box.addWidget(self.sentence)
        row = QHBoxLayout()
        row.addWidget(self.do)
        drop = word_button("Leave it", "plain")
        drop.clicked.connect(self.dropped.emit)
        row.addWidget(drop)
        row.addStretch(1)
        self.box.addLayout(row)

    def given(self, name: str) -> object:
        """What stands in a field.

        Raises:
            NotYetError: what is typed there cannot be read.
        """
        field = self.fields[name]
        if not field.settle():
            raise NotYetError(f"What is typed for «{field.binding.words}» cannot be used yet.")
        return field.binding.value()

    def ref(self, name: str) -> Ref:
        """The piece named in a field.

        Raises:
            NotYetError: none is.
        """
        value = self.given(name)
        if not isinstance(value, Ref):
            self.fields[name].setFocus(Qt.FocusReason.OtherFocusReason)
            raise NotYetError(f"«{self.fields[name].binding.words}» is not given yet.")
        return value

    def put(self, name: str, value: object) -> None:
        """Put a value into a field, as if it had been given."""
        field = self.fields[name]
        if field.typed is None:
            field.binding.keep(value)
            field.refresh()

    def run(self) -> None:
        """Do it, or say at the place what is missing or why it is refused."""
        try:
            words, making, side = self.plan()
            made: list[Entity] = []

            def edit(document: Document) -> Document:
                after, thing = making(document)
                made.append(thing)
                return after

            self.context.session.apply(words, edit)
        except (NotYetError, JigplateError) as error:
            self.sentence.say(as_sentence(error))
            return
        self.sentence.clear()
        thing = made[-1]
        self.after(thing)
        self.done.emit(Ref(thing.id, _side(thing, side)))

    def plan(self) -> tuple[str, Making, Side]:
        """What it is called in undo, what is done, and the side to choose afterwards.

        Raises:
            NotYetError: something is not given yet.
        """
        raise NotImplementedError

    def after(self, thing: Entity) -> None:
        """Get ready for the next one."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter does it, Esc leaves it."""
        if event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.run()
        else:
            super().keyPressEvent(event)
            return
        event.accept()


def _side(thing: Entity, side: Side) -> Side:
    if not thing.pair:
        return "one"
    return "left" if side == "one" else side
