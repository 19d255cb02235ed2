"""Figures of the car's weight worth knowing: total, place, axles, wheels, stands."""

from collections.abc import Callable, Iterator
from functools import partial

from core.assess.on_wheels import summed_height, tilted
from core.assess.stands import HOW_SHARED, end_raised, on_stands, states_of
from core.assess.weighing import weighed
from core.assess.weights import (
    HOW_SPLIT,
    WheelLoads,
    corner_load,
    loads_at_design,
    loads_of_case,
    scales,
    summed_load,
    weight_at_design,
    whole,
)
from core.balance.raising import End
from core.document.base import Ref
from core.document.records import Lift, LoadCase
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader
from core.quantities import number
from core.workshop.figure import Figure
from core.workshop.transfer_figures import transfer_figures

Found = tuple[float, str]


def weight_figures(read: Reader) -> Iterator[Figure]:
    """Every figure of weight; each that is not known says why."""
    yield _figure("weight of the car", "kg", partial(_weight, read))
    for axis in ("x", "y", "z"):
        yield _figure(f"centre of gravity, {axis}", "mm", partial(_centre, read, axis))
    yield _figure("weight on the rear axle", "%", lambda: _rear(read(loads_at_design)))
    for case in read.all(LoadCase):
        name = read.label(case)
        yield _figure(f"weight of the car, {name}", "kg", partial(_case, read, case))
    for corner in read.all(Corner):
        name = read.label(corner)
        yield _figure(f"weight on the wheel, {name}", "kg", partial(_wheel, read, corner))
    yield from _on_scales(read)
    yield from _tilted(read)
    yield from transfer_figures(read)
    yield from _raised(read)
    for lift in read.all(Lift):
        yield from _stands(read, lift)


def _figure(what: str, unit: str, find: Callable[[], Found]) -> Figure:
    try:
        value, note = find()
    except NotComputedError as error:
        return Figure(what, None, unit, str(error))
    return Figure(what, value, unit, note)


def _weight(read: Reader) -> Found:
    weight = read(weight_at_design)
    if weight.unknown_because and weight.least_kg:
        msg = f"{number(weight.least_kg, 1)} kg at least: {weight.unknown_because}"
        raise NotComputedError(msg)
    return whole(weight)[0], "at the load the car is drawn at, by the sum of all weights"


def _centre(read: Reader, axis: str) -> Found:
    place = whole(read(weight_at_design))[1]
    return float(getattr(place, axis)), "at the load the car is drawn at"


def _rear(loads: WheelLoads) -> Found:
    return loads.rear_percent, f"{number(loads.rear_kg, 1)} kg"


def _case(read: Reader, case: Ref) -> Found:
    loads = read(loads_of_case, case)
    return loads.mass_kg, f"{number(loads.rear_percent, 1)} % of it on the rear axle"


def _wheel(read: Reader, corner: Ref) -> Found:
    how = f"by the sum of all weights, {HOW_SPLIT}"
    if read(weighed, corner) is not None:
        how = _off_scales(read, corner)
    return read(corner_load, corner), how


def _off_scales(read: Reader, corner: Ref) -> str:
    try:
        return f"off scales; by the sum of all weights {number(read(summed_load, corner), 1)}"
    except NotComputedError:
        return "off scales"


def _on_scales(read: Reader) -> Iterator[Figure]:
    try:
        found = read(scales)
    except NotComputedError:
        return
    if found is None:
        return
    yield Figure("weight of the car, off scales", found.mass_kg, "kg")
    for axis, value in zip("xy", found.at.tolist(), strict=True):
        yield Figure(f"centre of gravity off scales, {axis}", value, "mm")
    yield Figure("weight on the left wheels, off scales", 100.0 * found.left_share, "%")
    words = "front left and rear right together; springs set it, not where the weight is"
    yield Figure("cross weight, off scales", 100.0 * found.cross_share, "%", words)


def _tilted(read: Reader) -> Iterator[Figure]:
    """The height by a weighing with the tail raised, where there is one."""
    what = "height of the centre of gravity, by tilting"
    try:
        found = read(tilted, None)
    except NotComputedError as error:
        yield Figure(what, None, "mm", str(error))
        return
    if found is not None:
        doubt = "" if found.plus_minus is None else f"\u00b1{number(found.plus_minus, 0)}; "
        yield Figure(what, found.height, "mm", f"{doubt}{_beside_sum(read)}")


def _beside_sum(read: Reader) -> str:
    try:
        return f"by the sum of all weights {number(read(summed_height, None), 1)}"
    except NotComputedError:
        return "there is no sum of all weights beside it"


def _raised(read: Reader) -> Iterator[Figure]:
    ends: tuple[End, ...] = ("tail", "nose")
    for end in ends:
        yield _figure(
            f"lift of the {end} until the other end is down", "mm", partial(_lift, read, end)
        )


def _lift(read: Reader, end: End) -> Found:
    found = read(end_raised, end)
    if found is None:
        msg = "no tube, nor the engine, reaches beyond the wheels that stay down"
        raise NotComputedError(msg)
    first = f"{found.part} of {read.label(found.thing)}" if found.part else read.label(found.thing)
    words = f"{number(found.angle_deg, 1)} degrees; {first} meets the floor; "
    return found.lift, words + "of tubes and engine alone, the body is not looked at"


def _stands(read: Reader, lift: Ref) -> Iterator[Figure]:
    for count, state in enumerate(states_of(read, lift)):
        name = f"{read.label(lift)}, {state.name}"
        yield _figure(f"weight on stands, {name}", "kg", partial(_on_stands, read, lift, count))


def _on_stands(read: Reader, lift: Ref, count: int) -> Found:
    state = read(on_stands, lift, count)
    over = " to ".join(read.label(ref) for ref in state.over)
    if not state.loads:
        return state.mass_kg, f"it tips, over {over}"
    each = "; ".join(
        f"{read.label(load.stand)} {number(load.alike_kg, 0)} "
        f"({number(load.least_kg, 0)} to {number(load.most_kg, 0)})"
        for load in state.loads
    )
    words = f"{each}; {HOW_SHARED}; in brackets, on uneven ground"
    return state.mass_kg, f"{words}; nearest to tipping over {over}, {number(state.margin, 0)} mm"
