"""Where a drive shaft stands: how far the inner joint slides, and both joint angles."""

from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array, unit


@dataclass(frozen=True, slots=True, eq=False)
class ShaftPose:
    """A drive shaft at one or many positions, shape (...) as the positions given.

    Where the shaft does not reach there is no pose: `plunge` and both angles are +infinity, beyond
    any limit, and `direction` is zero.

    Attributes:
        plunge: slide of the inner joint from mid-stroke, mm, positive pulled out.
        inner_angle_deg: between the shaft and the slide axis.
        outer_angle_deg: between the shaft and the spin axis.
        direction: (..., 3) unit vector from the sliding centre to the outer joint.
        reaches: whether the shaft can reach from the slide axis to the outer joint.
        shortfall: by how much it is too short where it does not reach, mm; else 0.
    """

    plunge: Array
    inner_angle_deg: Array
    outer_angle_deg: Array
    direction: Array
    reaches: NDArray[np.bool_]
    shortfall: Array

    def __eq__(self, other: object) -> bool:
        """Whether every value is the same number."""
        return isinstance(other, ShaftPose) and all(
            np.array_equal(getattr(self, name), getattr(other, name)) for name in self.__slots__
        )

    __hash__ = None  # type: ignore[assignment]  # arrays have no hash


class ShaftDoesNotReachError(ValueError):
    """The shaft is shorter than the distance of the outer joint from the slide axis.

    Attributes:
        positions: index of each position that it does not reach.
        shortfalls: how much is missing at each, mm.
    """

    def __init__(self, positions: tuple[int, ...], shortfalls: tuple[float, ...]) -> None:
        self.positions = positions
        self.shortfalls = shortfalls
        super().__init__(
            f"the shaft is {max(shortfalls):.1f} mm too short to reach the outer joint"
        )


def shaft_pose(inner: Array, axis: Array, outer: Array, spin: Array, length: float) -> ShaftPose:
    """The pose of a shaft of fixed length between a sliding and a fixed joint.

    The exact form. Distance minus length is short of the true plunge by about the cosine of the
    joint angle, so it loses stroke where stroke is scarce.

    Args:
        inner: (3,) or (..., 3), centre of the inner joint at mid-stroke, mm, car frame.
        axis: (3,) or (..., 3), direction in which the inner joint slides, outboard.
        outer: (..., 3), centre of the outer joint, mm, car frame.
        spin: (3,) or (..., 3), spin axis of the wheel, outboard.
        length: outer joint centre to sliding centre of the inner joint, mm.

    Returns:
        The pose at each position; the sliding centre lies inboard of the outer joint.

    Raises:
        ValueError: if the length is not positive, a direction has no length, or a place
            is no number.

    Source:
        Derived here: with d from mid-stroke to the outer joint and a the slide axis,
        s = d.a - sqrt(L^2 - r^2), r the distance of the outer joint from the axis.
    """
    slide, turn = unit(_numbers(axis)), unit(_numbers(spin))
    along, radial, distance = _split(inner, slide, outer, length)
    shape = np.broadcast_shapes(along.shape, turn.shape[:-1])
    along, distance = np.broadcast_to(along, shape), np.broadcast_to(distance, shape)
    reaches = distance <= length
    across = np.sqrt(np.where(reaches, length**2 - distance**2, 0.0))
    direction = np.where(reaches[..., None], (radial + across[..., None] * slide) / length, 0.0)
    return ShaftPose(
        plunge=np.where(reaches, along - across, np.inf),
        inner_angle_deg=np.where(reaches, np.degrees(np.arctan2(distance, across)), np.inf),
        outer_angle_deg=np.where(reaches, _angle_deg(direction, turn), np.inf),
        direction=direction,
        reaches=reaches,
        shortfall=np.maximum(distance - length, 0.0),
    )


def _split(inner: Array, slide: Array, outer: Array, length: float) -> tuple[Array, Array, Array]:
    """Distance along the slide axis, the rest as a vector, and its length."""
    reach = _numbers(outer) - _numbers(inner)
    if not (np.isfinite(reach).all() and isfinite(length) and length > 0.0):
        raise ValueError("a shaft needs a length above zero and places that are numbers")
    along = np.einsum("...i,...i", reach, slide)
    radial = reach - along[..., None] * slide
    distance: Array = np.linalg.norm(radial, axis=-1)
    return along, radial, distance


def _numbers(values: Array) -> Array:
    """Whole numbers made into floats."""
    return np.asarray(values, dtype=np.float64)


def _angle_deg(first: Array, second: Array) -> Array:
    """The angle between directions, exact for small angles where an arc cosine is not."""
    first, second = np.broadcast_arrays(first, second)
    sine = np.linalg.norm(np.cross(first, second), axis=-1)
    cosine = np.einsum("...i,...i", first, second)
    angle: Array = np.degrees(np.arctan2(sine, cosine))
    return angle
