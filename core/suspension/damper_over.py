"""A damper at full bump, design and full droop, and the bar with holes that stands in for it.

A bar in place of a damper carries the whole corner: the car is on stands while anyone is under it.
"""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_length, damper_per_wheel_travel
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.springs import ratio_change
from core.suspension.travel import at


@dataclass(frozen=True, slots=True)
class DamperAt:
    """A damper at one wheel height.

    Attributes:
        length: between its eyes, mm.
        per_wheel: how many mm it shortens for each mm the wheel centre rises.
    """

    length: float
    per_wheel: float


@dataclass(frozen=True, slots=True)
class DamperOver:
    """A damper at full bump, design and full droop.

    Attributes:
        bump: at full bump.
        design: at the design position.
        droop: at full droop.
        ratio_change: of the ratio at design, for each mm the wheel centre rises.
    """

    bump: DamperAt
    design: DamperAt
    droop: DamperAt
    ratio_change: float = 0.0

    def __post_init__(self) -> None:
        """Refuse lengths that do not grow from bump to droop."""
        lengths = self.bump.length, self.design.length, self.droop.length
        if not 0.0 < lengths[0] < lengths[1] < lengths[2]:
            said = ", ".join(f"{length:g}" for length in lengths)
            raise ValueError(f"a damper must get longer from bump over design to droop, not {said}")


def damper_over(linkage: Linkage, damper: DamperAtDesign, bump: float, droop: float) -> DamperOver:
    """Return a damper at full bump, design and full droop.

    Args:
        linkage: one corner.
        damper: on it.
        bump: wheel travel up, mm.
        droop: wheel travel down, mm, told as a positive number.

    Raises:
        ValueError: if the linkage or a rocker does not reach there, or the lengths are crossed.
    """
    poses = solve(linkage, at(np.array([bump, 0.0, -droop])))
    lengths, ratios = damper_length(poses, damper), damper_per_wheel_travel(poses, damper)
    if not np.isfinite(lengths).all():
        raise ValueError(f"the corner does not reach {bump:g} up and {droop:g} down")

    def per_wheel(moved: Poses) -> Array:
        return damper_per_wheel_travel(moved, damper)

    change = ratio_change(solve(linkage, at(0.0)), per_wheel)
    each = [DamperAt(float(a), float(b)) for a, b in zip(lengths, ratios, strict=True)]
    return DamperOver(each[0], each[1], each[2], float(change))


@dataclass(frozen=True, slots=True)
class DummyDamper:
    """A bar with one hole for an eye and three for the other, in place of a damper.

    Attributes:
        full_bump: from the first hole, mm.
        ride: mm.
        full_droop: mm.
    """

    full_bump: float
    ride: float
    full_droop: float

    @property
    def between_holes(self) -> tuple[float, float]:
        """From bump to ride and from ride to droop, mm: holes need more than their own size."""
        return self.ride - self.full_bump, self.full_droop - self.ride


def dummy_damper(over: DamperOver) -> DummyDamper:
    """Return the holes of a bar that holds the wheel at full bump, design and full droop."""
    return DummyDamper(over.bump.length, over.design.length, over.droop.length)
