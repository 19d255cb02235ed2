"""A rigid axle as it is drawn: one body with two wheels, on links, a slide or a ball.

Four conditions leave it two motions: up and down, and roll. Its links hold it at single points: a
beam with the steering knuckles on it, a driven axle with its torque tube, a tube behind a
differential on the chassis.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.geometry.frames import mirror
from core.geometry.types import Array, read_only, unit
from core.suspension.constraints import AxleConstraint, Rod, Slot, Watt
from core.suspension.holding import HeldBody, Holding, holding_of
from core.suspension.linkage import Side, WheelAtDesign, mirrored_constraint
from core.suspension.rigid_axle_rows import axle_rows
from core.suspension.rows import Rows
from core.suspension.start import AtDesign, at_design


@dataclass(frozen=True, eq=False)
class RigidAxle:
    """A rigid axle at the design position.

    Attributes:
        constraints: what holds it; "outer" and "upright" there mean the axle.
        left: its left wheel.
        right: its right wheel.

    Raises:
        ValueError: if a wheel is on the wrong side, or a rod goes with the rack.
    """

    constraints: tuple[AxleConstraint, ...]
    left: WheelAtDesign
    right: WheelAtDesign

    def __post_init__(self) -> None:
        """Refuse wheels on the wrong side and rods that steer."""
        sides = (self.left.side, self.right.side)
        if sides != ("left", "right"):
            raise ValueError(f"an axle has a left and a right wheel, not {' and '.join(sides)}")
        if not np.all(self.left.centre[..., 1] > self.right.centre[..., 1]):
            raise ValueError("the left wheel of an axle must stand to the left of the right one")
        for held in self.constraints:
            if isinstance(held, Rod) and held.on_rack:
                raise ValueError(f"{held.name}: no rod of a rigid axle moves with the rack")

    def wheel(self, side: Side) -> WheelAtDesign:
        """One of its wheels."""
        return self.left if side == "left" else self.right

    @cached_property
    def centre(self) -> Array:
        """Midway between the wheel centres at design, (..., 3) mm, car frame."""
        return read_only(0.5 * (self.left.centre + self.right.centre))

    @cached_property
    def span(self) -> Array:
        """Between the wheel centres, (...) mm: it never changes."""
        return np.asarray(np.linalg.norm(self.left.centre - self.right.centre, axis=-1))

    @cached_property
    def lean(self) -> Array:
        """Sine of the angle of the line through both centres to level at design, left up, (...)."""
        return np.asarray((self.left.centre - self.right.centre)[..., 2] / self.span)

    @cached_property
    def rows(self) -> Rows:
        """The conditions as arrays, ready to be solved."""
        wheels = tuple((wheel.centre, _spin(wheel)) for wheel in (self.left, self.right))
        return axle_rows(self.constraints, self.centre, wheels)

    @cached_property
    def design(self) -> AtDesign:
        """How the axle is held at design, and starts to move."""
        return at_design(self.rows.flat(self.rows.shape))

    @property
    def held(self) -> HeldBody:
        """The axle as a body that is held."""
        return HeldBody("axle", self.centre, self.rows, self.design)


def axle_holding(axle: RigidAxle, geometry: int = 0) -> Holding:
    """Return how an axle is held at design.

    Four conditions of which each says something of its own leave it both its motions; parallel
    links that hold the same thing twice are told by name, and so is what four or fewer leave free.

    Args:
        axle: with any number of conditions.
        geometry: which one, counted in a row, where there are many.
    """
    return holding_of(axle.held, geometry)


def mirrored_axle(axle: RigidAxle) -> RigidAxle:
    """Return the same axle with left and right changed over."""
    held = tuple(_mirrored(each) for each in axle.constraints)
    return RigidAxle(held, _other_side(axle.right), _other_side(axle.left))


def _spin(wheel: WheelAtDesign) -> Array:
    return unit(np.asarray(wheel.spin_axis, dtype=np.float64))


def _other_side(wheel: WheelAtDesign) -> WheelAtDesign:
    return replace(
        wheel,
        centre=mirror(wheel.centre),
        spin_axis=mirror(wheel.spin_axis),
        side="right" if wheel.side == "left" else "left",
    )


def _mirrored(held: AxleConstraint) -> AxleConstraint:
    if isinstance(held, Slot):
        return replace(held, point=mirror(held.point), normal=mirror(held.normal))
    if isinstance(held, Watt):
        rods = (_mirrored_rod(held.first_rod), _mirrored_rod(held.second_rod))
        return Watt(held.name, mirror(held.pivot), mirror(held.axis), *rods)
    return mirrored_constraint(held)


def _mirrored_rod(rod: Rod) -> Rod:
    return replace(rod, inner=mirror(rod.inner), outer=mirror(rod.outer))
