"""Overlays: functions Document -> Document that an assessment cannot tell from a drawn car."""

from collections.abc import Callable, Iterable

from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.sides import set_on_side
from core.engine.address import Address, AddressError, said, value_of

Overlay = Callable[[Document], Document]


def with_numbers(numbers: Iterable[tuple[Address, object]]) -> Overlay:
    """An overlay that sets values at addresses, past all holds: a what-if, never an edit.

    Laying it raises AddressError where nothing is at an address, or the value does not fit there.
    """
    wanted = tuple(numbers)

    def lay(document: Document) -> Document:
        for address, value in wanted:
            document = _set(document, address, value)
        return document

    return lay


def _set(document: Document, address: Address, value: object) -> Document:
    lookup = Lookup(document)
    value_of(lookup, address)
    thing = lookup.by_id[address.ref.id]
    try:
        changed = set_on_side(thing, address.ref.side, address.path, value)
    except ValueError as error:
        msg = f"{said(lookup, address)}: {error}"
        raise AddressError(msg) from error
    return replace_thing(document, changed)


def shifted(address: Address, by: float) -> Overlay:
    """An overlay that adds `by` to the number at an address.

    Laying it raises AddressError where no number is there.
    """

    def lay(document: Document) -> Document:
        return _set(document, address, _number(document, address) + by)

    return lay


def _number(document: Document, address: Address) -> float:
    lookup = Lookup(document)
    value = value_of(lookup, address)
    if isinstance(value, bool) or not isinstance(value, int | float):
        msg = f"{said(lookup, address)} is no number"
        raise AddressError(msg)
    return value
