"""How far to trust a place: where its coordinates come from and how sure they are."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.document.base import Entity, Fact, Side, Vec3
from core.document.facts import fact_at, source_of
from core.document.paths import Path

WORKED_OUT = "worked out"


@dataclass(frozen=True)
class Trust:
    """Where a place comes from and how sure it is.

    Attributes:
        source: in hand, measured, chosen, guessed, or worked out; each coordinate's own where
            they differ.
        uncertainty: standard uncertainty of the worst coordinate, mm; none where not known.
        tolerance: the strictest of its coordinates, mm; none where none is given.
        notes: what it is worked out from, or how it was got and what holds it.
    """

    source: str
    uncertainty: float | None = None
    tolerance: float | None = None
    notes: tuple[str, ...] = ()


def worked_out(from_what: str) -> Trust:
    """Trust in a place that follows from others."""
    return Trust(WORKED_OUT, notes=(from_what,))


def source_words(thing: Entity, side: Side, path: Path) -> str:
    """Where a value comes from, in words; guessed where nothing says."""
    return source_of(thing, side, path).replace("_", " ")


def trust_in_place(thing: Entity, side: Side, path: Path) -> Trust:
    """Trust in a place that is given, from the facts of its three coordinates."""
    paths = [f"{path}.{axis}" for axis in Vec3._fields]
    sources = [source_words(thing, side, one) for one in paths]
    each = ", ".join(f"{axis} {s}" for axis, s in zip(Vec3._fields, sources, strict=True))
    facts = [fact_at(thing, side, one) for one in paths]
    doubts = [fact.uncertainty for fact in facts if fact and fact.uncertainty is not None]
    allowed = [fact.tolerance for fact in facts if fact and fact.tolerance is not None]
    return Trust(
        source=sources[0] if len(set(sources)) == 1 else each,
        uncertainty=max(doubts) if len(doubts) == len(facts) else None,
        tolerance=min(allowed, default=None),
        notes=tuple(dict.fromkeys(note for fact in facts if fact for note in _notes(fact))),
    )


def _notes(fact: Fact) -> Iterator[str]:
    if fact.how:
        yield fact.how
    if fact.held:
        yield f"held: {fact.held}"
