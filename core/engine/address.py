"""Addresses: every number of a document has one, and it reads as a builder would say it."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import NamedTuple, cast

from msgspec import Struct

from core.document.base import Entity, Ref, Vec3
from core.document.errors import JigplateError
from core.document.lookup import Lookup, kind_of, sides
from core.document.paths import NoSuchPathError, canonical_path, item_name, value_at
from core.document.sides import on_side


class Address(NamedTuple):
    """Where a value stands: the thing and its side, and the dotted path inside it."""

    ref: Ref
    path: str

    def __str__(self) -> str:
        """Written with ids, as `point12:left.at.y`."""
        return f"{self.ref}.{self.path}" if self.path else str(self.ref)


class AddressError(JigplateError):
    """An address that leads to nothing, or to more than one thing."""


def piece(lookup: Lookup, ref: Ref) -> Entity:
    """The thing on the side that a reference names.

    Raises:
        AddressError: it is not there.
    """
    entity = lookup.by_id.get(ref.id)
    if entity is None:
        msg = f"there is no {ref.id} in this car"
        raise AddressError(msg)
    return on_side(entity, ref.side)


def value_of(lookup: Lookup, address: Address) -> object:
    """The value at an address.

    Raises:
        AddressError: nothing is there.
    """
    thing = piece(lookup, address.ref)
    try:
        return value_at(thing, address.path)
    except NoSuchPathError as error:
        like = _or_like(address.path, paths_in(thing))
        msg = f"{lookup.label(address.ref)} has no «{address.path}»: {error}{like}"
        raise AddressError(msg) from error


def said(lookup: Lookup, address: Address) -> str:
    """An address with the name of its thing, as `K_L.at.y`; with its id where the name misleads."""
    entity = lookup.by_id.get(address.ref.id)
    if entity is None:
        return str(address)
    names = (lookup.label(address.ref), f"{entity.name}:{address.ref.side}")
    words = (f"{name}.{address.path}" if address.path else name for name in names)
    return next((text for text in words if _leads_to(lookup, text, address)), str(address))


def _leads_to(lookup: Lookup, text: str, address: Address) -> bool:
    """Whether a text is read as an address, or would be if the value were there."""
    first = next(_readings(lookup, text), None)
    return first == ([address.ref], address.path)


def parse_address(lookup: Lookup, text: str) -> Address:
    """The address that a person typed: name, label or id, perhaps `:left`, and a dotted path.

    Of several readings, for names may have dots in them, the one with the longest name counts
    that leads to a value.

    Raises:
        AddressError: nothing is called that, or several things or sides are.
    """
    first: AddressError | None = None
    for whole in dict.fromkeys((text, text.strip())):
        for refs, path in _readings(lookup, whole):
            try:
                return _address(lookup, whole, refs, path)
            except AddressError as error:
                first = first or error
    if first is not None:
        raise first
    msg = f"nothing in this car is called «{text.strip()}»{_or_like_thing(lookup, text.strip())}"
    raise AddressError(msg)


def _readings(lookup: Lookup, text: str) -> Iterator[tuple[list[Ref], str]]:
    """What a text may name, longest name first, and the path behind it."""
    dots = [i for i in range(len(text) - 2, 0, -1) if text[i] == "."]
    for cut in [len(text), *dots]:
        refs = _find(lookup, text[:cut])
        if refs:
            yield refs, text[cut + 1 :]


def _find(lookup: Lookup, head: str) -> list[Ref]:
    """The pieces of that id and side, else of that name or label, else of that name and side."""
    name, _, side = head.rpartition(":")
    if side not in ("left", "right"):
        return lookup.find(head)
    by_side = [ref for ref in lookup.find(name) if ref.side == side]
    return by_side if name in lookup.by_id else lookup.find(head) or by_side


def _address(lookup: Lookup, text: str, refs: list[Ref], path: str) -> Address:
    ref = _only(lookup, text[: len(text) - len(path) - 1] if path else text, refs)
    value_of(lookup, Address(ref, path))
    return Address(ref, canonical_path(piece(lookup, ref), path))


def _only(lookup: Lookup, head: str, refs: list[Ref]) -> Ref:
    if len(refs) == 1:
        return refs[0]
    ids = dict.fromkeys(ref.id for ref in refs)
    if len(ids) == 1:
        msg = f"«{head}» is a pair; say «{head}:left» or «{head}:right»"
    else:
        kinds = " or ".join(f"{i} ({kind_of(lookup.by_id[i])})" for i in ids)
        msg = f"«{head}» may be {kinds}; say the one or the other"
    raise AddressError(msg)


def paths_in(value: object, path: str = "") -> Iterator[str]:
    """Every path inside a value, branches and leaves; items by name where they have one."""
    for step, inner in _steps(value):
        deeper = f"{path}.{step}" if path else step
        yield deeper
        yield from paths_in(inner, deeper)


def _steps(value: object) -> Iterator[tuple[str, object]]:
    if isinstance(value, Ref):
        return
    if isinstance(value, Struct):
        yield from ((name, getattr(value, name)) for name in value.__struct_fields__)
    elif isinstance(value, Vec3):
        yield from zip(Vec3._fields, value, strict=True)
    elif isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        yield from ((item_name(item) or str(i), item) for i, item in enumerate(items))


def _or_like_thing(lookup: Lookup, text: str) -> str:
    """What a person may have meant by a name that nothing has."""
    known: dict[str, None] = {}
    for entity in lookup.by_id.values():
        known.update(dict.fromkeys([entity.id, entity.name, *map(lookup.label, sides(entity))]))
    heads = [text, *(text[:i] for i, mark in enumerate(text) if mark in ".:")]
    for head in heads:
        like = _or_like(head, known)
        if like:
            return like
    return "; names are as in the hardpoint table"


def _or_like(wanted: str, known: Iterator[str] | dict[str, None]) -> str:
    """The nearest of what is known, as the end of a sentence; nothing where none is near."""
    by_lower = {name.lower(): name for name in known}
    near = get_close_matches(wanted.lower(), by_lower, n=2, cutoff=NEAR)
    return f"; did you mean {' or '.join(f'«{by_lower[name]}»' for name in near)}?" if near else ""


NEAR = 0.75
"""Share of letters that must agree for a name to be offered in place of another; own choice."""
