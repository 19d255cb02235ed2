"""An anti-roll bar on two blades and drop links, and the roll stiffness of an axle.

The bar turns about one axis of the chassis. Its twist is the difference of what the two blades
have turned; each blade with its drop link is a rocker with its rod.
"""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.rocker import Rocker, RockerPoses, rocker_poses
from core.suspension.springs import more_than_nothing, ratio_change
from core.suspension.torsion import NMM_PER_RAD


@dataclass(frozen=True, eq=False, slots=True)
class DropLink:
    """A drop link at design; places (..., 3) mm.

    Attributes:
        on_blade: its end on the blade of the bar.
        outer: its end on the upright or on the arm.
        arm: that carries the outer end; None, the upright does.
    """

    on_blade: Array
    outer: Array
    arm: Arm | None = None


@dataclass(frozen=True, eq=False, slots=True)
class AntiRollBar:
    """A bar that is without twist at design, as when the links are set to length there.

    Attributes:
        pivot: (3,) mm, a point of the line of its bearings.
        axis: (3,) along that line, mostly across the car.
        left: drop link of the left wheel.
        right: of the right wheel.
        rate_nm_per_deg: torque for each degree of twist, blades and links taken for stiff.
    """

    pivot: Array
    axis: Array
    left: DropLink
    right: DropLink
    rate_nm_per_deg: float

    def __post_init__(self) -> None:
        """Refuse a bar without rate."""
        more_than_nothing("rate of the anti-roll bar", self.rate_nm_per_deg)

    def blade(self, poses: Poses) -> RockerPoses:
        """The blade on the side of the poses; its angle is right-handed about the bar's axis."""
        link = self.left if poses.linkage.side == "left" else self.right
        return rocker_poses(
            poses, Rocker(self.pivot, self.axis, link.outer, link.on_blade, link.arm)
        )


@dataclass(frozen=True, eq=False, slots=True)
class BarAtWheels:
    """The bar at pairs of positions; nan where a blade has no place.

    Attributes:
        twist_deg: (...), turn of the left blade less that of the right one.
        torque_nm: (...), in the bar.
        left_load: (...) N, upwards on the left wheel, that the bar carries.
        right_load: (...) N, on the right wheel.
        rates: (..., 2, 2) N/mm, change of the loads, left and right, for each mm that the left
            and the right wheel centre rise; with the exact geometric term.
    """

    twist_deg: Array
    torque_nm: Array
    left_load: Array
    right_load: Array
    rates: Array


def bar_at_wheels(left: Poses, right: Poses, bar: AntiRollBar) -> BarAtWheels:
    """Return the bar at any pairs of a left and a right position, which broadcast.

    With a and b the turns of the blades and k the rate, the energy k (a - b)^2 / 2 gives the loads
    k (a - b) a' and -k (a - b) b', and they the rates (derived here).

    Raises:
        ValueError: if the sides are crossed.
    """
    if (left.linkage.side, right.linkage.side) != ("left", "right"):
        raise ValueError("a bar needs positions of the left wheel and then of the right one")
    first, second = bar.blade(left), bar.blade(right)
    rate = bar.rate_nm_per_deg * NMM_PER_RAD
    twist = first.angle_rad - second.angle_rad
    torque = rate * twist
    one, other = first.per_bump_rad, -second.per_bump_rad
    bends = _blade_change(left, bar), -_blade_change(right, bar)
    rates = _two_by_two(
        rate * one**2 + torque * bends[0], rate * one * other, rate * other**2 + torque * bends[1]
    )
    return BarAtWheels(
        np.asarray(np.degrees(twist)),
        np.asarray(torque / 1000.0),
        np.asarray(torque * one),
        np.asarray(torque * other),
        rates,
    )


def rate_in_roll(rates: Array) -> tuple[Array, Array]:
    """Return the rates (...) N/mm at the left and right wheel where they move as much, opposed.

    Args:
        rates: (..., 2, 2) N/mm, of the bar or of all that is sprung.
    """
    left = rates[..., 0, 0] - rates[..., 0, 1]
    right = rates[..., 1, 1] - rates[..., 1, 0]
    return np.asarray(left), np.asarray(right)


@dataclass(frozen=True, slots=True)
class AxleRates:
    """What stands between body and road at one axle.

    Attributes:
        left: N/mm, of the left spring at the wheel.
        right: N/mm.
        left_tyre: N/mm; None leaves it stiff.
        right_tyre: N/mm.
        track: between the contacts, mm.
    """

    left: float
    right: float
    track: float
    left_tyre: float | None = None
    right_tyre: float | None = None

    def __post_init__(self) -> None:
        """Refuse rates and a track of nothing."""
        named = {"rate of the left spring at the wheel": self.left}
        named |= {"rate of the right spring at the wheel": self.right, "track": self.track}
        for what, tyre in (("left", self.left_tyre), ("right", self.right_tyre)):
            if tyre is not None:
                named[f"rate of the {what} tyre"] = tyre
        for what, number in named.items():
            more_than_nothing(what, number)


def roll_stiffness_nm_per_deg(axle: AxleRates, bar: Array | None = None) -> Array:
    """Return the moment (...) for each degree the body rolls on an axle, free to rise meanwhile.

    Springs and bar together, the tyres in series: with C what the wheels give under loads, two
    loads F and -F at the track t turn the body by (1, -1) C (1, -1) F / t under the moment F t
    (derived here). For equal sides without a bar t^2 k / 2. Left out: what the roll centre and
    the frame do, and change of the rates with travel.

    Args:
        axle: springs and tyres.
        bar: (..., 2, 2) N/mm, its rates at the wheels; None where there is none.

    Raises:
        ValueError: if a sum of rates holds nothing.
    """
    rates = np.diag([axle.left, axle.right]) + (0.0 if bar is None else bar)
    sums = rates[..., 0, 0] * rates[..., 1, 1] - rates[..., 0, 1] * rates[..., 1, 0]
    if np.any(sums <= 0.0):
        raise ValueError("springs and bar together do not hold the body up in roll")
    # (1, -1) C (1, -1), C the inverse of the rates.
    gives = np.sum(rates, axis=(-2, -1)) / sums
    gives = gives + sum(1.0 / tyre for tyre in (axle.left_tyre, axle.right_tyre) if tyre)
    return np.asarray(axle.track**2 / gives / NMM_PER_RAD)


def front_share(front: float, rear: float) -> float:
    """Return the part, 0 to 1, of the roll stiffness that the front axle has.

    Raises:
        ValueError: if an axle has none.
    """
    more_than_nothing("roll stiffness of the front axle", front)
    more_than_nothing("roll stiffness of the rear axle", rear)
    return front / (front + rear)


def _blade_change(poses: Poses, bar: AntiRollBar) -> Array:
    return ratio_change(poses, lambda at: bar.blade(at).per_bump_rad)


def _two_by_two(first: Array, beside: Array, last: Array) -> Array:
    first, beside, last = np.broadcast_arrays(first, beside, last)
    rows = np.stack([first, beside], axis=-1), np.stack([beside, last], axis=-1)
    return np.asarray(np.stack(rows, axis=-2))
