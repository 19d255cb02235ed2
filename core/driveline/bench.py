"""A drive shaft as it is measured on the bench, and the joint centres from that."""

from dataclasses import dataclass
from math import hypot, isfinite, sqrt


@dataclass(frozen=True, slots=True)
class BenchReadings:
    """What is read off a shaft laid straight, mm.

    Attributes:
        pushed_home: gearbox seat face to hub seat face with the inner joint pushed home.
        pulled_to_stop: the same with the inner joint pulled to its stop.
        plus_minus: likely error of each of the two.
        gearbox_seat_to_inner_centre: gearbox seat face to the inner joint's centre at mid-stroke.
        gearbox_seat_plus_minus: likely error of that.
        outer_centre_to_hub_seat: outer joint centre to hub seat face.
        hub_seat_plus_minus: likely error of that.
        reserve_each_end: stroke kept unused at either end.
    """

    pushed_home: float
    pulled_to_stop: float
    plus_minus: float
    gearbox_seat_to_inner_centre: float
    gearbox_seat_plus_minus: float
    outer_centre_to_hub_seat: float
    hub_seat_plus_minus: float
    reserve_each_end: float


@dataclass(frozen=True, slots=True)
class BenchShaft:
    """The shaft between its joint centres, mm.

    Attributes:
        length: outer joint centre to sliding centre of the inner joint at mid-stroke.
        length_plus_minus: likely error of the length.
        stroke: from pushed home to pulled to the stop.
        stroke_plus_minus: likely error of the stroke.
        plunge_each_way: stroke each way from mid-stroke, less the reserve.
    """

    length: float
    length_plus_minus: float
    stroke: float
    stroke_plus_minus: float
    plunge_each_way: float


def joint_from_bench(readings: BenchReadings) -> BenchShaft:
    """Joint centres and stroke from bench readings; errors combine as root of the sum of squares.

    Raises:
        ValueError: if a reading is no number, an error is negative, or nothing is left of the
            length or the stroke.

    Source:
        Joint Committee for Guides in Metrology, Guide to the expression of uncertainty in
        measurement (GUM), 5.1.2: independent contributions add in quadrature. The middle of two
        readings of the same error has that error over the square root of two.
    """
    _refuse_nonsense(readings)
    middle = (readings.pushed_home + readings.pulled_to_stop) / 2.0
    stroke = readings.pulled_to_stop - readings.pushed_home
    shaft = BenchShaft(
        length=middle - readings.gearbox_seat_to_inner_centre - readings.outer_centre_to_hub_seat,
        length_plus_minus=hypot(
            readings.plus_minus / sqrt(2.0),
            readings.gearbox_seat_plus_minus,
            readings.hub_seat_plus_minus,
        ),
        stroke=stroke,
        stroke_plus_minus=readings.plus_minus * sqrt(2.0),
        plunge_each_way=stroke / 2.0 - readings.reserve_each_end,
    )
    _refuse_nothing_left(shaft)
    return shaft


def _refuse_nonsense(readings: BenchReadings) -> None:
    values = [getattr(readings, name) for name in BenchReadings.__slots__]
    if not all(isfinite(value) for value in values):
        raise ValueError("a bench reading is not a number")
    never_negative = (
        readings.plus_minus,
        readings.gearbox_seat_plus_minus,
        readings.hub_seat_plus_minus,
        readings.reserve_each_end,
    )
    if min(never_negative) < 0.0:
        raise ValueError("an error or a reserve is less than nothing")
    if readings.pulled_to_stop <= readings.pushed_home:
        raise ValueError("pulled to the stop must read more than pushed home")


def _refuse_nothing_left(shaft: BenchShaft) -> None:
    if shaft.length <= 0.0:
        raise ValueError("the two seats take up the whole shaft")
    if shaft.plunge_each_way <= 0.0:
        raise ValueError("the reserve at the ends takes up the whole stroke")
