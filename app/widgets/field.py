"""What every field has in common: its sentence below it, refusals, and what a refresh may touch."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label, set_property
from app.look.tokens import ColourName
from app.selection import Selection
from app.session import Session, State
from app.widgets.binding import Binding, Bound, Drawn
from app.widgets.summaries import value_words
from app.widgets.word_button import word_button
from core.document.base import other_side
from core.document.errors import JigplateError
from core.document.sides import on_side
from core.edits.refusals import HeldError
from core.edits.values import rejoin
from core.engine.address import Address

MEANWHILE = "Enter keeps what you typed, Esc takes that."
"""What to do when a value has changed under the typing hand."""


class Sentence(QWidget):
    """A sentence below what it is about, and perhaps one way on."""

    def __init__(
        self, look: Look, parent: QWidget | None = None, *, in_one_row: bool = False
    ) -> None:
        """Say nothing yet, and take no room."""
        super().__init__(parent)
        self._words = label("", "small", "no")
        self._way_on = word_button("")
        self._do: Callable[[], object] | None = None
        self._way_on.clicked.connect(self._go_on)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, look.px(2), 0, look.px(2))
        box.setSpacing(0)
        row = QHBoxLayout()
        row.setSpacing(look.px(4))
        if in_one_row:
            row.addWidget(self._words, 1)
        else:
            box.addWidget(self._words)
        row.addWidget(self._way_on)
        if not in_one_row:
            row.addStretch(1)
        box.addLayout(row)
        self.hide()

    @property
    def text(self) -> str:
        """What it says."""
        return "" if self.isHidden() else self._words.text()

    @property
    def way_on(self) -> str:
        """What it offers to do; nothing if it offers nothing."""
        return self._way_on.text() if self._do is not None else ""

    def say(
        self,
        words: str,
        way_on: str = "",
        do: Callable[[], object] | None = None,
        ink: ColourName = "no",
    ) -> None:
        """Say a sentence, and offer a way on."""
        self._words.setText(words)
        set_property(self._words, "ink", ink)
        self._do = do if way_on else None
        self._way_on.setText(way_on)
        self._way_on.setVisible(bool(way_on))
        self.setVisible(bool(words))

    def clear(self) -> None:
        """Say nothing."""
        self.say("")

    def _go_on(self) -> None:
        if self._do is not None:
            self._do()


class Field(QWidget):
    """A widget for one value; shows it, sets it, and tells at its own place why it is refused."""

    kept = Signal()
    """A value was kept."""

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
        """Show the value at an address, or wait for that of a draft."""
        super().__init__(parent)
        self.session, self.selection, self.look = session, selection, look
        self.drawn = drawn or Drawn(session)
        self.binding: Binding = Bound(session, at, self.drawn) if isinstance(at, Address) else at
        self._state: tuple[object, object] = (None, None)
        self.sentence = Sentence(look, self)
        self.side_note = Sentence(look, self, in_one_row=True)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(0, 0, 0, 0)
        self.body.setSpacing(0)
        session.changed.connect(self._session_changed)

    def finish(self, *rows: QWidget) -> None:
        """Put the rows of the field and its sentence in order; the end of every constructor."""
        for row in rows:
            self.body.addWidget(row)
        self.body.addWidget(self.sentence)
        self.body.addWidget(self.side_note)
        self.is_stale()
        self.refresh()
        self._tell_side()

    @property
    def address(self) -> Address | None:
        """Where its value is; nothing for a draft."""
        return self.binding.address if isinstance(self.binding, Bound) else None

    @property
    def typed(self) -> str | None:
        """What has been typed and is not kept yet; nothing if nothing has."""
        return None

    def take_up(self, text: str) -> None:
        """Go on with something that was typed before the field was made anew."""

    def settle(self) -> bool:
        """Keep what has been typed; whether nothing is left open."""
        return True

    def refresh(self) -> None:
        """Show the value as it is now."""

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is after.document or not self.is_stale():
            return
        if self.binding.is_there:
            self.refresh()
            self._tell_side()

    def is_stale(self) -> bool:
        """Whether what the field shows may have changed; asked at every step of a drag."""
        if not isinstance(self.binding, Bound):
            return True
        last, self._state = self._state, self.binding.state()
        return any(a is not b for a, b in zip(last, self._state, strict=True))

    def _tell_side(self) -> None:
        if isinstance(self.binding, Bound):
            tell_side(self.side_note, self.binding, self._join)

    def _join(self) -> None:
        assert isinstance(self.binding, Bound)
        address, name = self.binding.address, self.binding.said()
        try:
            self.session.apply(
                f"Join left and right of {name}", lambda d: rejoin(d, address.ref, address.path)
            )
        except JigplateError as error:
            self.sentence.say(as_sentence(error))

    def offer(self, value: object, *, free: bool = False, group: object = None) -> bool:
        """Keep a value, or say why it is refused; whether it was kept."""
        try:
            self.binding.keep(value, free=free, group=group)
        except HeldError as error:
            self._say_held(value, error)
            return False
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return False
        self.sentence.clear()
        self.kept.emit()
        return True

    def _say_held(self, value: object, error: HeldError) -> None:
        if isinstance(self.binding, Bound) and self.binding.can_be_freed():
            words = as_sentence(error)
            self.sentence.say(words, "Set free and change", lambda: self.change_freed(value))
        else:
            self.sentence.say(as_sentence(error))

    def change_freed(self, value: object) -> None:
        """Set a value although it was held, on purpose."""
        if self.offer(value, free=True):
            self.let_go()

    def let_go(self) -> None:
        """Forget what was typed, after it has been kept some other way."""
        self.refresh()


def tell_side(note: Sentence, bound: Bound, join: Callable[[], object]) -> None:
    """Say that the right side has its own value, and the other one beside it; else nothing."""
    thing, (ref, path) = bound.thing, bound.address
    if thing is None or not any(own.of == path for own in thing.right):
        note.clear()
        return
    other = on_side(thing, other_side(ref.side))
    words = value_words(bound.lookup, other, path) or "not known"
    head = "own on the right" if ref.side == "right" else "the right one has its own"
    note.say(f"{head}; {other_side(ref.side)}: {words}", "join again", join, ink="right")


def as_sentence(error: Exception) -> str:
    """What an error says, with a capital and a full stop."""
    text = str(error)
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else f"{text}."


def is_leaving(reason: Qt.FocusReason) -> bool:
    """Whether the keyboard goes elsewhere in the window, and not just to a menu or another one."""
    return reason not in (
        Qt.FocusReason.ActiveWindowFocusReason,
        Qt.FocusReason.PopupFocusReason,
        Qt.FocusReason.MenuBarFocusReason,
    )


def fields_in(widget: QWidget) -> list[Field]:
    """Every field inside a widget."""
    return widget.findChildren(Field)
