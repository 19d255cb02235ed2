"""Moving points, tying them to tubes, merging them."""

import msgspec

from core.document.base import Because, Fact, Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Along, Point
from core.edits.refusals import EditRefusedError
from core.edits.things import delete, kept_to_rules, replace_reference, thing_of
from core.edits.values import change, put_value, refuse_if_held, set_fact
from core.engine.address import Address


def move_point(
    document: Document, ref: Ref, to: Vec3, because: tuple[Because, ...] = ()
) -> Document:
    """The document with a point moved to `to`, in its carrier's frame, mm.

    Raises:
        HeldError: the point is held, or steel is fixed to it.
        EditRefusedError: it follows a tube, or is no point.
    """
    point = _point(document, ref)
    if point.along is not None:
        name = Lookup(document).label(ref)
        msg = (
            f"{name} follows {Lookup(document).label(point.along.tube)}; slide it, or set it loose"
        )
        raise EditRefusedError(msg)
    return change(document, Address(ref, "at"), to, because=because)


def slide_point(document: Document, ref: Ref, distance: float) -> Document:
    """The document with a point slid along the tube that it follows.

    Raises:
        HeldError: it is held.
        EditRefusedError: it does not follow a tube.
    """
    if _point(document, ref).along is None:
        msg = f"{Lookup(document).label(ref)} does not follow a tube; move it instead"
        raise EditRefusedError(msg)
    return change(document, Address(ref, "along.distance"), distance)


def tie_to_tube(document: Document, ref: Ref, along: Along) -> Document:
    """The document with a point made to follow a tube from now on.

    Raises:
        HeldError: it is held.
        EditRefusedError: the tube follows the point itself.
    """
    return _place_anew(document, ref, at=None, along=along)


def set_loose(document: Document, ref: Ref, at: Vec3) -> Document:
    """The document with a point at a place of its own, no longer following a tube.

    Raises:
        HeldError: it is held.
    """
    return _place_anew(document, ref, at=at, along=None)


def _place_anew(document: Document, ref: Ref, at: Vec3 | None, along: Along | None) -> Document:
    refuse_if_held(document, Address(ref, "at"))
    refuse_if_held(document, Address(ref, "along"))
    point = _point(document, ref)
    stored = thing_of(document, ref.id)
    assert isinstance(stored, Point)
    if stored.pair and any(own.of.split(".")[0] in ("at", "along") for own in stored.right):
        msg = f"the sides of {point.name} are placed apart; rejoin them first"
        raise EditRefusedError(msg)
    placed = msgspec.structs.replace(point, at=at, along=along)
    left = placed if ref.side != "right" else on_side(_as_pair(placed), "right")
    assert isinstance(left, Point)
    facts = tuple(f for f in stored.facts if f.of.split(".")[0] not in ("at", "along"))
    new = msgspec.structs.replace(stored, at=left.at, along=left.along, facts=facts)
    return kept_to_rules(document, replace_thing(document, new))


def _as_pair(point: Point) -> Point:
    return msgspec.structs.replace(point, pair=True, right=())


def merge_points(document: Document, keep: Ref, drop: Ref) -> Document:
    """The document with everything that met at `drop` meeting at `keep`, and `drop` gone.

    Raises:
        HeldError: `drop` is held where it is.
        EditRefusedError: a thing would then visit one joint twice, or the two are one pair.
    """
    if keep.id == drop.id:
        msg = "the two are the sides of one pair; put it on the centre plane, or make it single"
        raise EditRefusedError(msg)
    refuse_if_held(document, Address(drop, "at"))
    dropped, kept = thing_of(document, drop.id), thing_of(document, keep.id)
    if dropped.pair != kept.pair:
        msg = f"{dropped.name} and {kept.name} are not alike in being a pair; make them alike first"
        raise EditRefusedError(msg)
    after = replace_reference(document, drop, keep)
    if dropped.pair:
        after = replace_reference(after, drop.mirrored(), keep.mirrored())
    return delete(after, drop.id)


def measure_point(document: Document, ref: Ref, at: Vec3, uncertainty: float, how: str) -> Document:
    """The document with a point where it was measured to be, marked as measured."""
    after = put_value(document, Address(ref, "at"), at)
    fact = Fact(source="measured", uncertainty=uncertainty, how=how)
    return set_fact(after, Address(ref, "at"), fact)


def _point(document: Document, ref: Ref) -> Point:
    point = on_side(thing_of(document, ref.id), ref.side)
    if not isinstance(point, Point):
        msg = f"{point.name} is no point"
        raise EditRefusedError(msg)
    return point
