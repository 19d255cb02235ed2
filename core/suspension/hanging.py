"""How far a wheel hangs with its damper off, and what ends it.

Whoever lifts the car or takes a damper off finds out: a joint that is forced past its tilt breaks,
and one whose limit nobody knows may be the first.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.carried import carried_place
from core.suspension.ends import bump_ends
from core.suspension.linkage import Linkage
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.until import Past, first_on_way, way_to

LOCK = "linkage"
"""Name of what governs where the linkage itself locks."""


NEAR = 0.01
"""Wheel travel, mm, to which the lock is looked for; just before it a pose may be the last."""


@dataclass(frozen=True, eq=False, slots=True)
class Limit:
    """Something that ends the travel.

    Attributes:
        name: as the builder calls it.
        reading: gives at poses what is limited, (...): a tilt in deg, a length in mm.
        most: that it may be, same unit; None where nobody knows.
    """

    name: str
    reading: Callable[[Poses], Array]
    most: float | None

    def past(self, poses: Poses) -> Array:
        """How far past the limit, (...); nan where it is not known."""
        most = np.nan if self.most is None else self.most
        return np.asarray(self.reading(poses) - most)


def strap(
    name: str, chassis: Array, place: Array, length: float | None, arm: Arm | None = None
) -> Limit:
    """Return a strap, or a stop that two places cannot go further apart than.

    Args:
        name: as the builder calls it.
        chassis: (3,) mm, its end on the chassis.
        place: (3,) mm, its other end, at design.
        length: mm, when taut; None where it is not known.
        arm: that carries the other end; None, the upright does.
    """

    def apart(poses: Poses) -> Array:
        return np.asarray(np.linalg.norm(carried_place(poses, place, arm) - chassis, axis=-1))

    return Limit(name, apart, length)


@dataclass(frozen=True, slots=True)
class Hanging:
    """How far a wheel hangs.

    Attributes:
        bump: wheel height, mm, below 0; the lowest that is known to be reached.
        governed_by: name of what ends it; `LOCK` for the linkage itself; None where nothing was
            met as far as was looked.
        ends: where each known limit is met, mm, by name; None, not before the linkage locks.
        not_known: names of limits that may be met earlier.
    """

    bump: float
    governed_by: str | None
    ends: dict[str, float | None]
    not_known: tuple[str, ...]


def hanging(
    linkage: Linkage, limits: tuple[Limit, ...] = (), reach: float = 300.0, rack: float = 0.0
) -> Hanging:
    """Return how far the wheel hangs with the damper off.

    Args:
        linkage: one corner.
        limits: joints, straps, and whatever else ends the travel.
        reach: how far down to look, mm.
        rack: mm.

    Raises:
        ValueError: if two limits have one name.
    """
    if len({limit.name for limit in limits} | {LOCK}) <= len(limits):
        raise ValueError("every limit of a hanging wheel needs a name of its own")
    low, _ = bump_ends(linkage, reach, rack)
    found = {limit.name: Past(None, 0.0) for limit in limits}
    known = [limit for limit in limits if limit.most is not None]
    if known:  # near its lock a linkage takes long to follow
        way = way_to(linkage, low.travel, rack)
        found |= {limit.name: first_on_way(way, limit.past) for limit in known}
    ends = {name: past.bump for name, past in found.items()}
    met = [(bump, name) for name, bump in ends.items() if bump is not None]
    bump, governs = max(met, default=(low.travel, LOCK if low.is_lock else None))
    unknown = tuple(name for name, past in found.items() if _may_be_earlier(past, bump))
    return Hanging(bump, governs, ends, unknown)


def _may_be_earlier(past: Past, bump: float) -> bool:
    """Whether a limit is not known as far down as the wheel hangs."""
    return past.bump is None and past.looked_to > bump + NEAR
