"""All that is known of the weight of a car, gathered to be shown at one place."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import fsum
from typing import TypeVar

from core.assess.masses import Item, weighed_things
from core.assess.on_wheels import OnWheels, on_wheels, summed_height, tilted
from core.assess.stands import EndRaised, OnStands, end_raised, on_stands, states_of
from core.assess.transfer import InCorner, in_corner, shift_per_g
from core.assess.weighing import Tilted, Weighed, weighed
from core.assess.weights import Weight, summed_load, weight_at_design
from core.balance.raising import End
from core.document.base import Ref
from core.document.power import PowerUnit
from core.document.records import Lift, LoadCase, Part
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell

T = TypeVar("T")

AS_DRAWN = "as drawn"
"""What the load the car is drawn at is called among load cases."""


@dataclass(frozen=True)
class Load:
    """How the car stands in one load, or why that is not known."""

    name: str
    case: Ref | None
    found: OnWheels | None
    why: str


@dataclass(frozen=True)
class Scales:
    """One wheel off scales beside the sum of all weights; either may be none."""

    corner: Ref
    name: str
    weighed: Weighed | None
    summed_kg: float | None


@dataclass(frozen=True)
class Height:
    """Height over the ground, by tilting and by the sum; either may be none.

    `why` says why a weighing with the tail raised gives none; empty where there is no such.
    """

    tilted: Tilted | None
    summed: float | None
    why: str


@dataclass(frozen=True)
class Heavy:
    """Something that weighs something; all tubes are one, of which `ref` is none."""

    ref: Ref | None
    name: str
    kg: float
    count: int = 1


@dataclass(frozen=True)
class Missing:
    """Something of which weight or place is not known, and the field to enter it in."""

    ref: Ref
    words: str
    path: str


@dataclass(frozen=True)
class Standing:
    """The car on the stands of a lift in one state, or why that is not known.

    `over` names the stands that it is nearest to tipping over, `stands` those of the loads.
    """

    lift: Ref
    name: str
    state: str
    found: OnStands | None
    over: tuple[str, ...]
    stands: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Raising:
    """How far an end goes up, and what meets the floor then; or why that is not known.

    With neither, nothing meets the floor.
    """

    end: End
    found: EndRaised | None
    meets: str
    why: str


@dataclass(frozen=True)
class Moving:
    """Load that moves in a corner, and N to the front axle for each g of braking; or why not."""

    corner: InCorner | None
    why_no_corner: str
    shift: float | None
    why_no_shift: str


@dataclass(frozen=True)
class WeightPage:
    """All of it."""

    weight: Weight
    loads: tuple[Load, ...]
    scales: tuple[Scales, ...]
    height: Height
    heavy: tuple[Heavy, ...]
    missing: tuple[Missing, ...]
    stands: tuple[Standing, ...]
    raising: tuple[Raising, ...]
    moving: Moving


@cell(When.RELEASE)
def weight_page(read: Reader) -> WeightPage:
    """All that is known of the weight of the car."""
    items = read(weighed_things)
    ends: tuple[End, ...] = ("tail", "nose")
    return WeightPage(
        read(weight_at_design),
        tuple(_load(read, case) for case in (None, *read.all(LoadCase))),
        tuple(_on_scales(read, corner) for corner in read.all(Corner)),
        _height(read),
        tuple(sorted(_heavy(read, items), key=lambda each: -each.kg)),
        tuple(_missing(read, item) for item in items if item.missing),
        tuple(state for lift in read.all(Lift) for state in _states(read, lift)),
        tuple(_raised(read, end) for end in ends),
        Moving(*_tried(lambda: read(in_corner)), *_tried(lambda: read(shift_per_g))),
    )


def _tried(find: Callable[[], T]) -> tuple[T | None, str]:
    """What is found, or why it is not."""
    try:
        return find(), ""
    except NotComputedError as error:
        return None, str(error)


def _load(read: Reader, case: Ref | None) -> Load:
    found, why = _tried(lambda: read(on_wheels, case))
    return Load(AS_DRAWN if case is None else read.label(case), case, found, why)


def _on_scales(read: Reader, corner: Ref) -> Scales:
    summed, _ = _tried(lambda: read(summed_load, corner))
    return Scales(corner, read.label(corner), read(weighed, corner), summed)


def _height(read: Reader) -> Height:
    by_tilting, why = _tried(lambda: read(tilted, None))
    summed, _ = _tried(lambda: read(summed_height, None))
    return Height(by_tilting, summed, why)


def _heavy(read: Reader, items: tuple[Item, ...]) -> Iterator[Heavy]:
    tubes = [item.mass_kg for item in items if item.group == "tubes" and item.mass_kg]
    if tubes:
        yield Heavy(None, "tubes of the frame", fsum(tubes), len(tubes))
    for item in items:
        if item.group != "tubes" and item.mass_kg:
            yield Heavy(item.ref, read.label(item.ref), item.mass_kg)


def _missing(read: Reader, item: Item) -> Missing:
    path = ""
    if read.has(Part, item.ref) or read.has(PowerUnit, item.ref):
        path = "mass_kg" if item.mass_kg is None else "centre_of_gravity"
    return Missing(item.ref, item.missing, path)


def _states(read: Reader, lift: Ref) -> Iterator[Standing]:
    for count, state in enumerate(states_of(read, lift)):
        yield _state(read, lift, count, state.name)


def _state(read: Reader, lift: Ref, count: int, state: str) -> Standing:
    found, why = _tried(lambda: read(on_stands, lift, count))
    over = () if found is None else tuple(read.label(ref) for ref in found.over)
    stands = () if found is None else tuple(read.label(each.stand) for each in found.loads)
    return Standing(lift, read.label(lift), state, found, over, stands, why)


def _raised(read: Reader, end: End) -> Raising:
    found, why = _tried(lambda: read(end_raised, end))
    if found is None:
        return Raising(end, None, "", why)
    label = read.label(found.thing)
    return Raising(end, found, f"{found.part} of {label}" if found.part else label, "")
