"""What holds values and steel where they are, and what an edit is refused for."""

from collections.abc import Callable, Iterator
from typing import Final

import msgspec
import numpy as np

from core.assess.places import tube_shape
from core.document.base import Entity, Fact, Ref
from core.document.errors import BrokenRulesError
from core.document.facts import counting_fact, fact_at, hold_reason
from core.document.layers import replace_thing
from core.document.lookup import Lookup, sides
from core.document.paths import Path, covers
from core.document.power import PowerUnit
from core.document.project import KINDS, Document
from core.document.rules import check_change
from core.document.sides import on_side
from core.document.steel import Die, Point, Section, Tube
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.walks import Difference, differences, moved_path
from core.engine.address import Address, said
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

_UNBUILT: Final = ("state",)
"""Fields that say how far a thing is built; a hold on the thing does not keep it from being so."""


def held_by(document: Document, address: Address) -> str | None:
    """What holds a value, as the end of «… is held: it is …»; nothing if it may move."""
    lookup = Lookup(document)
    thing = lookup.by_id.get(address.ref.id)
    if thing is None:
        return None
    whole = Difference(address.path, is_whole=True)
    for side in _sides_moved(thing, address):
        reason = _held_by_fact(thing.facts, side, whole)
        if reason:
            return reason
    return _held_by_steel(lookup, thing, address)


def _sides_moved(thing: Entity, address: Address) -> tuple[str, ...]:
    """The sides that move when a value is changed on one: both, unless it is the right's own."""
    if not thing.pair:
        return ("one",)
    if any(covers(own.of, address.path) for own in thing.right):
        return (address.ref.side,)
    return ("left", "right")


def _held_by_fact(facts: tuple[Fact, ...], side: str, change: Difference) -> str | None:
    """Why a change of a value may not be; of a whole branch also for what is inside it."""
    counting = [counting_fact(facts, side, change.path)]
    if change.is_whole:
        counting += [
            counting_fact(facts, side, fact.of) for fact in facts if covers(change.path, fact.of)
        ]
    return next((reason for fact in counting if (reason := hold_reason(fact))), None)


def _held_by_steel(lookup: Lookup, thing: Entity, address: Address) -> str | None:
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


def refuse_if_held(document: Document, address: Address) -> None:
    """Refuse to touch what is held.

    Raises:
        HeldError: naming what holds it and how to set it free.
    """
    holder = held_by(document, address)
    if holder:
        raise _held(said(Lookup(document), address), holder)


def _held(name: str, holder: str) -> HeldError:
    return HeldError(f"{name} is held: {holder}. Set it free first if it is really to change")


def kept_to_rules(before: Document, after: Document) -> Document:
    """`after`, if its things do not contradict one another.

    Raises:
        EditRefusedError: with the first contradiction.
    """
    faults = check_change(before, after)
    if faults:
        raise EditRefusedError(faults[0].words) from BrokenRulesError(faults)
    return after


def kept(before: Document, after: Document) -> Document:
    """`after`, if its things agree and nothing that is held has changed or moved.

    Facts follow the items of lists that they are about, and go with them. Numbers that were
    measured or in hand, and were changed since they are free, count as chosen.

    Raises:
        EditRefusedError: its things contradict one another.
        HeldError: a number that is held has changed, or tacked or welded steel has moved.
    """
    if after is before:
        return before
    after = _with_facts(before, after, _facts_moved)
    kept_to_rules(before, after)
    lookup = Lookup(before)
    changed = list(_changed(before, after))
    moves = {old.id: _moves(old, new) for old, new in changed}
    for old, _ in changed:
        _refuse_held_change(lookup, old, moves[old.id])
    _refuse_moving_steel(lookup, after, moves)
    return _with_facts(before, after, _facts_let_go)


Moves = dict[Ref, list[Difference]]
"""What has changed of each side of a thing."""


