"""Addresses in a builder's words: «height of A_low_L» for `A_low_L.at.z`."""

import re
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from core.document.base import Entity, Ref
from core.document.lookup import Lookup, sides
from core.document.paths import NoSuchPathError
from core.engine.address import Address
from core.workshop.kinds import field_words

OWN_PLACES: Final = ("at", "place", "origin", "centre")
"""Fields that say where the whole of a thing is; they need no name of their own."""

_AXES: Final = {"x": "fore and aft place", "y": "sideways place", "z": "height"}
_PATH: Final = re.compile(r"\.([a-z_]+(?:\.[a-z0-9_]+)*)")


def plain_address(lookup: Lookup, address: Address) -> str:
    """What stands at an address, with the name of its thing, as a builder would say it.

    A path that leads nowhere stays as it is written.
    """
    name, thing = lookup.label(address.ref), lookup.by_id.get(address.ref.id)
    if thing is None or not address.path:
        return name
    try:
        words = _path_words(type(thing), address.path)
    except (KeyError, ValueError, NoSuchPathError):
        return f"{name}.{address.path}"
    return f"{words}, of {name}" if ", " in words else f"{words} of {name}"


def _path_words(kind: type[Struct], path: str) -> str:
    outer, _, leaf = path.rpartition(".")
    if not outer:
        return field_words(kind, path).words
    owner = field_words(kind, outer)
    if leaf in _AXES and owner.unit:
        axis = _AXES[leaf]
        return axis if outer in OWN_PLACES else f"{axis} of the {owner.words}"
    return f"{field_words(kind, path).words} ({owner.words})"


def in_plain_words(lookup: Lookup, text: str) -> str:
    """A sentence with every address in it, such as `A_low_L.at.z`, in a builder's words."""
    found: list[tuple[int, int, str]] = []
    for match in _PATH.finditer(text):
        named = _named_before(lookup, text[: match.start()])
        if named is not None:
            ref, name = named
            words = plain_address(lookup, Address(ref, match.group(1)))
            found.append((match.start() - len(name), match.end(), words))
    for start, end, words in reversed(found):
        is_first = not text[:start].strip()
        text = text[:start] + (words[:1].upper() + words[1:] if is_first else words) + text[end:]
    return text


def _named_before(lookup: Lookup, text: str) -> tuple[Ref, str] | None:
    """The piece whose name a text ends in, and that name; of several the longest."""
    fitting = [(ref, name) for ref, name in _names(lookup) if _ends_in(text, name)]
    return max(fitting, key=lambda one: len(one[1]), default=None)


def _names(lookup: Lookup) -> Iterator[tuple[Ref, str]]:
    for thing in lookup.by_id.values():
        for ref in sides(thing):
            yield from ((ref, name) for name in _called(lookup, thing, ref))


def _called(lookup: Lookup, thing: Entity, ref: Ref) -> Iterator[str]:
    yield lookup.label(ref)
    yield str(ref)
    if ref.side != "one":
        yield f"{thing.name}:{ref.side}"


def _ends_in(text: str, name: str) -> bool:
    """Whether a text ends in a name that begins a word."""
    before = text[: len(text) - len(name)]
    return text.endswith(name) and not before[-1:].isalnum() and before[-1:] != "_"
