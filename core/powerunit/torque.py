"""Torque at the wheels that reacts on the engine and gearbox, and what bounds it."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array

MM_PER_M = 1000.0


def axle_torque(engine_nm: float, gear: float, final_drive: float) -> float:
    """Return the torque at both driven wheels together, N m: engine x gear x final drive.

    What turns the wheels one way turns the engine and gearbox the other: with the final drive in
    the same case as the gearbox, its mounts feel the torque of the axle, not of the crank. Losses
    in the gears are left out, which is on the high side.

    Source:
        Balance of moments on the case; common practice.
    """
    return engine_nm * gear * final_drive


def tyre_torque(weight: float, acceleration_g: float, radius: float) -> float:
    """Return the torque of the axle that gives the car an acceleration, N m.

    Args:
        weight: N, of the car.
        acceleration_g: of the car.
        radius: mm, of the tyres under load.
    """
    return weight * acceleration_g * radius / MM_PER_M


def reaction(torque_nm: float, outboard_left: Array) -> Array:
    """Return the torque on the engine and gearbox, (3,) N m, right-handed about car axes.

    Wheels that drive the car ahead are turned about +y, from right to left; so the case is turned
    about -y, which lifts its front.

    Args:
        torque_nm: of the axle; above nought drives the car ahead.
        outboard_left: (3,) unit, axis of the gearbox outputs towards the left of the car.
    """
    return np.asarray(-torque_nm * outboard_left, dtype=np.float64)


@dataclass(frozen=True)
class Bounds:
    """What each of three gives at most, N m at both driven wheels together; none if not known.

    Attributes:
        engine: at full torque in the gear.
        clutch: before it slips, in the same gear.
        tyres: before they slip.
    """

    engine: float | None = None
    clutch: float | None = None
    tyres: float | None = None

    @property
    def snapped(self) -> float | None:
        """Torque as the clutch is let in at once: the lesser of clutch and tyres.

        The turning flywheel gives more than the engine for a moment, so the engine is no bound.
        """
        known = [value for value in (self.clutch, self.tyres) if value is not None]
        return min(known) if known else None

    def first_to_slip(self, torque_nm: float) -> str:
        """What slips before a torque is reached, «clutch» or «tyres»; empty if neither does."""
        slips = [
            (most, name)
            for most, name in ((self.clutch, "clutch"), (self.tyres, "tyres"))
            if most is not None and most < torque_nm * (1.0 - 1e-9)
        ]
        return min(slips)[1] if slips else ""
