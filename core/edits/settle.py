"""Putting many coordinates of a corner where a proposal wants them, as one edit."""

from collections.abc import Iterable
from typing import NamedTuple

from core.document.base import Because
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.steel import Point
from core.edits.refusals import EditRefusedError
from core.edits.values import change
from core.engine.address import Address, value_of


class Placed(NamedTuple):
    """A coordinate and where it goes, mm, in its own frame."""

    address: Address
    to: float


def settle_places(
    document: Document, places: Iterable[Placed], because: tuple[Because, ...] = ()
) -> Document:
    """The document with coordinates where a proposal wants them; both sides of a pair move alike.

    Args:
        document: where they are.
        places: each coordinate of a point or a rack, once.
        because: what was aimed at; kept in the fact of each.

    Returns:
        The very same document if nothing moves.

    Raises:
        HeldError: one of them is held, or tacked or welded steel would move; nothing moves then.
        EditRefusedError: one follows a tube, or is no number, or a rule is broken.
    """
    after = document
    for address, to in places:
        _refuse_what_follows(document, address)
        if value_of(Lookup(document), address) == to:
            continue
        after = change(after, address, to, because=because)
    return after


def _refuse_what_follows(document: Document, address: Address) -> None:
    lookup = Lookup(document)
    point = lookup.by_id.get(address.ref.id)
    if isinstance(point, Point) and point.at is None:
        msg = f"{lookup.label(address.ref)} follows a tube; slide it, or set it loose"
        raise EditRefusedError(msg)
