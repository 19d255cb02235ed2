"""The driven side a computation is for, and the step into its own outboard frame."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.geometry.frames import mirror
from core.geometry.types import Array

Side = Literal["left", "right"]
Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class DriveSide:
    """One side from the power unit to the wheel, all places in the car frame, mm.

    Attributes:
        side: left or right.
        bell_housing_face_y: y of the face between engine and gearbox, the same for both sides.
        inner_joint: centre of the inner joint at mid-stroke.
        slide_axis: direction in which the inner joint slides, outboard.
        outer_joint: centre of the outer joint at design position.
        spin_axis: direction of the wheel's spin axis at design position, outboard.
        shaft_length: outer joint centre to sliding centre of the inner joint.
        joint_to_hub_face: outer joint centre to hub face, along the spin axis.
        spacer: thickness between hub face and wheel.
        wheel_offset: ET, mounting face to rim centre plane; positive, face outboard.
    """

    side: Side
    bell_housing_face_y: float
    inner_joint: Point
    slide_axis: Point
    outer_joint: Point
    spin_axis: Point
    shaft_length: float
    joint_to_hub_face: float
    spacer: float
    wheel_offset: float


def outboard(vectors: Point | Array, side: Side) -> Array:
    """Places or directions in the side's own frame: y positive away from the centre plane.

    Args:
        vectors: (..., 3), mm or unit vectors, car frame.
        side: the right side is mirrored at y = 0, the left one stays.

    Returns:
        Same shape as `vectors`.
    """
    places = np.asarray(vectors, dtype=np.float64)
    return places if side == "left" else mirror(places)


def outboard_sign(side: Side) -> float:
    """+1 for the left side, whose outboard is +y; -1 for the right."""
    return 1.0 if side == "left" else -1.0
