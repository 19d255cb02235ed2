"""What a corner can be settled for: each aim with its figure, how it is read and what it weighs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from core.assess.curves import QUANTITIES, CornerCurves
from core.geometry.types import Array
from core.suspension.poses import Poses

How = Literal["change", "span", "design", "bump"]
"""Which part of a curve counts: how far it strays from design anywhere, from one end of the travel
to the other, at design, or at full bump."""


@dataclass(frozen=True)
class AimKind:
    """Something a corner can be settled for.

    Attributes:
        key: its short name.
        words: what it is called.
        curve: the figure it is read from, by the key of its curve.
        how: which part of the curve counts.
        unit: of its figure.
        digits: decimals shown.
        accepted: how far off counts as one, in the unit; the program's own judgement.
        is_on: whether it counts unless it is switched off.
        keeps: whether what is drawn is wanted unless something else is said; else nought.
    """

    key: str
    words: str
    curve: str
    how: How
    unit: str
    digits: int
    accepted: float
    is_on: bool = True
    keeps: bool = True


_ALL = (
    AimKind(
        "bump_steer", "toe change over travel", "toe_in", "change", "deg", 2, 0.02,
        keeps=False,
    ),
    AimKind(
        "toe_at_bump", "toe-in at full bump", "toe_in", "bump", "deg", 2, 0.05, is_on=False,
    ),
    AimKind("camber_change", "camber, droop to bump", "camber", "span", "deg", 2, 0.2),
    AimKind("roll_centre", "roll centre height", "roll_centre", "design", "mm", 1, 10.0),
    AimKind("castor", "castor", "castor", "design", "deg", 2, 0.25),
    AimKind("scrub", "scrub radius", "scrub", "design", "mm", 1, 3.0),
    AimKind(
        "damper", "damper for each mm of wheel", "damper_ratio", "design", "mm/mm", 3, 0.02,
    ),
)  # fmt: skip

AIMS: Mapping[str, AimKind] = MappingProxyType({each.key: each for each in _ALL})
"""Everything a corner can be settled for, by its key."""


def part(values: Array, design: int, how: How) -> Array:
    """The part (..., n) of a curve (..., heights) that counts; the last height is full bump."""
    match how:
        case "change":
            return np.asarray(values - values[..., design : design + 1])
        case "span":
            return np.asarray(values[..., -1:] - values[..., :1])
        case "design":
            return np.asarray(values[..., design : design + 1])
        case "bump":
            return np.asarray(values[..., -1:])


def told(kind: AimKind, curves: CornerCurves) -> float:
    """The one figure that is told of an aim: of a change the largest, without its sign."""
    design = int(np.abs(curves.along).argmin())
    values = part(curves.of(kind.curve), design, kind.how)
    return float(np.abs(values).max()) if kind.how == "change" else float(values[0])


def reader(
    kind: AimKind, design: int, damper: Callable[[Poses], Array] | None
) -> Callable[[Poses], Array]:
    """How an aim is read from poses (..., heights), values (..., n).

    Args:
        kind: what is aimed at.
        design: which of the heights is the design position.
        damper: how the damper's figure is read, where a damper is aimed at.
    """
    of = damper if kind.key == "damper" else QUANTITIES[kind.curve].of
    assert of is not None  # without a damper the aim is not on offer
    return lambda poses: part(of(poses), design, kind.how)


def accepted(kind: AimKind, values: int, weight: float) -> float:
    """How far off counts as one for each of so many values, so that the aim counts as one thing."""
    return kind.accepted * float(np.sqrt(values / weight))
