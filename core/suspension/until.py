"""How far a wheel goes from design until something is past its limit."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from core.geometry.types import Array
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import at

LOOK_EVERY = 1.0
"""Wheel travel between looks, mm; something past its limit for less than that may be missed."""


@dataclass(frozen=True, slots=True)
class Past:
    """Where something comes past its limit.

    Attributes:
        bump: wheel height, mm, nearest to design; None where it does not.
        looked_to: wheel height up to which it is known, mm.
    """

    bump: float | None
    looked_to: float


@dataclass(frozen=True, eq=False, slots=True)
class Way:
    """A way from design, solved once for all that is looked for on it.

    Attributes:
        linkage: one corner.
        bumps: (n,) wheel heights, mm, from 0.
        rack: mm.
        poses: (n,) at them.
    """

    linkage: Linkage
    bumps: Array
    rack: float
    poses: Poses


def way_to(linkage: Linkage, to: float, rack: float = 0.0) -> Way:
    """Return the way from design to a wheel height, mm."""
    bumps = np.linspace(0.0, to, int(np.ceil(abs(to) / LOOK_EVERY)) + 1)
    return Way(linkage, bumps, rack, solve(linkage, at(bumps, rack)))


def first_past(
    linkage: Linkage, excess: Callable[[Poses], Array], to: float, rack: float = 0.0
) -> Past:
    """Return where something first comes past its limit on the way from design.

    Args:
        linkage: one corner.
        excess: what is above 0 past the limit, (...), in any unit; nan ends the search.
        to: wheel height to look to, mm, up or down.
        rack: mm.
    """
    return first_on_way(way_to(linkage, to, rack), excess)


def first_on_way(way: Way, excess: Callable[[Poses], Array]) -> Past:
    """Return where something first comes past its limit on a way.

    Args:
        way: from design.
        excess: what is above 0 past the limit, (...), in any unit; nan ends the search.
    """
    bumps = way.bumps
    found = np.broadcast_to(excess(way.poses), bumps.shape)
    ends = np.flatnonzero(~(found <= 0.0))
    if not ends.size:
        return Past(None, float(bumps[-1]))
    end = int(ends[0])
    before = float(bumps[max(end - 1, 0)])
    if np.isnan(found[end]):
        return Past(None, before)
    if end == 0:
        return Past(0.0, 0.0)
    crossing = _crossing(way, excess, (before, float(bumps[end])))
    return Past(crossing, crossing)


def _crossing(way: Way, excess: Callable[[Poses], Array], between: tuple[float, float]) -> float:
    def one(bump: float) -> float:
        return float(excess(solve(way.linkage, at(bump, way.rack))))

    return float(brentq(one, *between, xtol=1e-9))
