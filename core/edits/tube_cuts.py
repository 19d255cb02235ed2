"""Splitting a tube in two, and joining two to one; who follows them keeps its place."""

from typing import Any, Final

import msgspec

from core.document.base import Own, Ref
from core.document.layers import replace_thing
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.sides import mirror_thing, on_side, set_on_side
from core.document.steel import Along, Bend, EndFixing, Point, Tube
from core.edits.deletions import delete
from core.edits.finding_things import piece_of, stored_of
from core.edits.holds import kept, refuse_if_held
from core.edits.points import set_loose, tie_to_tube
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.edits.tube_places import (
    Cut,
    cut_at,
    followers,
    from_start,
    is_beyond,
    run_straight_on,
    shape_of,
)
from core.engine.address import Address
from core.geometry.tubes import TubeShape

_PATH: Final = ("start", "end", "bends", "through", "fixings")
"""Fields that differ between the halves of a tube."""

AT_AN_END: Final = 1e-6
"""mm; a place nearer than this to the end of a tube is at it: rounding must not put it beyond."""

_ALIKE: Final = ("section", "material", "die", "state")
"""Fields that two tubes must have in common to be one."""


def split_tube(document: Document, ref: Ref, at: Ref, name: str) -> tuple[Document, Tube]:
    """The document with a tube cut in two at a joint that follows it, and the new second half.

    The joint keeps its place and no longer follows the tube. All others that follow it keep their
    places too, on the half that they are on. Of a pair both sides are cut.

    Args:
        document: where it is.
        ref: the tube, on the side that `at` is meant for.
        at: a point that follows the tube; one of a pair where the tube is a pair.
        name: what the second half is called.

    Raises:
        HeldError: the tube is tacked or welded, or what would change is held.
        EditRefusedError: the point does not follow that tube, the tube's shape is not known, the
            cut would go through a bend, or the sides of the tube or the point differ.
    """
    stored, joint = stored_of(document, Tube, ref), stored_of(document, Point, at)
    _refuse_unlike_sides(stored)
    if joint.pair != stored.pair:
        msg = f"{joint.name} and {stored.name} must both be pairs or both be single to cut there"
        raise EditRefusedError(msg)
    refuse_if_held(document, Address(ref, "bends"))
    cuts = {side: cut_at(document, side, _beside(at, ref, side)) for side in sides(stored)}
    cut = cuts[ref]
    after = set_loose(document, at)
    second = _second_half(document, piece_of(document, Tube, ref), at, cut)
    own = tuple(own for own in stored.right if own.of.split(".")[0] not in _PATH)
    after, new = make(after, Tube, name, **second)
    new = _as_pair(new, ref, own) if stored.pair else new
    after = replace_thing(after, new)
    after = _running(after, ref, _first_half(document, piece_of(document, Tube, ref), at, cut))
    for side, one_cut in cuts.items():
        after = _followers_on_halves(document, after, side, Ref(new.id, side.side), one_cut)
    return kept(document, after), new


def _refuse_unlike_sides(tube: Tube) -> None:
    if any(own.of.split(".")[0] in _PATH for own in tube.right):
        msg = f"the sides of {tube.name} run differently; rejoin them first"
        raise EditRefusedError(msg)


def _beside(joint: Ref, tube: Ref, side: Ref) -> Ref:
    """The piece of a joint that goes with one side of a tube, given that of another side."""
    return joint if side == tube else joint.mirrored()


def _as_pair(single: Tube, made_for: Ref, own: tuple[Own, ...]) -> Tube:
    """A pair of which a single tube is the piece on one side."""
    left = on_side(msgspec.structs.replace(single, pair=True), made_for.side)
    return msgspec.structs.replace(left, pair=True, right=own)


def _second_half(document: Document, tube: Tube, start: Ref, cut: Cut) -> dict[str, Any]:
    kept_fields = ("section", "role", "material", "die", "removable", "state", "end")
    shared = {field: getattr(tube, field) for field in kept_fields}
    through = tuple(r for r in tube.through if is_beyond(document, r, cut))
    fixings = tuple(f for f in tube.fixings if f.end == "end")
    bends = tube.bends[cut.bends_before :]
    return {**shared, "start": start, "bends": bends, "through": through, "fixings": fixings}


def _first_half(document: Document, tube: Tube, end: Ref, cut: Cut) -> dict[str, Any]:
    fixings: tuple[EndFixing, ...] = tuple(f for f in tube.fixings if f.end == "start")
    return {
        "bends": tube.bends[: cut.bends_before],
        "through": tuple(r for r in tube.through if not is_beyond(document, r, cut)),
        "fixings": fixings,
        "end": end,
    }


def _running(document: Document, ref: Ref, fields: dict[str, Any]) -> Document:
    """The document with a tube that runs otherwise, given as the piece on one side.

    Raises:
        EditRefusedError: a tube cannot run so.
    """
    stored = stored_of(document, Tube, ref)
    try:
        piece = msgspec.structs.replace(on_side(stored, ref.side), **fields)
        left = mirror_thing(piece) if ref.side == "right" else piece
        new = msgspec.structs.replace(stored, **{name: getattr(left, name) for name in fields})
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return replace_thing(document, new)


