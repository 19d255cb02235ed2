"""One end of the car raised about the wheels of the other: heights, and what meets the floor.

Lengths of the car are in its own frame, on level ground at z = 0. It turns about the axle that
stays down, whose wheels stand on the floor.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.geometry.types import Array

End = Literal["tail", "nose"]

UPRIGHT_DEG = 90.0


@dataclass(frozen=True, eq=False)
class Raised:
    """What turns, and which way.

    Attributes:
        end: the end that is raised, about the wheels of the other one.
        pivot: (3,) mm, the middle of the axle that stays down; y does not count.
    """

    end: End
    pivot: Array

    def own(self, places: Array) -> tuple[Array, Array]:
        """Return places (..., 3) as (...) mm towards the raised end, and (...) above the pivot."""
        way = -1.0 if self.end == "tail" else 1.0
        return (
            np.asarray(way * (places[..., 0] - self.pivot[0])),
            np.asarray(places[..., 2] - self.pivot[2]),
        )


def heights(places: Array, raised: Raised, angle_deg: float) -> Array:
    """Return the heights (...) mm of places (..., 3) above the floor, with an end raised."""
    along, above = raised.own(places)
    angle = np.radians(angle_deg)
    return np.asarray(raised.pivot[2] + above * np.cos(angle) + along * np.sin(angle))


def angle_to_raise(place: Array, raised: Raised, by: float) -> float:
    """Return the angle, degrees, at which a place (3,) is so many mm higher than on the level.

    Raises:
        ValueError: if it is not on the raised side, or never comes so high.
    """
    along, above = (float(value) for value in raised.own(place))
    if along <= 0.0:
        raise ValueError("what is lifted must be on the raised side of the wheels")
    reach = np.hypot(along, above)
    if not abs(above + by) <= reach:
        raise ValueError("it never comes so high")
    return float(np.degrees(np.arcsin((above + by) / reach) - np.arctan2(above, along)))


@dataclass(frozen=True)
class FirstDown:
    """What meets the floor first: at which angle, degrees, and the index of the place."""

    angle_deg: float
    place: int


def first_down(places: Array, raised: Raised, left: float = 0.0) -> FirstDown | None:
    """Return the first of the places (n, 3) to come down to a height over the floor, if any does.

    Only what is beyond the wheels that stay down comes down; what is lower than that height on the
    level counts as down at once. A car is not raised until it stands upright.

    Args:
        places: (n, 3) mm, lowest places of the car.
        raised: what turns.
        left: mm, the height that is to stay over the floor.
    """
    along, above = raised.own(places)
    reach = np.hypot(along, above)
    wanted = left - raised.pivot[2]
    slope = np.divide(wanted, reach, out=np.full_like(reach, np.nan), where=reach > 0.0)
    comes_down = (along < 0.0) & (slope >= -1.0)
    at = np.arctan2(above, -along) - np.arcsin(np.where(comes_down, np.minimum(slope, 1.0), 0.0))
    angles = np.where(comes_down, np.maximum(np.degrees(at), 0.0), np.inf)
    if not (angles < UPRIGHT_DEG).any():
        return None
    first = int(angles.argmin())
    return FirstDown(float(angles[first]), first)
