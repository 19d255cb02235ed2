"""The words round the curves: title, legend, along, stops, gaps, limits, names at the ends."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.look.marks import side_pen
from app.look.tokens import ColourName
from app.widgets.curve_data import Gap, Series, all_gaps, unit_words, value_at
from app.widgets.curve_frame import LEGEND, MARGIN, NUMERALS, TITLE, Sheet, apart
from app.widgets.curve_marks import paint_mark
from app.widgets.curve_text import elided, write, write_over
from core.document.base import Side
from core.quantities import number

BEFORE, BEFORE_SHORT = "before this move", "before"
DESIGN = "design"
SAMPLE = 24.0
BESIDE = 7.0


class Entry(NamedTuple):
    """A line of the legend: a side's, or with no side the shape before."""

    side: Side | None
    words: str


def paint_words(painter: QPainter, sheet: Sheet) -> None:
    """Draw the words round the curves."""
    _paint_title(painter, sheet)
    _paint_legend(painter, sheet)
    if sheet.shown.is_known:
        _paint_below(painter, sheet)
        _paint_design(painter, sheet)
        _paint_gap_words(painter, sheet)
        _paint_band_words(painter, sheet)
        _paint_names(painter, sheet)


def _paint_title(painter: QPainter, sheet: Sheet) -> None:
    chart, box = sheet.shown.chart, sheet.frame.box
    unit = unit_words(sheet.shown.series[0].unit) if sheet.shown.series else ""
    words = ", ".join(word for word in (chart.sense, unit) if word)
    small = QFontMetricsF(sheet.look.font("small"))
    right = box.right() - small.horizontalAdvance(words)
    write(
        painter, sheet.look, words, QPointF(right, sheet.px(MARGIN + TITLE * 0.75)), "small", "ink2"
    )
    left = sheet.px(BESIDE)
    room = right - left - sheet.px(8)
    title = elided(sheet.look, chart.title, "head", room)
    write(painter, sheet.look, title, QPointF(left, sheet.px(MARGIN + TITLE * 0.75)), "head", "ink")


def entries(sheet: Sheet) -> list[Entry]:
    """What the legend lists."""
    shown = sheet.shown
    sides: tuple[Side, ...] = ("left", "right")
    found = [Entry(s, s) for s in sides if any(one.side == s for one in shown.series)]
    single = [one for one in shown.series if one.side == "one"]
    if len(single) == 1 and found:
        found.append(Entry("one", single[0].name))
    if shown.before:
        found.append(Entry(None, BEFORE))
    return found


def _paint_legend(painter: QPainter, sheet: Sheet) -> None:
    metrics = QFontMetricsF(sheet.look.font("small"))
    x, y = sheet.px(BESIDE), sheet.px(MARGIN + TITLE + LEGEND * 0.5)
    for side, words in entries(sheet):
        _paint_sample(painter, sheet, side, QPointF(x, y))
        x += sheet.px(SAMPLE + BESIDE)
        if words == BEFORE and x + metrics.horizontalAdvance(words) > sheet.frame.width:
            words = BEFORE_SHORT  # noqa: PLW2901 - where there is no room for more
        write(painter, sheet.look, words, QPointF(x, y + metrics.capHeight() / 2), "small", "ink")
        x += metrics.horizontalAdvance(words) + sheet.px(16)


def _paint_sample(painter: QPainter, sheet: Sheet, side: Side | None, start: QPointF) -> None:
    look = sheet.look
    end = start + QPointF(sheet.px(SAMPLE), 0)
    if side is None:
        painter.setPen(QPen(look.colour("ink2"), max(1.2 * look.scale, 1.0)))
        painter.drawLine(start, end)
        return
    painter.setPen(side_pen(look, side, 2 * look.scale))
    painter.drawLine(start, end)
    paint_mark(painter, sheet, side, (start + end) / 2)


def _paint_below(painter: QPainter, sheet: Sheet) -> None:
    metrics = QFontMetricsF(sheet.look.font("small"))
    low, high = sheet.px(BESIDE), sheet.frame.width - sheet.px(BESIDE)
    placed = _side_by_side(_labels_below(sheet), metrics, low, high)
    if not placed:  # they would meet: what it is over matters most
        placed = _side_by_side([_along_label(sheet)], metrics, low, high)
    base = sheet.frame.box.bottom() + sheet.px(NUMERALS) + metrics.ascent()
    for x, words in placed:
        write(painter, sheet.look, words, QPointF(x, base), "small", "ink2")


def _side_by_side(
    labels: list[tuple[float, str]], metrics: QFontMetricsF, low: float, high: float
) -> list[tuple[float, str]]:
    """Labels with their left ends, centred on their places within a range; none if two meet."""
    placed: list[tuple[float, str]] = []
    free = low
    for centre, words in labels:
        width = metrics.horizontalAdvance(words)
        x = max(min(centre - width / 2, high - width), low)
        if x < free:
            return []
        placed.append((x, words))
        free = x + width + 8
    return placed


