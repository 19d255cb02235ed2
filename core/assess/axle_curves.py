"""Curves of both corners of an axle at once, and what they do together as they steer."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from core.assess.axles import Steering, steering
from core.assess.curves import Along, CornerCurves, sprung_curves, steer_curves, travel_curves
from core.assess.limits import Limited, limit
from core.assess.pairs import axle_at, pair_of
from core.assess.travels import rack_of, used_rack
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell

CornerSide = Literal["left", "right"]
Extra = Literal["", "springs"]
SIDES: tuple[CornerSide, CornerSide] = ("left", "right")
"""Left before right."""


@dataclass(frozen=True, eq=False)
class AxleCurves:
    """What is known of both corners of an axle.

    Attributes:
        corners: the corner of each side.
        curves: of each side that is known.
        why: of each side that is not, the reason.
        stops: the ends of what it is drawn over, mm, lower first; None where not known.
        together: both wheels as they steer; None over travel, or where it is not known.
        no_together: why not.
        toe_kept: how much the toe of either wheel may change, each with its limit.
        wanted_camber_deg: at design, where both sides are given the same.
        is_steered: whether a rack steers its wheels.
    """

    corners: Mapping[CornerSide, Ref]
    curves: Mapping[CornerSide, CornerCurves]
    why: Mapping[CornerSide, str]
    stops: tuple[float | None, float | None] = (None, None)
    together: Steering | None = None
    no_together: str = ""
    toe_kept: Mapping[CornerSide, Limited] = field(default_factory=dict["CornerSide", Limited])
    wanted_camber_deg: float | None = None
    is_steered: bool = False


@cell(When.LIVE)
def curves_of_axle(read: Reader, end: str, along: Along, extra: Extra = "") -> AxleCurves:
    """The curves of both corners at an end of the car.

    Args:
        read: what the document says.
        end: front or rear.
        along: what they are drawn over.
        extra: what is wanted besides over travel: springs at the wheel take several times as long
            as all the rest.

    Raises:
        NotComputedError: there is no such axle, or it has not one left and one right corner.
    """
    axle = read(axle_at, end)
    corners = dict(zip(SIDES, read(pair_of, axle), strict=True))
    curves: dict[CornerSide, CornerCurves] = {}
    why: dict[CornerSide, str] = {}
    of_travel = sprung_curves if extra else travel_curves
    for side, corner in corners.items():
        try:
            curves[side] = read(of_travel if along == "travel" else steer_curves, corner)
        except NotComputedError as error:
            why[side] = str(error)
    is_travel = along == "travel"
    together, no_together = (None, "") if is_travel else _together(read, axle)
    return AxleCurves(
        corners,
        curves,
        why,
        _stops(read, corners["left"], along),
        together,
        no_together,
        _toe_kept(read, corners) if is_travel else {},
        _wanted_camber(read, corners) if is_travel else None,
        any(read(rack_of, corner) is not None for corner in corners.values()),
    )


def _stops(read: Reader, corner: Ref, along: Along) -> tuple[float | None, float | None]:
    """Droop and bump of the left corner, or how far the rack goes each way."""
    if along == "travel":
        thing = read.thing(Corner, corner)
        return None if thing.droop is None else -thing.droop, thing.bump
    try:
        used = read(used_rack, corner)
    except NotComputedError:
        return None, None
    return (-used, used) if used else (None, None)


def _together(read: Reader, axle: Ref) -> tuple[Steering | None, str]:
    try:
        return read(steering, axle), ""
    except NotComputedError as error:
        return None, str(error)


def _toe_kept(read: Reader, corners: Mapping[CornerSide, Ref]) -> dict[CornerSide, Limited]:
    """How much the toe may change, where that limit can be read."""
    found: dict[CornerSide, Limited] = {}
    for side, corner in corners.items():
        axle = read.thing(Corner, corner).axle
        if not read.has(Axle, axle):
            continue
        try:
            found[side] = read(limit, "bump_steer", corner, axle)
        except NotComputedError:
            continue
    return found


def _wanted_camber(read: Reader, corners: Mapping[CornerSide, Ref]) -> float | None:
    """The camber that is wanted at design; none where the sides differ."""
    wanted = {read.thing(Corner, corner).wanted_camber_deg for corner in corners.values()}
    return wanted.pop() if len(wanted) == 1 else None
