"""Overlays: functions Document -> Document that an assessment cannot tell from a drawn car."""

from collections.abc import Callable, Iterable

from core.document.base import Ref
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.sides import set_on_side
from core.engine.address import Address, value_of

Overlay = Callable[[Document], Document]


def with_numbers(numbers: Iterable[tuple[Address, object]]) -> Overlay:
    """An overlay that sets values at addresses, past all holds: a what-if, never an edit."""
    wanted = tuple(numbers)

    def lay(document: Document) -> Document:
        for address, value in wanted:
            document = _set(document, address.ref, address.path, value)
        return document

    return lay


def _set(document: Document, ref: Ref, path: str, value: object) -> Document:
    thing = Lookup(document).by_id[ref.id]
    return replace_thing(document, set_on_side(thing, ref.side, path, value))


def shifted(address: Address, by: float) -> Overlay:
    """An overlay that adds `by` to the number at an address."""

    def lay(document: Document) -> Document:
        lookup = Lookup(document)
        from_value = _number(lookup, address)
        return _set(document, address.ref, address.path, from_value + by)

    return lay


def _number(lookup: Lookup, address: Address) -> float:
    value = value_of(lookup, address)
    assert isinstance(value, int | float)
    return float(value)
