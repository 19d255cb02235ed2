"""Weight and centre of gravity of tubes, exact on straights and arcs."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, fsum, isfinite, sin

import numpy as np

from core.geometry.tubes import Arc, Leg, TubeShape, pieces
from core.geometry.types import Array

Point = tuple[float, float, float]

_MM_PER_M = 1000.0


@dataclass(frozen=True, slots=True)
class TubeMass:
    """The mass of one or more tubes.

    Attributes:
        length: along the centre lines, mm.
        mass_kg: kg.
        centre: centre of gravity, mm, car frame.
    """

    length: float
    mass_kg: float
    centre: Point


def tube_mass(shape: TubeShape, mass_kg_per_m: float) -> TubeMass:
    """The mass of a bent tube taken as evenly spread along its centre line.

    Ends are square on the centre line: notches take off a little more.

    Args:
        shape: straight legs and arcs.
        mass_kg_per_m: of the section.

    Raises:
        ValueError: if the mass per metre is not above zero.
    """
    if not (isfinite(mass_kg_per_m) and mass_kg_per_m > 0.0):
        raise ValueError("a tube needs a mass per metre above zero")
    weighed = [TubeMass(p.length, p.length, _point(centroid(p))) for p in pieces(shape)]
    whole = total(weighed)
    if whole is None:
        raise ValueError("a tube needs a length")
    return TubeMass(whole.length, whole.length * mass_kg_per_m / _MM_PER_M, whole.centre)


def total(parts: Iterable[TubeMass]) -> TubeMass | None:
    """The tubes together, or None if there is nothing to weigh."""
    listed = list(parts)
    mass = fsum(part.mass_kg for part in listed)
    if not mass > 0.0:
        return None
    x, y, z = (fsum(part.mass_kg * part.centre[k] for part in listed) / mass for k in range(3))
    return TubeMass(fsum(part.length for part in listed), mass, (x, y, z))


def centroid(piece: Leg | Arc) -> Array:
    """The centroid (3,) of a straight or an arc taken as a line, mm, car frame.

    Source:
        Closed form for a circular arc of angle a: R sin(a/2)/(a/2) from its centre towards the
        middle of the arc (any handbook of mechanics).
    """
    if isinstance(piece, Leg):
        return np.asarray(piece.start + piece.length / 2.0 * piece.direction)
    half = piece.turn_rad / 2.0
    towards_middle = cos(half) * piece.outward + sin(half) * piece.forward
    return np.asarray(piece.centre + piece.radius * sin(half) / half * towards_middle)


def _point(place: Array) -> Point:
    x, y, z = (float(value) for value in place)
    return x, y, z
