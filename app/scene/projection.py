"""From the car to the screen and back, in logical pixels."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array

BEHIND = 1e-6
"""Least depth from the eye, relative, at which a place still has a place on the screen."""


@dataclass(frozen=True, eq=False)
class Ray:
    """A line of sight: a place on it and its direction away from the eye, car frame, mm."""

    origin: Array
    direction: Array


@dataclass(frozen=True, eq=False)
class Projection:
    """How one view shows the car at one moment.

    Attributes:
        matrix: (4, 4) from mm in the car frame to -1..1 across, up and in depth.
        width: of the view, logical pixels.
        height: of the view, logical pixels.
    """

    matrix: Array
    width: float
    height: float

    def to_screen(self, points: Array) -> Array:
        """Return x right, y down in logical pixels, and depth -1 (near) to 1 (far).

        Args:
            points: (n, 3) mm, car frame.

        Returns:
            (n, 3); a place beside or behind the eye is not a number.
        """
        homogeneous = np.column_stack([points, np.ones(len(points))]) @ self.matrix.T
        weight = np.where(homogeneous[:, 3] > BEHIND, homogeneous[:, 3], np.nan)
        shown = homogeneous[:, :3] / weight[:, None]
        across = (shown[:, 0] + 1.0) * 0.5 * self.width
        down = (1.0 - shown[:, 1]) * 0.5 * self.height
        return np.column_stack([across, down, shown[:, 2]])

    def ray(self, across: float, down: float) -> Ray:
        """Return the line of sight through a pixel."""
        x, y = 2.0 * across / self.width - 1.0, 1.0 - 2.0 * down / self.height
        ends = np.array([[x, y, -1.0, 1.0], [x, y, 1.0, 1.0]]) @ np.linalg.inv(self.matrix).T
        near, far = ends[:, :3] / ends[:, 3:]
        step = far - near
        return Ray(near, np.asarray(step / np.linalg.norm(step), dtype=np.float64))

    def mm_per_pixel(self, place: Array) -> float:
        """Return how many mm one pixel is at the depth of a place (3,)."""
        shown = self.to_screen(place[None])[0]
        one, other = self.ray(shown[0], shown[1]), self.ray(shown[0] + 1.0, shown[1])
        depth = float((place - one.origin) @ one.direction)
        there = one.origin + depth * one.direction
        beside = other.origin + depth * other.direction
        return float(np.linalg.norm(beside - there))


def on_plane(ray: Ray, place: Array, normal: Array) -> Array | None:
    """Return where a ray meets a plane, (3,) mm; nothing where it runs along it.

    Args:
        ray: a line of sight.
        place: (3,) any place of the plane, mm.
        normal: (3,) unit.
    """
    slope = float(ray.direction @ normal)
    if abs(slope) < EDGE_ON:
        return None
    reach = float((place - ray.origin) @ normal) / slope
    return np.asarray(ray.origin + reach * ray.direction, dtype=np.float64)


EDGE_ON = float(np.sin(np.radians(10.0)))
"""A plane or axis nearer than this to the line of sight is no guide for the hand: one pixel would
be six times its length or more."""


def on_axis(ray: Ray, place: Array, axis: Array) -> Array | None:
    """Return the place on an axis nearest to a ray, (3,) mm; nothing where they run alike.

    Args:
        ray: a line of sight.
        place: (3,) any place on the axis, mm.
        axis: (3,) unit.
    """
    slope = float(ray.direction @ axis)
    if 1.0 - slope * slope < EDGE_ON * EDGE_ON:
        return None
    gap = place - ray.origin
    along = (slope * float(ray.direction @ gap) - float(axis @ gap)) / (1.0 - slope * slope)
    return np.asarray(place + along * axis, dtype=np.float64)


def on_line(ray: Ray, line: Array) -> Array:
    """Return the place on a polyline (n, 3) nearest to a ray, (3,) mm."""
    start, step = line[:-1], np.diff(line, axis=0)
    across = step - np.outer(step @ ray.direction, ray.direction)
    offset = start - ray.origin
    offset = offset - np.outer(offset @ ray.direction, ray.direction)
    size = np.maximum(np.sum(across * across, axis=1), 1e-12)
    share = np.clip(-np.sum(offset * across, axis=1) / size, 0.0, 1.0)
    gaps = np.sum((offset + share[:, None] * across) ** 2, axis=1)
    best = int(np.argmin(gaps))
    return np.asarray(start[best] + share[best] * step[best], dtype=np.float64)
