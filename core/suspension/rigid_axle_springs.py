"""What springs on a rigid axle give at the wheels, in heave and in roll."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_per_wheel_travel
from core.suspension.rigid_axle_poses import AxlePoses, Drive

NEWTON_METRES = 1e-3
"""In one N mm."""


@dataclass(frozen=True, eq=False, slots=True)
class AxleRates:
    """Rates at the wheel centres, and of the roll they resist.

    Attributes:
        heave: of one wheel while both rise alike, (...) N/mm.
        roll: of one wheel while the other falls as it rises, (...) N/mm.
        roll_stiffness: of the axle, (...) Nm for each degree of roll.
    """

    heave: Array
    roll: Array
    roll_stiffness: Array


def axle_rates(poses: AxlePoses, springs: tuple[tuple[DamperAtDesign, float], ...]) -> AxleRates:
    """Return what springs give at the wheels: for energy, half their rate times ratio squared.

    Both wheels share what a spring gives, wherever it stands. Left out, as for one wheel: force
    times change of the ratio. Two upright springs s apart give the roll stiffness k s^2 / 2: T. D.
    Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, chapter 6 (from memory); at the wheels
    that is their rate times (s / track)^2, so softer in roll than in heave.

    Args:
        poses: of the axle.
        springs: each with its rate, N/mm.
    """
    heave, roll = (_shared(poses, springs, drive) for drive in ("heave", "roll"))
    lever = 0.5 * poses.axle.span * np.sqrt(1.0 - poses.across[..., 2] ** 2)
    stiffness = np.radians(2.0 * roll * lever**2) * NEWTON_METRES
    return AxleRates(heave, roll, np.asarray(stiffness))


def damper_per_roll_deg(poses: AxlePoses, damper: DamperAtDesign) -> Array:
    """Return how many mm a damper shortens for each degree of roll, left side up, (...)."""
    lever = 0.5 * poses.axle.span * np.sqrt(1.0 - poses.across[..., 2] ** 2)
    return np.asarray(-_per(poses, damper, "roll") * np.radians(lever))


def damper_per_heave(poses: AxlePoses, damper: DamperAtDesign) -> Array:
    """Return how many mm a damper shortens for each mm that both wheels rise, (...)."""
    return _per(poses, damper, "heave")


def _shared(
    poses: AxlePoses, springs: tuple[tuple[DamperAtDesign, float], ...], drive: Drive
) -> Array:
    """Rate (...) N/mm at each of two wheels."""
    each = [rate * _per(poses, spring, drive) ** 2 for spring, rate in springs]
    return np.asarray(0.5 * np.sum(each, axis=0))


def _per(poses: AxlePoses, damper: DamperAtDesign, drive: Drive) -> Array:
    """Shortening for each mm that the left wheel rises."""
    return damper_per_wheel_travel(poses.wheel("left", drive), damper)
