"""A body at every position: places, directions, and how it moves from there."""

from abc import ABC, abstractmethod
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
class BodyPoses(ABC):
    """A body at positions of shape (...); where there is no pose, numbers are nan.

    Attributes:
        rotation: (..., 3, 3), of the body from design.
        centre: (..., 3) mm, of its wheel, or midway between two, car frame.
        inverse: (..., 6, 6): column k is the motion (dt, 400 w) for 1 mm of condition k, the last
            ones the wheel heights.
        error: (...) mm, largest of any condition.
        margin: (...), at most the smallest singular value of the conditions, turns weighed at 400
            mm, and at least that over root six; it falls to 0 where the linkage locks.
        is_reached: (...), whether there is a pose.
        share: (...), how much of the way from design was gone; 1 where reached. The last place
            before the lock, within a thousandth of a mm of the way.
    """

    rotation: Array
    centre: Array
    inverse: Array
    error: Array
    margin: Array
    is_reached: NDArray[np.bool_]
    share: Array

    @property
    @abstractmethod
    def centre_at_design(self) -> Array:
        """Where `centre` is at design, (..., 3) mm, car frame."""

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the positions."""
        return self.is_reached.shape

    def at(self, place: Array) -> Array:
        """Where a point of the body, given at design, (..., 3) mm, stands."""
        return self.centre + self.turned(place - self.centre_at_design)

    def turned(self, direction: Array) -> Array:
        """Direction of the body, given at design, (..., 3)."""
        return np.asarray(np.einsum("...ij,...j->...i", self.rotation, direction))

    def turned_back(self, direction: Array) -> Array:
        """Direction (..., 3) of now as it lies in the body, by the axes of design."""
        return np.asarray(np.einsum("...ji,...j->...i", self.rotation, direction))

    def per_row(self, row: int) -> Motion:
        """How it moves for 1 mm of one condition: of a rod, for each mm it is lengthened."""
        return self.motion(self.inverse[..., row])

    def smallest_singular_value(self) -> Array:
        """Of the conditions, exactly, (...): slower than `margin`."""
        flat = np.nan_to_num(self.inverse, nan=np.inf).reshape(-1, 6, 6)
        norms = [np.linalg.norm(each, 2) if np.isfinite(each).all() else np.nan for each in flat]
        return np.asarray(1.0 / np.array(norms).reshape(self.shape))

    def motion(self, column: Array) -> Motion:
        """The motion that a column (..., 6) of `inverse`, or a sum of columns, is."""
        return Motion(column[..., :3], column[..., 3:] / LEVER, self.centre)


@dataclass(frozen=True, eq=False)
class Poses(BodyPoses):
    """The upright at every position; `inverse` ends with the one wheel height.

    Attributes:
        linkage: the corner at design.
        travel: what was asked for.
    """

    linkage: Linkage
    travel: Travel

    @property
    def centre_at_design(self) -> Array:
        """Of the wheel, (..., 3) mm, car frame."""
        return self.linkage.centre

    @cached_property
    def spin(self) -> Array:
        """Spin axis, (..., 3) unit, outboard, car frame."""
        return self.turned(self.linkage.spin)

    @cached_property
    def per_bump(self) -> Motion:
        """How the upright moves for each mm that the wheel centre rises, all else held."""
        column = self.inverse[..., -1]
        return self.motion(column / column[..., 2:3])

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
        return self.motion(np.einsum("...ik,...k->...i", self.inverse[..., :count], across))


@dataclass(frozen=True, eq=False)
class WheelOfBody(Linkage, ABC):
    """A wheel of a body that has more of them: it has no conditions of its own to be solved."""

    @abstractmethod
    def poses_at(self, travel: Travel) -> Poses:
        """Return the wheel at every position, solved with the whole body.

        Raises:
            NotHeldError: if the body is not held.
        """


_LEFT = np.array([0.0, 1.0, 0.0])