def _changed(before: Document, after: Document) -> Iterator[tuple[Entity, Entity]]:
    """The things that are in both documents, as many of them, and not the very same."""
    for field in KINDS:
        olds, news = getattr(before, field), getattr(after, field)
        if olds is not news:
            by_id: dict[str, Entity] = {thing.id: thing for thing in olds}
            pairs = ((by_id.get(new.id), new) for new in news)
            yield from (
                (old, new)
                for old, new in pairs
                if old is not None and old is not new and old.pair == new.pair
            )


def _moves(old: Entity, new: Entity) -> Moves:
    return {
        ref: list(differences(on_side(old, ref.side), on_side(new, ref.side))) for ref in sides(old)
    }


def _refuse_held_change(lookup: Lookup, old: Entity, moves: Moves) -> None:
    for ref, found in moves.items():
        for change in found:
            if change.path not in _UNBUILT:
                reason = _held_by_fact(old.facts, ref.side, change)
                if reason:
                    raise _held(said(lookup, Address(ref, change.path)), reason)


def _refuse_moving_steel(lookup: Lookup, after: Document, moves: dict[str, Moves]) -> None:
    new = {tube.id: tube for tube in after.tubes}
    for tube in lookup.document.tubes:
        if tube.state not in FIXED_STATES or tube.id not in new or _is_free(tube):
            continue
        movers = rests_on(lookup, tube) & moves.keys()
        names = [lookup.by_id[i].name for i in sorted(movers) if not _are_free(lookup, moves[i])]
        if names and _has_moved(lookup.document, after, tube, new[tube.id]):
            raise _held(names[0], f"{tube.name} is {tube.state}, and would move with it")


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


def _with_facts(
    before: Document, after: Document, facts_of: Callable[[Entity, Entity], Iterator[Fact]]
) -> Document:
    """The document with other facts for the things that have changed."""
    for old, new in list(_changed(before, after)):
        if new.facts and old.facts:
            by_key = {(fact.of, fact.side): fact for fact in facts_of(old, new)}
            facts = tuple(sorted(by_key.values(), key=lambda fact: (fact.of, fact.side)))
            if facts != new.facts:
                after = replace_thing(after, msgspec.structs.replace(new, facts=facts))
    return after


def _facts_moved(old: Entity, new: Entity) -> Iterator[Fact]:
    """The facts of a changed thing, each where the value is now that it is about."""
    for fact in new.facts:
        path: Path | None = fact.of
        if fact in old.facts:
            try:
                path = moved_path(on_side(old, fact.side), on_side(new, fact.side), fact.of)
            except ValueError as error:
                raise EditRefusedError(f"{new.name}, right side: {error}") from error
        if path is not None:
            yield fact if path == fact.of else msgspec.structs.replace(fact, of=path)


def _facts_let_go(old: Entity, new: Entity) -> Iterator[Fact]:
    """The facts of a changed thing: what was measured or in hand and was changed is chosen now."""
    facts = {(fact.of, fact.side): fact for fact in new.facts}
    known = frozenset(new.facts) & frozenset(old.facts)
    for ref, found in _moves(old, new).items():
        was, now = on_side(old, ref.side), on_side(new, ref.side)
        for path in _paths_let_go(old, ref.side, found):
            fact = counting_fact(tuple(facts.values()), ref.side, path)
            if fact in known and fact.source in ("in_hand", "measured"):
                place = moved_path(was, now, path)
                if place is not None:
                    facts[place, fact.side] = _chosen(fact, place)
    yield from facts.values()


def _chosen(fact: Fact, path: Path) -> Fact:
    """What is left of a fact when its number has changed: how near it must be kept, and why."""
    because = fact.because if fact.of == path else ()
    side, tolerance = fact.side, fact.tolerance
    return Fact(
        of=path, side=side, source="chosen", tolerance=tolerance, because=because, free=True
    )


def _paths_let_go(old: Entity, side: str, found: list[Difference]) -> Iterator[Path]:
    """Paths at which a fact no longer says the truth: of what changed, and of facts inside it."""
    for change in found:
        yield change.path
        if change.is_whole:
            inside = (f for f in old.facts if covers(change.path, f.of))
            yield from (f.of for f in inside if f.side in ("one", side))
