"""All that is known of the brakes of a car, gathered to be shown at one place."""

from dataclasses import dataclass

from core.assess.braking import Braking, brakes, braking, loaded, slope_held, the_system
from core.assess.limits import Limited, limit
from core.balance.braking import front_load_share
from core.document.base import Ref
from core.document.records import LoadCase
from core.document.running_gear import Brake, BrakeSystem
from core.engine.cells import NotComputedError, Reader, When, cell

SHARES_AT = (0.0, 0.5, 1.0)
"""Decelerations, g, at which the load on the front wheels is shown."""


@dataclass(frozen=True)
class BrakedLoad:
    """The brakes in one load, or why they are not known.

    Attributes:
        case: load case; none, the load the car is drawn at.
        braking: which axle locks first, and the foot's force; none where it is not known.
        why: it is not.
        load_shares: of the weight on the front wheels at `SHARES_AT`, 0 to 1; empty where unknown.
        slope_percent: that the hand brake holds; none where it is not known.
        why_no_slope: it is not.
    """

    case: Ref | None
    braking: Braking | None
    why: str
    load_shares: tuple[float, ...]
    slope_percent: float | None
    why_no_slope: str


@dataclass(frozen=True)
class BrakesPage:
    """All of it.

    Attributes:
        is_empty: whether nothing of the brakes is entered.
        lacks: the list of the document in which something is to be entered; empty if nothing is.
        front_share: of all brake force on the front axle, 0 to 1; none where it is not known.
        wanted: up to which grip the front axle is to lock first.
        loads: one by one.
        slope_wanted: per cent, that the hand brake is to hold; none where that is not entered.
    """

    is_empty: bool
    lacks: str
    front_share: float | None
    wanted: Limited | None
    loads: tuple[BrakedLoad, ...]
    slope_wanted: float | None


@cell(When.RELEASE)
def brakes_page(read: Reader) -> BrakesPage:
    """All that is known of the brakes."""
    both, systems = read.all(Brake), read.all(BrakeSystem)
    lacks = "brakes" if len(both) < 2 else "" if systems else "brake_systems"
    return BrakesPage(
        not both and not systems,
        lacks,
        _front_share(read),
        _wanted(read),
        tuple(_load(read, case) for case in (None, *read.all(LoadCase))),
        _slope_wanted(read),
    )


def _front_share(read: Reader) -> float | None:
    try:
        return read(brakes).front_share
    except NotComputedError:
        return None


def _wanted(read: Reader) -> Limited | None:
    try:
        return read(limit, "front_locks", the_system(read))
    except NotComputedError:
        return None


def _slope_wanted(read: Reader) -> float | None:
    systems = read.all(BrakeSystem)
    hand = read.thing(BrakeSystem, systems[0]).handbrake if len(systems) == 1 else None
    return None if hand is None else hand.slope_wanted_percent


def _load(read: Reader, case: Ref | None) -> BrakedLoad:
    slope, why_no_slope = None, ""
    try:
        slope = read(slope_held, case)
    except NotComputedError as error:
        why_no_slope = str(error)
    try:
        found, road = read(braking, case), read(loaded, case).road
    except NotComputedError as error:
        return BrakedLoad(case, None, str(error), (), slope, why_no_slope)
    shares = tuple(front_load_share(road, g) for g in SHARES_AT)
    return BrakedLoad(case, found, "", shares, slope, why_no_slope)
