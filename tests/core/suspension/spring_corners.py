"""Corners whose springs, rockers and bars have a closed form, and dampers of the made-up ones."""

import numpy as np

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.makers import Arm, semi_trailing_arm
from core.suspension.rocker import Rocker
from tests.core.suspension.corners import Example, made_up, of_car, vec

CENTRE = vec(0.0, 700.0, 300.0)
WHEEL = WheelAtDesign(CENTRE, vec(0.0, 1.0, 0.0), 300.0)
LONG = 500.0
PIVOT = CENTRE + vec(LONG, 0.0, 0.0)
ACROSS = vec(0.0, 1.0, 0.0)


def trailing(pivot: Array = PIVOT) -> Linkage:
    """An arm that turns about a line across the car, its pivot ahead of the wheel."""
    return semi_trailing_arm(pivot, pivot - 200.0 * ACROSS, WHEEL)


def trailing_arm(pivot: Array = PIVOT) -> Arm:
    """The same as an arm, for what turns about its axis; its ball is the wheel centre."""
    return Arm(pivot, pivot - 200.0 * ACROSS, CENTRE)


def turn_at(bumps: Array) -> Array:
    """How far the level trailing arm has turned, rad."""
    return np.asarray(np.arcsin(bumps / LONG))


def wishbones() -> Example:
    return made_up("double_wishbone_front")


def pushed(example: Example, axis: Array | None = None) -> DamperAtDesign:
    """A push-rod from the lower arm to a rocker above it, and a damper across the car."""
    assert example.lower is not None
    outer = 0.8 * example.lower.outer + 0.2 * example.lower.front
    pivot = outer + vec(20.0, -260.0, 330.0)
    rod = pivot + vec(5.0, 75.0, 40.0)
    along = vec(1.0, 0.1, 0.05) if axis is None else axis
    rocker = Rocker(pivot, along, outer, rod, example.lower)
    return DamperAtDesign(
        pivot + vec(0.0, -35.0, 85.0), pivot + vec(10.0, -290.0, 60.0), None, rocker
    )


def corners() -> list[tuple[Linkage, DamperAtDesign]]:
    """Four quite different corners with the dampers they have, and one with a rocker."""
    ours = [made_up("double_wishbone_front"), made_up("trailing_arm_two_lateral_links")]
    ours += [of_car("demo", "front"), of_car("second", "front")]
    found = [(each.linkage, each.damper) for each in ours]
    return [*found, (wishbones().linkage, pushed(wishbones()))]
