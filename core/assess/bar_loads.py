"""What an anti-roll bar carries at a wheel, and what its drop link then pulls with."""

from dataclasses import dataclass

import numpy as np

from core.assess.bars import bar_at_design, bar_at_wheels_drawn
from core.assess.pairs import pair_of
from core.assess.springs import rates_in_roll
from core.document.base import Ref
from core.document.running_gear import Axle, Corner, Rack
from core.document.steel import Point
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.suspension.bar import rate_in_roll
from core.suspension.carried import carried_per_bump, carried_place
from core.suspension.poses import Poses


def has_bar(read: Reader, corner: Ref) -> bool:
    """Whether an anti-roll bar is entered for the axle of a corner."""
    return read.thing(Axle, read.thing(Corner, corner).axle).bar is not None


@cell(When.RELEASE)
def bar_share(read: Reader, corner: Ref) -> float:
    """The part, 0 to 1, that the bar has of what springs and bar carry at a wheel in roll.

    Raises:
        NotComputedError: the spring, or the bar, is not known.
    """
    if not has_bar(read, corner):
        return 0.0
    axle = read.thing(Corner, corner).axle
    at = read(pair_of, axle).index(corner)
    bar = float(rate_in_roll(read(bar_at_wheels_drawn, axle).rates)[at])
    return bar / (bar + read(rates_in_roll, corner).rate)


@dataclass(frozen=True, eq=False)
class DropLink:
    """A drop link at a pose.

    Attributes:
        on: the arm that carries its lower end, or the upright.
        lower: (3,) mm.
        way: (3,) unit, from there to the blade.
        per_bump: how far its lower end moves along `way` for each mm that the wheel rises.
        lower_at: the point of its lower end.
        bearing: the point of the bar's bearing, or its mirror image.
    """

    on: str
    lower: Array
    way: Array
    per_bump: float
    lower_at: Ref
    bearing: Ref

    def pull(self, carried: float) -> float:
        """What it pulls with, N, where the bar carries so many N up at the wheel: virtual work."""
        return -carried / self.per_bump


def drop_link_at(read: Reader, corner: Ref, poses: Poses) -> DropLink | None:
    """The drop link of a corner at a pose; none where there is no bar.

    Raises:
        NotComputedError: too little is known of the bar, or the link does nothing at the wheel.
    """
    if not has_bar(read, corner):
        return None
    axle = read.thing(Corner, corner).axle
    entered = read.thing(Axle, axle).bar
    assert entered is not None
    bar = read(bar_at_design, axle)
    is_left = poses.linkage.side == "left"
    link = bar.left if is_left else bar.right
    lower = carried_place(poses, link.outer, link.arm)
    try:
        blade = bar.blade(poses).at(link.on_blade)
        way = unit(blade - lower)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    moved = float(carried_per_bump(poses, lower, link.arm) @ way)
    if not np.isfinite(moved) or moved == 0.0:
        msg = f"the drop link of {read.label(corner)} does nothing as its wheel rises"
        raise NotComputedError(msg)
    ends = (entered.link_lower, entered.bearing)
    lower_at, bearing = (ref if is_left else _other(read, ref) for ref in ends)
    return DropLink(entered.link_on, lower, way, moved, lower_at, bearing)


def _other(read: Reader, ref: Ref) -> Ref:
    is_pair = read.has(Rack, ref) or read.thing(Point, ref).pair
    return ref.mirrored() if is_pair else ref
