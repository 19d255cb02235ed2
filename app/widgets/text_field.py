"""Words in a field: Enter keeps, Esc restores, and what is typed outlives a refresh."""

from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.look.style import set_property
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Binding, Draft, Drawn
from app.widgets.field import MEANWHILE, Field
from app.widgets.words_line import WordsLine, WordsPage
from core.engine.address import Address

LONG = 24
"""Words of more letters than these are told in full when the pointer rests on them."""


class TextField(Field):
    """Words of a thing: a description, a size, a reason."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        at: Address | Binding,
        parent: QWidget | None = None,
        *,
        drawn: Drawn | None = None,
        many_lines: bool = False,
    ) -> None:
        """Show the words at an address, or wait for some."""
        super().__init__(session, selection, look, at, parent, drawn=drawn)
        self._typed = False
        self._before: object = None
        self.line: WordsLine | WordsPage = (
            WordsPage(look, self) if many_lines else WordsLine(look, self)
        )
        self.line.setProperty("role", "table")
        self.line.setAccessibleName(self.binding.words)
        if isinstance(self.line, WordsLine):
            self.line.is_in_form = isinstance(self.binding, Draft)
        help_: str = getattr(self.binding, "help", "")
        self._help = help_[:1].upper() + help_[1:]
        self.line.textEdited.connect(self._text_edited)
        self.line.returnPressed.connect(self.settle)
        self.line.escaped.connect(self.restore)
        self.line.left.connect(self.settle)
        self.setFocusProxy(self.line)
        self.finish(self.line)

    @property
    def typed(self) -> str | None:
        """What has been typed and is not kept yet."""
        return self.line.text() if self._typed else None

    def take_up(self, text: str) -> None:
        """Go on with a text that was being typed."""
        self._typed, self._before = True, self.binding.value()
        self.line.setText(text)

    def refresh(self) -> None:
        """Show the words as they are now; what is being typed stays."""
        value = self.binding.value()
        if self._typed:
            if value != self._before:
                self._before = value
                self.sentence.say(f"Meanwhile it became «{value}». {MEANWHILE}", ink="ink2")
            return
        text = str(value) if value is not None else ""
        self.line.setText(text)
        self.line.setToolTip(text if len(text) > LONG else self._help)
        if isinstance(self.line, WordsLine):
            self.line.setCursorPosition(0)

    def _text_edited(self) -> None:
        if not self._typed:
            self._typed, self._before = True, self.binding.value()
        self._say_wrong(wrong=False)

    def settle(self) -> bool:
        """Keep what has been typed; whether nothing is left open."""
        if not self._typed:
            return True
        if not self.offer(self.line.text().strip()):
            self._say_wrong(wrong=True)
            return False
        self.let_go()
        return True

    def let_go(self) -> None:
        """Show what is kept."""
        self._typed = False
        self._say_wrong(wrong=False)
        self.refresh()

    def _say_wrong(self, *, wrong: bool) -> None:
        set_property(self.line, "wrong", wrong)
        if not wrong:
            self.sentence.clear()

    def restore(self) -> None:
        """Bring back the words that were there."""
        self.let_go()
