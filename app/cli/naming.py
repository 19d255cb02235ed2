"""Addresses as they are typed, and what was perhaps meant where one leads nowhere."""

from collections.abc import Iterable
from difflib import get_close_matches

from core.document.lookup import Lookup, sides
from core.document.paths import number_paths
from core.engine.address import Address, AddressError, parse_address

MOST_NEAR = 4
SAYS_WHAT_TO_SAY = ("; did you mean ", "; say ")
"""What stands in the sentence of an address that names near ones itself."""


def address_of(lookup: Lookup, text: str) -> Address:
    """The address that a person typed.

    Raises:
        AddressError: it leads nowhere, or to more than one thing; near ones are named.
    """
    try:
        return parse_address(lookup, text)
    except AddressError as error:
        if any(words in str(error) for words in SAYS_WHAT_TO_SAY):
            raise
        words = f"{error}{near_words(text, _candidates(lookup, text))}"
        raise AddressError(words) from error


def near_words(text: str, names: Iterable[str]) -> str:
    """What was perhaps meant, ready to follow a sentence; nothing where nothing is near."""
    others = [name for name in dict.fromkeys(names) if name != text]
    found = get_close_matches(text, others, MOST_NEAR)
    quoted = [f"«{name}»" for name in found]
    return f"; perhaps you mean {' or '.join(quoted)}" if quoted else ""


def _candidates(lookup: Lookup, text: str) -> Iterable[str]:
    """Names and labels of things; the numbers of a thing whose name the text begins with."""
    things = list(lookup.by_id.values())
    labels = [lookup.label(ref) for thing in things for ref in sides(thing)]
    for thing in things:
        heads = [thing.id, thing.name, *(lookup.label(ref) for ref in sides(thing))]
        for head in heads:
            if text.startswith(f"{head}."):
                return [f"{head}.{path}" for path in number_paths(thing)]
    return [*labels, *(thing.name for thing in things), *lookup.by_id]
