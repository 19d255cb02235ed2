"""A car on three or four stands: which way it would tip, and what each stand carries.

Figures of statics alone: a stand can slip, sink or be knocked. Nobody belongs under a car that
has not been shaken by hand on its stands first, on hard level ground, with the wheels as a second
support.
"""

from typing import NamedTuple

import numpy as np
from shapely import LineString, MultiPoint, Point, Polygon

from core.geometry.types import Array

LEAST_STANDS, MOST_STANDS = 3, 4


class Tipping(NamedTuple):
    """How far a car is from tipping off its stands.

    Attributes:
        margin: mm, of the centre of gravity inside the nearest edge; below zero, outside: it tips.
        over: the two stands between which that edge runs.
    """

    margin: float
    over: tuple[int, int]


def tipping(stands: Array, at: Array) -> Tipping:
    """Return over which edge of its stands a car would tip first.

    Args:
        stands: (n, 2) mm, x and y, three or four.
        at: (2,) mm, centre of gravity.

    Raises:
        ValueError: if they are fewer or more, or in one line.
    """
    _refuse_numbers(stands)
    hull = MultiPoint(stands).convex_hull
    if not isinstance(hull, Polygon):
        raise ValueError("stands in one line hold nothing upright")  # noqa: TRY004 - of its value
    corners = np.asarray(hull.exterior.coords, dtype=np.float64)
    centre = Point(at)
    gaps = [LineString(corners[k : k + 2]).distance(centre) for k in range(len(corners) - 1)]
    edge = int(np.argmin(gaps))
    first, second = (_nearest(stands, corners[k]) for k in (edge, edge + 1))
    margin = gaps[edge] if hull.covers(centre) else -gaps[edge]
    return Tipping(float(margin), (min(first, second), max(first, second)))


def _nearest(stands: Array, corner: Array) -> int:
    return int(np.linalg.norm(stands - corner, axis=1).argmin())


def _refuse_numbers(stands: Array) -> None:
    if not LEAST_STANDS <= len(stands) <= MOST_STANDS:
        raise ValueError("a car is put on three or four stands")


class StandLoads(NamedTuple):
    """What each stand carries, (n,) kg.

    Attributes:
        alike: if the car is stiff and all stands give alike; with three, whatever they do.
        least: the least that each can carry, if the ground or the stands are uneven.
        most: the most.
    """

    alike: Array
    least: Array
    most: Array


def stand_loads(mass_kg: float, at: Array, stands: Array) -> StandLoads:
    """Return what each stand carries.

    Three stands are settled by statics. With four, any shift s along the one set of loads that
    cancels itself keeps the balance; stands cannot pull, which bounds s. Stands that give alike
    under a stiff car take the loads with the least sum of squares.

    Args:
        mass_kg: of the car.
        at: (2,) mm, x and y of its centre of gravity.
        stands: (n, 2) mm, x and y of the stands.

    Raises:
        ValueError: if the car tips off them, or `tipping` refuses them.
    """
    if tipping(stands, at).margin < 0.0:
        raise ValueError("the car tips off its stands")
    levers = stands - at
    rows = np.vstack([np.ones(len(stands)), levers.T / np.abs(levers).max()])
    even: Array = np.asarray(np.linalg.pinv(rows)[:, 0] * mass_kg, dtype=np.float64)
    if len(stands) == LEAST_STANDS:
        return StandLoads(even, even, even)
    cancels = np.linalg.svd(rows)[2][-1]
    low, high = _shifts(even, cancels)
    ends = np.array([even + low * cancels, even + high * cancels])
    alike = even + np.clip(0.0, low, high) * cancels
    return StandLoads(np.maximum(alike, 0.0), np.maximum(ends.min(0), 0.0), ends.max(0))


def _shifts(even: Array, cancels: Array) -> tuple[float, float]:
    """Least and most shift along `cancels` that leaves no stand below zero."""
    counts = np.abs(cancels) > 1e-12  # noqa: PLR2004 - a stand that statics settles
    bounds, ways = -even[counts] / cancels[counts], cancels[counts] > 0.0
    return float(bounds[ways].max()), float(bounds[~ways].min())
