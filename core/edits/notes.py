"""Writing down why something is as it is."""

import msgspec

from core.document.base import Ref
from core.document.layers import replace_thing
from core.document.project import Document
from core.document.records import Note
from core.edits.finding_things import thing_of
from core.edits.holds import kept_to_rules
from core.edits.names import free_name
from core.edits.refusals import EditRefusedError
from core.edits.things import make


def write_note(
    document: Document, text: str, about: tuple[Ref, ...] = (), name: str = ""
) -> tuple[Document, Note]:
    """The document with a note about some things, and the note; named by its first words.

    Raises:
        EditRefusedError: it says nothing, or is about what is not there.
    """
    words = " ".join(text.split())
    if not words:
        msg = "the note is empty; write what should be known later"
        raise EditRefusedError(msg)
    called = free_name((note.name for note in document.notes), name.strip() or words)
    return make(document, Note, called, text=text.strip(), about=about)


def change_note(document: Document, note_id: str, text: str) -> Document:
    """The document with a note saying something else.

    Raises:
        EditRefusedError: it is no note, or would say nothing.
    """
    note = thing_of(document, note_id)
    if not isinstance(note, Note) or not text.strip():
        msg = f"{note.name} is no note" if not isinstance(note, Note) else "the note is empty"
        raise EditRefusedError(msg)
    changed = msgspec.structs.replace(note, text=text.strip())
    return (
        document if changed == note else kept_to_rules(document, replace_thing(document, changed))
    )