def _followers_on_halves(
    before: Document, after: Document, first: Ref, second: Ref, cut: Cut
) -> Document:
    """The document with all that followed a tube following the half that they stand on."""
    for ref, along in followers(before, first):
        if piece_of(after, Point, ref).along is not None:
            after = _set_along(after, ref, _on_half(along, first, second, cut))
    return after


def _on_half(along: Along, first: Ref, second: Ref, cut: Cut) -> Along:
    """The place along one half that a place along the whole tube is; at an end, right at it."""
    at, length = from_start(along, cut.shape), cut.shape.length
    is_beyond_cut = at > cut.at - AT_AN_END
    tube = second if is_beyond_cut else first
    before, behind = (at - cut.at, length - at) if is_beyond_cut else (at, cut.at - at)
    if min(before, behind) < AT_AN_END:
        return Along(tube=tube, distance=0.0, end="start" if before < behind else "end")
    return Along(tube=tube, distance=before if along.end == "start" else behind, end=along.end)


def _set_along(document: Document, ref: Ref, along: Along) -> Document:
    """The document with a point elsewhere along a tube, or one side of it if that has its own."""
    stored = stored_of(document, Point, ref)
    own = {o.of for o in stored.right if o.of.split(".")[0] == "along"}
    if ref.side != "right" or not own:
        return replace_thing(document, set_on_side(stored, ref.side, "along", along))
    values = tuple(o for o in stored.right if o.of not in own)
    right = (*values, Own(of="along", value=along))
    return replace_thing(document, msgspec.structs.replace(stored, right=right))


def join_tubes(document: Document, first: Ref, second: Ref) -> Document:
    """The document with two tubes that meet end to start made one, named as the first.

    Where they run straight on, the joint between them follows the joined tube from then on, and
    so do the points that followed either, each where it was. Else the joint stays as a bend, if
    the die's radius can be laid there.

    Raises:
        HeldError: one of them is tacked or welded, or what would change is held.
        EditRefusedError: they do not meet end to start, differ in section, material, die or
            state, or meet at an angle while points follow them.
    """
    a, b = piece_of(document, Tube, first), piece_of(document, Tube, second)
    _refuse_unlike(document, first, second)
    for ref in (first, second):
        refuse_if_held(document, Address(ref, "bends"))
    one, other = shape_of(document, first), shape_of(document, second)
    if run_straight_on(one, other):
        return _joined_in_line(document, first, second, one, other)
    _refuse_followers(document, (first, second))
    bends = (*a.bends, Bend(point=a.end), *b.bends)
    return _as_one(document, document, first, second, bends)


def _refuse_unlike(document: Document, first: Ref, second: Ref) -> None:
    a, b = stored_of(document, Tube, first), stored_of(document, Tube, second)
    for tube in (a, b):
        _refuse_unlike_sides(tube)
    alike = all(getattr(a, field) == getattr(b, field) for field in _ALIKE)
    meet = piece_of(document, Tube, first).end == piece_of(document, Tube, second).start
    if first.id == second.id or a.pair != b.pair or not alike or not meet:
        msg = (
            f"{a.name} and {b.name} must be alike in section, material, die and state, both pairs "
            "or both single, and meet where the first ends and the second starts"
        )
        raise EditRefusedError(msg)


def _refuse_followers(document: Document, tubes: tuple[Ref, ...]) -> None:
    for tube in tubes:
        for side in sides(stored_of(document, Tube, tube)):
            names = [Lookup(document).label(ref) for ref, _ in followers(document, side)]
            if names:
                name = Lookup(document).label(side)
                msg = f"{', '.join(names)} follow {name}, which would bend; set them loose first"
                raise EditRefusedError(msg)


def _joined_in_line(
    document: Document, first: Ref, second: Ref, one: TubeShape, other: TubeShape
) -> Document:
    a, b = piece_of(document, Tube, first), piece_of(document, Tube, second)
    after = document
    for side, beside in zip(_sides(document, first), _sides(document, second), strict=True):
        for ref, along in followers(document, side):
            distance = along.distance + (other.length if along.end == "end" else 0.0)
            after = _set_along(after, ref, msgspec.structs.replace(along, distance=distance))
        for ref, along in followers(document, beside):
            distance = along.distance + (one.length if along.end == "start" else 0.0)
            after = _set_along(after, ref, Along(tube=side, distance=distance, end=along.end))
    joined = _as_one(document, after, first, second, (*a.bends, *b.bends))
    joint = stored_of(joined, Point, a.end)
    if joint.along is None and joint.pair == stored_of(joined, Tube, first).pair:
        joined = tie_to_tube(joined, a.end, Along(tube=first, distance=one.length))
    return kept(document, joined)


def _sides(document: Document, ref: Ref) -> list[Ref]:
    """The side of a tube that is named, then the other if there is one."""
    return sorted(sides(stored_of(document, Tube, ref)), key=lambda side: side != ref)


def _as_one(
    before: Document, after: Document, first: Ref, second: Ref, bends: tuple[Bend, ...]
) -> Document:
    """The document with the second tube gone, and the first running to where that ended."""
    a, b = piece_of(before, Tube, first), piece_of(before, Tube, second)
    fixings = (
        *(f for f in a.fixings if f.end == "start"),
        *(f for f in b.fixings if f.end == "end"),
    )
    after = delete(after, second.id)
    through = (*a.through, *b.through)
    fields = {"end": b.end, "bends": bends, "through": through, "fixings": fixings}
    return kept(before, _running(after, first, fields))
