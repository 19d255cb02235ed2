"""How far a bracket reaches from what it carries to where it stands."""

from typing import Literal

import numpy as np

from core.frame.network import Network, meetings
from core.geometry.types import Array

Footing = Literal["joint", "one tube", "nothing"]

_TUBES_AT_A_JOINT = 2


def bracket_reach(carried: Array, stands_at: Array) -> Array:
    """Straight distance from what a bracket carries to where it stands, mm.

    Args:
        carried: (..., 3) bolt centre, bush or foot, mm, car frame.
        stands_at: (..., 3) joint or place on a tube, mm, car frame.

    Raises:
        ValueError: if a place is no number; a reach that is not known is not short.
    """
    between = np.asarray(carried, dtype=np.float64) - np.asarray(stands_at, dtype=np.float64)
    if not np.isfinite(between).all():
        raise ValueError("a bracket has a place that is no number")
    reach: Array = np.linalg.norm(between, axis=-1)
    return reach


def footings(network: Network) -> tuple[Footing, ...]:
    """What a bracket on each joint would stand on: two or more tubes, one tube, or nothing."""
    counts = [len(at.tubes()) for at in meetings(network)]
    return tuple(_footing(count) for count in counts)


def _footing(tubes: int) -> Footing:
    if tubes >= _TUBES_AT_A_JOINT:
        return "joint"
    return "one tube" if tubes else "nothing"
