"""Addresses: every number of a document has one, and it reads as a builder would say it."""

from typing import NamedTuple

from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, value_at
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
        msg = f"{lookup.label(address.ref)} has no «{address.path}»: {error}"
        raise AddressError(msg) from error


def said(lookup: Lookup, address: Address) -> str:
    """An address with the name of its thing, as `K_L.at.y`."""
    name = lookup.label(address.ref)
    return f"{name}.{address.path}" if address.path else name


def parse_address(lookup: Lookup, text: str) -> Address:
    """The address that a person typed: name, label or id, perhaps `:left`, and a dotted path.

    Raises:
        AddressError: nothing is called that, or several things or sides are.
    """
    cuts = [len(text), *(i for i in range(len(text) - 1, 0, -1) if text[i] == ".")]
    for cut in cuts:
        refs = _find(lookup, text[:cut])
        if refs:
            address = Address(_only(lookup, text[:cut], refs), text[cut + 1 :])
            value_of(lookup, address)
            return address
    msg = f"nothing in this car is called «{text.split('.', maxsplit=1)[0]}»; names are as in the hardpoint table"
    raise AddressError(msg)


def _find(lookup: Lookup, head: str) -> list[Ref]:
    name, _, side = head.rpartition(":")
    if side in ("left", "right"):
        return [ref for ref in lookup.find(name) if ref.side == side]
    return lookup.find(head)


def _only(lookup: Lookup, head: str, refs: list[Ref]) -> Ref:
    if len(refs) == 1:
        return refs[0]
    ids = {ref.id for ref in refs}
    if len(ids) == 1:
        msg = f"«{head}» is a pair; say «{head}:left» or «{head}:right»"
    else:
        kinds = ", ".join(
            sorted(f"{ref.id} ({type(lookup.by_id[ref.id]).__name__})" for ref in refs)
        )
        msg = f"«{head}» could be any of {kinds}; use the id"
    raise AddressError(msg)
