"""What a plot of curves shows: curves of the two sides, limits, stops, and figures read off them.

Where a curve has no figure there is a gap: nothing is drawn, joined or read across it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.document.base import Side
from core.geometry.types import Array
from core.quantities import format_signed, number

ROOM = 0.08
"""How much of the range of figures stays free above and below them."""
BESIDE = 0.02
"""How much of the range along stays free beside the ends, so that posts can be seen."""
LEAST_DIGITS = 4.0
"""A scale spans at least so many of the last digit shown, or noise would look like a curve."""
_MOST_DIGITS = 9


@dataclass(frozen=True, eq=False, slots=True)
class Series:
    """One curve.

    Attributes:
        name: the quantity, in words; «left» and «right» are told from `side`.
        side: the side of the car it belongs to.
        along: what it is drawn over, (n,), rising.
        values: its figures there, (n,), nan where there is no pose.
        unit: of the figures; "deg" is shown as °.
        why: why there is no pose where there is none.
    """

    name: str
    side: Side
    along: Array
    values: Array
    unit: str
    why: str = "no pose"

    def __post_init__(self) -> None:
        if self.along.ndim != 1 or self.along.shape != self.values.shape:
            raise ValueError(f"{self.name}: as many figures as places along are needed.")
        if not np.all(np.diff(self.along) > 0):
            raise ValueError(f"{self.name}: the places along must be finite and rise.")

    @property
    def known(self) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Where it has a figure, (n,)."""
        return np.isfinite(self.values)


class Chart(NamedTuple):
    """What a plot is of.

    Attributes:
        title: what is drawn over what, in words.
        along: what it is drawn over.
        along_unit: of that.
        sense: which way is plus, such as "in +"; figures then carry a sign and 0 is shown.
        digits: after the point, of the figures read off.
        along_digits: of the place they are read at.
    """

    title: str
    along: str
    along_unit: str
    sense: str = ""
    digits: int = 2
    along_digits: int = 1


class Band(NamedTuple):
    """The figures that are wanted or allowed: from `low` to `high`, open where there is none.

    Without hatching it is told where they are, and the rest is not ruled out.
    """

    low: float | None
    high: float | None
    words: str
    is_hatched: bool = True


class Stops(NamedTuple):
    """The ends of the travel, with what each is called; none where it is not known."""

    low: float | None
    high: float | None
    low_words: str = "droop stop"
    high_words: str = "bump stop"


class Cursor(NamedTuple):
    """Where figures are read off; the sides differ where the car rolls."""

    left: float
    right: float

    def of(self, side: Side) -> float:
        """Where one side is read; what has no side is read where the left is."""
        return self.right if side == "right" else self.left


class Reading(NamedTuple):
    """A figure read off a curve: nan, with the reason, where there is none."""

    series: Series
    along: float
    value: float

    @property
    def is_known(self) -> bool:
        """Whether there is a figure."""
        return bool(np.isfinite(self.value))


class Ends(NamedTuple):
    """A range of figures."""

    low: float
    high: float

    def joined(self, other: "Ends") -> "Ends":
        """The range that holds both."""
        return Ends(min(self.low, other.low), max(self.high, other.high))


class Gap(NamedTuple):
    """Where a curve has no figure: from the last place that has one to the next that has."""

    low: float
    high: float
    words: str


def value_at(series: Series, along: float) -> float:
    """The figure on the line between two neighbouring points; nan in a gap and beyond the ends."""
    if series.along.size == 0:
        return float("nan")
    value = np.interp(along, series.along, series.values, left=np.nan, right=np.nan)
    return float(value) if np.isfinite(value) else float("nan")


def read(series: Iterable[Series], cursor: Cursor) -> tuple[Reading, ...]:
    """Every curve read at the cursor."""
    places = ((one, cursor.of(one.side)) for one in series)
    return tuple(Reading(one, along, value_at(one, along)) for one, along in places)


def gaps(series: Series) -> list[Gap]:
    """The gaps of a curve, in the order along it; at an end a gap goes to the last place tried."""
    known, along = series.known, series.along
    edges = np.flatnonzero(np.diff(np.concatenate(([True], known, [True])).astype(np.int8)))
    last = len(along) - 1
    starts, ends = edges[::2], edges[1::2]
    words = f"{series.side}: {series.why}" if series.side != "one" else series.why
    return [
        Gap(float(along[max(start - 1, 0)]), float(along[min(end, last)]), words)
        for start, end in zip(starts, ends, strict=True)
    ]


