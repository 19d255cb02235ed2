"""Poses of each corner through its travel and steer: what every curve and gap is read from."""

from dataclasses import dataclass, replace

import numpy as np

from core.assess.beams import held_wheel
from core.assess.pairs import pair_of
from core.document.base import Ref
from core.document.running_gear import Corner, Rack
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.suspension.ends import End, bump_ends, rack_ends
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.poses import Poses
from core.suspension.rigid_axle_wheel import AxleWheel
from core.suspension.solve import solve
from core.suspension.travel import Travel, at, grid, rolled

EACH_WAY = 20
"""Steps of a curve from the design position to either end of travel."""

COARSE_EACH_WAY = 6
"""Steps of the grid of travel and steer, over which tilts and gaps are looked for."""


def heights(corner: Corner, name: str, each_way: int = EACH_WAY) -> Array:
    """Wheel heights (2 each_way + 1,) mm from full droop to full bump, the design in the middle.

    Raises:
        NotComputedError: an end of the travel is not given.
    """
    if corner.droop is None or corner.bump is None:
        end = "droops" if corner.droop is None else "bumps"
        msg = f"how far the wheel of {name} {end} is not known"
        raise NotComputedError(msg)
    return _both_ways(corner.droop, corner.bump, each_way)


def _both_ways(down: float, up: float, each_way: int) -> Array:
    """From one end to the other; where there is no travel one way, the design stands for it."""
    low = np.linspace(-down, 0.0, each_way, endpoint=False) if down else np.zeros(0)
    high = np.linspace(0.0, up, each_way + 1) if up else np.zeros(1)
    return np.concatenate([low, high])


@cell(When.LIVE)
def rack_of(read: Reader, corner: Ref) -> Ref | None:
    """The rack that steers a corner, or nothing where nothing does."""
    thing = read.thing(Corner, corner)
    for link in thing.links:
        if read.has(Rack, link.inner):
            return Ref(link.inner.id)
    return None


@cell(When.LIVE)
def used_rack(read: Reader, corner: Ref) -> float:
    """How far the rack goes each way, mm; 0 where nothing steers.

    Raises:
        NotComputedError: it steers, and how far is not given.
    """
    rack = read(rack_of, corner)
    if rack is None:
        return 0.0
    thing = read.thing(Rack, rack)
    if thing.used_each_way is not None:
        return thing.used_each_way
    if thing.total_travel is not None:
        return thing.total_travel / 2.0
    msg = f"how far {read.label(rack)} goes each way is not known"
    raise NotComputedError(msg)


def solved(held: Linkage, travel: Travel, name: str) -> Poses:
    """The poses of a corner.

    Raises:
        NotComputedError: its upright is not held as it must be; says which motion is left free or
            what fights.
    """
    try:
        return solve(held, travel)
    except NotHeldError as error:
        msg = f"{name} is not held: {error}".rstrip(".")
        raise NotComputedError(msg) from error


@cell(When.LIVE)
def over_travel(read: Reader, corner: Ref) -> Poses:
    """Poses (41,) from full droop to full bump, wheels straight; both alike on a rigid axle."""
    name = read.label(corner)
    asked = heights(read.thing(Corner, corner), name)
    return solved(read(held_wheel, corner), at(asked), name)


@cell(When.LIVE)
def over_steer(read: Reader, corner: Ref) -> Poses:
    """Poses (41,) from the rack at its right stop to its left one, at the design height."""
    used = read(used_rack, corner)
    if used == 0.0:
        msg = f"nothing steers {read.label(corner)}"
        raise NotComputedError(msg)
    asked = _both_ways(used, used, EACH_WAY)
    return solved(read(held_wheel, corner), at(0.0, asked), read.label(corner))


