"""Things to choose among by name."""

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from core.document.base import Entity, Ref, kind_name
from core.document.lookup import Lookup, kind_of, sides
from core.document.thing_rules import PLACE_KINDS
from core.workshop.kinds import kind_words


class Named(NamedTuple):
    """A piece and what it is called, told from others of that name by its kind."""

    label: str
    ref: Ref


def choices(lookup: Lookup, kinds: tuple[str, ...]) -> list[Named]:
    """Every piece of these kinds by its name, in the order of the names; of all kinds if none."""
    things = [t for t in lookup.by_id.values() if not kinds or kind_name(type(t)) in kinds]
    found = [(thing, ref) for thing in things for ref in _pieces(thing, kinds)]
    labels = [lookup.label(ref) for _, ref in found]
    several = {label for label, count in Counter(labels).items() if count > 1}
    named = (
        Named(f"{label}, {kind_of(thing)}" if label in several else label, ref)
        for label, (thing, ref) in zip(labels, found, strict=True)
    )
    return sorted(named, key=lambda one: one.label.casefold())


def _pieces(thing: Entity, kinds: tuple[str, ...]) -> Iterable[Ref]:
    if kinds == PLACE_KINDS and kind_name(type(thing)) == "rack":
        return (Ref(thing.id, "left"), Ref(thing.id, "right"))
    return sides(thing)


def find(named: list[Named], text: str) -> Ref | None:
    """The one piece that is called so, whatever the case of its letters; nothing if several are."""
    wanted = text.strip().casefold()
    exact = [one.ref for one in named if one.label.casefold() == wanted]
    if len(exact) == 1:
        return exact[0]
    begins = [one.ref for one in named if one.label.casefold().startswith(wanted)]
    return begins[0] if wanted and len(begins) == 1 else None


def near(named: list[Named], text: str, most: int = 4) -> list[str]:
    """Names that hold what was typed."""
    wanted = text.strip().casefold()
    return [one.label for one in named if wanted in one.label.casefold()][:most]


def next_name(lookup: Lookup, kind: type[Entity]) -> str:
    """The word of a kind with the first number that is free."""
    taken = {thing.name for thing in lookup.by_id.values() if type(thing) is kind}
    number = len(taken) + 1
    while f"{kind_words(kind).words} {number}" in taken:
        number += 1
    return f"{kind_words(kind).words} {number}"
