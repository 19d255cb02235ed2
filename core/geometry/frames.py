"""Own frames of parts and datums, and the mirror about the car's centre plane."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array, read_only, unit

AXES_TOLERANCE = 1e-3
"""Largest error of an axis length or of a scalar product of two axes that is still taken for
rounding: axes typed with four decimals stay far below it, a wrong axis never does. Own rule."""

AXES_EXACT = 1e-12
"""Below this the axes are kept bit for bit; above it they are made square again."""

LEAST_TRIANGLE_SHARE = 0.1
"""Smallest height of a triangle of three picked points over its longest side. Flatter than
that, a small picking error turns the frame by a large angle. Own rule."""


class NoFrame(Exception):  # noqa: N818 - reads as a sentence where it is raised and caught
    """No frame can be made from what was given; `reason` says why, for the builder."""

    def __init__(self, reason: str) -> None:
        """Keep the reason."""
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, eq=False, slots=True)
class Frame:
    """A right-handed frame placed in the car.

    The axes may come in rounded: if they are square and of length 1 within `AXES_TOLERANCE`
    they are replaced by the nearest exactly square set (the orthogonal factor of the polar
    decomposition, by singular values: Golub, Van Loan, Matrix Computations, from memory).
    Worse axes, and left-handed ones, are refused rather than repaired.

    Attributes:
        origin: (3,) mm, car frame.
        axes: (3, 3), columns are the frame's x, y and z directions in the car frame.

    Raises:
        NoFrame: if the numbers are not finite or the axes not right-handed and square.
    """

    origin: Array
    axes: Array

    def __post_init__(self) -> None:
        """Check and square the axes; make both arrays read-only."""
        origin, axes = read_only(self.origin), read_only(self.axes)
        if origin.shape != (3,) or axes.shape != (3, 3):
            message = f"A frame needs (3,) and (3, 3) numbers, not {origin.shape}, {axes.shape}."
            raise ValueError(message)
        if not (np.all(np.isfinite(origin)) and np.all(np.isfinite(axes))):
            raise NoFrame("The place or an axis of the frame is not a number.")
        object.__setattr__(self, "origin", origin)
        object.__setattr__(self, "axes", read_only(_squared(axes)))

    def to_car(self, points: Array) -> Array:
        """Return points of this frame in the car frame; (3,) or (n, 3), mm."""
        return np.asarray(points @ self.axes.T + self.origin, dtype=np.float64)

    def from_car(self, points: Array) -> Array:
        """Return points of the car frame in this frame; (3,) or (n, 3), mm."""
        return np.asarray((points - self.origin) @ self.axes, dtype=np.float64)

    def directions_to_car(self, directions: Array) -> Array:
        """Return directions of this frame in the car frame; (3,) or (n, 3), any unit."""
        return np.asarray(directions @ self.axes.T, dtype=np.float64)

    def directions_from_car(self, directions: Array) -> Array:
        """Return directions of the car frame in this frame; (3,) or (n, 3), any unit."""
        return np.asarray(directions @ self.axes, dtype=np.float64)


def car_frame() -> Frame:
    """Return the car frame itself: origin at 0, axes x, y, z."""
    return Frame(np.zeros(3), np.eye(3))


def mirror(points: Array) -> Array:
    """Return points or directions mirrored about the centre plane: y becomes -y.

    Args:
        points: (..., 3), mm for points, car frame.

    Returns:
        Array of the same shape, a new one.
    """
    mirrored = np.array(points, dtype=np.float64)
    mirrored[..., 1] = -mirrored[..., 1]
    return mirrored


def frame_from_three_points(origin: Array, on_x: Array, on_xy: Array) -> Frame:
    """Return the frame of a datum picked by three points.

    x runs from the origin through `on_x`; y lies in the plane of the three points, on the side
    of `on_xy`; z follows by the right hand, so that seen from its tip the three points run
    anticlockwise. To turn z over, pick the third point on the other side of x.

    Args:
        origin: (3,) mm, car frame.
        on_x: (3,) mm, car frame.
        on_xy: (3,) mm, car frame.

    Raises:
        NoFrame: if the points lie nearly in a line (see `LEAST_TRIANGLE_SHARE`).
    """
    corners = np.array([origin, on_x, on_xy], dtype=np.float64)
    _refuse_flat_triangle(corners)
    along_x = unit(corners[1] - corners[0])
    along_z = unit(_cross(along_x, corners[2] - corners[0]))
    return Frame(corners[0], np.column_stack([along_x, _cross(along_z, along_x), along_z]))


def _refuse_flat_triangle(corners: Array) -> None:
    """Raise NoFrame if the triangle (3, 3) is lower than a tenth of its longest side."""
    if not np.all(np.isfinite(corners)):
        raise NoFrame("One of the three points is not a number.")
    sides = corners - np.roll(corners, 1, axis=0)
    longest = float(np.sqrt(np.max(np.sum(sides * sides, axis=1))))
    if longest == 0.0:
        raise NoFrame("The three points lie in one place: pick three different ones.")
    # Any two sides span twice the area; over the longest side stands the smallest height.
    height = float(np.linalg.norm(_cross(sides[1], sides[2]))) / longest
    if height < LEAST_TRIANGLE_SHARE * longest:
        raise NoFrame(
            f"The three points lie nearly in a line: their triangle is {height:.1f} mm high over "
            f"{longest:.1f} mm, and at least {LEAST_TRIANGLE_SHARE * longest:.1f} mm is needed. "
            "Pick a third point farther to the side."
        )


def _squared(axes: Array) -> Array:
    """Return the nearest right-handed square axes (3, 3), or raise NoFrame."""
    error = float(np.max(np.abs(axes.T @ axes - np.eye(3))))
    if error > AXES_TOLERANCE:
        raise NoFrame(
            f"The axes are not square to each other and of length 1: they are out by {error:.4f}, "
            f"and {AXES_TOLERANCE} is taken for rounding."
        )
    if float(np.linalg.det(axes)) < 0.0:
        raise NoFrame("The axes are left-handed: turn one of them round.")
    if error <= AXES_EXACT:
        return axes
    left, _, right = np.linalg.svd(axes)
    return np.asarray(left @ right, dtype=np.float64)


def _cross(one: Array, other: Array) -> Array:
    """Return the vector product (3,)."""
    return np.asarray(np.cross(one, other), dtype=np.float64)
