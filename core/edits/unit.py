"""Moving the engine and gearbox as one body, and letting the shafts settle the width."""

from typing import Final

from core.document.base import Because, Ref, Vec3
from core.document.facts import fact_at
from core.document.lookup import sides
from core.document.power import PowerUnit
from core.document.project import Document
from core.document.running_gear import Corner
from core.document.sides import on_side
from core.edits.finding_things import piece_of, thing_of
from core.edits.holds import shared
from core.edits.refusals import EditRefusedError
from core.edits.values import change, hold, set_free
from core.engine.address import Address

HELD_BY_SHAFTS: Final = "the drive shafts decide the width"


def move_unit(
    document: Document, ref: Ref, by: Vec3, because: tuple[Because, ...] = ()
) -> Document:
    """The document with the engine and gearbox, and all that is stored in its frame, moved by `by`.

    Raises:
        HeldError: its place is held, or tacked or welded steel would move.
        EditRefusedError: it is no engine and gearbox.
    """
    unit = thing_of(document, ref.id)
    if not isinstance(unit, PowerUnit):
        msg = f"{unit.name} is no engine and gearbox"
        raise EditRefusedError(msg)
    to = Vec3(*(a + b for a, b in zip(unit.origin, by, strict=True)))
    return change(document, Address(ref, "origin"), to, because=because)


def settle_width(
    document: Document, corner: Ref, outward: float, because: tuple[Because, ...] = ()
) -> Document:
    """The document with a corner's hub face moved outward, and held there by what decided it.

    Only the hub face moves: links and pick-ups of the corner stay where they are drawn.

    Args:
        document: where it is.
        corner: the corner, on the side meant; both sides move unless they are set free.
        outward: mm away from the centre plane; below zero, inward.
        because: what decides it; without it the shafts to that corner, its hub, and the outputs.

    Raises:
        HeldError: the hub face is held by something else than the shafts.
        EditRefusedError: it is no corner.
    """
    piece = piece_of(document, Corner, corner)
    address = Address(corner, "upright.hub_face.y")
    fact = fact_at(thing_of(document, corner.id), corner.side, address.path)
    free = fact is not None and fact.held == HELD_BY_SHAFTS
    ready = set_free(document, address) if free else document
    sign = -1.0 if corner.side == "right" else 1.0
    moved = change(ready, address, piece.upright.hub_face.y + sign * outward)
    held = hold(moved, address, HELD_BY_SHAFTS, because or deciding(document, corner))
    return shared(document, held)


def deciding(document: Document, corner: Ref) -> tuple[Because, ...]:
    """What decides where the hub face of a driven corner stands, on both sides of a pair."""
    thing = thing_of(document, corner.id)
    found: dict[tuple[Ref, str], None] = {}
    for shaft in document.drive_shafts:
        for ref in sides(shaft):
            if on_side(shaft, ref.side).corner.id == thing.id:
                found[ref, "length" if shaft.length is not None else "bench"] = None
                found[shaft.unit, "outputs"] = None
    for ref in sides(thing):
        piece = on_side(thing, ref.side)
        if isinstance(piece, Corner) and piece.hub is not None:
            found[piece.hub, "joint_to_face"] = None
    return tuple(Because(ref=ref, of=of) for ref, of in found)
