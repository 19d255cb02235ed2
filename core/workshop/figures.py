"""Figures of the car worth knowing: tracks, closest gaps, and the lift to take the engine out."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from core.assess.clearance import TubeGap, closest_at_rest, gaps_on_way_out, lift_to_clear
from core.assess.wheels import wheel_centre
from core.document.base import Ref
from core.document.records import WayOut
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell


@dataclass(frozen=True)
class Figure:
    """One figure.

    Attributes:
        what: what it is.
        value: in mm; none where it is not known.
        note: between what it is measured, or why it is not known.
    """

    what: str
    value: float | None
    note: str = ""


@cell(When.ASKED)
def figures(read: Reader) -> tuple[Figure, ...]:
    """The figures of the car worth knowing; each that is not known says why."""
    return (
        *_tracks(read),
        _figure("closest gap of engine and gearbox to a tube", partial(_gap, read)),
        *_ways_out(read),
    )


def _figure(what: str, find: Callable[[], tuple[float, str]]) -> Figure:
    try:
        value, note = find()
    except NotComputedError as error:
        return Figure(what, None, str(error))
    return Figure(what, value, note)


def _tracks(read: Reader) -> Iterator[Figure]:
    axles = read.all(Axle)
    if not axles:
        yield Figure("track", None, "no axle is entered")
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
