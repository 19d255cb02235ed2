"""What the menus can do with what is chosen: each one edit, each refusal told in words."""

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QObject

from app.asks import Asks
from app.notices import Notices
from app.selection import Selection
from app.session import Edit, Session
from core.document.base import Entity, Ref, Side
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.steel import Along, Point
from core.edits import things, tubes, values
from core.edits.names import name_of_copy
from core.edits.unit import settle_driven_wheels
from core.engine.address import Address, piece
from core.geometry.types import Array

Making = Callable[[Document], tuple[Document, Entity]]

PLACE_FIELDS = ("at", "along", "place", "origin", "centre", "upright.hub_face", "box")
"""Where the place of a thing may stand; the first that it has counts."""

SETTLE = "Settle the width"
"""What settling the width is called in undo, wherever it is asked for."""


class ChosenWork(QObject):
    """Edits on the chosen things of one window."""

    def __init__(
        self, session: Session, selection: Selection, asks: Asks, notices: Notices
    ) -> None:
        """Work on a session."""
        super().__init__()
        self._session = session
        self._selection = selection
        self.asks = asks
        self._notices = notices

    @property
    def _document(self) -> Document:
        return self._session.state.document

    def _label(self, ref: Ref) -> str:
        return Lookup(self._document).label(ref)

    def _try(self, words: str, edit: Edit) -> bool:
        """Do an edit, or tell why it is refused."""
        try:
            self._session.apply(words, edit)
        except JigplateError as error:
            self._notices.refuse(_sentence(error))
            return False
        return True

    def hold(self) -> None:
        """Ask for a reason and hold the place of what is chosen."""
        address = self._place_of(self._selection.refs[0])
        if address is None:
            return
        name = self._label(address.ref)
        question = "Why must it stay? It is told to whoever wants to move it."
        reason = self.asks.words(f"Hold {name} where it is", question)
        if reason:
            self._try(f"Hold {name}", lambda d: values.hold(d, address, reason))

    def set_free(self) -> None:
        """Let the place of what is chosen move again."""
        address = self._place_of(self._selection.refs[0])
        if address is not None:
            name = self._label(address.ref)
            self._try(f"Set {name} free", lambda d: values.set_free(d, address))

    def _place_of(self, ref: Ref) -> Address | None:
        thing = piece(Lookup(self._document), ref)
        for path in PLACE_FIELDS:
            if _value(thing, path) is not None:
                return Address(ref, path)
        self._notices.refuse(f"{self._label(ref)} has no place of its own to hold or to set free.")
        return None

    def other_side(self) -> None:
        """Choose the mirror images of what is chosen."""
        self._selection.choose(*(ref.mirrored() for ref in self._selection.refs))

    def make_pair(self) -> None:
        """Give the chosen thing its mirror image."""
        ref = self._selection.refs[0]
        words = f"Make {self._label(ref)} a left and right pair"
        if self._try(words, lambda d: things.mirror(d, ref.id)):
            self._selection.choose(Ref(ref.id, "left"))

    def copy(self) -> None:
        """Put a second one in, under the next free name, and choose it."""
        ref = self._selection.refs[0]
        thing = Lookup(self._document).by_id[ref.id]
        taken = (o.name for o in Lookup(self._document).by_id.values() if type(o) is type(thing))
        name = name_of_copy(taken, thing.name)
        words = f"Copy {thing.name}"
        self._make(words, lambda d: things.duplicate(d, ref.id, name), side=ref.side)

    def settle_width(self) -> None:
        """Hold the driven wheels where the drive shafts let them, and tell where that is."""
        before = self._session.state
        if not self._try(SETTLE, settle_driven_wheels):
            return
        if self._session.state is before:
            self._notices.tell("The width is settled: the drive shafts hold the wheels already.")
        else:
            self._notices.tell("The driven wheels are held where the drive shafts let them.")

    def make_tube(self) -> None:
        """Put a tube between two chosen points, of the section that most tubes have."""
        start, end = self._selection.refs
        section = _usual_section(self._document)
        if section is None:
            self._notices.refuse("There is no tube section in this car yet; enter one first.")
            return
        pair = start.side != "one" and start.side == end.side
        name = _numbered(self._document, "tube")
        self._make(
            f"Tube from {self._label(start)} to {self._label(end)}",
            lambda d: tubes.draw_tube(d, name, section, start, end, pair=pair),
            side=start.side if pair else "one",
        )

    def make_joint(self) -> None:
        """Put a joint half-way along the chosen tube."""
        ref = self._selection.refs[0]
        line = self._line_of(ref)
        if line is None:
            self._notices.refuse(f"{self._label(ref)} is no tube with a known shape.")
            return
        half = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum()) / 2.0
        name = _numbered(self._document, "joint")
        along = Along(tube=ref, distance=round(half, 1))
        pair = ref.side != "one"
        self._make(
            f"Tube joint on {self._label(ref)}",
            lambda d: things.make(d, Point, name, along=along, pair=pair),
            side=ref.side,
        )

    def cut_tube(self) -> None:
        """Part a tube at the chosen joint that follows it."""
        at = self._selection.refs[0]
        point = piece(Lookup(self._document), at)
        if not isinstance(point, Point) or point.along is None:
            words = f"{self._label(at)} follows no tube: choose a tube joint that lies along one."
            self._notices.refuse(words)
            return
        tube = point.along.tube
        name = _numbered(self._document, self._label(tube))
        words = f"Two tubes out of {self._label(tube)}"
        self._make(words, lambda d: tubes.split_tube(d, tube, at, name), side=tube.side)

    def _make(self, words: str, edit: Making, side: Side = "one") -> None:
        made: list[str] = []

        def do(document: Document) -> Document:
            after, thing = edit(document)
            made.append(thing.id)
            return after

        if self._try(words, do) and made:
            thing = Lookup(self._document).by_id[made[-1]]
            self._selection.choose(Ref(thing.id, side if thing.pair else "one"))

    def _line_of(self, ref: Ref) -> Array | None:
        tubes_drawn = self._session.state.scene.tubes
        return next((record.line for record in tubes_drawn if record.ref == ref), None)


def _usual_section(document: Document) -> Ref | None:
    counted: dict[Ref, int] = {}
    for tube in document.tubes:
        counted[tube.section] = counted.get(tube.section, 0) + 1
    if counted:
        return max(counted, key=lambda ref: counted[ref])
    return Ref(document.sections[0].id) if document.sections else None


def _numbered(document: Document, stem: str) -> str:
    taken = {thing.name for thing in Lookup(document).by_id.values()}
    number = 2 if stem in taken else 1
    while f"{stem} {number}" in taken:
        number += 1
    return f"{stem} {number}"


def _value(thing: object, path: str) -> object:
    value: object = thing
    for step in path.split("."):
        value = getattr(value, step, None)
    return value


def _sentence(error: Exception) -> str:
    """An error's text as a sentence of its own."""
    words = str(error).strip()
    head = words[:1].upper() + words[1:]
    return head if head.endswith((".", "!", "?")) else f"{head}."
