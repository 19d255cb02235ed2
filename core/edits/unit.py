"""Moving the engine and gearbox as one body, and letting the shafts settle the width."""

from core.document.base import Because, Ref, Vec3
from core.document.power import PowerUnit
from core.document.project import Document
from core.document.running_gear import Corner
from core.document.sides import on_side
from core.edits.refusals import EditRefusedError
from core.edits.things import thing_of
from core.edits.values import change, hold, set_free
from core.engine.address import Address

HELD_BY_SHAFTS = "the drive shafts decide the width"


def move_unit(
    document: Document, ref: Ref, by: Vec3, because: tuple[Because, ...] = ()
) -> Document:
    """The document with the engine and gearbox, and all that is stored in its frame, moved by `by`.

    Raises:
        HeldError: its place is held.
        EditRefusedError: it is no engine and gearbox.
    """
    unit = thing_of(document, ref.id)
    if not isinstance(unit, PowerUnit):
        msg = f"{unit.name} is no engine and gearbox"
        raise EditRefusedError(msg)
    to = Vec3(*(a + b for a, b in zip(unit.origin, by, strict=True)))
    return change(document, Address(ref, "origin"), to, because=because)


def settle_width(
    document: Document, corner: Ref, outward: float, because: tuple[Because, ...]
) -> Document:
    """The document with a corner's hub face moved outward, and held there by what decided it.

    Only the hub face moves: links and pick-ups of the corner stay where they are drawn.

    Args:
        document: where it is.
        corner: the corner, on the side meant; both sides move unless they are set free.
        outward: mm away from the centre plane; below zero, inward.
        because: the shafts, joints and outputs that decide it.

    Raises:
        EditRefusedError: it is no corner.
    """
    thing = thing_of(document, corner.id)
    if not isinstance(thing, Corner):
        msg = f"{thing.name} is no corner"
        raise EditRefusedError(msg)
    address = Address(corner, "upright.hub_face.y")
    sign = -1.0 if corner.side == "right" else 1.0
    piece = on_side(thing, corner.side)
    assert isinstance(piece, Corner)
    freed = set_free(document, address)
    moved = change(freed, address, piece.upright.hub_face.y + sign * outward)
    return hold(moved, address, HELD_BY_SHAFTS, because)
