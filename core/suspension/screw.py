"""Any small motion of a body is a turn about one line in space and a slide along it."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.slopes import cross_into


@dataclass(frozen=True, eq=False, slots=True)
class Motion:
    """A small motion of the upright, for each unit of what drives it.

    Attributes:
        velocity: (..., 3) of the wheel centre, mm.
        turn: (..., 3) rad, right-handed about its direction.
        centre: (..., 3) mm, of the wheel.
    """

    velocity: Array
    turn: Array
    centre: Array

    def at(self, places: Array) -> Array:
        """Movement (..., 3) of places (..., 3) that go with the upright."""
        return self.velocity + cross(self.turn, places - self.centre)

    def of(self, directions: Array) -> Array:
        """Change (..., 3) of directions (..., 3) that go with the upright."""
        return cross(self.turn, directions)


@dataclass(frozen=True, eq=False, slots=True)
class Screw:
    """The line a motion turns about.

    Attributes:
        point: (..., 3) mm, of the line, nearest to the wheel centre; nan for a pure slide.
        direction: (..., 3) unit; of a pure slide, the way it goes.
        turn_deg: (...) for each unit of what drives the motion, right-handed about `direction`.
        slide: (...) mm along `direction`, likewise.
    """

    point: Array
    direction: Array
    turn_deg: Array
    slide: Array


LEAST_TURN = 1e-9
"""A turn below this, rad for each mm, is none: the line would be a thousand km away."""


def screw(motion: Motion) -> Screw:
    """Return the screw of a motion.

    Source: the theorem of Mozzi and Chasles; with turn w and velocity v of the wheel centre c the
    line is through c + w x v / w.w along w, the slide v.w / |w| (derived here).
    """
    square, speed = _square(motion.turn), np.sqrt(_square(motion.velocity))
    turns, size = square > (LEAST_TURN * speed) ** 2, np.sqrt(square)
    with np.errstate(divide="ignore", invalid="ignore"):
        axis = np.where(turns, motion.turn / size, motion.velocity / speed)
        to_line = np.where(turns, cross(motion.turn, motion.velocity) / square, np.nan)
    slide = np.sum(motion.velocity * axis, axis=-1)
    turn = np.where(turns[..., 0], np.degrees(size[..., 0]), 0.0)
    return Screw(motion.centre + to_line, axis, turn, slide)


def cross(one: Array, other: Array) -> Array:
    """Return the vector products (..., 3)."""
    out = np.empty(np.broadcast_shapes(one.shape, other.shape))
    cross_into(out, one, other)
    return out


def _square(vectors: Array) -> Array:
    """Their lengths squared, (..., 1)."""
    return np.asarray(np.sum(vectors**2, axis=-1, keepdims=True), dtype=np.float64)
