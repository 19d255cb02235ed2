"""What the road puts on each wheel of a car that speeds up, brakes or corners.

Wheels are in the order front left, front right, rear left, rear right.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.geometry.types import Array

Driven = Literal["front", "rear", "all"]

_FRONT = np.array([1.0, 1.0, 0.0, 0.0])
_REAR = 1.0 - _FRONT
_LEFT = np.array([1.0, -1.0, 1.0, -1.0])


@dataclass(frozen=True, eq=False, slots=True)
class StandingCar:
    """A car at rest.

    Attributes:
        loads: (4,) N, on each wheel at rest.
        height: mm, of the centre of gravity over the road.
        wheelbase: mm.
        moved_by_1_g: (2,) N that move from the left to the right wheels of the front and of the
            rear axle, as the car gains 1 g of speed to the left.
        driven: which wheels pull it ahead.
    """

    loads: Array
    height: float
    wheelbase: float
    moved_by_1_g: Array
    driven: Driven | None = None


def road_forces(car: StandingCar, gained_g: Array) -> Array:
    """Return the force (4, 3) N of the road on each wheel: ahead, left, up, car frame.

    Braking and cornering forces are shared by the load on each wheel, as if all had one grip; a
    pull ahead, by the loads of the driven ones. A wheel that would lift carries nothing, and the
    other of its axle what it lacks.

    Args:
        car: at rest.
        gained_g: (3,) acceleration of the car, g, ahead, left and up, beyond rest.

    Raises:
        ValueError: if the car, or one end of it, leaves the road, or nothing pulls it ahead.

    Source:
        Balance of forces and moments; shift m a h / l fore and aft, T. D. Gillespie, Fundamentals
        of Vehicle Dynamics, 1992, chapter 1 (from memory).
    """
    ahead, left, up = (float(value) for value in gained_g)
    weight = float(car.loads.sum())
    if 1.0 + up <= 0.0:
        raise ValueError("the car leaves the road")
    back = 0.5 * weight * ahead * car.height / car.wheelbase
    loads = (1.0 + up) * car.loads + back * (_REAR - _FRONT)
    loads = loads - left * _LEFT * np.repeat(car.moved_by_1_g, 2)
    loads = _held_down(loads)
    along = loads / loads.sum()
    pulls = along if ahead <= 0.0 else _pulling(loads, car.driven)
    return np.stack([weight * ahead * pulls, weight * left * along, loads], axis=1)


def _held_down(loads: Array) -> Array:
    """No load below nought: what one wheel of an axle lacks the other has less."""
    axles = loads.reshape(2, 2)
    whole = axles.sum(axis=1, keepdims=True)
    if (whole < 0.0).any():
        which = "front" if whole[0, 0] < 0.0 else "rear"
        raise ValueError(f"the {which} wheels leave the road")
    return np.clip(axles, 0.0, whole).reshape(4)


def _pulling(loads: Array, driven: Driven | None) -> Array:
    if driven is None:
        raise ValueError("no axle is driven")
    pulled = loads * {"front": _FRONT, "rear": _REAR, "all": np.ones(4)}[driven]
    if pulled.sum() <= 0.0:
        raise ValueError("no driven wheel carries anything")
    return np.asarray(pulled / pulled.sum())


def moved_by_height(axle_loads: Array, height: float, tracks: Array) -> Array:
    """Return what moves across each axle for 1 g, (2,) N, where its roll stiffness is not known.

    Each axle is taken to hold its own share of the weight up, at the height of the centre of
    gravity of the car: F h / t.

    Args:
        axle_loads: (2,) N, front and rear.
        height: mm, of the centre of gravity over the road.
        tracks: (2,) mm.
    """
    return np.asarray(axle_loads * height / tracks)
