"""Drawing tubes from joint to joint, bending, splitting and joining them."""

from collections.abc import Iterable
from typing import Any

import msgspec

from core.document.base import Ref, SteelState
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError
from core.document.project import Document
from core.document.sides import on_side, set_on_side
from core.document.steel import Along, Bend, Point, Tube
from core.edits.refusals import EditRefusedError
from core.edits.things import delete, kept_to_rules, make, thing_of
from core.edits.tube_places import cut_places
from core.edits.values import refuse_if_held
from core.engine.address import Address


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
        HeldError: the tube is tacked or welded.
        EditRefusedError: the tube passes that point already.
    """
    bends = list(_tube(document, ref).bends)
    bends.insert(at, Bend(point=point, radius=radius))
    return _set(document, ref, "bends", tuple(bends))


def remove_bend(document: Document, ref: Ref, number: int) -> Document:
    """The document with a tube straight where its bend of that number was.

    Raises:
        HeldError: the tube is tacked or welded.
        EditRefusedError: it has no such bend.
    """
    bends = _tube(document, ref).bends
    if not 0 <= number < len(bends):
        msg = f"{Lookup(document).label(ref)} has {len(bends)} bends, numbered from 0"
        raise EditRefusedError(msg)
    return _set(document, ref, "bends", (*bends[:number], *bends[number + 1 :]))


def _set(document: Document, ref: Ref, field: str, value: object) -> Document:
    refuse_if_held(document, Address(ref, field))
    try:
        changed = set_on_side(thing_of(document, ref.id), ref.side, field, value)
    except (ValueError, NoSuchPathError) as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, changed))


def split_tube(document: Document, ref: Ref, at: Ref, name: str) -> tuple[Document, Tube]:
    """The document with a tube cut in two at a joint that follows it, and the new second half.

    The joint keeps its place and no longer follows the tube. Joints that followed the tube beyond
    the cut follow the second half, as far from the cut as they were.

    Args:
        document: where it is.
        ref: the tube, on the side that `at` is meant for.
        at: a point that follows the tube.
        name: what the second half is called.

    Raises:
        HeldError: the tube is tacked or welded.
        EditRefusedError: the point does not follow that tube, or the tube's shape is not known.
    """
    refuse_if_held(document, Address(ref, "bends"))
    places = cut_places(document, ref, at)
    tube = _tube(document, ref)
    after = document
    for follower, stands in places.loosened:
        after = _place(after, follower, {"at": stands, "along": None})
    second = _half(tube, at, places.bends_before)
    after, new = make(after, Tube, name, pair=thing_of(after, ref.id).pair, **second)
    for field, value in (("end", at), ("bends", tube.bends[: places.bends_before])):
        after = replace_thing(after, set_on_side(thing_of(after, ref.id), ref.side, field, value))
    for follower, distance in places.beyond:
        along = Along(tube=Ref(new.id, ref.side), distance=distance)
        after = replace_thing(
            after, set_on_side(thing_of(after, follower.id), follower.side, "along", along)
        )
    return kept_to_rules(document, after), new


def _half(tube: Tube, start: Ref, bends_before: int) -> dict[str, Any]:
    kept = ("section", "role", "material", "die", "removable", "state")
    shared = {field: getattr(tube, field) for field in kept}
    return {**shared, "start": start, "end": tube.end, "bends": tube.bends[bends_before:]}


def _place(document: Document, ref: Ref, fields: dict[str, Any]) -> Document:
    thing = thing_of(document, ref.id)
    return replace_thing(document, msgspec.structs.replace(thing, **fields))


def set_section(document: Document, tubes: Iterable[Ref], section: Ref) -> Document:
    """The document with several tubes of another section.

    Raises:
        HeldError: one of them is tacked or welded.
    """
    for ref in tubes:
        document = _set(document, ref, "section", section)
    return document


def set_state(document: Document, ref: Ref, state: SteelState) -> Document:
    """The document with a tube planned, cut, bent, tacked, welded or spoilt; both of a pair alike."""
    changed = set_on_side(thing_of(document, ref.id), ref.side, "state", state)
    return kept_to_rules(document, replace_thing(document, changed))


def join_tubes(document: Document, first: Ref, second: Ref) -> Document:
    """The document with two tubes of one section that meet end to start made one.

    The joint between them stays as a bend if the die's radius can be laid there, so it must be a
    point with coordinates.

    Raises:
        HeldError: one of them is tacked or welded.
        EditRefusedError: they do not meet end to start, or differ in section.
    """
    a, b = _tube(document, first), _tube(document, second)
    for ref in (first, second):
        refuse_if_held(document, Address(ref, "bends"))
    if a.end != b.start or a.section != b.section:
        msg = f"{a.name} and {b.name} must be of one section and meet where one ends and one starts"
        raise EditRefusedError(msg)
    bends = (*a.bends, Bend(point=a.end), *b.bends)
    through = (*a.through, *b.through)
    after = delete(document, second.id, with_dependents=_only_points_follow(document, second))
    for field, value in (("end", b.end), ("bends", bends), ("through", through)):
        after = replace_thing(
            after, set_on_side(thing_of(after, first.id), first.side, field, value)
        )
    return kept_to_rules(document, after)


def _only_points_follow(document: Document, ref: Ref) -> bool:
    followers = [p.name for p in document.points if p.along and p.along.tube.id == ref.id]
    if followers:
        msg = f"{', '.join(followers)} follow {Lookup(document).label(ref)}; set them loose first"
        raise EditRefusedError(msg)
    return False


def _tube(document: Document, ref: Ref) -> Tube:
    tube = on_side(thing_of(document, ref.id), ref.side)
    if not isinstance(tube, Tube):
        msg = f"{tube.name} is no tube"
        raise EditRefusedError(msg)
    return tube


def point_of(document: Document, ref: Ref) -> Point:
    """The point that a reference names, on its side.

    Raises:
        EditRefusedError: it is no point.
    """
    point = on_side(thing_of(document, ref.id), ref.side)
    if not isinstance(point, Point):
        msg = f"{point.name} is no point"
        raise EditRefusedError(msg)
    return point
