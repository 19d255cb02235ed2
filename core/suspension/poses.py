"""The upright at every position: places, directions, and how it moves from there."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.linkage import Linkage
from core.suspension.screw import Motion
from core.suspension.travel import Travel
from core.suspension.turning import LEVER


@dataclass(frozen=True, eq=False)
class Poses:
    """The upright at positions of shape (...); where there is no pose, numbers are nan.

    Attributes:
        linkage: the corner at design.
        travel: what was asked for.
        rotation: (..., 3, 3), of the upright from design.
        centre: (..., 3) mm, of the wheel, car frame.
        inverse: (..., 6, 6): column k is the motion (dt, 400 w) for 1 mm of condition k, the last
            one the wheel height.
        error: (...) mm, largest of any condition.
        margin: (...), at most the smallest singular value of the conditions, turns weighed at 400
            mm, and at least that over root six; it falls to 0 where the linkage locks.
        is_reached: (...), whether there is a pose.
        share: (...), how much of the way from design was gone; 1 where reached. The last place
            before the lock, within a thousandth of a mm of the way.
    """

    linkage: Linkage
    travel: Travel
    rotation: Array
    centre: Array
    inverse: Array
    error: Array
    margin: Array
    is_reached: NDArray[np.bool_]
    share: Array

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the positions."""
        return self.is_reached.shape

    @cached_property
    def spin(self) -> Array:
        """Spin axis, (..., 3) unit, outboard, car frame."""
        return self.turned(self.linkage.spin)

    def at(self, place: Array) -> Array:
        """Where a point of the upright, given at design, (..., 3) mm, stands."""
        return self.centre + self.turned(place - self.linkage.centre)

    def turned(self, direction: Array) -> Array:
        """Direction of the upright, given at design, (..., 3)."""
        return np.asarray(np.einsum("...ij,...j->...i", self.rotation, direction))

    def turned_back(self, direction: Array) -> Array:
        """Direction (..., 3) of now as it lies in the upright, by the axes of design."""
        return np.asarray(np.einsum("...ji,...j->...i", self.rotation, direction))

    @cached_property
    def per_bump(self) -> Motion:
        """How the upright moves for each mm that the wheel centre rises, all else held."""
        column = self.inverse[..., -1]
        return self._motion(column / column[..., 2:3])

    @cached_property
    def per_rack(self) -> Motion:
        """How it moves for each mm of the rack to the left, at the same wheel height.

        On a road, with the tyre at the same height over it.
        """
        rods = self.linkage.rows.rods
        arms = np.einsum("...ij,...kj->...ki", self.rotation, rods.arms)
        ends = rods.ends + self.travel.rack[..., None, None] * rods.on_rack * _LEFT
        if self.travel.ends_moved is not None:
            ends = ends + self.travel.ends_moved
        along = arms + (self.centre - self.linkage.centre)[..., None, :] - ends
        across = along[..., 1] / np.linalg.norm(along, axis=-1) * rods.on_rack[:, 0]
        count = across.shape[-1]
        return self._motion(np.einsum("...ik,...k->...i", self.inverse[..., :count], across))

    def per_row(self, row: int) -> Motion:
        """How it moves for 1 mm of one condition: of a rod, for each mm it is lengthened."""
        return self._motion(self.inverse[..., row])

    def smallest_singular_value(self) -> Array:
        """Of the conditions, exactly, (...): slower than `margin`."""
        flat = np.nan_to_num(self.inverse, nan=np.inf).reshape(-1, 6, 6)
        norms = [np.linalg.norm(each, 2) if np.isfinite(each).all() else np.nan for each in flat]
        return np.asarray(1.0 / np.array(norms).reshape(self.shape))

    def _motion(self, column: Array) -> Motion:
        return Motion(column[..., :3], column[..., 3:] / LEVER, self.centre)


_LEFT = np.array([0.0, 1.0, 0.0])
