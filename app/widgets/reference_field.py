"""Another thing, chosen by its name or in the view."""

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import QCompleter, QHBoxLayout, QWidget

from app.look.look import Look
from app.look.style import set_property
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Binding, Draft, Drawn
from app.widgets.field import Field
from app.widgets.named import Named, choices, find, near
from app.widgets.word_button import word_button
from app.widgets.words_line import WordsLine
from core.document.base import Ref
from core.engine.address import Address


class ReferenceField(Field):
    """A reference: type a name, or take what is chosen in the view."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        at: Address | Binding,
        parent: QWidget | None = None,
        *,
        drawn: Drawn | None = None,
    ) -> None:
        """Show what the reference at an address names, or wait for one."""
        super().__init__(session, selection, look, at, parent, drawn=drawn)
        self._typed = False
        self._before: object = None
        self._named: list[Named] = []
        self.open_words = "none" if self.binding.shape.optional else "type a name"
        """What stands in the field as long as nothing is named."""
        self.line = WordsLine(look, self)
        self.line.setProperty("role", "table")
        self.line.setAccessibleName(self.binding.words)
        self.line.is_in_form = isinstance(self.binding, Draft)
        self._labels = QStringListModel(self)
        self._complete()
        self.take = word_button("take chosen")
        self.go = word_button("go to")
        self._connect()
        row = QWidget(self)
        box = QHBoxLayout(row)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.line, 1)
        box.addWidget(self.take)
        box.addWidget(self.go)
        self.finish(row)

    def _complete(self) -> None:
        completer = QCompleter(self._labels, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(12)
        completer.activated.connect(self._completed)
        self.line.setCompleter(completer)

    def _connect(self) -> None:
        help_ = getattr(self.binding, "help", "")
        self.line.setToolTip(help_[:1].upper() + help_[1:])
        self.line.textEdited.connect(self._text_edited)
        self.line.returnPressed.connect(self.settle)
        self.line.escaped.connect(self.restore)
        self.line.left.connect(self.settle)
        self.take.clicked.connect(self.take_chosen)
        self.go.clicked.connect(self._go_to)
        self.selection.changed.connect(self._offer_chosen)
        self.setFocusProxy(self.line)

    @property
    def typed(self) -> str | None:
        """What has been typed and is not kept yet."""
        return self.line.text() if self._typed else None

    def take_up(self, text: str) -> None:
        """Go on with a name that was being typed."""
        self._typed, self._before = True, self.binding.value()
        self.line.setText(text)

    def refresh(self) -> None:
        """Show the name of what is referred to; what is being typed stays."""
        value = self.binding.value()
        if not self._typed:
            self.line.setText(self._label(value))
            self.line.setCursorPosition(0)
        self.line.setPlaceholderText(self.open_words)
        self.go.setVisible(isinstance(value, Ref) and not isinstance(self.binding, Draft))
        self._offer_chosen()

    def is_stale(self) -> bool:
        """Whether the reference, or the name of what it names, may have changed."""
        value = self.binding.value()
        renamed = not self._typed and self._label(value) != self.line.text()
        return super().is_stale() or renamed

    def _label(self, value: object) -> str:
        return self.drawn.lookup.label(value) if isinstance(value, Ref) else ""

    def _fill(self) -> None:
        self._named = choices(self.drawn.lookup, self.binding.shape.kinds)
        self._labels.setStringList([one.label for one in self._named])

    def _offer_chosen(self) -> None:
        fits = self._chosen() is not None
        self.take.setVisible(fits)

    def _chosen(self) -> Ref | None:
        """The one thing chosen in the view, if the reference may name it and does not yet."""
        refs = self.selection.refs
        if len(refs) != 1 or refs[0] == self.binding.value():
            return None
        if self.address is not None and refs[0].id == self.address.ref.id:
            return None
        kinds = self.binding.shape.kinds
        thing = self.drawn.lookup.by_id.get(refs[0].id)
        tag = None if thing is None else type(thing).__struct_config__.tag
        return refs[0] if thing is not None and (not kinds or tag in kinds) else None

    def take_chosen(self) -> None:
        """Refer to what is chosen in the view."""
        ref = self._chosen()
        if ref is not None and self.offer(ref):
            self.let_go()

    def _go_to(self) -> None:
        value = self.binding.value()
        if isinstance(value, Ref):
            self.selection.choose(value)

    def _text_edited(self) -> None:
        if not self._typed:
            self._typed, self._before = True, self.binding.value()
            self._fill()
            completer = self.line.completer()
            completer.setCompletionPrefix(self.line.text())
            completer.complete()
        set_property(self.line, "wrong", value=False)
        self.sentence.clear()

    def _completed(self, text: object) -> None:
        if isinstance(text, str):  # the signal has a second form, with an index
            self.line.setText(text)
            self._typed = True
            self.settle()

    def settle(self) -> bool:
        """Keep the name that was typed, or say which there are; whether nothing is left open."""
        if not self._typed:
            return True
        text = self.line.text().strip()
        self._fill()
        found = find(self._named, text)
        if not text and (self.binding.shape.optional or isinstance(self.binding, Draft)):
            return self._keep(None)
        if found is None:
            return self._not_found(text)
        return self._keep(found)

    def _keep(self, ref: Ref | None) -> bool:
        if ref == self.binding.value() or self.offer(ref):
            self.let_go()
            return True
        set_property(self.line, "wrong", value=True)
        return False

    def _not_found(self, text: str) -> bool:
        close = near(self._named, text)
        if not text:
            words = "This cannot be left open: type a name."
        elif close:
            words = f"Which one: {', '.join(close)}?"
        elif self._named:
            some = ", ".join(one.label for one in self._named[:3])
            words = f"Nothing here is called «{text}». There is {some}."
        else:
            words = "There is nothing yet that could stand here; make one first."
        set_property(self.line, "wrong", value=True)
        self.sentence.say(words)
        return False

    def let_go(self) -> None:
        """Show what is kept."""
        self._typed = False
        set_property(self.line, "wrong", value=False)
        self.sentence.clear()
        self.refresh()

    def restore(self) -> None:
        """Bring back the name that was there."""
        self.let_go()
