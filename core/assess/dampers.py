"""Dampers and springs of each corner through the travel of its wheel."""

from dataclasses import dataclass

import numpy as np

from core.assess.linkages import arm_named
from core.assess.pairs import is_on_rigid_axle
from core.assess.places import array, place
from core.assess.travels import over_both, over_travel
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_length
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.rigid_axle_wheel import AxleWheelPoses
from core.suspension.rocker import Rocker


@cell(When.LIVE)
def damper_at_design(read: Reader, corner: Ref) -> DamperAtDesign:
    """Both eyes of a corner's damper, and the arm that carries the lower one."""
    damper = read.thing(Corner, corner).damper
    if damper is None:
        msg = f"no damper is entered for {read.label(corner)}"
        raise NotComputedError(msg)
    eyes = array(read(place, damper.lower)), array(read(place, damper.upper))
    if damper.lower_on == "rocker":
        return DamperAtDesign(*eyes, rocker=read(rocker_at_design, corner))
    return DamperAtDesign(*eyes, carrier(read, corner, damper.lower_on))


def carrier(read: Reader, corner: Ref, name: str) -> Arm | None:
    """The arm that carries something, or none where the upright does.

    Raises:
        NotComputedError: the corner has no such arm.
    """
    return None if name == "upright" else arm_named(read, corner, name)


@cell(When.LIVE)
def rocker_at_design(read: Reader, corner: Ref) -> Rocker:
    """The rocker of a corner with its rod."""
    rocker = read.thing(Corner, corner).rocker
    if rocker is None:
        msg = f"no rocker is entered for {read.label(corner)}"
        raise NotComputedError(msg)
    return Rocker(
        array(read(place, rocker.pivot)),
        array(rocker.pivot_axis),
        array(read(place, rocker.rod_outer)),
        array(read(place, rocker.rod_inner)),
        carrier(read, corner, rocker.rod_on),
    )


def lengths_of(poses: Poses, damper: DamperAtDesign) -> Array:
    """Lengths (...) mm of a damper.

    Raises:
        NotComputedError: its rocker is drawn where its rod cannot turn it.
    """
    try:
        return damper_length(poses, damper)
    except ValueError as error:
        raise NotComputedError(str(error)) from error


@dataclass(frozen=True)
class DamperTravel:
    """How long a damper gets, and what it may be.

    Attributes:
        shortest: over the travel, mm, and at which wheel height.
        shortest_at: mm.
        longest: mm.
        longest_at: mm.
        at_design: mm.
        closed: its own closed length, mm; None where it is not known.
        open: its own open length.
        shortest_other: height of the other wheel then, mm, on a rigid axle; else None.
        longest_other: likewise.
    """

    shortest: float
    shortest_at: float
    longest: float
    longest_at: float
    at_design: float
    closed: float | None
    open: float | None
    shortest_other: float | None = None
    longest_other: float | None = None


@cell(When.LIVE)
def damper_travel(read: Reader, corner: Ref) -> DamperTravel:
    """The lengths of a damper over the travel of its wheel, and of the other on a rigid axle."""
    is_rigid = read(is_on_rigid_axle, corner)
    poses, at = read(over_both if is_rigid else over_travel, corner), read(damper_at_design, corner)
    lengths, heights = lengths_of(poses, at).ravel(), np.asarray(poses.travel.bump).ravel()
    if np.isnan(lengths).any():
        msg = f"the wheel or the rocker of {read.label(corner)} does not reach its whole travel"
        raise NotComputedError(msg)
    low, high = int(lengths.argmin()), int(lengths.argmax())
    damper = read.thing(Corner, corner).damper
    assert damper is not None  # `damper_at_design` asks for it
    return DamperTravel(
        float(lengths[low]),
        float(heights[low]),
        float(lengths[high]),
        float(heights[high]),
        float(at.drawn_length),
        damper.closed_length,
        damper.open_length,
        *(height_of_other(poses, at) for at in (low, high)),
    )


def height_of_other(poses: Poses, at: int) -> float | None:
    """Of the other wheel of a rigid axle, mm, at a position counted in a row; else None."""
    return float(poses.others_height.flat[at]) if isinstance(poses, AxleWheelPoses) else None
