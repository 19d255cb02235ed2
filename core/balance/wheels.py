"""What axles and wheels carry, and where the centre of gravity is by scales under the wheels.

Wheels are in the order front left, front right, rear left, rear right.
"""

from typing import Literal, NamedTuple

import numpy as np

from core.geometry.types import Array

Split = Literal["sides", "diagonals"]

SPLIT_WORDS: dict[Split, str] = {
    "sides": "taking the frame as stiff, and both axles to carry the same share on their left",
    "diagonals": "taking the frame as stiff, and both diagonals to carry the same",
}
"""What is taken for granted besides statics: four wheels on a stiff frame, and three equations."""


class AxleLoads(NamedTuple):
    """What each axle carries, kg."""

    front: float
    rear: float

    @property
    def rear_share(self) -> float:
        """Of the whole, 0 to 1 with the centre of gravity between the axles."""
        return self.rear / (self.front + self.rear)


def axle_loads(mass_kg: float, at_x: float, wheels: Array) -> AxleLoads:
    """Return what each axle carries on the level, by the lever of its middle.

    Args:
        mass_kg: of the whole car.
        at_x: mm, centre of gravity; ahead above zero.
        wheels: (4, 2) mm, x and y of the contacts.

    Raises:
        ValueError: if the front wheels are not ahead of the rear ones.

    Source:
        Balance of moments about the rear contacts; R. N. Jazar, Vehicle Dynamics, 2008, car on
        level ground.
    """
    front_x, rear_x = _axle_places(wheels)
    front = mass_kg * (at_x - rear_x) / (front_x - rear_x)
    return AxleLoads(front, mass_kg - front)


def _axle_places(wheels: Array) -> tuple[float, float]:
    front_x, rear_x = float(wheels[:2, 0].mean()), float(wheels[2:, 0].mean())
    if not front_x > rear_x:
        raise ValueError("the front wheels must be ahead of the rear wheels")
    return front_x, rear_x


def corner_loads(mass_kg: float, at: Array, wheels: Array, split: Split = "sides") -> Array:
    """Return what each wheel carries, (4,) kg; below zero, that wheel would have to be held down.

    Statics gives three equations for four wheels: sum, and moments fore and aft and sideways. The
    fourth is an assumption, see `SPLIT_WORDS`; springs of unlike length, and wheels on scales of
    unlike height, shift load from one diagonal to the other without a change of the other three.

    Args:
        mass_kg: of the whole car.
        at: (2,) mm, x and y of the centre of gravity.
        wheels: (4, 2) mm, x and y of the contacts.
        split: the fourth equation.

    Raises:
        ValueError: if the front wheels are not ahead of the rear ones, or left ones not left.
    """
    axles = axle_loads(1.0, float(at[0]), wheels)
    if not (wheels[[0, 2], 1] > wheels[[1, 3], 1]).all():
        raise ValueError("the left wheels must be to the left of the right wheels")
    extra = {
        "sides": (axles.rear, -axles.rear, -axles.front, axles.front),
        "diagonals": (1.0, -1.0, -1.0, 1.0),
    }[split]
    scale = wheels[0, 0] - wheels[2, 0]
    levers = (wheels - at) / scale
    rows = np.array([np.ones(4), levers[:, 0], levers[:, 1], extra], dtype=np.float64)
    return np.asarray(np.linalg.solve(rows, [mass_kg, 0.0, 0.0, 0.0]), dtype=np.float64)


class OnScales(NamedTuple):
    """A car by scales under its four wheels.

    Attributes:
        mass_kg: the sum.
        at: (2,) mm, x and y of the centre of gravity.
        axles: what each axle carries.
        left_share: of the whole on the left wheels, 0 to 1.
        cross_share: of the whole on the front left and rear right wheel, 0 to 1.
    """

    mass_kg: float
    at: Array
    axles: AxleLoads
    left_share: float
    cross_share: float


def on_scales(loads_kg: Array, wheels: Array) -> OnScales:
    """Return what scales under the wheels tell.

    Args:
        loads_kg: (4,) kg, as read.
        wheels: (4, 2) mm, x and y of the contacts.

    Raises:
        ValueError: if a reading is below zero, or all are zero.
    """
    whole = float(loads_kg.sum())
    if (loads_kg < 0.0).any() or not whole > 0.0:
        raise ValueError("scales must read zero or more, and not all zero")
    return OnScales(
        whole,
        np.asarray(loads_kg @ wheels / whole),
        AxleLoads(float(loads_kg[:2].sum()), float(loads_kg[2:].sum())),
        float(loads_kg[[0, 2]].sum()) / whole,
        float(loads_kg[[0, 3]].sum()) / whole,
    )
