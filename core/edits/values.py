"""Setting values, what holds them, and the facts about them."""

import msgspec

from core.document.base import Because, Entity, Fact, Ref, Vec3
from core.document.facts import fact_at, hold_reason
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, covers
from core.document.project import Document
from core.document.sides import rejoin_side, release_side, set_on_side
from core.document.steel import Point, Tube
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import kept_to_rules, thing_of
from core.engine.address import Address, said, value_of

FIXED_STATES = ("tacked", "welded")
_TUBE_SHAPE = ("section", "start", "end", "bends", "die")


def held_by(document: Document, address: Address) -> str | None:
    """What holds a value, as the end of «… is held: it is …»; nothing if it may move."""
    lookup = Lookup(document)
    thing = lookup.by_id.get(address.ref.id)
    if thing is None:
        return None
    return _held_by_fact(thing, address) or _held_by_steel(document, thing, address, lookup)


def _held_by_fact(thing: Entity, address: Address) -> str | None:
    """The reason of the fact that counts for the value, or of the first that holds a part of it."""
    side, path = address.ref.side, address.path
    counting = hold_reason(fact_at(thing, side, path))
    inside = (f for f in thing.facts if f.of != path and covers(path, f.of))
    reasons = (hold_reason(f) for f in inside if f.side in ("one", side))
    return counting or next((reason for reason in reasons if reason), None)


def _held_by_steel(
    document: Document, thing: Entity, address: Address, lookup: Lookup
) -> str | None:
    field = address.path.split(".")[0]
    if isinstance(thing, Tube) and field in _TUBE_SHAPE and thing.state in FIXED_STATES:
        return f"{lookup.label(address.ref)} is {thing.state}"
    if isinstance(thing, Point) and field in ("at", "along"):
        for tube in document.tubes:
            if tube.state in FIXED_STATES and thing.id in _points_of(tube):
                return f"{tube.name} is {tube.state} to it"
    return None


def _points_of(tube: Tube) -> set[str]:
    return {ref.id for ref in (tube.start, tube.end, *(b.point for b in tube.bends))}


def refuse_if_held(document: Document, address: Address, value: object = None) -> None:
    """Refuse to touch what is held.

    Args:
        document: where it is.
        address: what is to be touched.
        value: what it is to become; parts of it that are held but stay what they were do not
            count. Without it every held part counts.

    Raises:
        HeldError: naming what holds it and how to set it free.
    """
    lookup = Lookup(document)
    for part in _touched(lookup, address, value):
        holder = held_by(document, part)
        if holder:
            msg = f"{said(lookup, part)} is held: {holder}. Set it free first if it is to move"
            raise HeldError(msg)


def _touched(lookup: Lookup, address: Address, value: object) -> list[Address]:
    """The address; of a place its coordinates that would change."""
    old = value_of(lookup, address) if isinstance(value, Vec3) else None
    if not isinstance(value, Vec3) or not isinstance(old, Vec3):
        return [address]
    changed = (a for a in Vec3._fields if getattr(value, a) != getattr(old, a))
    return [Address(address.ref, f"{address.path}.{axis}") for axis in changed]


def change(
    document: Document,
    address: Address,
    value: object,
    *,
    because: tuple[Because, ...] = (),
) -> Document:
    """The document with a value changed on one side; both sides of a pair move together.

    Args:
        document: where it is.
        address: what to change; a number, a place, a reference or a whole list.
        value: the new value.
        because: what the change relied on; kept in the value's fact.

    Raises:
        HeldError: the value is held.
        EditRefusedError: the value does not fit there, or breaks a rule.
    """
    refuse_if_held(document, address, value)
    after = put_value(document, address, value)
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
    thing = thing_of(document, address.ref.id)
    try:
        changed = set_on_side(thing, address.ref.side, address.path, value)
    except (NoSuchPathError, ValueError) as error:
        msg = f"{said(Lookup(document), address)}: {error}"
        raise EditRefusedError(msg) from error
    return kept_to_rules(document, replace_thing(document, changed))


def set_fact(document: Document, address: Address, fact: Fact) -> Document:
    """The document with the fact of a value or a branch replaced; one that is empty is dropped."""
    thing = thing_of(document, address.ref.id)
    side = address.ref.side if _is_own(thing, address) else "one"
    placed = msgspec.structs.replace(fact, of=address.path, side=side)
    others = tuple(f for f in thing.facts if (f.of, f.side) != (address.path, side))
    empty = placed == Fact(of=address.path, side=side)
    facts = others if empty else (*others, placed)
    ordered = tuple(sorted(facts, key=lambda f: (f.of, f.side)))
    try:
        changed = msgspec.structs.replace(thing, facts=ordered)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, changed))


def _is_own(thing: Entity, address: Address) -> bool:
    return address.ref.side == "right" and any(covers(o.of, address.path) for o in thing.right)


def set_free(document: Document, address: Address) -> Document:
    """The document with a held value free to move; where it came from is kept."""
    old = fact_at(thing_of(document, address.ref.id), address.ref.side, address.path) or Fact()
    return set_fact(document, address, msgspec.structs.replace(old, held="", free=True))


def hold(
    document: Document, address: Address, reason: str, because: tuple[Because, ...] = ()
) -> Document:
    """The document with a value held, and why.

    Raises:
        EditRefusedError: no reason was given.
    """
    if not reason.strip():
        msg = "a hold needs a reason, so that you know later whether it still counts"
        raise EditRefusedError(msg)
    old = fact_at(thing_of(document, address.ref.id), address.ref.side, address.path) or Fact()
    kept = because or old.because
    fact = msgspec.structs.replace(old, held=reason, free=False, because=kept)
    return set_fact(document, address, fact)


def release(document: Document, ref: Ref, path: str) -> Document:
    """The document with the right side of a pair free to have its own value at a path."""
    thing = thing_of(document, ref.id)
    try:
        released = release_side(thing, path)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, released))


def rejoin(document: Document, ref: Ref, path: str) -> Document:
    """The document with the right side of a pair the mirror image of the left again at a path."""
    thing = thing_of(document, ref.id)
    return kept_to_rules(document, replace_thing(document, rejoin_side(thing, path)))
