"""Putting any value anywhere in a thing: whole parts, items of lists, and what is said of them."""

from typing import Final, cast

import msgspec

from core.document.base import Entity, Fact, Own
from core.document.facts import fact_at, hold_reason
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, Path, covers, item_name, value_at, with_value
from core.document.project import Document
from core.document.sides import mirror_value, on_side
from core.edits.finding_things import thing_of
from core.edits.holds import held_by, kept
from core.edits.refusals import EditRefusedError
from core.edits.values import change, set_fact, set_free
from core.edits.walks import moved_path
from core.engine.address import Address, said

ONLY_A_GUESS: Final = "a guess"
"""How a number was got that is guessed although all round it is better known."""

NAMING: Final = ("name", "role")
"""Fields by which an item of a list is addressed."""


def put(document: Document, address: Address, value: object, *, free: bool = False) -> Document:
    """The document with a value put at an address, on both sides of a pair unless the right's own.

    What is said of a part by its path goes with the part, or follows it to another name.

    Args:
        document: where it is.
        address: a number, place, text, choice, reference, whole part or whole list.
        value: what it is to be.
        free: whether to set free first what is held there.

    Raises:
        HeldError: it is held, and `free` was not asked for.
        EditRefusedError: the value does not fit there, or breaks a rule.
    """
    if free:
        document = free_branch(document, address)
    if _names_an_item(document, address):
        return _with_item_renamed(document, address, str(value))
    thing = thing_of(document, address.ref.id)
    if not any(covers(address.path, own.of) and own.of != address.path for own in thing.right):
        return change(document, address, value)
    try:
        changed = _with_branch(thing, address, value)
    except ValueError as error:
        msg = f"{said(Lookup(document), address)}: {error}"
        raise EditRefusedError(msg) from error
    return kept(document, replace_thing(document, changed))


def _with_branch(thing: Entity, address: Address, value: object) -> Entity:
    """A pair with a branch replaced in which values are the right side's own; they follow or go."""
    bare = msgspec.structs.replace(thing, right=())
    stored = mirror_value(value) if address.ref.side == "right" else value
    changed = with_value(bare, address.path, stored)
    right = [
        Own(of=path, value=own.value)
        for own in thing.right
        if (path := moved_path(thing, changed, own.of)) is not None
    ]
    return msgspec.structs.replace(changed, right=tuple(right))


def set_note(document: Document, thing_id: str, note: str) -> Document:
    """The document with another note on a thing."""
    thing = thing_of(document, thing_id)
    if thing.note == note:
        return document
    return replace_thing(document, msgspec.structs.replace(thing, note=note))


def say_source_of(document: Document, address: Address, fact: Fact) -> Document:
    """The document with where a value comes from said anew, whatever is said all round it.

    A fact that says nothing is not kept, so a guess inside what is in hand has to say that it is.

    Raises:
        EditRefusedError: there is no such value, or the reason for it is not there.
    """
    after = set_fact(document, address, fact)
    counting = fact_at(thing_of(after, address.ref.id), address.ref.side, address.path)
    if counting is None or counting.source == fact.source:
        return after
    return set_fact(document, address, msgspec.structs.replace(fact, how=ONLY_A_GUESS))


def free_branch(document: Document, address: Address) -> Document:
    """The document with a value, and every part of it that is held, free to move."""
    thing = thing_of(document, address.ref.id)
    inside = [f.of for f in thing.facts if covers(address.path, f.of) and hold_reason(f)]
    for path in dict.fromkeys((address.path, *inside)):
        part = Address(address.ref, path)
        if held_by(document, part):
            document = set_free(document, part)
    return document


def can_be_freed(document: Document, address: Address) -> bool:
    """Whether setting a value free is enough to let it move."""
    try:
        return held_by(free_branch(document, address), address) is None
    except EditRefusedError:
        return False


def steps_of(items: tuple[object, ...]) -> tuple[str, ...]:
    """The step to each item of a list: its name where that tells it apart, else its number."""
    names = [item_name(item) for item in items]
    return tuple(
        name if name and names.index(name) == number else str(number)
        for number, name in enumerate(names)
    )


def add_item(document: Document, address: Address, item: object, *, free: bool = False) -> Document:
    """The document with one more item at the end of a list.

    Raises:
        HeldError: the list is held, and `free` was not asked for.
        EditRefusedError: the item does not fit there, or breaks a rule.
    """
    return put(document, address, (*items_at(document, address), item), free=free)


def remove_item(
    document: Document, address: Address, number: int, *, free: bool = False
) -> Document:
    """The document without an item of a list.

    Raises:
        HeldError: the list is held, and `free` was not asked for.
        EditRefusedError: the list cannot be without it.
    """
    items = items_at(document, address)
    return put(document, address, (*items[:number], *items[number + 1 :]), free=free)


def items_at(document: Document, address: Address) -> tuple[object, ...]:
    """The items of a list on one side.

    Raises:
        EditRefusedError: there is no list.
    """
    value = _value(document, address)
    if not isinstance(value, tuple):
        raise EditRefusedError(f"{said(Lookup(document), address)} is no list")
    return cast("tuple[object, ...]", value)


def _value(document: Document, address: Address) -> object:
    piece = on_side(thing_of(document, address.ref.id), address.ref.side)
    try:
        return value_at(piece, address.path)
    except NoSuchPathError:
        return None


def _names_an_item(document: Document, address: Address) -> bool:
    item, _, field = address.path.rpartition(".")
    above = item.rpartition(".")[0]
    is_name = field in NAMING and bool(above)
    return is_name and isinstance(_value(document, Address(address.ref, above)), tuple)


def _with_item_renamed(document: Document, address: Address, name: str) -> Document:
    """The document with an item of a list called otherwise; what is said of it follows."""
    item = address.path.rpartition(".")[0]
    renamed = ".".join((item.rpartition(".")[0], name))
    thing = thing_of(document, address.ref.id)
    held = hold_reason(fact_at(thing, address.ref.side, address.path))
    if held or (address.ref.side == "right" and _owns(thing, address.path)):
        return change(document, address, name)  # refuses in its own words, or sets the own value
    try:
        changed = with_value(thing, address.path, name)
        facts = (_about(fact, item, renamed) for fact in thing.facts)
        right = (_of(own, item, renamed) for own in thing.right)
        changed = msgspec.structs.replace(changed, facts=tuple(facts), right=tuple(right))
    except ValueError as error:
        raise EditRefusedError(f"{said(Lookup(document), address)}: {error}") from error
    return kept(document, replace_thing(document, changed))


def _owns(thing: Entity, path: Path) -> bool:
    return any(covers(own.of, path) for own in thing.right)


def _about(fact: Fact, old: Path, new: Path) -> Fact:
    of = _followed(fact.of, old, new)
    return fact if of == fact.of else msgspec.structs.replace(fact, of=of)


def _of(own: Own, old: Path, new: Path) -> Own:
    of = _followed(own.of, old, new)
    return own if of == own.of else msgspec.structs.replace(own, of=of)


def _followed(path: Path, old: Path, new: Path) -> Path:
    return new + path.removeprefix(old) if covers(old, path) and old else path
