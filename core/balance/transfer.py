"""Load that moves between axles and between sides as the car brakes, drives and corners.

Steady cornering and braking on level road, small roll, tyres not squashed unlike; forces in N.
"""

from dataclasses import dataclass
from math import inf, isfinite
from typing import Literal

from core.balance.masses import GRAVITY

Driven = Literal["front", "rear", "all"]

MM_PER_M = 1000.0


def shift_fore_and_aft(
    mass_kg: float, acceleration_g: float, height: float, wheelbase: float
) -> float:
    """Return the load, N, that moves to the rear axle as the car gains speed: m a h / l.

    Braking is below zero. Neither springs nor linkage change it: they change what the body does.

    Args:
        mass_kg: of the whole car.
        acceleration_g: of the car, ahead above zero.
        height: mm, of the centre of gravity over the road.
        wheelbase: mm.
    """
    return mass_kg * acceleration_g * GRAVITY * height / wheelbase


def most_drive_g(
    rear_share: float, height_by_wheelbase: float, grip: float, driven: Driven
) -> float:
    """Return the acceleration, g, at which the driven wheels slip, load moving rearwards.

    Front wheels unload as they pull: mu f / (1 + mu h/l); rear ones load: mu r / (1 - mu h/l).

    Args:
        rear_share: of the weight on the rear axle at rest, 0 to 1.
        height_by_wheelbase: height of the centre of gravity over the wheelbase.
        grip: most force of a tyre over its load.
        driven: which wheels.

    Raises:
        ValueError: if the front wheels would leave the ground before the driven ones slip.

    Source:
        Balance of forces and moments; T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992,
        chapter 2 (from memory).
    """
    lever = grip * height_by_wheelbase
    if driven == "front":
        return grip * (1.0 - rear_share) / (1.0 + lever)
    share = 1.0 if driven == "all" else rear_share / (1.0 - lever) if lever < 1.0 else inf
    if grip * share * height_by_wheelbase >= 1.0 - rear_share:
        raise ValueError("the front wheels leave the ground before the driven wheels slip")
    return grip * share


@dataclass(frozen=True, kw_only=True)
class RollingAxle:
    """One axle as it resists roll.

    Attributes:
        sprung_kg: share of the sprung mass on this axle.
        unsprung_kg: of both wheels together.
        unsprung_height: mm, of their centre of gravity over the road.
        roll_centre_height: mm, over the road.
        roll_stiffness: N m for each radian of roll, springs and bar together, at the wheels.
        track: mm, between contacts.
    """

    sprung_kg: float
    unsprung_kg: float
    unsprung_height: float
    roll_centre_height: float
    roll_stiffness: float
    track: float

    def __post_init__(self) -> None:
        """Refuse an axle without track or with stiffness or mass below zero.

        Raises:
            ValueError: if so.
        """
        least = min(self.sprung_kg, self.unsprung_kg, self.roll_stiffness)
        if not (isfinite(self.track) and self.track > 0.0 and least >= 0.0):
            raise ValueError("an axle needs a track, and no mass or stiffness below zero")


@dataclass(frozen=True)
class AxleTransfer:
    """Load that moves from the inner to the outer wheel of one axle, N, by how it gets there.

    Attributes:
        elastic: through springs and bar.
        geometric: through the links, at the roll centre.
        unsprung: of the wheels themselves.
    """

    elastic: float
    geometric: float
    unsprung: float

    @property
    def whole(self) -> float:
        """All of it."""
        return self.elastic + self.geometric + self.unsprung


@dataclass(frozen=True)
class Cornering:
    """A car in a steady corner.

    Attributes:
        roll_rad: of the sprung mass, out of the corner above zero.
        front: load moved on the front axle.
        rear: on the rear axle.
    """

    roll_rad: float
    front: AxleTransfer
    rear: AxleTransfer

    @property
    def front_share(self) -> float:
        """Share of all the load moved that moves on the front axle, 0 to 1."""
        return self.front.whole / (self.front.whole + self.rear.whole)


def roll_arm(front: RollingAxle, rear: RollingAxle, sprung_height: float) -> float:
    """Return the height, mm, of the sprung mass over the line through both roll centres."""
    whole = front.sprung_kg + rear.sprung_kg
    share = rear.sprung_kg / whole
    axis = (1.0 - share) * front.roll_centre_height + share * rear.roll_centre_height
    return sprung_height - axis


def roll_per_g(front: RollingAxle, rear: RollingAxle, arm: float) -> float:
    """Return the roll, radians for each g: m d g / (K - m g d).

    Args:
        front: of the car.
        rear: of the car.
        arm: mm, see `roll_arm`.

    Raises:
        ValueError: if springs and bars do not hold the body upright.

    Source:
        D. Barton and J. Fieldhouse, Automotive Chassis Engineering, Springer 2018, equation 3.18.
    """
    moment = (front.sprung_kg + rear.sprung_kg) * GRAVITY * arm / MM_PER_M
    stiffness = front.roll_stiffness + rear.roll_stiffness - moment
    if stiffness <= 0.0:
        raise ValueError("springs and bars together do not hold the body upright")
    return moment / stiffness


def cornering(
    front: RollingAxle, rear: RollingAxle, sprung_height: float, lateral_g: float
) -> Cornering:
    """Return roll and load moved sideways: (K phi + m_s a h_rc + m_u a h_u) / t for each axle.

    The frame is taken as stiff in twist, roll centres as staying where they are.

    Args:
        front: of the car.
        rear: of the car.
        sprung_height: mm, centre of gravity of the sprung mass over the road.
        lateral_g: of the car.

    Raises:
        ValueError: if springs and bars do not hold the body upright.

    Source:
        D. Barton and J. Fieldhouse, Automotive Chassis Engineering, Springer 2018, pp. 172 to 174.
    """
    roll = roll_per_g(front, rear, roll_arm(front, rear, sprung_height)) * lateral_g
    return Cornering(roll, _moved(front, roll, lateral_g), _moved(rear, roll, lateral_g))


def _moved(axle: RollingAxle, roll_rad: float, lateral_g: float) -> AxleTransfer:
    force = lateral_g * GRAVITY / axle.track
    return AxleTransfer(
        axle.roll_stiffness * roll_rad * MM_PER_M / axle.track,
        axle.sprung_kg * axle.roll_centre_height * force,
        axle.unsprung_kg * axle.unsprung_height * force,
    )
