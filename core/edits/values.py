"""Setting values, what holds them, and the facts about them."""

import msgspec

from core.document.base import Because, Entity, Fact, Own, Ref, Side
from core.document.facts import fact_at
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.paths import covers, value_at, with_value
from core.document.project import Document
from core.document.sides import on_side, rejoin_side, release_side, set_on_side
from core.edits.finding_things import thing_of
from core.edits.holds import FIXED_STATES, held_by, kept, kept_to_rules, refuse_if_held
from core.edits.refusals import EditRefusedError
from core.engine.address import Address, said

__all__ = [
    "FIXED_STATES",
    "change",
    "held_by",
    "hold",
    "put_value",
    "refuse_if_held",
    "rejoin",
    "release",
    "set_fact",
    "set_free",
]


def change(
    document: Document,
    address: Address,
    value: object,
    *,
    because: tuple[Because, ...] = (),
) -> Document:
    """The document with a value changed on one side; both sides of a pair move together.

    A number that was measured or in hand and set free counts as chosen from then on.

    Args:
        document: where it is.
        address: what to change; a number, a place, a reference or a whole list.
        value: the new value.
        because: what the change relied on; kept in the value's fact.

    Returns:
        The very same document if nothing changes.

    Raises:
        HeldError: the value is held, or tacked or welded steel would move.
        EditRefusedError: the value does not fit there, or breaks a rule.
    """
    after = kept(document, _with_value(document, address, value))
    if because:
        old = fact_at(thing_of(after, address.ref.id), address.ref.side, address.path)
        base = old if old is not None else Fact(source="chosen")
        after = set_fact(after, address, msgspec.structs.replace(base, because=because))
    return after


def put_value(document: Document, address: Address, value: object) -> Document:
    """The document with a value set, whatever holds it.

    Raises:
        EditRefusedError: the value does not fit there, or breaks a rule.
    """
    return kept_to_rules(document, _with_value(document, address, value))


def _with_value(document: Document, address: Address, value: object) -> Document:
    thing = thing_of(document, address.ref.id)
    try:
        changed = _with_own(thing, address, value) or set_on_side(
            thing, address.ref.side, address.path, value
        )
    except ValueError as error:
        msg = f"{said(Lookup(document), address)}: {error}"
        raise EditRefusedError(msg) from error
    return document if changed == thing else replace_thing(document, changed)


def _with_own(thing: Entity, address: Address, value: object) -> Entity | None:
    """A pair with a value of its right side's own changed, and nothing else; nothing if it is none.

    Raises:
        ValueError: the value does not fit there.
    """
    own = next((own for own in thing.right if covers(own.of, address.path)), None)
    if address.ref.side != "right" or own is None:
        return None
    right = with_value(on_side(thing, "right"), address.path, value)
    changed = Own(of=own.of, value=value_at(right, own.of))
    owns = tuple(changed if other is own else other for other in thing.right)
    return msgspec.structs.replace(thing, right=owns)


def set_fact(document: Document, address: Address, fact: Fact) -> Document:
    """The document with the fact of a value or a branch replaced; one that is empty is dropped.

    Raises:
        EditRefusedError: there is no such value, or the reason for it is not there.
    """
    thing = thing_of(document, address.ref.id)
    side = _fact_side(thing, address)
    placed = msgspec.structs.replace(fact, of=address.path, side=side)
    others = tuple(f for f in thing.facts if (f.of, f.side) != (address.path, side))
    empty = placed == Fact(of=address.path, side=side)
    facts = others if empty else (*others, placed)
    ordered = tuple(sorted(facts, key=lambda f: (f.of, f.side)))
    if ordered == thing.facts:
        return document
    return _with_thing(document, thing, facts=ordered)


def _with_thing(document: Document, thing: Entity, **fields: object) -> Document:
    try:
        changed = msgspec.structs.replace(thing, **fields)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, changed))


def _fact_side(thing: Entity, address: Address) -> Side:
    """The side a fact is about: both of a pair alike, unless the right has its own value there."""
    apart = any(covers(own.of, address.path) for own in thing.right)
    return address.ref.side if apart else "one"


def set_free(document: Document, address: Address) -> Document:
    """The document with a held value free to move; where it came from is kept until it does.

    Raises:
        EditRefusedError: there is no such value.
    """
    old = fact_at(thing_of(document, address.ref.id), address.ref.side, address.path) or Fact()
    return set_fact(document, address, msgspec.structs.replace(old, held="", free=True))


def hold(
    document: Document, address: Address, reason: str, because: tuple[Because, ...] = ()
) -> Document:
    """The document with a value held, and why.

    Raises:
        EditRefusedError: no reason was given, or there is no such value.
    """
    if not reason.strip():
        msg = "a hold needs a reason, so that you know later whether it still counts"
        raise EditRefusedError(msg)
    old = fact_at(thing_of(document, address.ref.id), address.ref.side, address.path) or Fact()
    reasons = because or old.because
    fact = msgspec.structs.replace(old, held=reason, free=False, because=reasons)
    return set_fact(document, address, fact)


def release(document: Document, ref: Ref, path: str) -> Document:
    """The document with the right side of a pair free to have its own value at a path.

    Raises:
        EditRefusedError: it is no pair, has no such value, or the right side's is its own already.
    """
    thing = thing_of(document, ref.id)
    try:
        released = release_side(thing, path)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, released))


def rejoin(document: Document, ref: Ref, path: str) -> Document:
    """The document with the right side of a pair the mirror image of the left again at a path.

    Facts about the left side there are about both again, and those about the right are gone.

    Raises:
        HeldError: the right side's own value is held, or tacked or welded steel would move.
        EditRefusedError: the two would contradict something else.
    """
    thing = thing_of(document, ref.id)
    joined = rejoin_side(thing, path)
    if joined == thing:
        return document
    kept(document, replace_thing(document, joined))
    facts: dict[str, Fact] = {}
    for fact in thing.facts:
        if not covers(path, fact.of):
            facts[f"{fact.of}:{fact.side}"] = fact
        elif fact.side == "left" or (fact.side == "one" and fact.of not in facts):
            facts[fact.of] = msgspec.structs.replace(fact, side="one")
    return _with_thing(document, joined, facts=tuple(facts.values()))
