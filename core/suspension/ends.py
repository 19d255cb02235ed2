"""The ends of a corner's travel: the last wheel height, or rack travel, that it can reach."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import Linkage
from core.suspension.solve import solve
from core.suspension.travel import Travel, at


@dataclass(frozen=True, slots=True)
class End:
    """How far the linkage goes one way from design.

    Attributes:
        travel: last that it reaches, mm, to a thousandth below.
        is_lock: whether it locks there; otherwise it goes on past what was asked.
    """

    travel: float
    is_lock: bool


def bump_ends(linkage: Linkage, reach: float = 300.0, rack: float = 0.0) -> tuple[End, End]:
    """Return the ends of wheel travel down and up, at a rack travel.

    Args:
        linkage: one corner.
        reach: how far to look, mm.
        rack: mm.
    """
    asked = np.array([-reach, reach])
    return _ends(linkage, at(asked, rack), asked)


def rack_ends(linkage: Linkage, reach: float = 200.0, bump: float = 0.0) -> tuple[End, End]:
    """Return the ends of rack travel to the right and to the left, at a wheel height."""
    asked = np.array([-reach, reach])
    return _ends(linkage, at(bump, asked), asked)


def _ends(linkage: Linkage, travel: Travel, asked: Array) -> tuple[End, End]:
    poses = solve(linkage, travel)
    first, last = (
        End(float(share * way), not reached)
        for share, way, reached in zip(poses.share, asked, poses.is_reached.tolist(), strict=True)
    )
    return first, last
