"""Which fact counts for a value, and whether it holds it."""

from core.document.base import Entity, Fact, Source
from core.document.paths import Path, covers


def fact_at(thing: Entity, side: str, path: Path) -> Fact | None:
    """The fact that counts for a value: of those that cover it, the one with the longest path.

    A fact with a side counts for that side only.
    """
    return counting_fact(thing.facts, side, path)


def counting_fact(facts: tuple[Fact, ...], side: str, path: Path) -> Fact | None:
    """Of a thing's facts the one that counts for a value; see `fact_at`."""
    fitting = [f for f in facts if covers(f.of, path) and f.side in ("one", side)]
    return max(fitting, key=lambda f: (len(f.of), f.side != "one"), default=None)


def source_of(thing: Entity, side: str, path: Path) -> Source:
    """Where a value comes from; without a fact it is guessed."""
    fact = fact_at(thing, side, path)
    return "guessed" if fact is None else fact.source


def hold_reason(fact: Fact | None) -> str | None:
    """What makes a fact hold its value, as the end of «it is held: …»; nothing if it does not."""
    if fact is None or fact.free:
        return None
    if fact.held:
        return fact.held
    if fact.source in ("in_hand", "measured"):
        word = "in hand" if fact.source == "in_hand" else "measured"
        return f"it is {word} ({fact.how})" if fact.how else f"it is {word}"
    return None
