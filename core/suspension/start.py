"""How a body is held at design, and how it starts to move from there."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.aim import Aim
from core.suspension.rows import Rows
from core.suspension.slopes import evaluate
from core.suspension.turning import turned

UNKNOWNS = 6
"""Numbers that place a body in space; with the wheel heights there are as many conditions."""

LEAST_HELD = 1e-4
"""Singular value, turns weighed at 400 mm, below which a condition adds nothing: it would hold the
upright no better than 0.04 mm at 400 mm, and drawings are rounded to about 0.01. Own choice."""

STEP = 0.5
"""Travel, mm, over which the slopes are compared: only a start is made from it."""


@dataclass(frozen=True, eq=False, slots=True)
class AtDesign:
    """The body at design, for each geometry in a row.

    Attributes:
        slopes: of the conditions and the wheel heights, (geometries, rows, 6).
        margin: smallest singular value of those; 0 where they are not six.
        is_held: whether just the travel is left.
        motion: (geometries, 5, 6), how the body goes with two drives, and with the second powers
            first^2 / 2, first second and second^2 / 2; nothing where it is not held. The drives
            are bump and rack for one wheel, the heights of both for two.
    """

    slopes: Array
    margin: Array
    is_held: NDArray[np.bool_]
    motion: Array


def at_design(rows: Rows) -> AtDesign:
    """Return how the body is held, and starts to move; rows flat."""
    slopes = _with_rack(rows, np.zeros((len(rows.centre), 6)), 0.0)[..., :6]
    if slopes.shape[1] != UNKNOWNS:
        none = np.zeros(len(slopes))
        return AtDesign(slopes, none, none > 0.0, np.zeros((len(slopes), 5, 6)))
    values = np.linalg.svd(slopes, compute_uv=False)
    margin = np.asarray(values[:, -1], dtype=np.float64)
    is_held = margin >= LEAST_HELD
    motion = np.zeros((len(slopes), 5, 6))
    if is_held.any():
        motion[is_held] = _motion(rows.chosen(np.flatnonzero(is_held)))
    return AtDesign(slopes, margin, is_held, motion)


def _motion(rows: Rows) -> Array:
    """First and second derivatives of the pose by both drives, (geometries, 5, 6).

    From J x_i + F_i = 0 with F_i = 0 - 1 in the row of a height, and J x_ij + (D_i [J F_r]) y_j
    = 0 with y_j = (x_j, change of the rack): derived here. D_i by differences along y_i.
    """
    count = len(rows.centre)
    drawn = _with_rack(rows, np.zeros((count, 6)), 0.0)
    inverse = np.asarray(np.linalg.inv(drawn[..., :6]), dtype=np.float64)
    heights = [
        np.concatenate([inverse[..., UNKNOWNS - k], np.zeros((count, 1))], axis=1)
        for k in range(rows.wheel_count, 0, -1)
    ]
    by_rack = np.concatenate([-_times(inverse, drawn[..., 6]), np.ones((count, 1))], axis=1)
    one, other = (*heights, by_rack)[:2]
    turn_one, turn_other = (_change(rows, each) for each in (one, other))
    seconds = ((turn_one, one), (turn_one, other), (turn_other, other))
    second = [-_times(inverse, _times(change, by)) for change, by in seconds]
    return np.stack([one[:, :6], other[:, :6], *second], axis=1)


def _change(rows: Rows, by: Array) -> Array:
    """Of slopes and rack column along a motion with its rack, for each mm."""
    ahead, behind = (
        _with_rack(rows, step * by[:, :6], step * float(by[0, 6])) for step in (STEP, -STEP)
    )
    return np.asarray((ahead - behind) / (2.0 * STEP))


def _with_rack(rows: Rows, step: Array, rack: float) -> Array:
    """Slopes (geometries, rows, 7) after a step (geometries, 6), the rack's effect last."""
    count, rods = len(rows.centre), rows.rods
    ends = rods.ends + rack * (rods.on_rack * [0.0, 1.0, 0.0])
    aim = Aim(ends, rods.lengths[..., 0], np.zeros((count, rows.wheel_count)), None)
    rotation = turned(np.tile(np.eye(3), (count, 1, 1)), step[:, 3:])
    slopes = evaluate(rows, aim, step[:, :3], rotation)[1]
    pushed = np.zeros(slopes.shape[:2])
    pushed[:, : len(rods.on_rack)] = -slopes[:, : len(rods.on_rack), 1] * rods.on_rack[:, 0]
    return np.concatenate([slopes, pushed[..., None]], axis=2)


def _times(matrices: Array, vectors: Array) -> Array:
    return np.asarray(np.einsum("nij,nj->ni", matrices, vectors))
