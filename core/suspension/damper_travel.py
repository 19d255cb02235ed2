"""What is left of a damper's travel at both ends, and where its stops touch."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_length
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses
from core.suspension.springs import Stop
from core.suspension.until import Past, first_past


@dataclass(frozen=True, slots=True)
class TravelLeft:
    """What is left of a damper's travel; nan where a position has no pose, so nothing is known.

    Attributes:
        to_closed: mm, shortest length used less the closed length; below 0 it is too long.
        to_open: mm, open length less the longest used; below 0 it is too short.
        shortest_at: wheel height, mm, of the shortest length.
        longest_at: wheel height, mm, of the longest.
    """

    to_closed: float
    to_open: float
    shortest_at: float
    longest_at: float


def travel_left(poses: Poses, damper: DamperAtDesign, closed: float, opened: float) -> TravelLeft:
    """Return what is left of a damper at both ends over positions.

    Args:
        poses: of one corner, over its travel.
        damper: on it.
        closed: length between the eyes with the damper pushed home, mm.
        opened: pulled out, mm.

    Raises:
        ValueError: if it is no shorter closed than open.
    """
    refuse_crossed(closed, opened)
    lengths = damper_length(poses, damper).reshape(-1)
    bumps = (poses.centre - poses.linkage.centre)[..., 2].reshape(-1)
    short, far = int(np.argmin(lengths)), int(np.argmax(lengths))  # both nan, if any is
    return TravelLeft(
        float(lengths[short]) - closed,
        opened - float(lengths[far]),
        float(bumps[short]),
        float(bumps[far]),
    )


def stop_touches(
    linkage: Linkage, damper: DamperAtDesign, stop: Stop, to: float, rack: float = 0.0
) -> Past:
    """Return the wheel height at which a stop touches, on the way from design.

    Args:
        linkage: one corner.
        damper: that the stop is on.
        stop: for bump or droop.
        to: wheel height to look to, mm: up for a bump stop, as a rule.
        rack: mm.
    """
    sign = 1.0 if stop.is_droop else -1.0

    def pressed(poses: Poses) -> Array:
        return np.asarray(sign * (damper_length(poses, damper) - stop.touches_at))

    return first_past(linkage, pressed, to, rack)


def refuse_crossed(closed: float, opened: float) -> None:
    """Refuse a damper that is no shorter closed than open.

    Raises:
        ValueError: that says both lengths.
    """
    if not 0.0 < closed < opened:
        raise ValueError(f"a damper cannot be {closed:g} closed and {opened:g} open")
