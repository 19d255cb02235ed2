"""Moving points, tying them to tubes, setting them loose, merging them."""

from typing import Final

import msgspec

from core.assess.places import place
from core.document.base import Because, Fact, Own, Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.sides import mirror_place, mirror_thing, on_side, set_on_side
from core.document.steel import Along, Point, Tube
from core.edits.deletions import delete
from core.edits.finding_things import piece_of, stored_of
from core.edits.holds import kept, refuse_if_held
from core.edits.refusals import EditRefusedError
from core.edits.things import turned_to
from core.edits.tube_places import length_of
from core.edits.values import change, put_value, set_fact
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError

_PLACE: Final = ("at", "along")
"""The two ways of saying where a point is."""


def move_point(
    document: Document, ref: Ref, to: Vec3, because: tuple[Because, ...] = ()
) -> Document:
    """The document with a point moved to `to`, in its carrier's frame, mm.

    Raises:
        HeldError: the point is held, or steel is fixed to it.
        EditRefusedError: it follows a tube, or is no point.
    """
    point = piece_of(document, Point, ref)
    if point.along is not None:
        lookup = Lookup(document)
        tube = lookup.label(point.along.tube)
        msg = f"{lookup.label(ref)} follows {tube}; slide it, or set it loose"
        raise EditRefusedError(msg)
    return change(document, Address(ref, "at"), to, because=because)


def slide_point(document: Document, ref: Ref, distance: float) -> Document:
    """The document with a point slid along the tube that it follows.

    Args:
        document: where it is.
        ref: the point.
        distance: mm along the centre line, from the end that it is measured from.

    Raises:
        HeldError: it is held, or steel is fixed to it.
        EditRefusedError: it does not follow a tube, or the tube is not as long.
    """
    along = piece_of(document, Point, ref).along
    lookup = Lookup(document)
    if along is None:
        msg = f"{lookup.label(ref)} does not follow a tube; move it instead"
        raise EditRefusedError(msg)
    length = length_of(document, along.tube)
    if length is not None and distance > length:
        name, tube = lookup.label(ref), lookup.label(along.tube)
        msg = f"{name} cannot stand {distance:.1f} along {tube}, which is {length:.1f} long"
        raise EditRefusedError(msg)
    return change(document, Address(ref, "along.distance"), distance)


def tie_to_tube(document: Document, ref: Ref, along: Along) -> Document:
    """The document with a point made to follow a tube from now on.

    Raises:
        HeldError: it is held, or steel is fixed to it.
        EditRefusedError: the tube ends or bends at the point, or rests on it some other way.
    """
    tube = piece_of(document, Tube, along.tube)
    if ref in (tube.start, tube.end, *(bend.point for bend in tube.bends)):
        lookup = Lookup(document)
        msg = f"{lookup.label(along.tube)} ends or bends at {lookup.label(ref)}, so it cannot lead"
        raise EditRefusedError(msg)
    stored = stored_of(document, Point, ref)
    if _is_placed_apart(stored):
        msg = f"the sides of {stored.name} are placed apart; rejoin them first"
        raise EditRefusedError(msg)
    left = mirror_thing(along) if ref.side == "right" else along
    after = _with_point(document, stored, None, left, stored.right)
    return kept(document, _not_through(after, ref, along.tube))


def _not_through(document: Document, point: Ref, tube: Ref) -> Document:
    """The document with a point no longer among those that a tube merely passes: it follows it."""
    stored = stored_of(document, Tube, tube)
    through = on_side(stored, tube.side).through
    left = tuple(ref for ref in through if ref != point)
    if len(left) == len(through):
        return document
    return replace_thing(document, set_on_side(stored, tube.side, "through", left))