def all_gaps(series: Iterable[Series]) -> list[Gap]:
    """The gaps of several curves, each told once; the side is left out where both share it."""
    found: dict[tuple[float, float], dict[str, str]] = {}
    for one in series:
        for gap in gaps(one):
            found.setdefault((gap.low, gap.high), {})[gap.words] = one.why
    return [
        Gap(low, high, word) for (low, high), told in found.items() for word in _gap_words(told)
    ]


def _gap_words(told: dict[str, str]) -> list[str]:
    whys = sorted(set(told.values()))
    return whys if len(told) > 1 and len(whys) == 1 else list(told)


def runs(series: Series) -> list[tuple[Array, Array]]:
    """The stretches of a curve that have figures: places along and figures, two or more each."""
    known = np.concatenate(([False], series.known, [False]))
    edges = np.flatnonzero(np.diff(known.astype(np.int8)))
    return [
        (series.along[start:end], series.values[start:end])
        for start, end in zip(edges[::2], edges[1::2], strict=True)
        if end - start > 1
    ]


def lone(series: Series) -> Array:
    """Points between two gaps, which no line shows: places along and figures, (k, 2)."""
    known = np.concatenate(([False], series.known, [False]))
    alone = known[1:-1] & ~known[:-2] & ~known[2:]
    return np.column_stack([series.along[alone], series.values[alone]])


def along_ends(series: Iterable[Series], stops: Stops | None) -> Ends | None:
    """The range that is drawn over, the stops in it; none if there is nothing to draw."""
    found = [end for one in series if one.along.size for end in (one.along[0], one.along[-1])]
    if stops is not None and found:
        found += [stop for stop in (stops.low, stops.high) if stop is not None]
    return Ends(float(min(found)), float(max(found))) if found else None


def widened(ends: Ends) -> Ends:
    """A range along with room beside it."""
    room = BESIDE * (ends.high - ends.low) or 1.0
    return Ends(ends.low - room, ends.high + room)


def value_ends(series: Iterable[Series], band: Band | None, chart: Chart) -> Ends | None:
    """The range of figures with room round them, limits in it; none if no figure is known."""
    found = [
        float(end)
        for one in series
        if one.known.any()
        for end in (np.min(one.values[one.known]), np.max(one.values[one.known]))
    ]
    if not found:
        return None
    if band is not None:
        found += [limit for limit in (band.low, band.high) if limit is not None]
    if chart.sense:
        found.append(0.0)
    return _with_room(min(found), max(found), chart.digits)


def _with_room(low: float, high: float, digits: int) -> Ends:
    middle = (low + high) / 2
    span = max(high - low, LEAST_DIGITS * 10.0**-digits)
    half = span * (0.5 + ROOM)
    return Ends(middle - half, middle + half)


def label(series: Series, shown: Sequence[Series]) -> str:
    """What a curve is called among those shown: its side alone where they are all of one thing."""
    one_thing = len({one.name for one in shown}) == 1
    if series.side == "one":
        return series.name
    return series.side if one_thing else f"{series.name}, {series.side}"


def short_label(series: Series, shown: Sequence[Series]) -> str:
    """The same, as it stands beside a mark: L or R."""
    letter = {"left": "L", "right": "R", "one": ""}[series.side]
    one_thing = len({one.name for one in shown}) == 1
    return " ".join(word for word in (letter, "" if one_thing else series.name) if word)


def with_unit(value: float, unit: str, digits: int, *, signed: bool) -> str:
    """A figure as it is shown, with its unit."""
    text = format_signed(value, digits) if signed else number(value, digits)
    return text + ("°" if unit == "deg" else f" {unit}" if unit else "")


def unit_words(unit: str) -> str:
    """A unit as it stands alone."""
    return "°" if unit == "deg" else unit


def told(reading: Reading, chart: Chart) -> str:
    """A figure as it is shown, or why there is none."""
    if not reading.is_known:
        return reading.series.why
    return with_unit(reading.value, reading.series.unit, chart.digits, signed=bool(chart.sense))


def numerals(values: Sequence[float], step: float) -> list[str]:
    """The numerals of a scale: as many digits as its step has, a plus where it passes zero."""
    digits = next((n for n in range(_MOST_DIGITS) if _is_whole(step * 10.0**n)), _MOST_DIGITS)
    text = format_signed if any(value < -step / 2 for value in values) else number
    return [text(value, digits) for value in values]


def _is_whole(step: float) -> bool:
    return round(step) > 0 and abs(step - round(step)) < 1e-6 * step
