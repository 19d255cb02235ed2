"""Figures of the car worth knowing: tracks, closest gaps, and the lift to take the engine out."""

from collections.abc import Callable, Iterator
from functools import partial

from core.assess.axles import ground, roll_centre, steering
from core.assess.clearance import TubeGap, closest_at_rest, gaps_on_way_out, lift_to_clear
from core.assess.pairs import is_rigid
from core.assess.wheels import wheel_centre
from core.document.base import Ref
from core.document.records import WayOut
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.suspension.centres import ROLL_CENTRE_HOW
from core.suspension.rigid_axle_read import ROLL_CENTRE_HOW as OF_AXLE_HOW
from core.workshop.beam_figures import beam_figures
from core.workshop.figure import Figure
from core.workshop.weight_figures import weight_figures


@cell(When.ASKED)
def figures(read: Reader) -> tuple[Figure, ...]:
    """The figures of the car worth knowing; each that is not known says why."""
    return (
        *_tracks(read),
        *_suspension(read),
        _figure("closest gap of engine and gearbox to a tube", partial(_gap, read)),
        *_ways_out(read),
        *weight_figures(read),
    )


def _figure(what: str, find: Callable[[], tuple[float, str]]) -> Figure:
    try:
        value, note = find()
    except NotComputedError as error:
        return Figure(what, None, note=str(error))
    return Figure(what, value, note=note)


def _tracks(read: Reader) -> Iterator[Figure]:
    axles = read.all(Axle)
    if not axles:
        yield Figure("track", None, note="no axle is entered")
    for axle in axles:
        yield _figure(f"track, {read.label(axle)}", partial(_track, read, axle))


def _track(read: Reader, axle: Ref) -> tuple[float, str]:
    corners = {
        ref.side: ref for ref in read.all(Corner) if read.thing(Corner, ref).axle.id == axle.id
    }
    if not {"left", "right"} <= corners.keys():
        msg = f"{read.label(axle)} has no left and right corner"
        raise NotComputedError(msg)
    left, right = (read(wheel_centre, corners[side]) for side in ("left", "right"))
    return left.y - right.y, "between wheel centres"


def _suspension(read: Reader) -> Iterator[Figure]:
    for axle in read.all(Axle):
        name = read.label(axle)
        yield _figure(f"roll centre height, {name}", partial(_roll_centre, read, axle))
        if read(is_rigid, axle):
            yield from beam_figures(read, axle)
        if read.thing(Axle, axle).rack is not None:
            yield _figure(f"turning circle, {name}", partial(_circle, read, axle))


def _roll_centre(read: Reader, axle: Ref) -> tuple[float, str]:
    height = read(roll_centre, axle)[1] - read(ground, axle)
    how = OF_AXLE_HOW if read(is_rigid, axle) else ROLL_CENTRE_HOW
    return height, f"over the ground, at the design position, {how}"


def _circle(read: Reader, axle: Ref) -> tuple[float, str]:
    return read(steering, axle).smallest_circle, "across the path of the outer front wheel"


def _gap(read: Reader) -> tuple[float, str]:
    gap = read(closest_at_rest)
    return gap.gap, f"{_between(read, gap)}, at rest, as drawn"


def _between(read: Reader, gap: TubeGap) -> str:
    return f"{gap.part} to {read.label(gap.tube)}"


def _ways_out(read: Reader) -> Iterator[Figure]:
    for way in read.all(WayOut):
        name = read.label(way)
        yield _figure(
            f"closest gap of engine and gearbox to a tube, {name}",
            partial(_gap_on_way, read, way),
        )
        if read.thing(WayOut, way).direction.z < 0:
            yield _figure(f"lift of the frame, {name}", partial(_lift, read, way))


def _gap_on_way(read: Reader, way: Ref) -> tuple[float, str]:
    gap = read(gaps_on_way_out, way)[0]
    return gap.gap, _between(read, gap)


def _lift(read: Reader, way: Ref) -> tuple[float, str]:
    lift = read(lift_to_clear, way)
    assert lift is not None  # only a way out that is not downwards has none
    by = "" if lift.governed_by is None else f"; {_between(read, lift.governed_by)} asks for it"
    return lift.height, f"to roll the engine and gearbox out rearwards{by}"
