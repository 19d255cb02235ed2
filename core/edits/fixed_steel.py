"""Steel that is tacked or welded: what its shape rests on, and edits that would move it."""

from collections.abc import Iterator
from typing import Final, NoReturn

import numpy as np

from core.assess.places import tube_shape
from core.document.base import Entity, Ref
from core.document.facts import fact_at
from core.document.lookup import Lookup, sides
from core.document.power import PowerUnit
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Die, Point, Section, Tube
from core.edits.refusals import HeldError
from core.edits.walks import Difference
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.geometry.types import Array

FIXED_STATES: Final = ("tacked", "welded")
MOVED_BY: Final = 1e-6
"""mm; a tube whose vertices and radii change by less has not moved."""

_SHAPING: Final[dict[type[Entity], tuple[str, ...]]] = {
    Tube: ("section", "start", "end", "bends", "die"),
    Point: ("at", "along", "carrier"),
    Die: ("radius",),
    Section: ("die",),
    PowerUnit: ("origin", "axes"),
}
"""Fields of each kind that a tube's shape can rest on."""

Moves = dict[Ref, list[Difference]]
"""What has changed of each side of a thing."""


def held_by_steel(lookup: Lookup, thing: Entity, address: Address) -> str | None:
    """The tacked or welded tube whose shape may rest on a value, unless that was set free."""
    fact = fact_at(thing, address.ref.side, address.path)
    field = address.path.split(".")[0]
    if field not in _SHAPING.get(type(thing), ()) or (fact and fact.free):
        return None
    for tube in lookup.document.tubes:
        if tube.state in FIXED_STATES and not _is_free(tube) and thing.id in rests_on(lookup, tube):
            return f"{tube.name} is {tube.state}" + ("" if tube is thing else " to it")
    return None


def _is_free(tube: Tube) -> bool:
    """Whether a tube's shape was set free on purpose, although it is tacked or welded."""
    return any(f.free and f.of.split(".")[0] in ("", *_SHAPING[Tube]) for f in tube.facts)


def rests_on(lookup: Lookup, tube: Tube) -> set[str]:
    """Ids of everything that the shape of a tube, on either side, can rest on."""
    found: set[str] = set()
    todo = [tube.id]
    while todo:
        thing = lookup.by_id.get(todo.pop())
        if thing is not None and thing.id not in found:
            found.add(thing.id)
            todo += [i for ref in sides(thing) for i in _under(lookup, on_side(thing, ref.side))]
    return found


def _under(lookup: Lookup, thing: Entity) -> Iterator[str]:
    """Ids of what the shape of one tube or the place of one point rests on directly."""
    if isinstance(thing, Tube):
        yield from (ref.id for ref in (thing.start, thing.end, *(b.point for b in thing.bends)))
        yield from (ref.id for ref in (thing.section, thing.die) if ref)
    elif isinstance(thing, Section) and thing.die:
        yield thing.die.id
    elif isinstance(thing, Point) and thing.along:
        yield thing.along.tube.id
    elif isinstance(thing, Point) and thing.carrier == "unit":
        yield from (unit.id for unit in lookup.document.power_units)


def refuse(name: str, holder: str) -> NoReturn:
    """Refuse to change what is held.

    Raises:
        HeldError: always, in words.
    """
    msg = f"{name} is held: {holder}. Set it free first if it is really to change"
    raise HeldError(msg)


def refuse_moving_steel(lookup: Lookup, after: Document, moves: dict[str, Moves]) -> None:
    """Refuse an edit that moves tacked or welded steel, unless it or what moves it was set free.

    Args:
        lookup: into the document before the edit.
        after: the document after it.
        moves: what the edit changed of each thing, by its id.

    Raises:
        HeldError: naming what would move it, and the steel.
    """
    fixed = [t for t in lookup.document.tubes if t.state in FIXED_STATES and not _is_free(t)]
    new = Lookup(after).by_id if fixed else {}
    for old in fixed:
        tube = new.get(old.id)
        under = sorted(rests_on(lookup, old))
        movers = [i for i in under if i not in new or not _are_free(lookup, moves.get(i, {}))]
        if isinstance(tube, Tube) and movers and _has_moved(lookup.document, after, old, tube):
            name = lookup.by_id[movers[0]].name
            refuse(name, f"{old.name} is {old.state}, and would move with it")


def _are_free(lookup: Lookup, moves: Moves) -> bool:
    """Whether everything that changed of a thing had been set free."""
    facts = (
        fact_at(lookup.by_id[ref.id], ref.side, change.path)
        for ref, found in moves.items()
        for change in found
    )
    return all(fact is not None and fact.free for fact in facts)


def _has_moved(before: Document, after: Document, old: Tube, new: Tube) -> bool:
    """Whether a tube has another section or runs elsewhere; a pair that was single may stay."""
    if old.section != new.section:
        return True
    stays = [_line(after, ref) for ref in sides(new)]
    return any(
        all(not _is_near(was, now) for now in stays)
        for ref in sides(old)
        if (was := _line(before, ref)) is not None
    )


def _line(document: Document, ref: Ref) -> Array | None:
    """Vertices and radii of a tube in one row; nothing where its shape is not known."""
    try:
        shape = compute(document, {}, tube_shape, ref)
    except NotComputedError:
        return None
    return np.concatenate([shape.vertices.ravel(), shape.radii])


def _is_near(
    was: Array,
    now: Array | None,
) -> bool:
    if now is None or was.shape != now.shape:
        return False
    return bool(np.all(np.abs(was - now) <= MOVED_BY))
