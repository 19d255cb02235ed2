"""Curves as a table."""

import csv
import io
from collections.abc import Sequence

import numpy as np

from app.widgets.curve_data import Chart, Series
from core.geometry.types import Array


def csv_text(series: Sequence[Series], chart: Chart) -> str:
    """A table as text, comma-separated: a column along, one for each curve, empty in gaps.

    Curves over other places than the rest leave the others empty there: nothing is worked out
    between points.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([_head(chart.along, chart.along_unit), *(_column_head(one) for one in series)])
    places = np.unique(np.concatenate([np.zeros(0), *(one.along for one in series)]))
    columns = [_column(one, places) for one in series]
    writer.writerows(
        [_cell(place), *(column[row] for column in columns)] for row, place in enumerate(places)
    )
    return text.getvalue()


def _head(words: str, unit: str) -> str:
    return f"{words}, {unit}" if unit else words


def _column_head(series: Series) -> str:
    side = "" if series.side == "one" else f" {series.side}"
    return _head(series.name + side, series.unit)


def _column(series: Series, places: Array) -> list[str]:
    column = [""] * len(places)
    for row, value in zip(np.searchsorted(places, series.along), series.values, strict=True):
        column[row] = _cell(float(value))
    return column


def _cell(value: float) -> str:
    return f"{value:.9g}" if np.isfinite(value) else ""
