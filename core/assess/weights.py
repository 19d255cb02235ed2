"""What the car weighs and where, what its axles and wheels carry, and what it does on stands.

The parts list as it stands is the load the car is drawn at; a load case says what differs from it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import fsum

import numpy as np

from core.assess.linkages import tyre_radius
from core.assess.masses import GROUPS, Item, unweighed_brackets, weighed_things
from core.assess.pairs import axle_at, pair_of
from core.assess.places import array, vec
from core.assess.weighing import weighed
from core.assess.wheels import wheel_centre
from core.balance.masses import GRAVITY, total
from core.balance.wheels import SPLIT_WORDS, OnScales, axle_loads, corner_loads, on_scales
from core.document.base import Ref, Vec3
from core.document.records import LoadCase, Part
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, read_only

HOW_SPLIT = SPLIT_WORDS["sides"]
"""What is taken for granted where the load of one wheel comes from the sum."""


@dataclass(frozen=True)
class Weight:
    """What is known of the weight of a car.

    Attributes:
        least_kg: sum of all weights that are known; the car weighs at least that.
        centre: mm, car frame, of all that is known; none where nothing is.
        groups: kg by what it is counted under.
        missing: what is not known, each with its thing.
        unweighed_brackets: how many brackets count only if the parts list holds them.
        has_parts: whether the parts list has anything in it.
    """

    least_kg: float
    centre: Vec3 | None
    groups: tuple[tuple[str, float], ...]
    missing: tuple[tuple[Ref, str], ...]
    unweighed_brackets: int
    has_parts: bool

    @property
    def unknown_because(self) -> str:
        """Why the weight of the whole car is not known; empty if it is."""
        if not self.has_parts:
            return "nothing is on the parts list, so only the frame and the engine are weighed"
        if not self.missing:
            return ""
        first, more = self.missing[0][1], len(self.missing) - 1
        return f"{first} is not known{f', nor {more} more' if more else ''}"


def whole(weight: Weight) -> tuple[float, Vec3]:
    """Weight in kg and centre of gravity of the whole car.

    Raises:
        NotComputedError: the weight or place of something on it is not known.
    """
    if weight.unknown_because:
        raise NotComputedError(weight.unknown_because)
    if weight.centre is None:
        msg = "nothing in the car weighs anything"
        raise NotComputedError(msg)
    return weight.least_kg, weight.centre


def weight_of(
    read: Reader, aboard: Mapping[Ref, float] | None = None, without: tuple[Ref, ...] = ()
) -> Weight:
    """The car with other weights of some parts, and without some."""
    instead = aboard or {}
    items = [_aboard(item, instead) for item in read(weighed_things) if item.ref not in without]
    known = [item for item in items if not item.missing]
    return Weight(
        fsum(item.mass_kg or 0.0 for item in known),
        _centre(known),
        tuple((group, _sum_of(known, group)) for group in GROUPS),
        tuple((item.ref, item.missing) for item in items if item.missing),
        len(read(unweighed_brackets)),
        has_parts=bool(read.all(Part)),
    )


def _aboard(item: Item, instead: Mapping[Ref, float]) -> Item:
    """The item with the weight a load case gives it, which mends that it was not known."""
    if item.ref not in instead:
        return item
    mass = instead[item.ref]
    missing = item.missing if item.centre is None and mass > 0.0 else ""
    return Item(item.ref, item.group, mass, item.centre, missing)


def _sum_of(items: list[Item], group: str) -> float:
    return fsum(item.mass_kg or 0.0 for item in items if item.group == group)


def _centre(items: list[Item]) -> Vec3 | None:
    placed = [(item.mass_kg, item.centre) for item in items if item.mass_kg and item.centre]
    if not placed:
        return None
    masses, places = zip(*placed, strict=True)
    return vec(total(np.array(masses, dtype=np.float64), np.array(places, dtype=np.float64)).centre)


@cell(When.RELEASE)
def weight_at_design(read: Reader) -> Weight:
    """The car at the load it is drawn at: the parts list as it stands."""
    return weight_of(read)


@cell(When.RELEASE)
def weight_of_case(read: Reader, case: Ref) -> Weight:
    """The car in a load case."""
    thing = read.thing(LoadCase, case)
    return weight_of(read, {each.part: each.mass_kg for each in thing.aboard}, thing.without)


@cell(When.RELEASE)
def weight_without(read: Reader, ref: Ref) -> Weight:
    """The car at its design load without one of the things that weigh something."""
    return weight_of(read, without=(ref,))


@cell(When.RELEASE)
def wheel_order(read: Reader) -> tuple[Ref, Ref, Ref, Ref]:
    """Corners front left, front right, rear left, rear right.

    Raises:
        NotComputedError: there is not one axle at either end with a left and a right corner.
    """
    front, rear = (read(pair_of, read(axle_at, end)) for end in ("front", "rear"))
    return (*front, *rear)


@cell(When.RELEASE)
def contact(read: Reader, corner: Ref) -> Vec3:
    """Lowest place of a wheel at the design position, the tyre a thin disc; mm, car frame."""
    up, spin = np.array([0.0, 0.0, 1.0]), array(read.thing(Corner, corner).upright.spin_axis)
    spin = spin / np.linalg.norm(spin)
    down = spin[2] * spin - up
    length = float(np.linalg.norm(down))
    if length == 0.0:
        msg = f"the wheel of {read.label(corner)} lies flat"
        raise NotComputedError(msg)
    return vec(array(read(wheel_centre, corner)) + down / length * read(tyre_radius, corner))


@cell(When.RELEASE)
def contacts(read: Reader) -> Array:
    """Where the wheels stand, (4, 2) mm, in the order of `wheel_order`."""
    return read_only([read(contact, corner)[:2] for corner in read(wheel_order)])


@dataclass(frozen=True)
class WheelLoads:
    """What axles and wheels carry by the sum of all weights.

    Attributes:
        mass_kg: of the whole car.
        centre: mm, car frame.
        front_kg: on the front axle.
        rear_kg: on the rear axle.
        corners: kg, in the order of `wheel_order`; taken for granted: see `HOW_SPLIT`.
    """

    mass_kg: float
    centre: Vec3
    front_kg: float
    rear_kg: float
    corners: tuple[float, float, float, float]

    @property
    def rear_percent(self) -> float:
        """Share of the rear axle."""
        return 100.0 * self.rear_kg / self.mass_kg


def loads_of(read: Reader, weight: Weight) -> WheelLoads:
    """What axles and wheels carry for a weight.

    Raises:
        NotComputedError: something on the car is not known, or a wheel would have to be held down.
    """
    mass, centre = whole(weight)
    wheels = read(contacts)
    try:
        axles = axle_loads(mass, centre.x, wheels)
        front_left, front_right, rear_left, rear_right = corner_loads(
            mass, array(centre)[:2], wheels
        ).tolist()
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    corners = (front_left, front_right, rear_left, rear_right)
    if min(corners) < 0.0:
        msg = (
            "the centre of gravity is not between the wheels; some figure of weight or place is off"
        )
        raise NotComputedError(msg)
    return WheelLoads(mass, centre, axles.front, axles.rear, corners)


@cell(When.RELEASE)
def loads_at_design(read: Reader) -> WheelLoads:
    """What axles and wheels carry at the load the car is drawn at, by the sum of all weights."""
    return loads_of(read, read(weight_at_design))


@cell(When.RELEASE)
def loads_of_case(read: Reader, case: Ref) -> WheelLoads:
    """The same in a load case."""
    return loads_of(read, read(weight_of_case, case))


@cell(When.RELEASE)
def scales(read: Reader, case: Ref | None = None) -> OnScales | None:
    """What scales under all four wheels tell; none where not every wheel was weighed.

    In a load case; without one, at the load the car is drawn at.
    """
    loads = [read(weighed, corner, case) for corner in read(wheel_order)]
    known = [load.kg for load in loads if load is not None]
    if len(known) < len(loads):
        return None
    return on_scales(np.array(known, dtype=np.float64), read(contacts))


@cell(When.RELEASE)
def summed_load(read: Reader, corner: Ref, case: Ref | None = None) -> float:
    """What a wheel carries by the sum of all weights, kg, in a load case or at the design load.

    Raises:
        NotComputedError: something on the car is not known, or the corner is on neither axle.
    """
    order = read(wheel_order)
    if corner not in order:
        msg = f"{read.label(corner)} is on neither end of the car"
        raise NotComputedError(msg)
    loads = read(loads_at_design) if case is None else read(loads_of_case, case)
    return loads.corners[order.index(corner)]


@cell(When.RELEASE)
def corner_load(read: Reader, corner: Ref) -> float:
    """What a wheel carries at the design load, kg: off scales if weighed, else by the sum."""
    found = read(weighed, corner)
    return read(summed_load, corner) if found is None else found.kg


@cell(When.RELEASE)
def sprung_load(read: Reader, corner: Ref) -> float:
    """What the spring side of a corner carries at the wheel, N: its load without what is unsprung.

    Raises:
        NotComputedError: the load or the unsprung mass is not known, or leaves nothing.
    """
    unsprung = read.thing(Corner, corner).unsprung_mass_kg
    if unsprung is None:
        msg = f"the unsprung mass of {read.label(corner)} is not known"
        raise NotComputedError(msg)
    sprung = read(corner_load, corner) - unsprung
    if sprung <= 0.0:
        msg = f"the unsprung mass of {read.label(corner)} is more than all its wheel carries"
        raise NotComputedError(msg)
    return sprung * GRAVITY
