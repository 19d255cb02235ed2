"""The conditions of a rigid axle as arrays: those of any linkage, two wheels and rockers."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from core.geometry.types import Array, unit
from core.suspension.constraints import AxleConstraint, Watt
from core.suspension.rows import Rockers, Rows, rows_of

WheelPlaces = tuple[tuple[Array, Array], ...]
"""Centre (..., 3) mm and spin axis (..., 3) unit of each wheel."""


def axle_rows(constraints: tuple[AxleConstraint, ...], centre: Array, wheels: WheelPlaces) -> Rows:
    """Return the conditions of an axle.

    Args:
        constraints: what holds it.
        centre: (..., 3) mm, midway between the wheel centres at design.
        wheels: left and right.

    Raises:
        ValueError: if two points that must make a line are one.
    """
    watts = [held for held in constraints if isinstance(held, Watt)]
    shape = _shape([centre, *(a for wheel in wheels for a in wheel), *_arrays(watts)])
    middle = np.broadcast_to(centre, (*shape, 3))
    rows = rows_of(constraints, middle, wheels[0][1])
    return replace(
        rows,
        names=rows.names + tuple(watt.name for watt in watts),
        spin=_stacked([spin for _, spin in wheels], rows.shape),
        wheels=_stacked([place - centre for place, _ in wheels], rows.shape),
        rockers=_rockers(watts, centre, rows.shape) if watts else None,
    )


def _shape(arrays: Iterable[Array]) -> tuple[int, ...]:
    return np.broadcast_shapes(*(np.shape(array)[:-1] for array in arrays))


def _arrays(watts: list[Watt]) -> list[Array]:
    rods = [rod for watt in watts for rod in (watt.first_rod, watt.second_rod)]
    places = [array for watt in watts for array in (watt.pivot, watt.axis)]
    return [*places, *(end for rod in rods for end in (rod.inner, rod.outer))]


def _rockers(watts: list[Watt], centre: Array, shape: tuple[int, ...]) -> Rockers:
    return Rockers(
        _stacked([watt.pivot - centre for watt in watts], shape),
        _stacked([unit(np.asarray(watt.axis, dtype=np.float64)) for watt in watts], shape),
        _stacked([watt.first_rod.outer - watt.pivot for watt in watts], shape),
        _stacked([watt.second_rod.outer - watt.pivot for watt in watts], shape),
        _stacked([watt.first_rod.inner - centre for watt in watts], shape),
        _stacked([watt.second_rod.inner - centre for watt in watts], shape),
    )


def _stacked(vectors: list[Array], shape: tuple[int, ...]) -> Array:
    """One beside another, (*shape, count, 3)."""
    full = [np.broadcast_to(vector, (*shape, 3)) for vector in vectors]
    return np.asarray(np.stack(full, axis=-2), dtype=np.float64)
