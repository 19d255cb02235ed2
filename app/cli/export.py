"""`export`: tables for the workshop."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from app.cli.car import Loaded, load
from app.cli.naming import near_words
from app.cli.saying import say, warn
from core.document.base import Ref
from core.document.errors import JigplateError
from core.document.lookup import Lookup
from core.document.steel import Datum
from core.engine.address import piece
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.workshop.files import TableFileError, write_table
from core.workshop.hardpoint_table import Head, LengthUnit, MeasuredFrom, hardpoint_table
from core.workshop.hardpoints import datum_frame, hardpoints
from core.workshop.table import TableError


@dataclass(frozen=True)
class Wanted:
    """How the table is to be.

    Attributes:
        output: where it goes, by its ending.
        datum: name of the datum to measure from; none for the car frame.
        day: date to write on it.
        unit: of its lengths.
    """

    output: Path
    datum: str | None
    day: date
    unit: LengthUnit


def run_hardpoints(file: Path, wanted: Wanted) -> int:
    """Write the hardpoint table of a car; return 0.

    Raises:
        JigplateError: the file cannot be read, the table not written, or there is no such datum.
    """
    car = load(file)
    points = compute(car.drawn, car.meshes, hardpoints)
    measured_from = None if wanted.datum is None else _datum(car, wanted.datum)
    named = car.drawn.cars[0] if car.drawn.cars else None
    head = Head(named, car.version, wanted.day)
    try:
        table = hardpoint_table(points, head, wanted.unit, measured_from)
        write_table(table, wanted.output, wanted.day)
    except (TableError, TableFileError) as error:
        raise JigplateError(str(error)) from error
    say([f"{len(points)} hardpoints written to {wanted.output}"])
    warn(_without_place(len([point for point in points if point.place is None])))
    return 0


def _without_place(count: int) -> list[str]:
    if not count:
        return []
    return [f"Warning: {count} of them have no known place; their notes say why."]


def _datum(car: Loaded, name: str) -> MeasuredFrom:
    lookup = Lookup(car.drawn)
    found = [ref for ref in lookup.find(name) if isinstance(lookup.by_id[ref.id], Datum)]
    if len(found) != 1:
        names = [datum.name for datum in car.drawn.datums]
        raise JigplateError(_no_datum(name, names, twice=bool(found)))
    try:
        frame = compute(car.drawn, car.meshes, datum_frame, found[0])
    except NotComputedError as error:
        msg = f"nothing can be measured from {name}: {error}"
        raise JigplateError(msg) from error
    return MeasuredFrom(_datum_words(lookup, found[0]), _axes_words(lookup, found[0]), frame)


def _no_datum(name: str, names: list[str], *, twice: bool) -> str:
    if twice:
        return f"«{name}» is more than one datum; use its id, with its side if it is a pair"
    if not names:
        return f"there is no datum «{name}»: this car has none; leave --datum out"
    return f"there is no datum «{name}»{near_words(name, names)}; there are: {', '.join(names)}"


def _datum_words(lookup: Lookup, ref: Ref) -> str:
    datum = piece(lookup, ref)
    assert isinstance(datum, Datum)
    what = f" ({datum.what})" if datum.what else ""
    return f"{lookup.label(ref)}{what}, origin at {lookup.label(datum.origin)}"


def _axes_words(lookup: Lookup, ref: Ref) -> str:
    datum = piece(lookup, ref)
    assert isinstance(datum, Datum)
    origin, ahead, aside = (lookup.label(r) for r in (datum.origin, datum.ahead, datum.aside))
    return (
        f"x from {origin} through {ahead}; y square to it, on the side of {aside}; "
        "z by the right hand"
    )
