"""In what the right one of a pair differs from the mirror image of the left."""

from functools import partial

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.session import Edit, State
from app.widgets.choice_field import WordsBox
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext
from app.widgets.word_button import word_button
from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.edits.values import rejoin, release
from core.workshop.kinds import fields_of, path_words


class Apart(QWidget):
    """The right side's own values, each to be joined again, and a way to set another one apart."""

    def __init__(self, context: FieldContext, ref: Ref, parent: QWidget | None = None) -> None:
        """Show a pair's differences."""
        super().__init__(parent)
        self._context, self._ref = context, ref
        self._shown: Entity | None = None
        look = context.look
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(look.px(4))
        self.words = label("", "small", "ink2")
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.fields = WordsBox(look, self)
        self.fields.setAccessibleName("what the right one differs in")
        self.fields.setProperty("role", "table")
        self.set_apart = word_button("Set apart", "plain")
        self.set_apart.clicked.connect(self._set_apart)
        self.sentence = Sentence(look, self)
        row = QHBoxLayout()
        row.addWidget(self.fields, 1)
        row.addWidget(self.set_apart)
        for item in (self.words, self._rows, row, self.sentence):
            if isinstance(item, QWidget):
                box.addWidget(item)
            else:
                box.addLayout(item)
        context.session.changed.connect(self._session_changed)
        self.refresh()

    @property
    def _thing(self) -> Entity | None:
        return self._context.drawn.lookup.by_id.get(self._ref.id)

    def refresh(self) -> None:
        """Show the differences as they are now."""
        thing = self._thing
        if thing is None or thing is self._shown:
            return
        self._shown = thing
        while (item := self._rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        owns = [own.of for own in thing.right]
        self.words.setText(
            "The right one is the mirror image of the left" + (" but for:" if owns else ".")
        )
        for path in owns:
            row = Sentence(self._context.look, self, in_one_row=True)
            words = path_words(type(thing), path)
            row.say(words, "join again", partial(self.join, path), ink="right")
            self._rows.addWidget(row)
        self._fill(thing, owns)

    def _fill(self, thing: Entity, owns: list[str]) -> None:
        chosen = self.fields.currentData()
        free = [name for name in fields_of(type(thing)) if name not in owns]
        self.fields.clear()
        for name in free:
            self.fields.addItem(path_words(type(thing), name), name)
        if chosen in free:
            self.fields.setCurrentIndex(free.index(chosen))

    def join(self, path: str) -> None:
        """Make the right one the mirror image of the left again at a path."""
        self._try(f"Join left and right of {self._name}", lambda d: rejoin(d, self._ref, path))

    def _set_apart(self) -> None:
        path = str(self.fields.currentData())
        self._try(f"Set the right {self._name} apart", lambda d: release(d, self._ref, path))

    @property
    def _name(self) -> str:
        return self._ref.id if self._thing is None else self._thing.name

    def _try(self, words: str, edit: Edit) -> None:
        try:
            self._context.session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
        else:
            self.sentence.clear()

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()
