"""Bent tubes: their shape, their solution from nodes, places along them. The one door in."""

from core.geometry.tube_line import (
    Arc,
    Leg,
    centre_line,
    centre_line_with_distances,
    nearest_on,
    pieces,
    place_along,
)
from core.geometry.tube_shape import (
    NoTubeShape,
    TubeShape,
    are_mirror_images,
    mirrored,
    reverse,
    shape_from_vertices,
)
from core.geometry.tube_solve import solve_tube

__all__ = [
    "Arc",
    "Leg",
    "NoTubeShape",
    "TubeShape",
    "are_mirror_images",
    "centre_line",
    "centre_line_with_distances",
    "mirrored",
    "nearest_on",
    "pieces",
    "place_along",
    "reverse",
    "shape_from_vertices",
    "solve_tube",
]
