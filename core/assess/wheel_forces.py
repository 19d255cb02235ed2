"""What the road puts on the wheel of a corner in each load, with what its unsprung mass does."""

from dataclasses import dataclass

import numpy as np

from core.assess.axles import ground, roll_centre, track, wheelbase
from core.assess.bar_loads import bar_share, has_bar
from core.assess.bars import roll_stiffness
from core.assess.pairs import axle_at, pair_of, stands_on
from core.assess.weights import (
    WheelLoads,
    corner_load,
    loads_at_design,
    loads_of_case,
    wheel_order,
)
from core.assess.wheels import wheel_centre
from core.balance.masses import GRAVITY
from core.balance.transfer import Driven, RollingAxle, cornering, most_drive_g
from core.document.base import Ref
from core.document.records import LoadCase
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, read_only
from core.loads.cases import CASES, Case, case
from core.loads.wheels import StandingCar, moved_by_height, road_forces

BY_SPRINGS = "load moved across by springs, bars and roll centres"
BY_HEIGHT = (
    "load moved across by the height of the centre of gravity over the track, each axle its own "
    "weight, for the roll stiffness is not known"
)

Name = str | Ref
"""A load: a short name of the program's own, or a load case of the builder's."""


@dataclass(frozen=True, eq=False)
class OnWheel:
    """A load on one wheel.

    Attributes:
        words: when.
        source: where its figures come from.
        contact: (3,) N, of the road on the tyre, car frame.
        unsprung: (3,) N, weight and inertia of what is unsprung, at the wheel centre.
        is_pulled: whether the shaft holds the wheel from turning and not the brake.
        how: what the load moved across is known by; empty where none is.
        on_bar: N up at the wheel that the anti-roll bar carries; below nought it lifts the wheel.
    """

    words: str
    source: str
    contact: Array
    unsprung: Array
    is_pulled: bool = False
    how: str = ""
    on_bar: float = 0.0


@cell(When.RELEASE)
def load_names(read: Reader) -> tuple[Name, ...]:
    """The program's own loads, and every load case of the builder's with an acceleration."""
    own = [ref for ref in read.all(LoadCase) if read.thing(LoadCase, ref).acceleration_g]
    return (*(each.key for each in CASES), *own)


@cell(When.RELEASE)
def unsprung_mass(read: Reader, corner: Ref) -> float:
    """What of a corner is not on its spring, kg.

    Raises:
        NotComputedError: it is not known.
    """
    mass = read.thing(Corner, corner).unsprung_mass_kg
    if mass is None:
        msg = f"the unsprung mass of {read.label(corner)} is not known"
        raise NotComputedError(msg)
    return mass


@dataclass(frozen=True, eq=False)
class Standing:
    """A car at rest, and what moves across it.

    Attributes:
        car: at rest.
        weights: what it was found from.
        how: what moves across is known by.
        by_springs: (2,) N of that, front and rear, that moves through springs and bars; none where
            that is not known.
    """

    car: StandingCar
    weights: WheelLoads
    how: str
    by_springs: Array | None


@cell(When.RELEASE)
def standing_car(read: Reader, load: Ref | None) -> Standing:
    """The car at rest: as drawn by its scales or the sum, in a load case by the sum.

    Raises:
        NotComputedError: its weight, or where its wheels stand, is not known.
    """
    weights = read(loads_at_design) if load is None else read(loads_of_case, load)
    kg = weights.corners
    if load is None:
        kg = tuple(read(corner_load, corner) for corner in read(wheel_order))  # type: ignore[assignment]
    loads = np.array(kg, dtype=np.float64) * GRAVITY
    ends = [read(axle_at, end) for end in ("front", "rear")]
    height = weights.centre.z - float(np.mean([read(ground, axle) for axle in ends]))
    try:
        moved, elastic = _by_springs(read, weights, height)
        how = BY_SPRINGS
    except NotComputedError:
        tracks = np.array([read(track, axle) for axle in ends])
        moved, elastic = moved_by_height(loads.reshape(2, 2).sum(axis=1), height, tracks), None
        how = BY_HEIGHT
    car = StandingCar(loads, height, read(wheelbase), moved, _driven(read))
    return Standing(car, weights, how, elastic)


def _by_springs(read: Reader, weights: WheelLoads, height: float) -> tuple[Array, Array]:
    """What moves across the front and the rear axle for 1 g, (2,) N, and that through springs."""
    front = _rolling(read, read(axle_at, "front"), weights.front_kg)
    rear = _rolling(read, read(axle_at, "rear"), weights.rear_kg)
    unsprung = sum(axle.unsprung_kg * axle.unsprung_height for axle in (front, rear))
    sprung = front.sprung_kg + rear.sprung_kg
    try:
        found = cornering(front, rear, (weights.mass_kg * height - unsprung) / sprung, 1.0)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    both = (found.front, found.rear)
    return read_only([each.whole for each in both]), read_only([each.elastic for each in both])


def _rolling(read: Reader, axle: Ref, kg: float) -> RollingAxle:
    pair = read(pair_of, axle)
    unsprung = sum(read(unsprung_mass, corner) for corner in pair)
    road = read(ground, axle)
    centre = float(np.mean([read(wheel_centre, corner).z for corner in pair])) - road
    try:
        return RollingAxle(
            sprung_kg=kg - unsprung,
            unsprung_kg=unsprung,
            unsprung_height=centre,
            roll_centre_height=read(roll_centre, axle)[1] - road,
            roll_stiffness=float(np.degrees(read(roll_stiffness, axle).whole)),
            track=read(track, axle),
        )
    except ValueError as error:
        raise NotComputedError(str(error)) from error


