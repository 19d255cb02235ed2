"""Brakes: what each axle brakes for a foot on the pedal, and which axle locks first.

No pitch, no ride change, both wheels of an axle alike, pads of one friction. A sliding caliper
presses both sides of the disc with the pistons of one side. These are sums on paper: brakes that
a life hangs on are to be proved on the car, at low speed first, off the road.
"""

from dataclasses import dataclass
from math import asin, inf, pi, tan
from typing import Literal

from core.balance.masses import GRAVITY

WHEELS = 2
SIDES_OF_DISC = 2

Locks = Literal["front", "rear"]


@dataclass(frozen=True, kw_only=True)
class AxleBrakes:
    """The brakes of both wheels of an axle.

    Attributes:
        effective_radius: mm, of the pads' pull on the disc.
        pistons_one_side: of one caliper, on one side of its disc.
        piston_diameter: mm.
        cylinder_diameter: mm, of the axle's master cylinder.
        tyre_radius: mm, under load.
    """

    effective_radius: float
    pistons_one_side: int
    piston_diameter: float
    cylinder_diameter: float
    tyre_radius: float

    @property
    def piston_area(self) -> float:
        """Of the pistons on one side of one disc, mm2."""
        return self.pistons_one_side * pi / 4.0 * self.piston_diameter**2

    def pressure(self, rod_force: float) -> float:
        """Return the line pressure, MPa, for a force on the master cylinder's rod, N."""
        return rod_force / (pi / 4.0 * self.cylinder_diameter**2)

    def force_of_clamp(self, clamp: float, pad_friction: float) -> float:
        """Return the force at the road, N, of both wheels for a clamp force, N, at each disc."""
        turning = SIDES_OF_DISC * pad_friction * clamp * self.effective_radius
        return WHEELS * turning / self.tyre_radius

    def force(self, rod_force: float, pad_friction: float) -> float:
        """Return the force at the road, N, of both wheels for a force on the cylinder's rod, N."""
        clamp = self.pressure(rod_force) * self.piston_area
        return self.force_of_clamp(clamp, pad_friction)


@dataclass(frozen=True, kw_only=True)
class Brakes:
    """The foot brake.

    Attributes:
        front: brakes of the front axle.
        rear: of the rear axle.
        pedal_ratio: force on both rods together over that of the foot.
        rod_share: of that on the front cylinder's rod, 0 to 1.
        pad_friction: of all pads.
    """

    front: AxleBrakes
    rear: AxleBrakes
    pedal_ratio: float
    rod_share: float
    pad_friction: float

    def forces(self, foot_force: float) -> tuple[float, float]:
        """Return the forces at the road, N, of the front and of the rear axle."""
        rods = foot_force * self.pedal_ratio
        return (
            self.front.force(rods * self.rod_share, self.pad_friction),
            self.rear.force(rods * (1.0 - self.rod_share), self.pad_friction),
        )

    @property
    def front_share(self) -> float:
        """Share of the front axle of all brake force, 0 to 1; the pads' friction does not count."""
        front, rear = self.forces(1.0)
        return front / (front + rear)

    def foot_force(self, mass_kg: float, deceleration_g: float) -> float:
        """Return the force of the foot, N, for a deceleration before any wheel locks."""
        return mass_kg * deceleration_g * GRAVITY / sum(self.forces(1.0))


@dataclass(frozen=True)
class OnRoad:
    """How a car stands on the road.

    Attributes:
        rear_share: of its weight on the rear axle at rest, 0 to 1.
        height_by_wheelbase: height of the centre of gravity over the wheelbase.
    """

    rear_share: float
    height_by_wheelbase: float


@dataclass(frozen=True)
class Locking:
    """Where the first axle locks.

    Attributes:
        axle: the one that does.
        deceleration_g: then.
    """

    axle: Locks
    deceleration_g: float


def locking(car: OnRoad, front_share: float, grip: float) -> Locking:
    """Return which axle locks first as the pedal is pressed harder, and at what deceleration.

    At z g the axles carry W (1 - r + z h/l) and W (r - z h/l); an axle locks as its brake force
    reaches grip times its load.

    Args:
        car: how it stands.
        front_share: of all brake force on the front axle, 0 to 1.
        grip: most force of a tyre over its load.

    Source:
        R. Limpert, Brake Design and Safety, SAE (from memory), and plain statics.
    """
    front, rear = locks_at(car, front_share, grip)
    return Locking("front", front) if front < rear else Locking("rear", rear)


def locks_at(car: OnRoad, front_share: float, grip: float) -> tuple[float, float]:
    """Return the deceleration, g, at which the front and the rear axle would lock by itself.

    Infinite for an axle that gains load faster than brake force. See `locking`.
    """
    lever = grip * car.height_by_wheelbase
    return (
        _locks_at(grip * (1.0 - car.rear_share), front_share - lever),
        _locks_at(grip * car.rear_share, 1.0 - front_share + lever),
    )


def front_load_share(car: OnRoad, deceleration_g: float) -> float:
    """Return the share of the weight on the front axle, 0 to 1, while the car slows.

    W (1 - r + z h/l) over W: brakes shared like that lock both axles together at z.
    """
    return 1.0 - car.rear_share + deceleration_g * car.height_by_wheelbase


def _locks_at(load: float, share: float) -> float:
    return load / share if share > 0.0 else inf


def grip_where_both_lock(car: OnRoad, front_share: float) -> float:
    """Return the grip, equal to the deceleration in g, at which both axles lock together.

    On more grip the rear axle locks first and the car may turn round; below zero, the rear axle
    does on every road.

    Args:
        car: how it stands.
        front_share: of all brake force on the front axle, 0 to 1.
    """
    return (front_share - (1.0 - car.rear_share)) / car.height_by_wheelbase


@dataclass(frozen=True, kw_only=True)
class HandLever:
    """A lever and cable to the calipers of one axle.

    Attributes:
        hand_force: N.
        lever_ratio: pull of the cable over the hand's.
        cable_efficiency: 0 to 1.
        caliper_ratio: clamp force over cable pull, at one caliper.
    """

    hand_force: float
    lever_ratio: float
    cable_efficiency: float
    caliper_ratio: float

    @property
    def clamp(self) -> float:
        """Clamp force at each of two calipers that share the pull, N."""
        pull = self.hand_force * self.lever_ratio * self.cable_efficiency / WHEELS
        return pull * self.caliper_ratio


def slope_held_percent(
    lever: HandLever, axle: AxleBrakes, pad_friction: float, mass_kg: float
) -> float:
    """Return the slope, per cent, on which the hand brake holds the car by its own force.

    The tyres' grip is not looked at: on a slope that steep they may slide first. Infinite where the
    brake would hold the car hung from it.

    Args:
        lever: of the hand brake.
        axle: whose calipers it clamps.
        pad_friction: the lowest that counts.
        mass_kg: of the car.
    """
    share = axle.force_of_clamp(lever.clamp, pad_friction) / (mass_kg * GRAVITY)
    return 100.0 * tan(asin(share)) if share < 1.0 else inf
