"""What a thing is called and what is noted of it, for fields to show and set."""

from collections.abc import Callable

from app.session import Session
from app.widgets.binding import Drawn
from core.document.base import Entity, Fact
from core.document.project import Document
from core.edits.branches import set_note
from core.edits.things import rename
from core.workshop.field_shapes import Shape


class Said:
    """Words about a thing itself."""

    shape = Shape("text")
    unit = ""

    def __init__(
        self,
        session: Session,
        drawn: Drawn,
        thing_id: str,
        words: str,
        read: Callable[[Entity], str],
        write: Callable[[Document, str, str], Document],
    ) -> None:
        """Show words that `read` finds, and set them with `write`."""
        self._session, self._drawn, self._id = session, drawn, thing_id
        self.words = words
        self._read, self._write = read, write

    @property
    def is_there(self) -> bool:
        """Whether the thing is there."""
        return self._id in self._drawn.lookup.by_id

    def value(self) -> object:
        """The words now."""
        thing = self._drawn.lookup.by_id.get(self._id)
        return None if thing is None else self._read(thing)

    def keep(self, value: object, *, free: bool = False, group: object = None) -> None:
        """Set the words.

        Raises:
            JigplateError: they will not do.
        """
        del free
        words = f"Change {self.words} of {self.value() if self.words == 'name' else self._name}"
        self._session.apply(words, lambda d: self._write(d, self._id, str(value)), group=group)

    @property
    def _name(self) -> str:
        thing = self._drawn.lookup.by_id.get(self._id)
        return self._id if thing is None else thing.name

    def hold(self) -> str | None:
        """Nothing holds words."""
        return None

    def fact(self) -> Fact | None:
        """They come from the builder."""
        return None


def name_of(session: Session, drawn: Drawn, thing_id: str) -> Said:
    """The name of a thing."""
    return Said(session, drawn, thing_id, "name", lambda thing: thing.name, rename)


def note_of(session: Session, drawn: Drawn, thing_id: str) -> Said:
    """What is noted of a thing."""
    return Said(session, drawn, thing_id, "note", lambda thing: thing.note, set_note)
