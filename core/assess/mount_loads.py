"""What each load asks of the engine's mounts: torque of the axle, acceleration of the car."""

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from core.assess.axles import wheelbase
from core.assess.linkages import tyre_radius
from core.assess.mounts import GRAVITY
from core.assess.pairs import pair_of
from core.assess.places import the_unit
from core.assess.weights import WheelLoads, contacts, loads_at_design
from core.balance.transfer import Driven, most_drive_g
from core.document.base import Ref
from core.document.power import PowerUnit
from core.document.running_gear import Axle
from core.engine.cells import NotComputedError, Reader, When, cell
from core.powerunit.cases import CASES, GRIP_MOST, Case, Way, case
from core.powerunit.torque import Bounds, axle_torque, tyre_torque


@cell(When.LIVE)
def gear_bounds(read: Reader, way: Way) -> Bounds:
    """What engine and clutch give at most in first gear, or in reverse; above nought either way."""
    unit_ref = the_unit(read)
    thing = read.thing(PowerUnit, unit_ref)
    gears = thing.gear_ratios
    gear = thing.reverse_ratio if way == "back" else (gears[0] if gears else None)
    if thing.torque_nm is None or gear is None or thing.final_drive is None:
        return Bounds()
    engine = axle_torque(thing.torque_nm, gear, thing.final_drive)
    factor = thing.clutch_factor
    return Bounds(engine, None if factor is None else engine * factor)


@cell(When.RELEASE)
def tyre_bound(read: Reader, grip: float, way: Way) -> float:
    """Torque of the driven axle at which its tyres slip, N m, above nought either way.

    Raises:
        NotComputedError: the weight of the car or its driven wheels are not known, or its wheels
            leave the ground first.
    """
    axles = _driven_axles(read)
    loads, ends = read(loads_at_design), {read.thing(Axle, ref).end for ref in axles}
    rear, driven = loads.rear_kg / loads.mass_kg, _driven(ends)
    if way == "back":  # seen from behind, the other end leads
        rear, driven = 1.0 - rear, _BACKWARDS[driven]
    try:
        gain = most_drive_g(rear, loads.centre.z / read(wheelbase), grip, driven)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    return tyre_torque(loads.mass_kg * GRAVITY, gain, _radius(read))


_BACKWARDS: dict[Driven, Driven] = {"front": "rear", "rear": "front", "all": "all"}


def _driven(ends: Collection[str]) -> Driven:
    if len(ends) > 1:
        return "all"
    return "front" if "front" in ends else "rear"


def _driven_axles(read: Reader) -> list[Ref]:
    found = [ref for ref in read.all(Axle) if read.thing(Axle, ref).driven]
    if not found:
        msg = "no axle is driven"
        raise NotComputedError(msg)
    return found


def _radius(read: Reader) -> float:
    """Radius of the driven tyres under load, mm, their mean."""
    corners = [corner for axle in _driven_axles(read) for corner in read(pair_of, axle)]
    return float(np.mean([read(tyre_radius, corner) for corner in corners]))


@cell(When.RELEASE)
def bounds(read: Reader, way: Way) -> Bounds:
    """What engine, clutch and tyres give at most in first gear, or in reverse."""
    geared = read(gear_bounds, way)
    try:
        tyres = read(tyre_bound, GRIP_MOST, way)
    except NotComputedError:
        tyres = None
    return Bounds(geared.engine, geared.clutch, tyres)


@dataclass(frozen=True)
class Asked:
    """A load as it comes upon the car.

    Attributes:
        case: which.
        torque_nm: at both driven wheels together; above nought drives the car ahead.
        bounds: what engine, clutch and tyres give at most, whichever way.
        slips: what slips before, «clutch» or «tyres», so the load cannot come; else empty.
        acceleration_g: of the car, ahead, left, up, beyond rest.
        left_out: what of the load is not known and left out, in words; empty if nothing.
    """

    case: Case
    torque_nm: float
    bounds: Bounds
    slips: str
    acceleration_g: tuple[float, float, float]
    left_out: str = ""


@cell(When.RELEASE)
def asked(read: Reader, key: str) -> Asked:
    """A load by its short name, on this car.

    Raises:
        NotComputedError: its torque, or where the car tips, is not known.
    """
    load = case(key)
    if load.asks == "nothing":
        ahead, left, up = load.acceleration_g
        side = load.tips * _tips_at(read, load.tips) if load.tips else 0.0
        return Asked(load, 0.0, Bounds(), "", (ahead, left + side, up))
    most = read(bounds, load.way)
    torque = _torque(read, load, most)
    signed, slips = torque if load.way == "ahead" else -torque, most.first_to_slip(torque)
    if load.asks != "snap":
        return Asked(load, signed, most, slips, (0.0, 0.0, 0.0))
    try:
        ahead = signed / tyre_torque(read(loads_at_design).mass_kg * GRAVITY, 1.0, _radius(read))
    except NotComputedError as error:
        return Asked(load, signed, most, slips, (0.0, 0.0, 0.0), f"the speed gained: {error}")
    return Asked(load, signed, most, slips, (ahead, 0.0, 0.0))


def _torque(read: Reader, load: Case, most: Bounds) -> float:
    """Torque that a load asks for, above nought either way.

    Raises:
        NotComputedError: it is not known.
    """
    if load.asks == "grip":
        return read(tyre_bound, load.grip, load.way)
    known = {"engine": most.engine, "clutch": most.clutch, "snap": most.snapped}[load.asks]
    if known is None:
        what = {
            "engine": "the torque of the engine, the gear or the final drive",
            "clutch": "at which torque the clutch slips",
            "snap": "at which torque clutch and tyres slip",
        }[load.asks]
        msg = f"{what} is not known"
        raise NotComputedError(msg)
    return known


def _tips_at(read: Reader, side: int) -> float:
    """Acceleration to a side, g, at which the car tips over the wheels of the other side."""
    loads: WheelLoads = read(loads_at_design)
    wheels = read(contacts)
    front, rear = wheels[[1, 3]] if side > 0 else wheels[[0, 2]]
    share = (loads.centre.x - rear[0]) / (front[0] - rear[0])
    line = float(rear[1] + share * (front[1] - rear[1]))
    return abs(loads.centre.y - line) / loads.centre.z


@dataclass(frozen=True)
class Loads:
    """Which loads are told of.

    Attributes:
        count: short names of those that can come upon the car.
        slip: those that cannot, for clutch or tyres slip first.
        unknown: those that are not known and that no other bounds, each with why.
    """

    count: tuple[str, ...]
    slip: tuple[str, ...]
    unknown: tuple[tuple[str, str], ...]


_BOUNDED_BY = {
    "first_gear": "snap",
    "grip_1.0": "snap",
    "grip_1.5": "snap",
    "clutch": "snap",
    "reverse": "snap_back",
}
"""Loads that are never more than another: what slips first bounds them."""


@cell(When.RELEASE)
def loads_told(read: Reader) -> Loads:
    """Which loads count, which cannot come, and which are not known."""
    count: list[str] = []
    slip: list[str] = []
    unknown: dict[str, str] = {}
    for load in CASES:
        try:
            (slip if read(asked, load.key).slips else count).append(load.key)
        except NotComputedError as error:
            unknown[load.key] = str(error)
    missing = [each for each in unknown.items() if _BOUNDED_BY.get(each[0], each[0]) not in count]
    return Loads(tuple(count), tuple(slip), tuple(missing))
