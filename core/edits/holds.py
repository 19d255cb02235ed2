"""What holds values and steel where they are, and what an edit is refused for."""

from collections.abc import Callable, Iterator
from typing import Final

import msgspec

from core.document.base import Entity, Fact
from core.document.errors import BrokenRulesError
from core.document.facts import counting_fact, hold_reason
from core.document.layers import replace_thing
from core.document.lookup import Lookup, sides
from core.document.paths import Path, covers
from core.document.project import KINDS, Document
from core.document.rules import check_change
from core.document.sides import on_side
from core.edits.fixed_steel import (
    FIXED_STATES,
    Moves,
    held_by_steel,
    refuse,
    refuse_moving_steel,
)
from core.edits.refusals import EditRefusedError
from core.edits.walks import Difference, differences, moved_path
from core.engine.address import Address, said

__all__ = ["FIXED_STATES", "held_by", "kept", "kept_to_rules", "refuse_if_held"]

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
    return held_by_steel(lookup, thing, address)


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


def refuse_if_held(document: Document, address: Address) -> None:
    """Refuse to touch what is held.

    Raises:
        HeldError: naming what holds it and how to set it free.
    """
    holder = held_by(document, address)
    if holder:
        refuse(said(Lookup(document), address), holder)


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
    after = shared(before, after)
    if after is before:
        return before
    after = _with_facts(before, after, _facts_moved)
    kept_to_rules(before, after)
    lookup = Lookup(before)
    changed = list(_changed(before, after))
    moves = {old.id: _moves(old, new) for old, new in changed}
    for old, _ in changed:
        _refuse_held_change(lookup, old, moves[old.id])
    refuse_moving_steel(lookup, after, moves)
    return _with_facts(before, after, _facts_let_go)


def shared(before: Document, after: Document) -> Document:
    """`after` with every thing and list that is equal to what it was being the very same."""
    same: dict[str, tuple[Entity, ...]] = {}
    for field in KINDS:
        olds: tuple[Entity, ...] = getattr(before, field)
        news: tuple[Entity, ...] = getattr(after, field)
        if olds is not news:
            by_id = {thing.id: thing for thing in olds}
            kept_things = tuple(by_id[n.id] if by_id.get(n.id) == n else n for n in news)
            same[field] = olds if kept_things == olds else kept_things
    if after.next_number == before.next_number and all(
        things is getattr(before, field) for field, things in same.items()
    ):
        return before
    return msgspec.structs.replace(after, **same) if same else after


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
                    refuse(said(lookup, Address(ref, change.path)), reason)


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
