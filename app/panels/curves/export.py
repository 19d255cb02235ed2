"""The curves of an axle as a file: a table of every figure."""

import csv
import io
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np

from app.panels.curves.figures import FIGURES, series_of
from app.widgets.curve_data import Series
from core.assess.axle_curves import AxleCurves
from core.assess.curves import Along
from core.geometry.types import Array


class Column(NamedTuple):
    """A figure of one side, over all that it is known over."""

    head: str
    over: dict[Along, Series]


def table_text(sheets: Mapping[Along, AxleCurves]) -> str:
    """Return every figure of both sides as comma-separated text; empty where nothing is known.

    The first column says what a line is over, the second where; a cell is empty where there is
    no figure. Nothing is worked out between the places that were solved.
    """
    columns = list(_columns(sheets))
    if not columns:
        return ""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["over", "at, mm", *(column.head for column in columns)])
    for along in sheets:
        writer.writerows(_rows(along, columns))
    return text.getvalue()


def _columns(sheets: Mapping[Along, AxleCurves]) -> Iterator[Column]:
    for figure in FIGURES.values():
        found: dict[str, Column] = {}
        for along, axle in sheets.items():
            for series in series_of(axle, figure) if along in figure.over else ():
                side = "" if series.side == "one" else f" {series.side}"
                head = f"{series.name}{side}, {series.unit.replace('°', 'deg')}"
                found.setdefault(head, Column(head, {})).over[along] = series
        yield from found.values()


def _rows(along: Along, columns: list[Column]) -> Iterator[list[str]]:
    series = [column.over.get(along) for column in columns]
    known = [each.along for each in series if each is not None]
    places = np.unique(np.concatenate([np.zeros(0), *known]))
    cells = [_cells(places, each) for each in series]
    for row, place in enumerate(places):
        yield [along, _written(float(place)), *(column[row] for column in cells)]


def _cells(places: Array, series: Series | None) -> list[str]:
    cells = [""] * len(places)
    if series is not None:
        rows = np.searchsorted(places, series.along)
        for row, value in zip(rows, series.values, strict=True):
            cells[row] = _written(float(value))
    return cells


def _written(value: float) -> str:
    return f"{value:.9g}" if np.isfinite(value) else ""
