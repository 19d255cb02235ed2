"""What is read off a corner through its travel and steer, each with its words and its signs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from core.assess.dampers import damper_at_design, lengths_of
from core.assess.pairs import side_of
from core.assess.springs import rates_by_lengths
from core.assess.travels import over_steer, over_travel
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.centres import (
    ROLL_CENTRE_HOW,
    contact_slope,
    front_view_centre,
    roll_centre_height,
    side_view_centre,
    wheel_centre_slope,
)
from core.suspension.damper import damper_per_wheel_travel
from core.suspension.poses import Poses
from core.suspension.rigid_axle_read import ROLL_CENTRE_HOW as OF_AXLE_HOW
from core.suspension.rigid_axle_read import roll_centre_height as axles_roll_centre_height
from core.suspension.rigid_axle_wheel import AxleWheelPoses
from core.suspension.steering import (
    castor_deg,
    kingpin_inclination_deg,
    scrub_radius,
    steer_deg,
    trail,
)
from core.suspension.wheel import (
    bump_steer_slope,
    camber_deg,
    camber_slope,
    forward_change,
    half_track_change,
    path,
    toe_in_deg,
)

Along = Literal["travel", "steer"]


def height_of_roll_centre(poses: Poses) -> Array:
    """Height (...) mm of a corner's roll centre over its contact; on a rigid axle, the axle's."""
    if isinstance(poses, AxleWheelPoses):
        return axles_roll_centre_height(poses.axle_poses)
    return roll_centre_height(poses)


@dataclass(frozen=True)
class Quantity:
    """One figure of a corner that changes as the wheel moves.

    Attributes:
        key: its short name.
        words: what it is called on screen.
        unit: of its values.
        digits: decimals shown.
        convention: what is positive, and how it is read, in one line.
        of: from poses (...) to values (...).
        is_folded: whether it is shown only when asked for.
        needs: what a corner must have for it: two balls as steering axis, or a damper.
    """

    key: str
    words: str
    unit: str
    digits: int
    convention: str
    of: Callable[[Poses], Array]
    is_folded: bool = False
    needs: Literal["", "axis", "rack"] = ""


def _per_10(slope: Callable[[Poses], Array]) -> Callable[[Poses], Array]:
    """A slope for each mm as one for each 10 mm."""
    return lambda poses: np.asarray(10.0 * slope(poses))


def _slope_deg(slope: Callable[[Poses], Array]) -> Callable[[Poses], Array]:
    return lambda poses: np.asarray(np.degrees(np.arctan(slope(poses))))


_ALL = (
    Quantity(
        "camber", "camber", "deg", 2,
        "top outward above zero; wheel plane against the car's own vertical", camber_deg,
    ),
    Quantity(
        "toe_in", "toe-in", "deg", 3, "front inward above zero; one wheel, seen from above",
        toe_in_deg,
    ),
    Quantity(
        "castor", "castor", "deg", 2,
        "top of the steering axis rearward above zero, seen from the side", castor_deg,
        needs="axis",
    ),
    Quantity(
        "kingpin", "kingpin inclination", "deg", 2,
        "top of the steering axis inboard above zero, seen from the front",
        kingpin_inclination_deg, needs="axis",
    ),
    Quantity(
        "trail", "trail", "mm", 1,
        "the steering axis meets the road ahead of the contact above zero, along the wheel", trail,
        needs="axis",
    ),
    Quantity(
        "scrub", "scrub radius", "mm", 1,
        "the contact is outboard of where the steering axis meets the road above zero",
        scrub_radius, needs="axis",
    ),
    Quantity(
        "half_track", "half-track change", "mm", 2, "contact further outboard above zero",
        half_track_change,
    ),
    Quantity(
        "wheelbase", "wheel centre fore and aft", "mm", 2, "ahead of design above zero",
        forward_change,
    ),
    Quantity(
        "outboard", "wheel centre sideways", "mm", 2, "outboard of design above zero",
        lambda poses: path(poses)[..., 1],
    ),
    Quantity(
        "bump_steer", "bump steer", "deg / 10 mm", 3,
        "change of toe-in for 10 mm of bump, at that height", _per_10(bump_steer_slope),
    ),
    Quantity(
        "camber_gain", "camber change", "deg / 10 mm", 3,
        "change of camber for 10 mm of bump, at that height", _per_10(camber_slope),
        is_folded=True,
    ),
    Quantity(
        "roll_centre", "roll centre height", "mm", 1,
        f"over the contact; {ROLL_CENTRE_HOW}; of a rigid axle {OF_AXLE_HOW}",
        height_of_roll_centre, is_folded=True,
    ),
    Quantity(
        "front_centre_y", "front-view instant centre, outboard", "mm", 0,
        "outboard of the centre plane above zero; of the upright's own motion",
        lambda poses: front_view_centre(poses).first, is_folded=True,
    ),
    Quantity(
        "front_centre_z", "front-view instant centre, height", "mm", 0,
        "above z = 0; of the upright's own motion",
        lambda poses: front_view_centre(poses).height, is_folded=True,
    ),
    Quantity(
        "side_centre_x", "side-view instant centre, fore and aft", "mm", 0,
        "ahead of x = 0 above zero; of the upright's own motion",
        lambda poses: side_view_centre(poses).first, is_folded=True,
    ),
    Quantity(
        "side_centre_z", "side-view instant centre, height", "mm", 0,
        "above z = 0; of the upright's own motion",
        lambda poses: side_view_centre(poses).height, is_folded=True,
    ),
    Quantity(
        "contact_slope", "slope of the contact's path", "deg", 2,
        "moves ahead on bump above zero, brakes on the upright: against dive at the front, with "
        "lift at the rear", _slope_deg(contact_slope), is_folded=True,
    ),
    Quantity(
        "centre_slope", "slope of the wheel centre's path", "deg", 2,
        "moves ahead on bump above zero; rearward is against squat where the differential is on "
        "the chassis", _slope_deg(wheel_centre_slope), is_folded=True,
    ),
    Quantity(
        "steer", "steer angle", "deg", 2, "wheel turned to the left above zero, both sides alike",
        steer_deg, needs="rack",
    ),
)  # fmt: skip

QUANTITIES: Mapping[str, Quantity] = MappingProxyType({each.key: each for each in _ALL})
"""Every figure read from the poses of a corner alone."""

SPRING_RATE_HOW = (
    "of spring and bump stop at the wheel, with what their force adds, where the spring's free "
    "length and seats are entered; else spring rate times damper to wheel squared"
)

OF_DAMPER: Mapping[str, tuple[str, str, int, str]] = MappingProxyType(
    {
        "damper_length": ("damper, eye to eye", "mm", 1, "length between its eyes"),
        "damper_ratio": (
            "damper for each mm of wheel",
            "mm/mm",
            3,
            "travel of the damper for each mm of the wheel; some texts use the inverse",
        ),
        "wheel_rate": (
            "wheel rate",
            "N/mm",
            2,
            SPRING_RATE_HOW,
        ),
        "wheel_load": (
            "spring load at the wheel",
            "N",
            0,
            "that spring and bump stop carry there, by the spring's free length and seats",
        ),
    }
)
"""Figures of the damper and its spring: words, unit, decimals, convention."""


@dataclass(frozen=True, eq=False)
class CornerCurves:
    """Figures of one corner over one kind of movement.

    Attributes:
        along: (n,) wheel height, or rack to the left, mm.
        values: (n,) of each quantity, by its key; nan where the wheel cannot go.
    """

    along: Array
    keys: tuple[str, ...]
    values: Array

    def of(self, key: str) -> Array:
        """Values (n,) of a quantity.

        Raises:
            KeyError: it is not among them.
        """
        if key not in self.keys:
            raise KeyError(key)
        return np.asarray(self.values[self.keys.index(key)])

    def at(self, key: str, along: float) -> float:
        """The value at a place along, straight between the places worked out."""
        return float(np.interp(along, self.along, self.of(key)))


@cell(When.LIVE)
def travel_curves(read: Reader, corner: Ref) -> CornerCurves:
    """Everything that changes as a wheel rises and falls, wheels straight."""
    poses = read(over_travel, corner)
    found = _of_poses(poses, is_steered=False)
    found |= _of_damper(read, corner, poses)
    return _curves(np.asarray(poses.travel.bump), found)


@cell(When.LIVE)
def sprung_curves(read: Reader, corner: Ref) -> CornerCurves:
    """The same, and its springs at the wheel; apart, for no rule waits for these."""
    curves, of_spring = read(travel_curves, corner), _of_spring(read, corner)
    if not of_spring:
        return curves
    values = np.vstack([curves.values, *of_spring.values()])
    return CornerCurves(curves.along, (*curves.keys, *of_spring), values)


@cell(When.LIVE)
def steer_curves(read: Reader, corner: Ref) -> CornerCurves:
    """Everything that changes as the rack goes from side to side, at the design height."""
    poses = read(over_steer, corner)
    return _curves(np.asarray(poses.travel.rack), _of_poses(poses, is_steered=True))


def _curves(along: Array, found: dict[str, Array]) -> CornerCurves:
    return CornerCurves(along, tuple(found), np.stack(list(found.values())))


def _of_poses(poses: Poses, *, is_steered: bool) -> dict[str, Array]:
    has_axis = poses.linkage.steering_axis is not None
    return {
        each.key: each.of(poses)
        for each in _ALL
        if (each.needs != "axis" or has_axis) and (each.needs != "rack" or is_steered)
    }


def _of_damper(read: Reader, corner: Ref, poses: Poses) -> dict[str, Array]:
    """Length and ratio of the damper, where one is entered whole."""
    try:
        damper = read(damper_at_design, corner)
        lengths = lengths_of(poses, damper)
    except NotComputedError:
        return {}
    return {
        "damper_length": lengths,
        "damper_ratio": damper_per_wheel_travel(poses, damper),
    }


def _of_spring(read: Reader, corner: Ref) -> dict[str, Array]:
    """Rate and load at the wheel, as far as what is entered of the spring says them."""
    try:
        found = rates_by_lengths(read, corner, read(over_travel, corner))
    except NotComputedError:
        return {}
    load = {} if found.load is None else {"wheel_load": found.load}
    return {"wheel_rate": found.rate, **load}


@cell(When.LIVE)
def at_design(read: Reader, corner: Ref) -> Mapping[str, float]:
    """Every figure of a corner at the design position, by the key of its quantity."""
    curves = read(travel_curves, corner)
    middle = int(np.argmin(np.abs(curves.along)))
    return {key: float(curves.of(key)[middle]) for key in curves.keys}


def sides_apart(ref: Ref) -> str:
    """Left or right, for a curve of one of two corners."""
    return side_of(ref)
