"""Drawing tubes from joint to joint, bending them, and what they are made of."""

from collections.abc import Iterable
from typing import Final

from core.document.base import Ref, SteelState
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.sides import set_on_side
from core.document.steel import Bend, Point, Tube
from core.edits.finding_things import piece_of, stored_of
from core.edits.holds import kept, kept_to_rules
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.edits.tube_cuts import join_tubes, split_tube
from core.edits.values import change
from core.engine.address import Address

__all__ = [
    "draw_tube",
    "insert_bend",
    "join_tubes",
    "point_of",
    "remove_bend",
    "set_section",
    "set_state",
    "split_tube",
]

BENDS: Final = "bends."


def draw_tube(
    document: Document, name: str, section: Ref, start: Ref, end: Ref, *, pair: bool = False
) -> tuple[Document, Tube]:
    """The document with a straight tube from one joint to another, and the tube.

    Raises:
        EditRefusedError: the joints are one, or are not points.
    """
    return make(document, Tube, name, section=section, start=start, end=end, pair=pair)


def insert_bend(
    document: Document, ref: Ref, point: Ref, at: int, radius: float | None = None
) -> Document:
    """The document with a bend put into a tube, its arc's middle at a point.

    Args:
        document: where it is.
        ref: the tube, on the side that `point` is meant for.
        point: the middle of the new arc.
        at: how many bends come before it, from the tube's start.
        radius: of the centre line; without one the section's die gives it.

    Raises:
        HeldError: the tube is tacked or welded, or a bend of it is held.
        EditRefusedError: the tube passes that point already, or has fewer bends.
    """
    bends = piece_of(document, Tube, ref).bends
    _refuse_number(document, ref, at, len(bends) + 1)
    try:
        bend = Bend(point=point, radius=radius)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return _with_bends(document, ref, (*bends[:at], bend, *bends[at:]))


def remove_bend(document: Document, ref: Ref, number: int) -> Document:
    """The document with a tube straight where its bend of that number was.

    Raises:
        HeldError: the tube is tacked or welded, or that bend is held.
        EditRefusedError: it has no such bend.
    """
    bends = piece_of(document, Tube, ref).bends
    _refuse_number(document, ref, number, len(bends))
    return _with_bends(document, ref, (*bends[:number], *bends[number + 1 :]))


def _refuse_number(document: Document, ref: Ref, number: int, count: int) -> None:
    if not 0 <= number < count:
        bends = len(piece_of(document, Tube, ref).bends)
        how_many = f"{bends} {'bend' if bends == 1 else 'bends'}, counted from 0"
        msg = f"{Lookup(document).label(ref)} has {how_many}; {number} is out of range"
        raise EditRefusedError(msg)


def _with_bends(document: Document, ref: Ref, bends: tuple[Bend, ...]) -> Document:
    stored = stored_of(document, Tube, ref)
    if any(own.of.startswith(BENDS) for own in stored.right):
        msg = f"the right side of {stored.name} has figures of its own for a bend; rejoin it first"
        raise EditRefusedError(msg)
    try:
        changed = set_on_side(stored, ref.side, "bends", bends)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept(document, replace_thing(document, changed))


def set_section(document: Document, tubes: Iterable[Ref], section: Ref) -> Document:
    """The document with several tubes of another section.

    Raises:
        HeldError: one of them is tacked or welded, or its section is held.
        EditRefusedError: one of them is no tube, or there is no such section.
    """
    for ref in tubes:
        piece_of(document, Tube, ref)
        document = change(document, Address(ref, "section"), section)
    return document


def set_state(document: Document, ref: Ref, state: SteelState) -> Document:
    """The document with a tube planned, cut, bent, tacked, welded or spoilt; a pair's sides alike.

    Raises:
        EditRefusedError: it is no tube.
    """
    stored = stored_of(document, Tube, ref)
    changed = set_on_side(stored, ref.side, "state", state)
    return (
        document if changed == stored else kept_to_rules(document, replace_thing(document, changed))
    )


def point_of(document: Document, ref: Ref) -> Point:
    """The point that a reference names, on its side.

    Raises:
        EditRefusedError: it is no point.
    """
    return piece_of(document, Point, ref)
