"""Bought parts: what there is to buy, what of it is in hand, and which to chase first."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from core.document.base import Entity, Ref
from core.document.lookup import kind_of
from core.document.paths import covers
from core.document.project import Document
from core.document.records import Part

BOUGHT_KINDS: Final = (
    "power_units",
    "drive_shafts",
    "hubs",
    "wheels",
    "tyres",
    "brakes",
    "racks",
)
"""Kinds of which each thing is bought, by their lists in a document."""

DAMPER: Final = "damper"


@dataclass(frozen=True)
class BoughtPart:
    """One bought part, or the two of a pair.

    Attributes:
        ref: the thing; of a pair the left piece.
        name: what it is called.
        kind: what it is, in a word or two.
        is_in_hand: whether it is there.
        how: what says so, or what stands in its place; empty where nothing is said.
        days: how long it is waited for, where that is known.
        candidates: how many ways to fill it are noted and not rejected.
    """

    ref: Ref
    name: str
    kind: str
    is_in_hand: bool
    how: str = ""
    days: float | None = None
    candidates: int = 0


@dataclass(frozen=True)
class BoughtParts:
    """Every bought part, and how they stand.

    Attributes:
        parts: those not in hand first, of them the longest awaited first.
    """

    parts: tuple[BoughtPart, ...]

    @property
    def wanted(self) -> int:
        """How many there are in all."""
        return len(self.parts)

    @property
    def in_hand(self) -> int:
        """How many of them are in hand."""
        return sum(part.is_in_hand for part in self.parts)

    @property
    def chase_first(self) -> BoughtPart | None:
        """The part that is not in hand and takes longest, if any time is known."""
        first = next(iter(self.parts), None)
        return first if first and not first.is_in_hand and first.days is not None else None


def bought_parts(document: Document) -> BoughtParts:
    """Where the bought parts stand.

    A part that is noted as bought or wanted, an engine and gearbox, drive shaft, hub, wheel, tyre,
    brake or rack, and the dampers of a corner: each counts once, also where a part stands for one
    of the others. In hand is what a fact, the part itself or one of its candidates says is in
    hand; a weight or a size that was measured does not say that the part was kept.
    """
    parts = [part for part in document.parts if part.how_got in ("bought", "wanted")]
    standing_for = {p.stands_for.id: p for p in parts if p.stands_for is not None}
    things = list(_things(document, standing_for))
    ids = {found.ref.id for found in things}
    alone = (p for p in parts if p.stands_for is None or p.stands_for.id not in ids)
    found = [*things, *(_part(part) for part in alone)]
    return BoughtParts(tuple(sorted(found, key=_order)))


def _order(part: BoughtPart) -> tuple[bool, float, str]:
    return (part.is_in_hand, -(part.days or 0.0), part.name.casefold())


def _things(document: Document, standing_for: dict[str, Part]) -> Iterator[BoughtPart]:
    for field in BOUGHT_KINDS:
        things: tuple[Entity, ...] = getattr(document, field)
        for thing in things:
            yield _thing(thing, standing_for.get(thing.id))
    for corner in document.corners:
        if corner.damper is not None:
            name = f"dampers of {corner.name}" if corner.pair else f"damper of {corner.name}"
            in_hand, how = _by_facts(corner, DAMPER)
            yield BoughtPart(_left(corner), name, "damper and spring", in_hand, how)


def _thing(thing: Entity, part: Part | None) -> BoughtPart:
    in_hand, how = _by_facts(thing)
    if part is None:
        return BoughtPart(_left(thing), thing.name, kind_of(thing), in_hand, how)
    noted = _part(part)
    return BoughtPart(
        _left(thing),
        thing.name,
        kind_of(thing),
        in_hand or noted.is_in_hand,
        how or noted.how,
        noted.days,
        noted.candidates,
    )


def _part(part: Part) -> BoughtPart:
    in_hand, how = _by_facts(part)
    there = next((one for one in part.candidates if one.state == "in_hand"), None)
    ordered = next((one for one in part.candidates if one.state == "ordered"), None)
    if part.in_hand:
        in_hand, how = True, how or "in hand"
    elif there is not None:
        in_hand, how = True, there.name
    elif ordered is not None and not in_hand:
        how = f"ordered: {ordered.name}"
    days = part.lead_days
    if days is None and ordered is not None:
        days = ordered.lead_days
    open_ones = sum(one.state != "rejected" for one in part.candidates)
    return BoughtPart(_left(part), part.name, kind_of(part), in_hand, how, days, open_ones)


def _by_facts(thing: Entity, under: str = "") -> tuple[bool, str]:
    """Whether a fact about a thing, or about one of its fields, says in hand; and how it is known.

    A whole is in hand if any of it is: nobody has the gears of an engine that is not there.
    """
    for fact in thing.facts:
        if fact.source == "in_hand" and covers(under, fact.of):
            return True, fact.how or "in hand"
    return False, ""


def _left(thing: Entity) -> Ref:
    return Ref(thing.id, "left" if thing.pair else "one")
