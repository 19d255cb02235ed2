"""Anti-roll bars, and what holds each axle up in roll."""

from dataclasses import dataclass

import numpy as np

from core.assess.axles import track
from core.assess.dampers import carrier
from core.assess.pairs import axle_at, pair_of
from core.assess.places import array, place
from core.assess.spring_parts import pose_in_roll, tyre_rate
from core.assess.springs import rates_in_roll
from core.document.base import Ref
from core.document.links import AntiRollBar as DrawnBar
from core.document.running_gear import Axle, Rack
from core.document.steel import Point
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.frames import mirror
from core.geometry.types import Array
from core.suspension.bar import (
    AntiRollBar,
    AxleRates,
    BarAtWheels,
    DropLink,
    bar_at_wheels,
    front_share,
    roll_stiffness_nm_per_deg,
)
from core.suspension.torsion import twisting_rate_nm_per_deg

ACROSS = np.array([0.0, 1.0, 0.0])


def bar_of(read: Reader, axle: Ref) -> DrawnBar:
    """The anti-roll bar of an axle as it is entered.

    Raises:
        NotComputedError: there is none.
    """
    bar = read.thing(Axle, axle).bar
    if bar is None:
        msg = f"no anti-roll bar is entered for {read.label(axle)}"
        raise NotComputedError(msg)
    return bar


def on_other_side(read: Reader, ref: Ref) -> Array:
    """Where the mirror image of a place is, (3,) mm; of a single one across the centre plane."""
    if read.has(Rack, ref) or read.thing(Point, ref).pair:
        return array(read(place, ref.mirrored()))
    return mirror(array(read(place, ref)))


@cell(When.LIVE)
def bar_rate(read: Reader, axle: Ref) -> float:
    """What an axle's bar gives, N m for each degree of one end against the other.

    As it is entered, else of a round steel bar by its sizes; blades and links are taken for stiff.

    Raises:
        NotComputedError: neither the rate nor the sizes are entered, or they are none of a bar.
    """
    bar = bar_of(read, axle)
    if bar.rate_nm_per_deg is not None:
        return bar.rate_nm_per_deg
    if bar.outside is None or bar.length is None:
        msg = f"neither the rate of the anti-roll bar of {read.label(axle)} nor its sizes are known"
        raise NotComputedError(msg)
    return twisting_rate_nm_per_deg(bar.outside, bar.length, bar.bore)


@cell(When.LIVE)
def bar_at_design(read: Reader, axle: Ref) -> AntiRollBar:
    """The anti-roll bar of an axle with its drop links, without twist as drawn."""
    bar, (left, right) = bar_of(read, axle), read(pair_of, axle)
    ends = bar.arm_end, bar.link_lower
    blade, lower = (array(read(place, ref)) for ref in ends)
    other_blade, other_lower = (on_other_side(read, ref) for ref in ends)
    return AntiRollBar(
        array(read(place, bar.bearing)),
        ACROSS,
        DropLink(blade, lower, carrier(read, left, bar.link_on)),
        DropLink(other_blade, other_lower, carrier(read, right, bar.link_on)),
        read(bar_rate, axle),
    )


@cell(When.LIVE)
def bar_at_wheels_drawn(read: Reader, axle: Ref) -> BarAtWheels:
    """What an axle's bar is at its two wheels, as drawn.

    On a rigid axle, as the body rolls: one wheel rises as the other falls.

    Raises:
        NotComputedError: too little is known of it, or a drop link is drawn at dead centre.
    """
    left, right = (read(pose_in_roll, ref) for ref in read(pair_of, axle))
    try:
        return bar_at_wheels(left, right, read(bar_at_design, axle))
    except ValueError as error:
        msg = f"the anti-roll bar of {read.label(axle)}: {error}"
        raise NotComputedError(msg) from error


@dataclass(frozen=True)
class RollStiffness:
    """What holds an axle up in roll, N m for each degree that the body rolls.

    Attributes:
        whole: springs and bar, on their tyres as far as their stiffness is known.
        springs: without the bar.
        bar: what the bar adds; None where there is none.
        has_tyres: whether both tyres give; else they are taken for stiff.
        is_exact: whether the force in the springs is reckoned with.
    """

    whole: float
    springs: float
    bar: float | None
    has_tyres: bool
    is_exact: bool


@cell(When.RELEASE)
def roll_stiffness(read: Reader, axle: Ref) -> RollStiffness:
    """What holds an axle up in roll, at design.

    Raises:
        NotComputedError: a spring, or the bar that is there, is not known.
    """
    pair = read(pair_of, axle)
    rates, tyres = [read(rates_in_roll, ref) for ref in pair], [read(tyre_rate, r) for r in pair]
    has_bar = read.thing(Axle, axle).bar is not None
    bar = read(bar_at_wheels_drawn, axle).rates if has_bar else None
    has_tyres = None not in tyres
    gives = tuple(tyres) if has_tyres else (None, None)
    try:
        held = AxleRates(rates[0].rate, rates[1].rate, read(track, axle), *gives)
        springs = float(roll_stiffness_nm_per_deg(held))
        whole = float(roll_stiffness_nm_per_deg(held, bar))
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    is_exact = all(each.by for each in rates)
    return RollStiffness(whole, springs, whole - springs if has_bar else None, has_tyres, is_exact)


@cell(When.RELEASE)
def roll_split(read: Reader) -> float:
    """The part of the roll stiffness of the car that its front axle has, 0 to 1."""
    front, rear = (read(roll_stiffness, read(axle_at, end)).whole for end in ("front", "rear"))
    return front_share(front, rear)
