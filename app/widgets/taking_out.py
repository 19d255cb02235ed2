"""Taking things out: at once where nothing hangs on them, else after all of it has been named."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.session import Session
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext
from app.widgets.word_button import word_button
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.things import delete, dependents, goes_with

MOST_NAMES = 12


def without_all(document: Document, ids: Iterable[str]) -> Document:
    """The document without several things and what cannot be without them."""
    for thing_id in ids:
        if thing_id in Lookup(document).by_id:
            document = delete(document, thing_id, with_dependents=True)
    return document


def hanging_on(document: Document, ids: tuple[str, ...]) -> tuple[list[str], list[str]]:
    """Names of what goes along with things, and of what only lets go of them."""
    lookup = Lookup(document)
    going = set[str]().union(*(goes_with(document, thing_id) for thing_id in ids))
    named = {d.ref.id for thing_id in going for d in dependents(document, thing_id)}
    along = sorted(lookup.by_id[i].name for i in going - set(ids))
    staying = sorted(lookup.by_id[i].name for i in named - going)
    return along, staying


class TakingOut(QFrame):
    """A card that names what hangs on a thing before it is taken out."""

    closed = Signal()

    def __init__(
        self, context: FieldContext, ids: tuple[str, ...], parent: QWidget | None = None
    ) -> None:
        """Name what hangs on these things."""
        super().__init__(parent)
        self._context, self._ids = context, ids
        self.setProperty("ground", "no")
        look = context.look
        box = QVBoxLayout(self)
        box.setContentsMargins(look.px(10), look.px(8), look.px(10), look.px(8))
        for words in sentences(context.session, ids):
            box.addWidget(label(words, "table"))
        self.sentence = Sentence(look, self)
        box.addWidget(self.sentence)
        along, _ = hanging_on(context.session.state.document, ids)
        self.together = word_button("Take all of it out" if along else "Take it out", "plain")
        self.keep = word_button("Keep it", "plain")
        self.together.clicked.connect(self.remove)
        self.keep.clicked.connect(self.closed.emit)
        row = QHBoxLayout()
        row.addWidget(self.together)
        row.addWidget(self.keep)
        row.addStretch(1)
        box.addLayout(row)
        self.setFocusProxy(self.keep)

    def remove(self) -> None:
        """Take it out with all that cannot be without it."""
        session, ids = self._context.session, self._ids
        try:
            session.apply(take_out_words(session, ids), lambda d: without_all(d, ids))
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
        else:
            self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc keeps it."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            event.accept()
        else:
            super().keyPressEvent(event)


def sentences(session: Session, ids: tuple[str, ...]) -> list[str]:
    """What would happen to the rest of the car, a sentence each; empty if nothing would."""
    along, staying = hanging_on(session.state.document, ids)
    told: list[str] = []
    if along:
        told.append(f"These cannot be without it and go as well: {_named(along)}.")
    if staying:
        told.append(f"These name it, stay, and let go of it: {_named(staying)}.")
    return told


def take_out_words(session: Session, ids: tuple[str, ...]) -> str:
    """What the step is called in undo."""
    lookup = Lookup(session.state.document)
    return f"Take out {_named([lookup.by_id[i].name for i in ids if i in lookup.by_id])}"


def _named(names: list[str]) -> str:
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    return ", ".join(names[:MOST_NAMES]) + more
