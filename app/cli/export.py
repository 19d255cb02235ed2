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
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.workshop.datums import measured_from
from core.workshop.donor_table import on_same_axes, points_table, standing_table
from core.workshop.files import TableFileError, write_table
from core.workshop.hardpoint_table import Head, LengthUnit, MeasuredFrom, hardpoint_table
from core.workshop.hardpoints import hardpoints
from core.workshop.table import Table, TableError


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
    origin = None if wanted.datum is None else _datum(car, wanted.datum)
    named = car.drawn.cars[0] if car.drawn.cars else None
    head = Head(named, car.version, wanted.day)
    try:
        table = hardpoint_table(points, head, wanted.unit, origin)
    except TableError as error:
        raise JigplateError(str(error)) from error
    _write(table, wanted.output, wanted.day)
    say([f"{len(points)} hardpoints written to {wanted.output}"])
    warn(_without_place(len([point for point in points if point.place is None])))
    return 0


def run_donors(file: Path, output: Path, day: date, *, standing: bool) -> int:
    """Write the donor corners of a car beside one another; return 0.

    Args:
        file: the car.
        output: where the table goes, by its ending.
        day: date kept in a workbook.
        standing: how they stood, and not their points.

    Raises:
        JigplateError: the file cannot be read, the table not written, or there is no donor.
    """
    car = load(file)
    refs = [Ref(donor.id) for donor in car.drawn.donor_corners]
    if not refs:
        raise JigplateError("this car has no donor corner; measure one first")
    donors = on_same_axes(car.drawn, refs)
    table = standing_table(donors) if standing else points_table(donors)
    _write(table, output, day)
    count = f"{len(refs)} donor corner{'' if len(refs) == 1 else 's'}"
    say([f"{len(table.rows)} lines of {count} written to {output}"])
    return 0


def _write(table: Table, output: Path, day: date) -> None:
    try:
        write_table(table, output, day)
    except (TableError, TableFileError) as error:
        raise JigplateError(str(error)) from error


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
        return measured_from(car.drawn, car.meshes, found[0])
    except NotComputedError as error:
        msg = f"nothing can be measured from {name}: {error}"
        raise JigplateError(msg) from error


def _no_datum(name: str, names: list[str], *, twice: bool) -> str:
    if twice:
        return f"«{name}» is more than one datum; use its id, with its side if it is a pair"
    if not names:
        return f"there is no datum «{name}»: this car has none; leave --datum out"
    return f"there is no datum «{name}»{near_words(name, names)}; there are: {', '.join(names)}"
