"""The figures a corner is set to, by name, and how fast they go with anything that can change."""

from collections.abc import Callable
from typing import Literal

import numpy as np

from core.geometry.types import Array
from core.suspension.changes import Change
from core.suspension.linkage import Linkage
from core.suspension.made import solve_with
from core.suspension.poses import Poses
from core.suspension.steering import castor_deg
from core.suspension.travel import Travel
from core.suspension.wheel import (
    bump_steer_slope,
    camber_deg,
    forward_change,
    half_track_change,
    toe_in_deg,
)

Figure = Literal["camber", "toe_in", "castor", "half_track", "bump_steer", "forward"]
"""Degrees; half-track and the way of the wheel centre forward are mm from design, which lengthens
the wheelbase at the front and shortens it at the rear; bump steer is toe-in, degrees for each mm
up."""

READ: dict[Figure, Callable[[Poses], Array]] = {
    "camber": camber_deg,
    "toe_in": toe_in_deg,
    "castor": castor_deg,
    "half_track": half_track_change,
    "bump_steer": bump_steer_slope,
    "forward": forward_change,
}

STEP = 0.05
"""Of a change, mm, over which figures are compared. Cut off: about (step / length of a rod)^2 of
the slope, 1e-7; rounding: 1e-12 deg over it."""


def figures_of(linkage: Linkage) -> tuple[Figure, ...]:
    """Return the figures a corner has; castor needs two points of a steering axis."""
    return tuple(each for each in READ if each != "castor" or linkage.steering_axis is not None)


def read_figures(poses: Poses, figures: tuple[Figure, ...]) -> Array:
    """Return figures (..., figures), nan where there is no pose.

    Raises:
        ValueError: if castor is asked of a corner without points of a steering axis.
    """
    return np.stack([READ[each](poses) for each in figures], axis=-1)


def slopes_of(read: Callable[[Array], Array], amounts: Array, step: float = STEP) -> Array:
    """Return how fast readings go with amounts, (..., readings, amounts), by central differences.

    All of them are asked for in one call.

    Args:
        read: from amounts (..., amounts) to readings (..., readings), exact.
        amounts: (..., amounts), where.
        step: either way.
    """
    count = amounts.shape[-1]
    ways = step * np.concatenate([np.eye(count), -np.eye(count)])
    tried = amounts + ways.reshape(2 * count, *(1,) * (amounts.ndim - 1), count)
    found = read(tried)
    change = (found[:count] - found[count:]) / (2.0 * step)
    return np.moveaxis(change, 0, -1)


def figures_with(
    linkage: Linkage,
    changes: tuple[Change, ...],
    travel: Travel,
    figures: tuple[Figure, ...],
) -> Callable[[Array], Array]:
    """Return the reading of figures from amounts.

    It takes amounts (..., changes) mm and gives (..., *shape of the positions, figures), each
    solved exactly.
    """
    return lambda amounts: read_figures(solve_with(linkage, changes, amounts, travel), figures)
