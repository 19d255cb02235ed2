"""The raised car: what its stands carry and which way it would tip, and what meets the floor.

The weights are those of the car as drawn: that wheels hang lower on stands does not count.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np

from core.assess.pairs import axle_at, pair_of
from core.assess.places import array, drawn_tubes, place, tube_line, tube_radius, unit_frame
from core.assess.weights import weight_of, whole
from core.assess.wheels import wheel_centre
from core.balance.raising import End, Raised, first_down, heights
from core.balance.stands import stand_loads, tipping
from core.document.base import Ref, Vec3
from core.document.power import PowerUnit
from core.document.records import Lift, LiftState
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array

AS_DRAWN = LiftState(name="as drawn")

HOW_SHARED = "taking the car as stiff, and all stands to give alike"
"""What is taken for granted in the load of each of four stands."""


@dataclass(frozen=True)
class StandLoad:
    """What one stand carries, kg: alike under all, and the least and most on uneven ground."""

    stand: Ref
    alike_kg: float
    least_kg: float
    most_kg: float


@dataclass(frozen=True)
class OnStands:
    """The car on its stands with some parts taken out.

    Attributes:
        state: what it is called.
        mass_kg: of the car then.
        centre: mm, car frame.
        margin: mm, of the centre of gravity inside the nearest edge of the stands; below zero, it
            tips.
        over: the stands between which that edge runs.
        loads: of each stand; empty where it tips.
    """

    state: str
    mass_kg: float
    centre: Vec3
    margin: float
    over: tuple[Ref, Ref]
    loads: tuple[StandLoad, ...]


def states_of(read: Reader, lift: Ref) -> tuple[LiftState, ...]:
    """The states of a lift; as drawn where none is given."""
    return tuple(read.thing(Lift, lift).states) or (AS_DRAWN,)


@cell(When.RELEASE)
def on_stands(read: Reader, lift: Ref, number: int) -> OnStands:
    """The car on its stands in one of the states of a lift."""
    stands = tuple(read.thing(Lift, lift).stands)
    state = states_of(read, lift)[number]
    mass, centre = whole(weight_of(read, without=tuple(state.without)))
    at = array(centre)[:2]
    places = np.array([read(place, stand)[:2] for stand in stands], dtype=np.float64)
    try:
        tips = tipping(places.reshape(-1, 2), at)
    except ValueError as error:
        msg = f"{read.label(lift)}: {error}"
        raise NotComputedError(msg) from error
    over = stands[tips.over[0]], stands[tips.over[1]]
    loads = () if tips.margin < 0.0 else _loads(mass, at, stands, places)
    return OnStands(state.name, mass, centre, tips.margin, over, loads)


def _loads(mass: float, at: Array, stands: tuple[Ref, ...], places: Array) -> tuple[StandLoad, ...]:
    rows = np.array(stand_loads(mass, at, places)).T.tolist()
    return tuple(StandLoad(ref, *row) for ref, row in zip(stands, rows, strict=True))


@dataclass(frozen=True)
class EndRaised:
    """How far an end of the car goes up before something at the other end meets the floor.

    Attributes:
        angle_deg: then.
        lift: mm, of the wheels at the raised end.
        thing: what meets the floor.
        part: which solid of it; empty for a tube.
    """

    angle_deg: float
    lift: float
    thing: Ref
    part: str


@cell(When.RELEASE)
def end_raised(read: Reader, end: End) -> EndRaised | None:
    """How far the tail or nose goes up; tubes and engine alone are looked at, not the body.

    None where neither tube nor engine reaches beyond the wheels that stay down.

    Raises:
        NotComputedError: neither a tube nor the outside of an engine is drawn, or a wheel is not.
    """
    down, up = ("front", "rear") if end == "tail" else ("rear", "front")
    raised = Raised(end, _middle(read, down))
    found = list(_low_places(read))
    if not found:
        msg = "no tube is drawn, nor the outside of an engine"
        raise NotComputedError(msg)
    first = first_down(np.array([at for at, _, _ in found], dtype=np.float64), raised)
    if first is None:
        return None
    wheels = _middle(read, up)
    lift = float(heights(wheels, raised, first.angle_deg)) - float(wheels[2])
    _, thing, part = found[first.place]
    return EndRaised(first.angle_deg, lift, thing, part)


def _middle(read: Reader, end: str) -> Array:
    """Middle (3,) mm of both wheel centres at an end."""
    pair = read(pair_of, read(axle_at, end))
    left, right = (array(read(wheel_centre, corner)) for corner in pair)
    return np.asarray((left + right) / 2.0)


def _low_places(read: Reader) -> Iterator[tuple[Array, Ref, str]]:
    """Low places of tubes and of the engine, each with what it is of."""
    for ref in read(drawn_tubes):
        below = np.array([0.0, 0.0, read(tube_radius, ref)])
        yield from ((at - below, ref, "") for at in read(tube_line, ref))
    for ref in read.all(PowerUnit):
        frame = read(unit_frame, ref)
        for solid in read.thing(PowerUnit, ref).solids:
            for corner in product(*zip(solid.box.low, solid.box.high, strict=True)):
                yield frame.to_car(np.array(corner, dtype=np.float64)), ref, solid.name
