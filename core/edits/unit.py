"""Moving the engine and gearbox as one body, and letting the shafts settle the width."""

from typing import Final

from core.assess.width import AxleWidth, axle_width, driven_pairs
from core.document.base import Because, Ref, Vec3
from core.document.facts import fact_at
from core.document.lookup import sides
from core.document.paths import covers
from core.document.power import PowerUnit
from core.document.project import Document
from core.document.running_gear import Corner, DriveShaft
from core.document.sides import on_side
from core.edits.finding_things import piece_of, thing_of
from core.edits.holds import refuse_if_held, shared
from core.edits.refusals import EditRefusedError
from core.edits.values import change, hold, set_free
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError

HELD_BY_SHAFTS: Final = "the drive shafts decide the width"
HUB_FACE: Final = "upright.hub_face.y"


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
    address = Address(corner, HUB_FACE)
    fact = fact_at(thing_of(document, corner.id), corner.side, address.path)
    free = fact is not None and fact.held == HELD_BY_SHAFTS
    ready = set_free(document, address) if free else document
    sign = -1.0 if corner.side == "right" else 1.0
    moved = change(ready, address, piece.upright.hub_face.y + sign * outward)
    held = hold(moved, address, HELD_BY_SHAFTS, because or deciding(document, corner))
    return shared(document, held)


def settle_driven_wheels(document: Document) -> Document:
    """The document with the wheels of every driven axle held where its shafts let them stand.

    A wheel whose plane is within stroke stays where it is; one that is not is brought to the
    nearest place that is. Of a pair of corners whose two sides move together, one place must suit
    both shafts.

    Raises:
        HeldError: a hub face is held by something else than the shafts.
        EditRefusedError: where the wheels may stand is not known, or no place suits the shafts.
    """
    try:
        pairs = compute(document, {}, driven_pairs)
        widths = [compute(document, {}, axle_width, *pair) for pair in pairs]
    except NotComputedError as error:
        raise EditRefusedError(f"the width is not known: {error}") from error
    if not widths:
        msg = "no left and right drive shaft are entered yet that would decide the width"
        raise EditRefusedError(msg)
    after = document
    for width in widths:
        after = _settled(after, width)
    return shared(document, after)


def _settled(document: Document, width: AxleWidth) -> Document:
    corners = tuple(piece_of(document, DriveShaft, ref).corner for ref in width.shafts)
    lower = [allowed.lower for allowed in width.ranges]
    upper = [allowed.upper for allowed in width.ranges]
    if _move_together(document, corners):
        outward = _nearest(width.planes[0], max(lower), min(upper))
        return _settled_at(document, corners[0], outward)
    for side, corner in enumerate(corners):
        outward = _nearest(width.planes[side], lower[side], upper[side])
        document = _settled_at(document, corner, outward)
    return document


def _settled_at(document: Document, corner: Ref, outward: float) -> Document:
    if outward == 0.0 and is_held_by_shafts(document, corner):
        return document
    fact = fact_at(thing_of(document, corner.id), corner.side, HUB_FACE)
    if fact is None or fact.held != HELD_BY_SHAFTS:
        refuse_if_held(document, Address(corner, HUB_FACE))
    return settle_width(document, corner, outward)


def is_held_by_shafts(document: Document, corner: Ref) -> bool:
    """Whether the hub face of a corner is held, and by all that decides it now."""
    fact = fact_at(thing_of(document, corner.id), corner.side, HUB_FACE)
    if fact is None or fact.held != HELD_BY_SHAFTS:
        return False
    return set(deciding(document, corner)) <= set(fact.because)


def set_driven_wheels_free(document: Document) -> Document:
    """The document with every hub face that the drive shafts hold free to move again."""
    after = document
    for shaft in document.drive_shafts:
        for ref in sides(shaft):
            corner = on_side(shaft, ref.side).corner
            fact = fact_at(thing_of(after, corner.id), corner.side, HUB_FACE)
            if fact is not None and fact.held == HELD_BY_SHAFTS:
                after = set_free(after, Address(corner, HUB_FACE))
    return after


def _move_together(document: Document, corners: tuple[Ref, ...]) -> bool:
    """Whether both corners are sides of one pair whose hub faces mirror each other."""
    if corners[0].id != corners[1].id:
        return False
    thing = thing_of(document, corners[0].id)
    return not any(covers(own.of, HUB_FACE) for own in thing.right)


def _nearest(plane: float, lower: float, upper: float) -> float:
    """How far outward a wheel plane must go to stand within stroke.

    Raises:
        EditRefusedError: no place is.
    """
    if lower > upper:
        msg = (
            "no place of the wheels suits the shafts with the engine and gearbox where it is; "
            "move it sideways, or set the right side apart"
        )
        raise EditRefusedError(msg)
    return min(max(plane, lower), upper) - plane


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
