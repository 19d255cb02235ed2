"""Where each wheel stands while the car is shown moved: as far as its stops and links let it."""

from dataclasses import dataclass

import numpy as np

from core.assess.beams import held_wheel
from core.assess.pairs import corners_of, is_on_rigid_axle
from core.assess.travels import corner_at, with_other_at
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.quantities import number
from core.suspension.poses import Poses

SAME_WITHIN = 1e-3
"""mm by which a wheel may seem to be past its stop, as the solver leaves it."""

SHORT_OF_LOCK = 0.999
"""Of the way to where the links lock: what is shown in place of it."""


@dataclass(frozen=True, eq=False)
class Standing:
    """Where a wheel is shown.

    Attributes:
        corner: whose.
        name: as it is called in words, such as «front left».
        poses: of its upright, of shape ().
        rise: of the wheel centre from design, mm.
        stopped: empty where it goes as far as is asked, else why it does not, as said of it.
    """

    corner: Ref
    name: str
    poses: Poses
    rise: float
    stopped: str


@cell(When.LIVE)
def wheel_name(read: Reader, corner: Ref) -> str:
    """What a wheel is called in words: by its axle and side."""
    axle = read.thing(Corner, corner).axle
    if corner.side == "one" or not read.has(Axle, axle):
        return read.label(corner)
    return f"{read.thing(Axle, axle).end} {corner.side}"


@cell(When.LIVE)
def stops(read: Reader, corner: Ref) -> tuple[float | None, float | None]:
    """How far a wheel droops and bumps, mm, where that is entered."""
    thing = read.thing(Corner, corner)
    return thing.droop, thing.bump


@cell(When.LIVE)
def standing(read: Reader, corner: Ref, bump: float, roll_deg: float, rack: float) -> Standing:
    """Where a wheel stands, held by its stops as they are entered and by its links.

    Raises:
        NotComputedError: what holds it is not known, so that nothing can be said of its travel.
    """
    poses = read(corner_at, corner, bump, roll_deg, rack)
    wheels = [(ref, _asked(read, ref, bump, roll_deg, rack)) for ref in _moved_with(read, corner)]
    stands = [_held(read, ref, rise) for ref, rise in wheels]
    name, rise, held = read(wheel_name, corner), wheels[0][1], stands[0]
    are_free = [
        abs(stop - rise) <= SAME_WITHIN for stop, (_, rise) in zip(stands, wheels, strict=True)
    ]
    if bool(poses.is_reached) and all(are_free):
        return Standing(corner, name, poses, rise, "")
    is_free = bool(poses.is_reached) and are_free[0]
    words = "" if is_free else _stopped(read, corner, rise, held)
    poses = _at(read, corner, stands, rack)
    if not bool(poses.is_reached):
        share = float(poses.share) * SHORT_OF_LOCK
        poses = _at(read, corner, [stop * share for stop in stands], rack * share)
        words = _locked(held * share, rack * share)
    if not bool(poses.is_reached):
        msg = "its links do not come together"
        raise NotComputedError(msg)
    return Standing(corner, name, poses, _rise(poses), words)


def _moved_with(read: Reader, corner: Ref) -> list[Ref]:
    """The corner, and the other one of a rigid axle."""
    if not read(is_on_rigid_axle, corner):
        return [corner]
    pair = read(corners_of, read.thing(Corner, corner).axle)
    return [corner, *(ref for ref in pair if ref != corner)]


def _asked(read: Reader, corner: Ref, bump: float, roll_deg: float, rack: float) -> float:
    """How far a wheel would rise without its stops, mm."""
    poses = read(corner_at, corner, bump, roll_deg, rack)
    return _rise(poses) if bool(poses.is_reached) else _without_links(read, corner, bump, roll_deg)


def _at(read: Reader, corner: Ref, stands: list[float], rack: float) -> Poses:
    """The corner with its wheel, and the other of a rigid axle, at their heights."""
    if len(stands) == 1:
        return read(corner_at, corner, stands[0], 0.0, rack)
    return read(with_other_at, corner, stands[0], stands[1])


def _rise(poses: Poses) -> float:
    return float(poses.centre[2] - poses.linkage.centre[2])


def _without_links(read: Reader, corner: Ref, bump: float, roll_deg: float) -> float:
    """How far the road would lift the wheel if it went straight up, mm."""
    outward = float(read(held_wheel, corner).centre[1])
    return bump - float(np.tan(np.radians(roll_deg))) * outward


def _held(read: Reader, corner: Ref, rise: float) -> float:
    """The rise as far as the stops let it, mm; where a stop is not known, not past the design."""
    droop, bump = read(stops, corner)
    return min(max(rise, -(droop or 0.0)), bump or 0.0)


def _stopped(read: Reader, corner: Ref, rise: float, held: float) -> str:
    """Why a wheel does not rise or fall as far as it is asked to."""
    droop, bump = read(stops, corner)
    way, stop = ("bump", bump) if rise > 0.0 else ("droop", droop)
    if abs(held - rise) <= SAME_WITHIN:
        return "its links do not let it follow the road there"
    if stop is None:
        return f"how far it {way}s is not known, so it is shown at design"
    return f"at its {way} stop, {_way(held)}"


def _locked(rise: float, rack: float) -> str:
    steered = f" with the rack {number(abs(rack), 0)} over" if abs(rack) > SAME_WITHIN else ""
    return f"it does not go there, its links lock {_way(rise)}{steered}"


def _way(rise: float) -> str:
    return f"{number(abs(rise), 0)} {'up' if rise > 0.0 else 'down'}"
