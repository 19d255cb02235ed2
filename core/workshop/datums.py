"""Datums as the heads of tables tell them: what is measured from, and which way its axes run."""

from collections.abc import Mapping

from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.steel import Datum
from core.engine.address import piece
from core.engine.assess import compute
from core.workshop.hardpoint_table import MeasuredFrom
from core.workshop.hardpoints import datum_frame


def measured_from(document: Document, meshes: Mapping[str, bytes], ref: Ref) -> MeasuredFrom:
    """A datum with its frame in the car.

    Raises:
        AddressError: it is not there.
        NotComputedError: where one of its three points is is not known.
    """
    lookup = Lookup(document)
    frame = compute(document, meshes, datum_frame, ref)
    return MeasuredFrom(_datum_words(lookup, ref), _axes_words(lookup, ref), frame)


def _datum_words(lookup: Lookup, ref: Ref) -> str:
    datum = _datum(lookup, ref)
    what = f" ({datum.what})" if datum.what else ""
    return f"{lookup.label(ref)}{what}, origin at {lookup.label(datum.origin)}"


def _axes_words(lookup: Lookup, ref: Ref) -> str:
    datum = _datum(lookup, ref)
    origin, ahead, aside = (lookup.label(r) for r in (datum.origin, datum.ahead, datum.aside))
    return (
        f"x from {origin} through {ahead}; y square to it, on the side of {aside}; "
        "z by the right hand"
    )


def _datum(lookup: Lookup, ref: Ref) -> Datum:
    datum = piece(lookup, ref)
    assert isinstance(datum, Datum)
    return datum
