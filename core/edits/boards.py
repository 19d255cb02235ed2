"""Writing down toe read with a board."""

from core.document.base import Ref
from core.document.boards import ToeBoard, ToeReading
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.branches import add_item, remove_item
from core.edits.finding_things import thing_of
from core.edits.names import free_name
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.engine.address import Address


def begin_board(
    document: Document, corner: Ref, readings: tuple[ToeReading, ...] = ()
) -> tuple[Document, ToeBoard]:
    """The document with a new round of readings at a wheel, and the round.

    Raises:
        EditRefusedError: it is no corner, or does not say which side.
    """
    wanted = f"toe board at {Lookup(document).label(corner)}"
    name = free_name((board.name for board in document.toe_boards), wanted)
    return make(document, ToeBoard, name, corner=corner, readings=readings)


def add_reading(document: Document, board_id: str, reading: ToeReading) -> Document:
    """The document with one more reading in a round.

    Raises:
        HeldError: the readings are held.
        EditRefusedError: it is no round of readings.
    """
    _board(document, board_id)
    return add_item(document, Address(Ref(board_id), "readings"), reading)


def remove_reading(document: Document, board_id: str, number: int) -> Document:
    """The document without a reading of a round.

    Raises:
        HeldError: the readings are held.
        EditRefusedError: there is no such reading.
    """
    board = _board(document, board_id)
    if not 0 <= number < len(board.readings):
        msg = f"{board.name} has {len(board.readings)} readings, and no number {number + 1}"
        raise EditRefusedError(msg)
    return remove_item(document, Address(Ref(board_id), "readings"), number)


def _board(document: Document, board_id: str) -> ToeBoard:
    thing = thing_of(document, board_id)
    if not isinstance(thing, ToeBoard):
        msg = f"{thing.name} is no round of toe readings"
        raise EditRefusedError(msg)
    return thing
