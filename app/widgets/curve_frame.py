"""Where things stand on a plot of curves: the box, the scales, the rows of words round it."""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QFontMetricsF, QPolygonF

from app.look.look import Look
from app.widgets.curve_data import Band, Chart, Cursor, Ends, Series, Stops
from core.geometry.types import Array

MARGIN = 5.0
"""Room for the frame that shows where the keyboard is, and its gap; pixels at scale 1."""
TITLE, LEGEND, SCRIBER = 18.0, 17.0, 17.0
"""Rows above the box."""
NUMERALS, WORDS = 18.0, 17.0
"""Rows below it."""
LEFT, RIGHT = 48.0, 12.0
NAMES_SHARE = 0.3
"""The most of the width that names at the ends of curves may take."""


class Shown(NamedTuple):
    """All that a plot shows at one moment.

    Attributes:
        chart: what it is of.
        series: the curves as they are now.
        before: as they were before the edit that is under way; empty when none is.
        band: figures that are wanted.
        stops: ends of the travel.
        design: where along the design position is.
        cursor: where figures are read off.
        unknown: why there are no figures at all.
    """

    chart: Chart
    series: tuple[Series, ...] = ()
    before: tuple[Series, ...] = ()
    band: Band | None = None
    stops: Stops | None = None
    design: float | None = 0.0
    cursor: Cursor | None = None
    unknown: str = ""

    @property
    def is_known(self) -> bool:
        """Whether any figure is known."""
        return any(one.known.any() for one in self.series)

    @property
    def names_ends(self) -> bool:
        """Whether one side has several curves, so that each needs its name at its end."""
        sides = [one.side for one in self.series]
        return len(set(sides)) < len(sides)


class Frame(NamedTuple):
    """The box that curves are drawn in, and the ranges it shows."""

    box: QRectF
    along: Ends
    values: Ends
    width: float  # of the whole plot

    def x(self, along: float) -> float:
        """Where a place along stands, pixels from the left."""
        share = (along - self.along.low) / (self.along.high - self.along.low)
        return self.box.left() + share * self.box.width()

    def y(self, value: float) -> float:
        """Where a figure stands, pixels from the top."""
        share = (value - self.values.low) / (self.values.high - self.values.low)
        return self.box.bottom() - share * self.box.height()

    def at(self, along: float, value: float) -> QPointF:
        """Where a point stands."""
        return QPointF(self.x(along), self.y(value))

    def line(self, along: Array, values: Array) -> QPolygonF:
        """Where points stand; places along and figures, both (n,)."""
        across = self.box.width() / (self.along.high - self.along.low)
        up = self.box.height() / (self.values.high - self.values.low)
        xs = self.box.left() + (along - self.along.low) * across
        ys = self.box.bottom() - (values - self.values.low) * up
        return QPolygonF([QPointF(x, y) for x, y in zip(xs.tolist(), ys.tolist(), strict=True)])

    def along_at(self, x: float) -> float:
        """The place along at so many pixels from the left."""
        share = (x - self.box.left()) / self.box.width()
        return self.along.low + share * (self.along.high - self.along.low)

    def holds(self, along: float) -> bool:
        """Whether a place along is shown."""
        return self.along.low <= along <= self.along.high


class Sheet(NamedTuple):
    """What the painters of a plot are given."""

    look: Look
    frame: Frame
    shown: Shown

    def px(self, length: float) -> float:
        """A length at the scale in force, not rounded."""
        return length * self.look.scale


def box_of(look: Look, size: QSizeF, shown: Shown) -> QRectF:
    """The box for the curves inside a plot of a size; never empty."""
    top = (MARGIN + TITLE + LEGEND + SCRIBER) * look.scale
    below = (MARGIN + NUMERALS + WORDS) * look.scale
    left = LEFT * look.scale
    width = size.width() - left - _right(look, size, shown)
    return QRectF(left, top, max(width, 1.0), max(size.height() - top - below, 1.0))


def _right(look: Look, size: QSizeF, shown: Shown) -> float:
    if not shown.names_ends:
        return RIGHT * look.scale
    metrics = QFontMetricsF(look.font("rule"))
    widest = max(metrics.horizontalAdvance(one.name) for one in shown.series)
    return min(widest + 2 * RIGHT * look.scale, NAMES_SHARE * size.width())


def apart(places: list[float], gap: float, low: float, high: float) -> list[float]:
    """Places pushed apart to at least `gap`, in their order, within a range where there is room.

    Args:
        places: where each would like to stand, in any order.
        gap: the least distance between two of them.
        low: of the range.
        high: of the range; where all do not fit they go beyond it.
    """
    order = sorted(range(len(places)), key=lambda at: places[at])
    placed = [0.0] * len(places)
    free = low
    for at in order:
        placed[at] = max(places[at], free)
        free = placed[at] + gap
    free = high
    for at in reversed(order):
        placed[at] = min(placed[at], free)
        free = placed[at] - gap
    return placed