def _along_label(sheet: Sheet) -> tuple[float, str]:
    chart = sheet.shown.chart
    words = f"{chart.along}, {unit_words(chart.along_unit)}" if chart.along_unit else chart.along
    return sheet.frame.box.center().x(), words


def _labels_below(sheet: Sheet) -> list[tuple[float, str]]:
    stops, labels = sheet.shown.stops, [_along_label(sheet)]
    if stops is not None:
        for stop, words in ((stops.low, stops.low_words), (stops.high, stops.high_words)):
            if stop is not None:
                labels.append((sheet.frame.x(stop), f"{words} {number(stop, 0)}"))
    return sorted(labels)


def _paint_gap_words(painter: QPainter, sheet: Sheet) -> None:
    box = sheet.frame.box
    metrics = QFontMetricsF(sheet.look.font("small"))
    rows = {True: 0, False: 1}  # the lowest row is the design position's
    for gap in all_gaps(sheet.shown.series):
        words = elided(sheet.look, gap.words, "small", box.width())
        half = metrics.horizontalAdvance(words) / 2 + 3
        x = (sheet.frame.x(gap.low) + sheet.frame.x(gap.high)) / 2
        x = max(min(x, box.right() - half), box.left() + half)
        at_top = _is_free_above(sheet, gap)
        away = (rows[at_top] + 0.7) * metrics.height()
        rows[at_top] += 1
        y = box.top() + away if at_top else box.bottom() - away
        write_over(painter, sheet.look, words, QPointF(x, y), "small", "unknown")


def _is_free_above(sheet: Sheet, gap: Gap) -> bool:
    """Whether what is read about a gap lies low on the plot."""
    middle = (gap.low + gap.high) / 2
    heights = [value_at(one, x) for one in sheet.shown.series for x in (gap.low, middle, gap.high)]
    known = [value for value in heights if np.isfinite(value)]
    return not known or sum(known) / len(known) < sum(sheet.frame.values) / 2


def _paint_design(painter: QPainter, sheet: Sheet) -> None:
    design, box = sheet.shown.design, sheet.frame.box
    if design is None or not sheet.frame.holds(design):
        return
    metrics = QFontMetricsF(sheet.look.font("rule"))
    x = sheet.frame.x(design) + metrics.horizontalAdvance(DESIGN) / 2 + sheet.px(4)
    y = box.bottom() - metrics.height() / 2
    write_over(painter, sheet.look, DESIGN, QPointF(x, y), "rule", "ink2")


def _paint_band_words(painter: QPainter, sheet: Sheet) -> None:
    band, box = sheet.shown.band, sheet.frame.box
    if band is None or not band.words:
        return
    metrics = QFontMetricsF(sheet.look.font("small"))
    half = metrics.height() / 2
    is_below = band.high is not None
    limit = band.high if band.high is not None else band.low
    if limit is None:
        return
    y = sheet.frame.y(limit) + (half if is_below else -half)
    y = min(max(y, box.top() + half), box.bottom() - half)
    x = box.left() + sheet.px(BESIDE) + metrics.horizontalAdvance(band.words) / 2
    write_over(painter, sheet.look, band.words, QPointF(x, y), "small", "ink2")


def _paint_names(painter: QPainter, sheet: Sheet) -> None:
    if not sheet.shown.names_ends:
        return
    box = sheet.frame.box
    metrics = QFontMetricsF(sheet.look.font("rule"))
    named = list(_ends(sheet))
    ys = apart([y for _, y in named], metrics.height(), box.top(), box.bottom())
    x = box.right() + sheet.px(BESIDE)
    room = sheet.frame.width - x
    for (series, _), y in zip(named, ys, strict=True):
        words = elided(sheet.look, series.name, "rule", room)
        place = QPointF(x, y + metrics.capHeight() / 2)
        write(painter, sheet.look, words, place, "rule", _ink(sheet, series))


def _ink(sheet: Sheet, series: Series) -> ColourName:
    """A side's colour; ink where both sides have a curve of that name."""
    sides = {one.side for one in sheet.shown.series if one.name == series.name}
    return "ink" if len(sides) > 1 or series.side == "one" else series.side


def _ends(sheet: Sheet) -> Iterator[tuple[Series, float]]:
    """Curves with where they end; left and right of one name are named once, at the first."""
    told: set[str] = set()
    for one in sheet.shown.series:
        if one.known.any() and one.name not in told:
            told.add(one.name)
            yield one, sheet.frame.y(float(one.values[one.known][-1]))