@cell(When.LIVE)
def over_both(read: Reader, corner: Ref) -> Poses:
    """Poses (13, 9), travel by rack; (13, 1) where nothing steers; on a rigid axle (13, 13).

    There the other wheel goes to every height of its own while this one does.
    """
    name, held, used = read.label(corner), read(held_wheel, corner), read(used_rack, corner)
    bumps = heights(read.thing(Corner, corner), name, COARSE_EACH_WAY)
    if isinstance(held, AxleWheel):
        other = next(ref for ref in read(pair_of, read.thing(Corner, corner).axle) if ref != corner)
        others = heights(read.thing(Corner, other), read.label(other), COARSE_EACH_WAY)
        return solved(held, apart(bumps[:, None], others), name)
    racks = np.linspace(-used, used, 9) if used else np.zeros(1)
    return solved(held, grid(bumps, racks), name)


def apart(bump: Array | float, other: Array | float) -> Travel:
    """Positions of a wheel on a rigid axle by its own height and that of the other, mm."""
    own = np.asarray(bump, dtype=np.float64)
    return replace(at(own), apart=np.asarray(other - own))


@cell(When.LIVE)
def with_other_at(read: Reader, corner: Ref, bump: float, other: float) -> Poses:
    """One pose () of a wheel on a rigid axle by its own height and that of the other, mm."""
    return solved(read(held_wheel, corner), apart(bump, other), read.label(corner))


@cell(When.LIVE)
def corner_at(read: Reader, corner: Ref, bump: float, roll_deg: float, rack: float) -> Poses:
    """One pose (), where the car is shown moved.

    Args:
        read: what the document says.
        corner: which.
        bump: how far the wheels rise against the body, mm; with roll, how far the road does.
        roll_deg: of the body, left side up above zero, both tyres on the road.
        rack: mm to the left; a corner that nothing steers stays as it is.
    """
    held, name = read(held_wheel, corner), read.label(corner)
    steered = rack if read(rack_of, corner) is not None else 0.0
    if roll_deg == 0.0:
        return solved(held, at(bump, steered), name)
    road = _touching(held) + bump
    return solved(held, rolled(np.array(roll_deg), road, steered), name)


def _touching(held: Linkage) -> float:
    """Height of the contact at design, mm: z of the lowest place of the tyre, a thin disc.

    Of a rigid axle the mean of both, for there is one road.
    """
    wheels = (held.axle.left, held.axle.right) if isinstance(held, AxleWheel) else (held.wheel,)
    return float(np.mean([_lowest(wheel) for wheel in wheels]))


def _lowest(wheel: WheelAtDesign) -> float:
    flat = float(np.sqrt(1.0 - unit(np.asarray(wheel.spin_axis, dtype=np.float64))[2] ** 2))
    return float(wheel.centre[2]) - wheel.tyre_radius * flat


@dataclass(frozen=True)
class CornerEnds:
    """How far a corner goes before its links lock, looked for beyond what is used.

    Attributes:
        droop: lowest.
        bump: highest.
        right: rack furthest to the right, at the design height; None where nothing steers.
        left: to the left.
    """

    droop: End
    bump: End
    right: End | None
    left: End | None


LOOKED_BEYOND = 40.0
"""How far past the travel in use the links are followed, mm: more is of no use to a builder."""


@cell(When.RELEASE)
def ends_of_travel(read: Reader, corner: Ref) -> CornerEnds:
    """Where the links of a corner lock; both wheels go alike on a rigid axle."""
    thing, held = read.thing(Corner, corner), read(held_wheel, corner)
    reach = max(thing.droop or 0.0, thing.bump or 0.0) + LOOKED_BEYOND
    used = read(used_rack, corner)
    try:
        droop, bump = bump_ends(held, reach)
        steered = rack_ends(held, used + LOOKED_BEYOND) if used else (None, None)
    except NotHeldError as error:
        msg = f"{read.label(corner)} is not held: {error}".rstrip(".")
        raise NotComputedError(msg) from error
    return CornerEnds(droop, bump, *steered)
