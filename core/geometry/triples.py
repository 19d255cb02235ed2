"""Vectors of three plain floats.

For one vector at a time these are several times faster than numpy, and a tube is solved anew
at every step of a drag. Arrays of many points belong to numpy.
"""

import math

Triple = tuple[float, float, float]


def difference(of: Triple, and_: Triple) -> Triple:
    """Return the vector `of` - `and_`."""
    return of[0] - and_[0], of[1] - and_[1], of[2] - and_[2]


def dot(one: Triple, other: Triple) -> float:
    """Return the scalar product."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Triple, other: Triple) -> Triple:
    """Return the vector product, right-handed."""
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )


def length(vector: Triple) -> float:
    """Return the length of the vector."""
    return math.sqrt(dot(vector, vector))


def along(start: Triple, direction: Triple, distance: float) -> Triple:
    """Return the point reached from `start` after `distance` times `direction`."""
    return (
        start[0] + direction[0] * distance,
        start[1] + direction[1] * distance,
        start[2] + direction[2] * distance,
    )
