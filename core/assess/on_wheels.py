"""How the car stands on its wheels: off scales where it was weighed, else by the sum of weights."""

from dataclasses import dataclass

import numpy as np

from core.assess.weighing import Tilted, tilted_of, was_tilted, weighed, weighing_of
from core.assess.weights import (
    contact,
    contacts,
    loads_at_design,
    loads_of_case,
    scales,
    weight_at_design,
    weight_of_case,
    wheel_order,
    whole,
)
from core.balance.wheels import OnScales
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell


@dataclass(frozen=True)
class OnWheels:
    """How the car stands in one load.

    Attributes:
        mass_kg: of the whole car.
        x: mm, car frame, of the centre of gravity.
        y: mm, likewise.
        behind_front: mm, of the centre of gravity behind the front axle.
        front_kg: on the front axle.
        rear_kg: on the rear axle.
        corners: kg, in the order of `wheel_order`.
        height: mm, of the centre of gravity over the ground; None where it is not known.
        why_no_height: why it is not; empty where it is.
        is_weighed: whether scales say all this but the height, and not the sum of all weights.
        is_height_weighed: whether the height comes from a weighing with the tail raised.
    """

    mass_kg: float
    x: float
    y: float
    behind_front: float
    front_kg: float
    rear_kg: float
    corners: tuple[float, float, float, float]
    height: float | None
    why_no_height: str
    is_weighed: bool
    is_height_weighed: bool

    @property
    def rear_percent(self) -> float:
        """Share of the rear axle."""
        return 100.0 * self.rear_kg / self.mass_kg


@cell(When.RELEASE)
def ground_height(read: Reader) -> float:
    """Height of the ground in the car frame, mm: the mean of the four contacts.

    A car need not be drawn with the ground at z = 0.
    """
    return float(np.mean([read(contact, corner).z for corner in read(wheel_order)]))


@cell(When.RELEASE)
def summed_height(read: Reader, case: Ref | None) -> float:
    """Height of the centre of gravity over the ground by the sum of all weights, mm."""
    weight = read(weight_at_design) if case is None else read(weight_of_case, case)
    return whole(weight)[1].z - read(ground_height)


@cell(When.RELEASE)
def tilted(read: Reader, case: Ref | None) -> Tilted | None:
    """The height of the centre of gravity by a weighing with the tail raised.

    None where the car was not weighed so.

    Raises:
        NotComputedError: it was, and a reading is missing or cannot be so.
    """
    weighing = read(weighing_of, case)
    if weighing is None or not was_tilted(read, weighing):
        return None
    level = read(scales, case)
    if level is None:
        msg = f"not every wheel of {read.label(weighing)} was weighed on the level"
        raise NotComputedError(msg)
    return tilted_of(read, weighing, level.axles)


@cell(When.RELEASE)
def on_wheels(read: Reader, case: Ref | None) -> OnWheels:
    """How the car stands in a load case; without one, at the load it is drawn at.

    Raises:
        NotComputedError: it was not weighed, and something on it has no weight or place.
    """
    off_scales = read(scales, case)
    return _by_sum(read, case) if off_scales is None else _weighed(read, case, off_scales)


def _by_sum(read: Reader, case: Ref | None) -> OnWheels:
    loads = read(loads_at_design) if case is None else read(loads_of_case, case)
    return OnWheels(
        mass_kg=loads.mass_kg,
        x=loads.centre.x,
        y=loads.centre.y,
        behind_front=_behind_front(read, loads.centre.x),
        front_kg=loads.front_kg,
        rear_kg=loads.rear_kg,
        corners=loads.corners,
        height=read(summed_height, case),
        why_no_height="",
        is_weighed=False,
        is_height_weighed=False,
    )


def _weighed(read: Reader, case: Ref | None, found: OnScales) -> OnWheels:
    height, why, is_tilted = _height(read, case)
    x, y = (float(value) for value in found.at)
    front_left, front_right, rear_left, rear_right = _readings(read, case)
    return OnWheels(
        mass_kg=found.mass_kg,
        x=x,
        y=y,
        behind_front=_behind_front(read, x),
        front_kg=found.axles.front,
        rear_kg=found.axles.rear,
        corners=(front_left, front_right, rear_left, rear_right),
        height=height,
        why_no_height=why,
        is_weighed=True,
        is_height_weighed=is_tilted,
    )


def _behind_front(read: Reader, x: float) -> float:
    return float(read(contacts)[:2, 0].mean()) - x


def _readings(read: Reader, case: Ref | None) -> list[float]:
    found = (read(weighed, corner, case) for corner in read(wheel_order))
    return [each.kg for each in found if each is not None]


def _height(read: Reader, case: Ref | None) -> tuple[float | None, str, bool]:
    """Height over the ground by tilting, else by the sum; why not; whether by tilting."""
    try:
        found, why = read(tilted, case), ""
    except NotComputedError as error:
        found, why = None, str(error)
    if found is not None:
        return found.height, "", True
    try:
        return read(summed_height, case), "", False
    except NotComputedError as error:
        return None, why or str(error), False
