"""A mount as springs along its own axes, acting on the engine and gearbox in one place."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array, read_only, unit

SQUARE = 1e-3
"""Largest scalar product of two axes that is still taken for rounding; own rule."""


class MountError(ValueError):
    """Mounts, or a body on them, that cannot be worked with; the text says which and why."""


@dataclass(frozen=True, eq=False, slots=True)
class Bush:
    """A mount as the engine and gearbox feel it: three springs in one place.

    The place is on the engine and gearbox. What the rubber does against being twisted is left out:
    it is small beside what mounts some way apart do together. A stay between two balls is the same
    with its first axis along itself; that its pull swings with it is of second order, left out.

    Attributes:
        name: what it is called in a sentence.
        place: (3,) mm, car frame.
        axes: (3, 3), columns are its own x, y and z in the car frame, square to one another.
        stiffness: (3,) N/mm along its own axes; nought along those it leaves free.
        stop_gap: (3,) mm, free movement either way from rest along its own axes; inf where none
            is known.

    Raises:
        MountError: if a figure is no number or below nought, the axes are not square, or nothing
            of it is stiff.
    """

    name: str
    place: Array
    axes: Array
    stiffness: Array
    stop_gap: Array

    def __post_init__(self) -> None:
        """Check the figures; make the arrays read-only and the axes of length 1."""
        for name in ("place", "axes", "stiffness", "stop_gap"):
            object.__setattr__(self, name, read_only(getattr(self, name)))
        _check(self)
        object.__setattr__(self, "axes", read_only(unit(self.axes.T).T))

    @property
    def in_car(self) -> Array:
        """Its stiffness in the car frame, (3, 3) N/mm: R diag(k) R^T."""
        return np.asarray((self.axes * self.stiffness) @ self.axes.T, dtype=np.float64)


def _check(bush: Bush) -> None:
    figures = np.concatenate([bush.place, bush.axes.ravel(), bush.stiffness])
    if not np.isfinite(figures).all() or np.isnan(bush.stop_gap).any():
        raise MountError(f"a figure of {bush.name} is not a number")
    if (bush.stiffness < 0.0).any() or (bush.stop_gap < 0.0).any():
        raise MountError(f"a stiffness or a stop gap of {bush.name} is below nought")
    if not bush.stiffness.any():
        raise MountError(f"{bush.name} has no stiffness along any of its axes, so it holds nothing")
    lengths = np.sqrt((bush.axes**2).sum(axis=0))
    across = bush.axes.T @ bush.axes - np.diag(lengths**2)
    if (lengths == 0.0).any() or (np.abs(across) > SQUARE * lengths.max() ** 2).any():
        raise MountError(f"the axes of {bush.name} are not square to one another")


def across_the_stay(own: Array, along: Array) -> Array:
    """Return the axes of a stay: the first along it, the others as near its own as they can be.

    Args:
        own: (3, 3) own axes as columns, car frame; the second must not lie along the stay.
        along: (3,) from its end on the engine to its chassis end, mm, car frame.

    Raises:
        MountError: if both ends are in one place, or the second axis lies along the stay.
    """
    if not along.any():
        raise MountError("both ends of a stay are in one place")
    first = unit(along)
    second = own[:, 1] - (own[:, 1] @ first) * first
    if float(second @ second) < SQUARE:
        raise MountError("the second axis of a stay lies along it")
    second = unit(second)
    return np.column_stack([first, second, np.cross(first, second)])