def _driven(read: Reader) -> Driven | None:
    ends = {read.thing(Axle, ref).end for ref in read.all(Axle) if read.thing(Axle, ref).driven}
    if len(ends) > 1:
        return "all"
    if not ends:
        return None
    return "front" if "front" in ends else "rear"


@cell(When.RELEASE)
def on_wheel(read: Reader, corner: Ref, name: Name) -> OnWheel:
    """A load as it comes on the wheel of a corner.

    Raises:
        NotComputedError: a weight or a place that it needs is not known, or the car cannot do it.
    """
    if isinstance(name, Ref):
        return _own_case(read, corner, name)
    load = case(name)
    match load.how:
        case "car":
            return _accelerated(read, corner, load)
        case "wheel":
            return _on_one_wheel(read, corner, load)
        case "kerb":
            return _at_kerb(read, corner, load)
        case "launch":
            return _launched(read, corner, load)


def inward(read: Reader, corner: Ref) -> float:
    """Sign of y that leads from a corner to the middle of the car."""
    return -1.0 if stands_on(read, corner) == "left" else 1.0


def _turned(read: Reader, corner: Ref, figures: tuple[float, float, float]) -> Array:
    """Ahead, inward and up as ahead, left and up."""
    ahead, into, up = figures
    return np.array([ahead, into * inward(read, corner), up])


def _accelerated(read: Reader, corner: Ref, load: Case) -> OnWheel:
    gained = _turned(read, corner, load.figures)
    if not gained[:2].any():  # the other wheels need not be known
        times = np.array([0.0, 0.0, 1.0 + gained[2]])
        return _times(read, corner, load, times, read(corner_load, corner) * GRAVITY)
    return _of_car(read, corner, None, gained, (load.words, load.source))


def _on_one_wheel(read: Reader, corner: Ref, load: Case) -> OnWheel:
    times = _turned(read, corner, load.figures)
    return _times(read, corner, load, times, read(corner_load, corner) * GRAVITY)


def _at_kerb(read: Reader, corner: Ref, load: Case) -> OnWheel:
    """All of its axle's weight, and sideways what makes the car tip over its contacts."""
    stands, axle = read(standing_car, None), read.thing(Corner, corner).axle
    at = read(wheel_order).index(corner)
    weight = float(stands.car.loads.reshape(2, 2)[at // 2].sum())
    level = read(track, axle) / (2.0 * stands.car.height)
    times = load.factor * _turned(read, corner, (0.0, level, 1.0))
    return _times(read, corner, load, times, weight)


def _times(read: Reader, corner: Ref, load: Case, times: Array, weight: float) -> OnWheel:
    """Every weight by so much: that on the wheel, and that of what is unsprung, back."""
    unsprung = -times * read(unsprung_mass, corner) * GRAVITY
    return OnWheel(load.words, load.source, read_only(times * weight), read_only(unsprung))


def _launched(read: Reader, corner: Ref, load: Case) -> OnWheel:
    stands = read(standing_car, None)
    car, rear = stands.car, float(stands.car.loads[2:].sum() / stands.car.loads.sum())
    if car.driven is None:
        msg = "no axle is driven"
        raise NotComputedError(msg)
    try:
        gain = most_drive_g(rear, car.height / car.wheelbase, load.grip, car.driven)
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    return _of_car(read, corner, None, np.array([gain, 0.0, 0.0]), (load.words, load.source))


def _own_case(read: Reader, corner: Ref, ref: Ref) -> OnWheel:
    thing = read.thing(LoadCase, ref)
    if thing.acceleration_g is None:
        msg = f"{read.label(ref)} has no acceleration"
        raise NotComputedError(msg)
    source = thing.source or "the builder's own"
    return _of_car(read, corner, ref, array_of(thing.acceleration_g), (read.label(ref), source))


def array_of(figures: tuple[float, float, float]) -> Array:
    """Three figures (3,)."""
    return np.array(tuple(figures), dtype=np.float64)


def _of_car(
    read: Reader, corner: Ref, load: Ref | None, gained: Array, said: tuple[str, str]
) -> OnWheel:
    """The load as the whole car is accelerated by so many g."""
    stands, order = read(standing_car, load), read(wheel_order)
    if corner not in order:
        msg = f"{read.label(corner)} is on neither end of the car"
        raise NotComputedError(msg)
    try:
        contact = road_forces(stands.car, gained)[order.index(corner)]
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    felt = gained + np.array([0.0, 0.0, 1.0])
    unsprung = -felt * read(unsprung_mass, corner) * GRAVITY
    how = stands.how if gained[1] else ""
    pulled = bool(gained[0] > 0.0 and contact[0] > 0.0)
    bar = _on_bar(read, corner, stands, gained)
    return OnWheel(*said, read_only(contact), read_only(unsprung), pulled, how, bar)


def _on_bar(read: Reader, corner: Ref, stands: Standing, gained: Array) -> float:
    """What of the load moved across the anti-roll bar carries at a wheel, N up.

    Where a wheel lifts, no more moves than it had; the bar is taken to have its part of that.
    """
    if stands.by_springs is None or not gained[1] or not has_bar(read, corner):
        return 0.0
    at = read(wheel_order).index(corner)
    car, end = stands.car, at // 2
    most = abs(float(gained[1])) * float(car.moved_by_1_g[end])
    least = (1.0 + float(gained[2])) * float(car.loads.reshape(2, 2)[end].min())
    part = min(1.0, least / most) if most > 0.0 else 1.0
    moved = float(gained[1]) * inward(read, corner) * float(stands.by_springs[end])
    return moved * part * read(bar_share, corner)
