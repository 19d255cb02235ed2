"""The hardpoint table: every hardpoint in the car frame or from a datum, ready to be written."""

from collections.abc import Iterable
from datetime import date
from typing import Literal, NamedTuple

from core.assess.places import array, vec
from core.document.base import Vec3
from core.document.records import Car
from core.geometry.frames import Frame
from core.workshop.hardpoints import Hardpoint
from core.workshop.point_uses import Adjustment
from core.workshop.table import Cell, Column, Table

LengthUnit = Literal["mm", "in"]

MM_PER = {"mm": 1.0, "in": 25.4}
"""Source: international yard and pound agreement of 1959, 1 in = 25.4 mm exactly."""

DECIMALS = {"mm": 2, "in": 3}

CAR_AXES = "ISO 8855: x forward, y to the left, z up"
CAR_DATUM = "the car's own frame"

CAUTION = (
    "Places as drawn at the design position, not as built; measure the car before cutting.",
    "Uncertainty is a likely error (standard uncertainty) of the worst of the three coordinates.",
    "Tolerance is the error allowed in building.",
    "A place that nobody measured or chose is marked guessed. Strength is not looked at.",
)


class MeasuredFrom(NamedTuple):
    """A datum: what it is called, its axes in words, and its frame in the car."""

    name: str
    axes: str
    frame: Frame


class Head(NamedTuple):
    """What stands above the table besides the points.

    Attributes:
        car: the car, if one is entered.
        version: which state of the car and which program, in words.
        day: date to write on it.
    """

    car: Car | None
    version: str
    day: date


def hardpoint_table(
    points: Iterable[Hardpoint],
    head: Head,
    unit: LengthUnit = "mm",
    measured_from: MeasuredFrom | None = None,
) -> Table:
    """The table of hardpoints.

    Args:
        points: places in mm, car frame.
        head: what stands above.
        unit: of all lengths in the table.
        measured_from: the datum; none for the car frame.

    Raises:
        TableError: a name or a note holds what no file can carry.
    """
    return Table(
        title="Hardpoints",
        facts=_facts(head, unit, measured_from),
        columns=_columns(unit),
        rows=tuple(_row(point, unit, measured_from) for point in points),
        notes=CAUTION,
    )


def _facts(
    head: Head, unit: LengthUnit, measured_from: MeasuredFrom | None
) -> tuple[tuple[str, str], ...]:
    axes = CAR_AXES if measured_from is None else measured_from.axes
    datum = CAR_DATUM if measured_from is None else measured_from.name
    car = head.car
    about: tuple[tuple[str, str], ...] = ()
    if car is not None:
        origin = car.origin if measured_from is None else ""
        stated = (
            ("Statement", car.statement),
            ("Drawn at", car.pose or car.design_load),
            ("Origin", origin),
        )
        about = tuple(fact for fact in stated if fact[1])
    return (
        ("Car", "don't know" if car is None else car.name),
        *about,
        ("Version", head.version),
        ("Units", "millimetres" if unit == "mm" else "inches"),
        ("Axes", axes),
        ("Datum", datum),
        ("Date", head.day.isoformat()),
    )


def _columns(unit: LengthUnit) -> tuple[Column, ...]:
    places = DECIMALS[unit]
    return (
        Column("Name", "", "text"),
        Column("What it is", "", "text"),
        Column("Side", "", "text"),
        *(Column(axis, unit, "number", places) for axis in Vec3._fields),
        Column("Measured to", "", "text"),
        Column("Fixed or adjustable", "", "text"),
        Column("Source", "", "text"),
        Column("Uncertainty", unit, "number", places),
        Column("Tolerance", unit, "number", places),
        Column("Notes", "", "text"),
    )


SIDE_WORDS = {"one": "single", "left": "left", "right": "right"}


def _row(
    point: Hardpoint, unit: LengthUnit, measured_from: MeasuredFrom | None
) -> tuple[Cell, ...]:
    at, trust = point.place, point.trust
    if at is not None and measured_from is not None:
        at = vec(measured_from.frame.from_car(array(at)))
    xyz: tuple[float | None, ...] = (None, None, None) if at is None else at
    return (
        point.name,
        point.what,
        SIDE_WORDS[point.ref.side],
        *(_in_unit(share, unit) for share in xyz),
        point.measured_to,
        _adjustable(point.adjusters, unit),
        trust.source,
        _in_unit(trust.uncertainty, unit),
        _in_unit(trust.tolerance, unit),
        "; ".join(note for note in (*trust.notes, point.why_not) if note),
    )


def _in_unit(length: float | None, unit: LengthUnit) -> float | None:
    return None if length is None else length / MM_PER[unit]


def _adjustable(found: tuple[Adjustment, ...], unit: LengthUnit) -> str:
    if not found:
        return "fixed"
    return "adjustable: " + "; ".join(_range(one, unit) for one in found)


def _range(one: Adjustment, unit: LengthUnit) -> str:
    least, most = (
        f"{length / MM_PER[unit]:+.{DECIMALS[unit]}f}" for length in (one.least, one.most)
    )
    sets = f", sets {one.sets}" if one.sets else ""
    return f"{least} to {most} {unit}{sets}"
