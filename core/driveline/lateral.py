"""How far in or out a wheel may stand for a bought shaft, and where the unit must hang for both."""

from dataclasses import dataclass
from math import isfinite

import numpy as np

from core.driveline.shaft import ShaftDoesNotReachError
from core.driveline.sides import DriveSide, outboard
from core.driveline.width import joint_to_wheel_plane
from core.geometry.types import Array, unit

_STRAIGHT_ACROSS = 1e-9
"""Largest part of the slide axis that may point away from y; a rounding allowance, no limit."""

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class LateralRange:
    """Where the wheel plane of one side may stand, mm outboard of the centre plane.

    Attributes:
        lower: nearest to the centre plane; there the joint is pushed in to its limit.
        upper: farthest out; there the joint is pulled out to its limit.
        governs_lower: index of the travel position that sets `lower`.
        governs_upper: index of the travel position that sets `upper`.
    """

    lower: float
    upper: float
    governs_lower: int
    governs_upper: int

    @property
    def width(self) -> float:
        """Room from lower to upper, mm; below zero no place exists and this much is missing."""
        return self.upper - self.lower


@dataclass(frozen=True, slots=True)
class Shift:
    """How far the power unit may move sideways, mm, positive to the left.

    Attributes:
        allowed: least and greatest move that bring both drawn wheel planes within reach, or None.
        least_move: the move of smallest size among them, or None.
        too_wide: by how much the two wheel planes stand too far apart for any move, or 0.
        too_narrow: by how much they stand too close for any move, or 0. With no range on one side
            (`width` below zero) there is no allowed move whatever these two say.
        left_excess: left wheel plane beyond its range as the unit hangs now, positive outboard;
            0 within.
        right_excess: the same on the right.
        full_width: moves that keep the whole range of the narrower side usable with equal wheel
            planes on both sides; None if a side has no range.
    """

    allowed: Range | None
    least_move: float | None
    too_wide: float
    too_narrow: float
    left_excess: float
    right_excess: float
    full_width: Range | None


def wheel_plane_interval(
    drive: DriveSide,
    plunge_in: float,
    plunge_out: float,
    outer_at_travel: Array | None = None,
) -> LateralRange:
    """Where the wheel plane may stand so that the plunge stays within its limits in all positions.

    The whole corner moves sideways as one; the shaft and the power unit stay.

    Args:
        drive: the side as drawn.
        plunge_in: slide allowed inwards from mid-stroke, mm, positive.
        plunge_out: slide allowed outwards from mid-stroke, mm, positive.
        outer_at_travel: (n, 3) outer joint centre at each travel position, mm, car frame; None for
            the design position alone.

    Raises:
        ShaftDoesNotReachError: if the shaft is too short in height and fore-and-aft; no sideways
            move mends that.
        ValueError: if the inner joint does not slide straight across the car, or a limit is
            negative or no number.

    Source:
        Derived here: with c = sqrt(L^2 - r^2) and dy the sideways move of the outer joint in
        travel, y of the outer joint as drawn lies from y_inner + max(c - dy) - plunge_in to
        y_inner + min(c - dy) + plunge_out.
    """
    if not (isfinite(plunge_in + plunge_out) and min(plunge_in, plunge_out) >= 0.0):
        raise ValueError("plunge limits must be numbers, none below zero")
    reach = _drawn_places(drive, outer_at_travel)
    beyond = joint_to_wheel_plane(drive)
    low, high = int(np.argmax(reach)), int(np.argmin(reach))
    lower, upper = float(reach[low]) - plunge_in, float(reach[high]) + plunge_out
    return LateralRange(lower + beyond, upper + beyond, low, high)


def unit_shift(
    left: LateralRange, left_plane: float, right: LateralRange, right_plane: float
) -> Shift:
    """Where the power unit must hang so that both drawn wheel planes are within reach.

    Moving the unit by e to the left moves the left range by +e outboard, the right one by -e.

    Args:
        left: range of the left wheel plane, as the unit hangs now.
        left_plane: drawn left wheel plane, mm outboard.
        right: range of the right wheel plane.
        right_plane: drawn right wheel plane, mm outboard.
    """
    total = left_plane + right_plane
    allowed = _overlap(
        (left_plane - left.upper, left_plane - left.lower),
        (right.lower - right_plane, right.upper - right_plane),
    )
    usable = left.width >= 0.0 and right.width >= 0.0
    allowed = allowed if usable else None
    return Shift(
        allowed=allowed,
        least_move=None if allowed is None else _nearest_to_zero(allowed),
        too_wide=max(0.0, total - left.upper - right.upper),
        too_narrow=max(0.0, left.lower + right.lower - total),
        left_excess=_excess(left, left_plane),
        right_excess=_excess(right, right_plane),
        full_width=_full_width(left, right) if usable else None,
    )


def _drawn_places(drive: DriveSide, outer_at_travel: Array | None) -> Array:
    """Outboard y of the drawn outer joint that leaves the inner one at mid-stroke, per position."""
    inner, drawn = outboard(drive.inner_joint, drive.side), outboard(drive.outer_joint, drive.side)
    _refuse_tilted_axis(drive)
    given = drawn if outer_at_travel is None else outboard(outer_at_travel, drive.side)
    outer = np.atleast_2d(given)
    away = np.hypot(outer[:, 0] - inner[0], outer[:, 2] - inner[2])
    short = np.flatnonzero(~(away <= drive.shaft_length))
    if short.size:
        missing = tuple(float(away[k]) - drive.shaft_length for k in short)
        raise ShaftDoesNotReachError(tuple(int(k) for k in short), missing)
    across = np.sqrt(drive.shaft_length**2 - away**2)
    return np.asarray(inner[1] + across - (outer[:, 1] - drawn[1]), dtype=np.float64)


def _refuse_tilted_axis(drive: DriveSide) -> None:
    axis = unit(outboard(drive.slide_axis, drive.side))
    if axis[1] < 0.0 or float(np.hypot(axis[0], axis[2])) > _STRAIGHT_ACROSS:
        raise ValueError("the range is known only for an inner joint that slides straight outboard")


def _full_width(left: LateralRange, right: LateralRange) -> Range:
    lower, upper = (right.lower - left.lower) / 2.0, (right.upper - left.upper) / 2.0
    return min(lower, upper), max(lower, upper)


def _overlap(first: Range, second: Range) -> Range | None:
    lower, upper = max(first[0], second[0]), min(first[1], second[1])
    return (lower, upper) if lower <= upper else None


def _nearest_to_zero(allowed: Range) -> float:
    return min(max(0.0, allowed[0]), allowed[1])


def _excess(side: LateralRange, plane: float) -> float:
    """How far the plane lies beyond the nearer end; with no range, beyond the end it fails most."""
    too_far_out, too_far_in = plane - side.upper, plane - side.lower
    return too_far_out if too_far_out > max(0.0, -too_far_in) else min(too_far_in, 0.0)
