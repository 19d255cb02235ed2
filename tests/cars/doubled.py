"""What a neutral file says twice: checked within a tolerance, one of the two kept.

Which of the two is kept is written beside each check as «kept = what follows from it».
"""

import math
from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np

from core.geometry.types import Array
from tests.cars.neutral import ConversionError, Plain, array


class Doubled(NamedTuple):
    """Two entries that say one thing: their largest difference and what is allowed."""

    what: str
    difference: float
    allowed: float


ROUNDING = 1e-9
"""Slack for the last digit of a sum of rounded figures, in the unit of the figure."""


def refuse_disagreement(checks: Iterator[Doubled]) -> None:
    """Raise ConversionError for the first two entries that do not agree.

    Raises:
        ConversionError: naming them and how far they lie apart.
    """
    for what, difference, allowed in checks:
        if not difference <= allowed + ROUNDING:
            msg = f"two entries disagree: {what}: {difference:g}, allowed {allowed:g}"
            raise ConversionError(msg)


def same(what: str, one: object, other: object) -> Doubled:
    """Two entries that must be equal."""
    return Doubled(f"{what}: {one!r} and {other!r}", 0.0 if one == other else math.inf, 0.0)


def far(one: Any, other: Any) -> float:  # noqa: ANN401 - JSON
    """The largest difference between the numbers of two places or lists."""
    return float(np.max(np.abs(array(one) - array(other)), initial=0.0))


def mirror(place: Any) -> Array:  # noqa: ANN401 - JSON
    """A place mirrored in the centre plane."""
    return array(place) * array([1, -1, 1])


def unit_to_car(unit: Plain, place: Any) -> Array:  # noqa: ANN401 - JSON
    """A place in the power unit's own frame as a place in the car."""
    frame = unit["unit_frame"]
    columns = np.column_stack([array(frame["axes_in_car"][axis]) for axis in "xyz"])
    return np.asarray(array(frame["origin_in_car"]) + columns @ array(place), dtype=np.float64)


def angle_deg(one: Any, other: Any) -> float:  # noqa: ANN401 - JSON
    """The angle between two directions."""
    a, b = array(one), array(other)
    return math.degrees(math.atan2(float(np.linalg.norm(np.cross(a, b))), float(a @ b)))
