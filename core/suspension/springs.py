"""Springs and stops as they are felt at the wheel, with the exact geometric term.

By virtual work the load at the wheel is W = F r, with F the force of the spring and r how far it
shortens for each mm the wheel centre rises; so the rate at the wheel is dW/dz = k r^2 + F dr/dz.

Left out: friction, gas force of the damper, stiffness of bushes, bend of arms and brackets, weight
of what is unsprung, and what the path of the contact differs from that of the wheel centre in
height (radius x sine of camber x change of camber). Everything is slow: no damping.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_length, damper_per_wheel_travel
from core.suspension.poses import Poses
from core.suspension.rocker import wheel_travel
from core.suspension.solve import solve

STEP = 0.5
"""Wheel travel, mm, that changes are taken over: against a closed form they are then good to some
1e-13, where a shorter step gives rounding more weight and a longer one the fifth derivative."""

LEAST_RATIO = 1e-6
"""A spring that moves less than this for each mm of the wheel carries nothing."""


@dataclass(frozen=True, slots=True)
class CoilSpring:
    """A coil round a damper; it can only push, and lies loose beyond its free length.

    Attributes:
        rate: N/mm.
        force_at_design: N, pushing; 0 or more.
    """

    rate: float
    force_at_design: float

    def __post_init__(self) -> None:
        """Refuse what is no spring."""
        more_than_nothing("rate of the spring", self.rate)
        if not self.force_at_design >= 0.0:
            raise ValueError("a coil cannot pull: its force at design must be 0 or more")


@dataclass(frozen=True, slots=True)
class Stop:
    """A straight-line stop; several that touch one after another make a progressive one.

    Attributes:
        touches_at: length of the damper, mm, at which it begins to work.
        rate: N/mm, of the stop alone.
        is_droop: a droop stop works at longer lengths, a bump stop at shorter ones.
    """

    touches_at: float
    rate: float
    is_droop: bool = False

    def __post_init__(self) -> None:
        """Refuse what stops nothing."""
        more_than_nothing("rate of the stop", self.rate)
        more_than_nothing("length at which the stop touches", self.touches_at)

    def pressed(self, length: Array) -> Array:
        """How far it is pressed, (...) mm; 0 before it touches."""
        into = length - self.touches_at if self.is_droop else self.touches_at - length
        return np.asarray(np.maximum(into, 0.0))


@dataclass(frozen=True, eq=False, slots=True)
class Pushing:
    """What spring and stops do between the eyes of the damper.

    Attributes:
        force: (...) N, pushing the eyes apart; below 0 where a droop stop holds them together.
        rate: (...) N/mm, of all that works; where a stop just touches, before it does.
        energy: (...) N mm, stored in the spring from loose and in the stops.
        loose: (...) mm, that the coil lies loose; 0 where it is under load.
    """

    force: Array
    rate: Array
    energy: Array
    loose: Array


def pushing(
    length: Array, drawn: Array, spring: CoilSpring, stops: tuple[Stop, ...] = ()
) -> Pushing:
    """Return what spring and stops do at lengths of the damper.

    Args:
        length: (...) mm.
        drawn: (...) mm, at design, where the spring has the force that is told.
        spring: round the damper.
        stops: on it.
    """
    straight = spring.force_at_design + spring.rate * (drawn - length)
    force = np.maximum(straight, 0.0)
    rate = np.where(straight > 0.0, spring.rate, 0.0)
    energy = 0.5 * force**2 / spring.rate
    for stop in stops:
        into = stop.pressed(length)
        force = force + (-into if stop.is_droop else into) * stop.rate
        rate = rate + np.where(into > 0.0, stop.rate, 0.0)
        energy = energy + 0.5 * stop.rate * into**2
    rate = np.where(np.isfinite(length), rate, np.nan)
    loose = np.maximum(-straight / spring.rate, 0.0)
    return Pushing(np.asarray(force), rate, np.asarray(energy), np.asarray(loose))


@dataclass(frozen=True, eq=False, slots=True)
class AtWheel:
    """What a spring with its stops is at the wheel; nan where there is no pose.

    Attributes:
        load: (...) N, upwards on the wheel, that it carries; unsprung weight comes on top.
        rate: (...) N/mm, change of that load for each mm the wheel centre rises, exact.
        geometric: (...) N/mm, the part of it from force times change of the ratio.
        energy: (...) N mm, stored.
    """

    load: Array
    rate: Array
    geometric: Array
    energy: Array


def at_wheel(
    poses: Poses, damper: DamperAtDesign, spring: CoilSpring, stops: tuple[Stop, ...] = ()
) -> AtWheel:
    """Return what a spring on a damper is at the wheel."""
    found = pushing(damper_length(poses, damper), damper.drawn_length, spring, stops)
    per_wheel = damper_per_wheel_travel(poses, damper)
    geometric = found.force * ratio_change(poses, lambda at: damper_per_wheel_travel(at, damper))
    return AtWheel(
        np.asarray(found.force * per_wheel),
        np.asarray(found.rate * per_wheel**2 + geometric),
        np.asarray(geometric),
        found.energy,
    )


def ratio_change(poses: Poses, per_wheel: Callable[[Poses], Array]) -> Array:
    """Return how a ratio changes for each mm that the wheel centre rises, (...).

    The ratio is exact; its change is a central difference of fourth order over poses that are
    solved at half a mm and 1 mm to either side, with the rack held; nan nearer to the lock.
    Source of the weights: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, table
    25.2 (from memory).

    Args:
        poses: where it is wanted.
        per_wheel: gives the ratio (...) at poses.
    """
    aside = STEP * np.array([-2.0, -1.0, 1.0, 2.0]).reshape(-1, *(1,) * len(poses.shape))
    travel = wheel_travel(poses)
    around = solve(poses.linkage, replace(travel, bump=travel.bump + aside))
    weights = np.array([1.0, -8.0, 8.0, -1.0]) / (12.0 * STEP)
    change = np.tensordot(weights, per_wheel(around), axes=1)
    return np.asarray(np.where(poses.is_reached, change, np.nan))


def force_from_load(load: float, per_wheel: float) -> float:
    """Return the force, N, of the spring that carries a load at the wheel.

    Args:
        load: N, of what is sprung, on this wheel at design.
        per_wheel: how far the spring shortens for each mm of the wheel, at design.

    Raises:
        ValueError: if there is no load, or the spring does not shorten as the wheel rises.
    """
    more_than_nothing("sprung load on the wheel", load)
    if not per_wheel > LEAST_RATIO:
        raise ValueError(
            f"the damper must get shorter as the wheel rises, and it does by {per_wheel:.3g} mm "
            "for each mm: its spring cannot carry the load"
        )
    return load / per_wheel


def more_than_nothing(what: str, number: float) -> None:
    """Refuse a number that is not above nought.

    Raises:
        ValueError: that says what it is.
    """
    if not number > 0.0:
        raise ValueError(f"{what} must be more than 0, not {number:g}")
