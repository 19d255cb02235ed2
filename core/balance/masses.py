"""Many masses as one, and sheets by their outline."""

from typing import NamedTuple

import numpy as np

from core.geometry.types import Array

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2. Source: 3rd General Conference on Weights and Measures,
1901."""


class Total(NamedTuple):
    """Masses together.

    Attributes:
        mass_kg: kg.
        centre: (3,) mm, centre of gravity.
    """

    mass_kg: float
    centre: Array


def total(masses_kg: Array, places: Array) -> Total:
    """Return masses as one: the sum, and sum(m r) / sum(m).

    Args:
        masses_kg: (n,) kg, none below zero.
        places: (n, 3) mm, centre of gravity of each.

    Raises:
        ValueError: if a mass is below zero or no number, or there is nothing to weigh.
    """
    if not (np.isfinite(masses_kg).all() and np.isfinite(places).all()):
        raise ValueError("a mass or its place is no number")
    if (masses_kg < 0.0).any():
        raise ValueError("a mass is below zero")
    whole = float(masses_kg.sum())
    if not whole > 0.0:
        raise ValueError("there is nothing to weigh")
    return Total(whole, np.asarray(masses_kg @ places / whole))


class Sheet(NamedTuple):
    """A sheet by its outline.

    Attributes:
        area: mm2, as seen square on.
        centre: (3,) mm, of the area.
        out_of_flat: mm, of the corner furthest off the mean plane.
    """

    area: float
    centre: Array
    out_of_flat: float


def sheet(outline: Array) -> Sheet:
    """Return area and centre of a sheet with straight edges, which may have re-entrant corners.

    Args:
        outline: (n, 3) mm, corners in order round the edge.

    Raises:
        ValueError: if the outline has no area.

    Source:
        Area by the sum of cross products round the edge; centre as that of the triangles from the
        mean corner to each edge, signed by which way they turn (any handbook of geometry).
    """
    middle = outline.mean(axis=0)
    here = outline - middle
    ahead = np.roll(here, -1, axis=0)
    turns = np.cross(here, ahead) / 2.0
    whole = turns.sum(axis=0)
    area = float(np.linalg.norm(whole))
    if not area > 0.0:
        raise ValueError("a sheet needs an area")
    normal = whole / area
    centre = (turns @ normal) @ (here + ahead) / 3.0 / area
    off = (here - centre) @ normal
    return Sheet(area, np.asarray(middle + centre), float(np.abs(off).max()))
