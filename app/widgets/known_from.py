"""Where a figure comes from, as its tag says it."""

from typing import NamedTuple

from app.look.tags import WORDS, TagKind
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.edits.values import held_by
from core.engine.address import Address
from core.quantities import number


class Told(NamedTuple):
    """A tag: its kind, its words, and in one line what decided the figure."""

    kind: TagKind
    words: str
    how: str


def told(lookup: Lookup, address: Address) -> Told:
    """The tag of a figure; without a fact it is guessed."""
    thing = lookup.by_id[address.ref.id]
    fact = fact_at(thing, address.ref.side, address.path)
    kind: TagKind = "guessed" if fact is None else fact.source
    words = WORDS[kind]
    if fact is not None and fact.uncertainty is not None:
        words += f" ±{number(fact.uncertainty, 1)}"
    holder = held_by(lookup.document, address)
    how = "nothing says where it comes from: do not cut by it" if fact is None else fact.how
    if holder and kind in ("chosen", "guessed"):
        return Told("held", "held", f"held: {holder}")
    return Told(kind, words, how)
