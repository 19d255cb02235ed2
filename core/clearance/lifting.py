"""How far the frame must be raised for a body on a dolly to be rolled out straight below it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from core.clearance.bodies import Body
from core.clearance.distances import nearest, seen_from
from core.clearance.gaps import Gap, least_gap
from core.clearance.lines import LineGroup, swept
from core.clearance.slabs import slab_clearance
from core.geometry.frames import Frame
from core.geometry.triples import Triple
from core.geometry.types import Array, unit

HEIGHT_TOLERANCE = 1e-6
"""Where the search for a lift ends, mm. Own rule: far below anything that can be measured."""

LOWERINGS = 40
"""Lowerings by the room left before the search turns to halving. A tube that passes close beside
the body makes each lowering tiny; halving always ends. Own rule: ordinary cases need under 20."""

BACKWARD = (-1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Lift:
    """How far the frame must be raised.

    Attributes:
        height: mm above its place on the ground, at least 0.
        governed_by: the gap that forbids any less, places in the frame's own car coordinates;
            None if nothing stands in the way even with the frame not raised at all.
    """

    height: float
    governed_by: Gap | None


@dataclass(frozen=True, slots=True)
class RollOut:
    """The way out: stood on a dolly, rolled straight.

    Attributes:
        dolly_height: height of the lowest point of the body above the ground, mm.
        wanted_gap: room wanted all round, from the skin to the surface of any tube, mm.
        direction: straight way the body is rolled, car frame, any length.
    """

    dolly_height: float
    wanted_gap: float
    direction: Triple = BACKWARD


def lift_to_roll_out(body: Body, place: Frame, groups: Sequence[LineGroup], way: RollOut) -> Lift:
    """Return the least lift from which on, at any greater one too, the body rolls out clear.

    The height found is the greatest at which a tube comes as near as the wanted gap, to
    `HEIGHT_TOLERANCE`. It says nothing of the raising itself: whether the frame rises clear of
    the body is a question of `swept_gap`.

    Args:
        body: in its own frame.
        place: of the body in the car, frame on the ground (z = 0); only its height changes.
        groups: lines in the car frame, at rest.
        way: dolly, wanted gap and direction.

    Raises:
        ValueError: if the direction has no length or a group is swept.

    Source:
        Lowering by the room left, which no contact can outrun: conservative advancement,
        Mirtich, Impulse-based Dynamic Simulation of Rigid Body Systems, 1996 (from memory).
    """
    highest = Lift(0.0, None)
    for group in groups:
        found = _lift(body, place, group, way, highest.height)
        if found.governed_by is not None:
            highest = found
    return highest


def lifts(body: Body, place: Frame, groups: Sequence[LineGroup], way: RollOut) -> tuple[Lift, ...]:
    """Return the lift each group would ask if it were alone; see `lift_to_roll_out`."""
    return tuple(_lift(body, place, group, way, 0.0) for group in groups)


def _lift(body: Body, place: Frame, group: LineGroup, way: RollOut, floor: float) -> Lift:
    """Return the lift one group asks, or one not governed if it asks no more than `floor`."""
    if group.is_swept:
        raise ValueError("The group is swept already.")
    skin = place.to_car(body.mesh.vertices)
    stood = _risen(place, way.dolly_height - float(skin[:, 2].min()))
    room = group.radius + way.wanted_gap
    ribbons = swept(group, _run(skin, group.points, unit(np.array(way.direction)), room))
    top = float(np.ptp(skin[:, 2])) + way.dolly_height + room - float(group.points[:, 2].min())

    def left_at(height: float) -> float:
        return _distance(body, _risen(stood, -height), ribbons) - room

    def left_over(low: float, high: float) -> float:
        return slab_clearance(body, _risen(stood, -high), ribbons, high - low) - room

    height = _greatest_contact(left_at, left_over, max(top, floor), floor)
    if height is None:
        return Lift(floor, None)
    return Lift(height, least_gap(body, _risen(stood, -height), ribbons))


def _greatest_contact(
    left_at: Callable[[float], float],
    left_over: Callable[[float, float], float],
    top: float,
    floor: float,
) -> float | None:
    """Return the greatest height with no room left, or None if there is none above the floor.

    Args:
        left_at: room left at a height, mm; never changes faster than the height.
        left_over: room left anywhere from a low to a high height, mm; 0 or less if there is none.
        top: height at and above which there is room, mm.
        floor: least height of interest, mm.
    """
    high = top
    for _ in range(LOWERINGS):
        left = left_at(high)
        if left <= HEIGHT_TOLERANCE:
            return high if high > floor or left < 0.0 else None
        if high <= floor:
            return None
        high = max(high - left, floor)
    return _by_halving(left_over, high, floor)


def _by_halving(
    left_over: Callable[[float, float], float], high: float, floor: float
) -> float | None:
    """Return the same from a height known to have room, by proving ever shorter stretches."""
    if left_over(floor, high) > 0.0:
        return None
    low = floor
    while high - low > HEIGHT_TOLERANCE:
        middle = (low + high) / 2.0
        left = left_over(middle, high)
        if left > 0.0:
            high = max(middle - left, low)
        else:
            low = middle
    return high


def _risen(place: Frame, by: float) -> Frame:
    return Frame(place.origin + np.array([0.0, 0.0, by]), place.axes)


def _distance(body: Body, place: Frame, group: LineGroup) -> float:
    return nearest(body.solid, group.solid, seen_from(place)).distance


def _run(skin: Array, points: Array, direction: Array, room: float) -> Triple:
    """Return the move after which the last of the body has left the last tube behind."""
    length = float(np.max(points @ direction) - np.min(skin @ direction)) + room
    move: list[float] = (max(length, 0.0) * direction).tolist()
    return move[0], move[1], move[2]
