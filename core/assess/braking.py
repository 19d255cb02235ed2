"""The brakes of the car in each load: which axle locks first, foot force, slope held by hand.

A load is the load the car is drawn at, or a load case.
"""

from dataclasses import dataclass, replace

from core.assess.axles import wheelbase
from core.assess.linkages import tyre_radius
from core.assess.on_wheels import on_wheels
from core.assess.pairs import axle_at, pair_of
from core.balance.braking import (
    AxleBrakes,
    Brakes,
    HandLever,
    OnRoad,
    grip_where_both_lock,
    locking,
    slope_held_percent,
)
from core.document.base import Ref
from core.document.running_gear import Axle, Brake, BrakeSystem, Handbrake
from core.engine.cells import NotComputedError, Reader, When, cell

GRIPS = (0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1)
"""From wet road to soft tyres on dry road."""


@cell(When.RELEASE)
def axle_brakes(read: Reader, end: str) -> AxleBrakes:
    """Brakes of the axle at an end of the car; the mean of its tyres' radii under load."""
    axle = read(axle_at, end)
    found = [ref for ref in read.all(Brake) if read.thing(Brake, ref).axle.id == axle.id]
    if len(found) != 1:
        said = "are no brakes" if not found else "are several brakes"
        msg = f"there {said} on {read.label(axle)}"
        raise NotComputedError(msg)
    brake = read.thing(Brake, found[0])
    left, right = (read(tyre_radius, corner) for corner in read(pair_of, axle))
    return AxleBrakes(
        effective_radius=brake.effective_radius,
        pistons_one_side=brake.pistons_one_side,
        piston_diameter=brake.piston_diameter,
        cylinder_diameter=brake.cylinder_diameter,
        tyre_radius=(left + right) / 2.0,
    )


def the_system(read: Reader) -> Ref:
    """The pedal and pads of the car.

    Raises:
        NotComputedError: there are none, or several.
    """
    found = read.all(BrakeSystem)
    if len(found) != 1:
        msg = "no brake pedal is entered" if not found else "several brake pedals are entered"
        raise NotComputedError(msg)
    return found[0]


@cell(When.RELEASE)
def brakes(read: Reader) -> Brakes:
    """The foot brake as it is set."""
    system = read.thing(BrakeSystem, the_system(read))
    return Brakes(
        front=read(axle_brakes, "front"),
        rear=read(axle_brakes, "rear"),
        pedal_ratio=system.pedal_ratio,
        rod_share=system.front_share_of_rod_force,
        pad_friction=system.pad_friction,
    )


@dataclass(frozen=True)
class Loaded:
    """The car in one load, as far as brakes need it.

    Attributes:
        name: of the load.
        mass_kg: of the car.
        road: how it stands on the road.
    """

    name: str
    mass_kg: float
    road: OnRoad


@cell(When.RELEASE)
def loaded(read: Reader, case: Ref | None) -> Loaded:
    """The car in a load case; without one, at the load it is drawn at."""
    loads = read(on_wheels, case)
    if loads.height is None:
        msg = f"how high the centre of gravity is is not known: {loads.why_no_height}"
        raise NotComputedError(msg)
    name = "the load the car is drawn at" if case is None else read.label(case)
    road = OnRoad(loads.rear_kg / loads.mass_kg, loads.height / read(wheelbase))
    return Loaded(name, loads.mass_kg, road)


@dataclass(frozen=True)
class Row:
    """One line of a table of locking: grip, the axle that locks first, and at how many g."""

    grip: float
    axle: str
    deceleration_g: float


@dataclass(frozen=True)
class Braking:
    """The brakes in one load.

    Attributes:
        load: its name.
        front_share: of all brake force on the front axle.
        both_lock_at: grip at which both axles lock together; on more, the rear one first.
        both_lock_by_bar: the same at either end of the balance bar; none where it is not known.
        foot_for_1_g: N, on a road that allows it.
        pressures_for_1_g: MPa, front and rear.
        rows: over `GRIPS`.
    """

    load: str
    front_share: float
    both_lock_at: float
    both_lock_by_bar: tuple[float, float] | None
    foot_for_1_g: float
    pressures_for_1_g: tuple[float, float]
    rows: tuple[Row, ...]


@cell(When.RELEASE)
def braking(read: Reader, case: Ref | None) -> Braking:
    """The foot brake in a load case; without one, at the load the car is drawn at."""
    system, car = read(brakes), read(loaded, case)
    foot = system.foot_force(car.mass_kg, 1.0)
    rods = foot * system.pedal_ratio
    return Braking(
        car.name,
        system.front_share,
        grip_where_both_lock(car.road, system.front_share),
        _by_bar(read, system, car.road),
        foot,
        (
            system.front.pressure(rods * system.rod_share),
            system.rear.pressure(rods * (1.0 - system.rod_share)),
        ),
        tuple(_row(car.road, system.front_share, grip) for grip in GRIPS),
    )


def _row(road: OnRoad, front_share: float, grip: float) -> Row:
    first = locking(road, front_share, grip)
    return Row(grip, first.axle, first.deceleration_g)


def _by_bar(read: Reader, system: Brakes, road: OnRoad) -> tuple[float, float] | None:
    thing = read.thing(BrakeSystem, the_system(read))
    least, most = thing.front_share_least, thing.front_share_most
    if least is None or most is None:
        return None
    low, high = (
        grip_where_both_lock(road, replace(system, rod_share=share).front_share)
        for share in (least, most)
    )
    return low, high


@cell(When.RELEASE)
def slope_held(read: Reader, case: Ref | None) -> float:
    """Slope in per cent that the hand brake holds by the lowest friction of its pads.

    Raises:
        NotComputedError: there is no hand brake, or what it needs is not known.
    """
    system = read.thing(BrakeSystem, the_system(read))
    if system.handbrake is None:
        msg = "no hand brake is entered"
        raise NotComputedError(msg)
    hand = system.handbrake
    friction = system.pad_friction if system.pad_friction_low is None else system.pad_friction_low
    axle = read(axle_brakes, read.thing(Axle, hand.axle).end)
    return slope_held_percent(_lever(hand), axle, friction, read(loaded, case).mass_kg)


def _lever(hand: Handbrake) -> HandLever:
    return HandLever(
        hand_force=hand.hand_force,
        lever_ratio=hand.lever_ratio,
        cable_efficiency=hand.cable_efficiency,
        caliper_ratio=hand.caliper_ratio,
    )