def set_loose(document: Document, ref: Ref, at: Vec3 | None = None) -> Document:
    """The document with a point at a place of its own, no longer following a tube.

    Args:
        document: where it is.
        ref: the point.
        at: where it goes, mm, on the side of `ref`; without it both sides stay where they are.

    Raises:
        HeldError: it is held, or steel is fixed to it.
        EditRefusedError: it does not follow a tube, or where it is is not known.
    """
    if piece_of(document, Point, ref).along is None:
        msg = f"{Lookup(document).label(ref)} does not follow a tube; it is loose already"
        raise EditRefusedError(msg)
    stored = stored_of(document, Point, ref)
    if at is not None:
        stands = {side.side: _on(at, ref, side) for side in sides(stored)}
    else:
        stands = {side.side: _stands(document, side) for side in sides(stored)}
    left, right = stands.get("left", stands.get("one")), stands.get("right")
    assert left is not None
    own = tuple(o for o in stored.right if o.of.split(".")[0] not in _PLACE)
    if right is not None and not _is_near(right, mirror_place(left)):
        own = (*own, Own(of="at", value=right))
    return kept(document, _with_point(document, stored, left, None, own))


def _on(at: Vec3, given: Ref, wanted: Ref) -> Vec3:
    return at if given == wanted else mirror_place(at)


def _stands(document: Document, ref: Ref) -> Vec3:
    try:
        return compute(document, {}, place, ref)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error


def _is_near(one: Vec3, other: Vec3) -> bool:
    return all(abs(a - b) <= SAME_PLACE for a, b in zip(one, other, strict=True))


SAME_PLACE: Final = 1e-6
"""mm; sides of a pair that are nearer than this to mirror images are stored as such."""


def _is_placed_apart(point: Point) -> bool:
    return any(own.of.split(".")[0] in _PLACE for own in point.right)


def _with_point(
    document: Document, stored: Point, at: Vec3 | None, along: Along | None, right: tuple[Own, ...]
) -> Document:
    """The document with a point placed anew, without the facts about where it was.

    Raises:
        EditRefusedError: it cannot stand there.
    """
    facts = tuple(f for f in stored.facts if f.of.split(".")[0] not in _PLACE)
    try:
        new = msgspec.structs.replace(stored, at=at, along=along, right=right, facts=facts)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return replace_thing(document, new)


def merge_points(document: Document, keep: Ref, drop: Ref) -> Document:
    """The document with everything that met at `drop` meeting at `keep`, and `drop` gone.

    Raises:
        HeldError: `drop` is held where it is, or tacked or welded steel would move.
        EditRefusedError: a thing would then visit one joint twice, or the two are one pair.
    """
    if keep.id == drop.id:
        msg = "the two are the sides of one pair; put it on the centre plane, or make it single"
        raise EditRefusedError(msg)
    kept_point, dropped = stored_of(document, Point, keep), stored_of(document, Point, drop)
    if dropped.pair != kept_point.pair:
        msg = f"{dropped.name} and {kept_point.name} are not alike in being a pair; make them alike"
        raise EditRefusedError(msg)
    for side in sides(dropped):
        for field in _PLACE:
            refuse_if_held(document, Address(side, field))
    pairs = ((drop, keep), (drop.mirrored(), keep.mirrored()))
    turned = turned_to(document, pairs if dropped.pair else pairs[:1])
    return kept(document, delete(turned, drop.id))


def measure_point(document: Document, ref: Ref, at: Vec3, uncertainty: float, how: str) -> Document:
    """The document with a point where it was measured to be, marked as measured.

    What is measured is so, whatever holds it: steel that is fixed moves on paper only.

    Raises:
        EditRefusedError: it is no point, or follows a tube.
    """
    if piece_of(document, Point, ref).at is None:
        msg = f"{Lookup(document).label(ref)} follows a tube; set it loose to give it a place"
        raise EditRefusedError(msg)
    after = put_value(document, Address(ref, "at"), at)
    fact = Fact(source="measured", uncertainty=uncertainty, how=how)
    return set_fact(after, Address(ref, "at"), fact)
