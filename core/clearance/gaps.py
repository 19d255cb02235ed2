"""Gaps of a placed body to tubes, at rest and over a straight move."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.clearance.bodies import Body
from core.clearance.distances import Nearest, nearest, seen_from
from core.clearance.inside import lines_inside
from core.clearance.lines import LineGroup, one_by_one, swept
from core.clearance.meeting import meeting_place, share_of_sweep
from core.geometry.frames import Frame
from core.geometry.triples import Triple
from core.geometry.types import Array


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap of a body to a tube, and where it is.

    Attributes:
        gap: mm, from the skin of the body to the surface of the tube; negative if they
            overlap. True down to minus the radius: there the centre line meets the skin, and
            they overlap by at least that much.
        line: number of the tube.
        part: number of the part of the body.
        on_body: mm, car frame, on the skin, at that moment of the move.
        on_line: mm, car frame, on the centre line; the same place if the two meet.
        inside: whether the centre line lies wholly inside the body; the overlap is then at
            least the radius and the least depth of the line below the skin.
        travel: share of the move, 0 to 1, at which the gap is this; 0 at rest.
    """

    gap: float
    line: int
    part: int
    on_body: Triple
    on_line: Triple
    inside: bool = False
    travel: float = 0.0


def least_gap(body: Body, place: Frame, group: LineGroup) -> Gap:
    """Return the least gap of the body to any line of the group.

    If the group is swept, the least over the whole move, exactly: nothing lies between places.

    Args:
        body: in its own frame.
        place: of the body in the car; of a move its start.
        group: lines in the car frame.
    """
    return gaps(body, place, (group,))[0]


def gaps(body: Body, place: Frame, groups: Sequence[LineGroup]) -> tuple[Gap, ...]:
    """Return the least gap of each group, in the order given.

    With one group a line (`one_by_one`) this is the gap of every tube.
    """
    if not groups:
        return ()
    move = seen_from(place)
    found = [nearest(body.solid, group.solid, move) for group in groups]
    in_body = np.array([(one.place, one.other_place) for one in found])
    places: list[list[list[float]]] = place.to_car(in_body).tolist()
    answers = [
        _gap(body, place, group, one, ends)
        for group, one, ends in zip(groups, found, places, strict=True)
    ]
    for number, position in lines_inside(body, place, groups):
        held = _held(body, place, groups[number], position)
        answers[number] = min(held, answers[number], key=lambda answer: answer.gap)
    return tuple(answers)


def swept_gap(body: Body, place: Frame, group: LineGroup, sweep: Triple) -> Gap:
    """Return the least gap while the body moves straight from its place by `sweep`, mm, car frame.

    Raises:
        ValueError: if the group is swept already.
    """
    if group.is_swept:
        raise ValueError("The group is swept already.")
    return least_gap(body, place, swept(group, sweep))


def _gap(
    body: Body, place: Frame, group: LineGroup, found: Nearest, ends: list[list[float]]
) -> Gap:
    """Return the gap told by the nearest pair; `ends` are its two places in the car frame."""
    segment = group.segment_of(found.other_triangle)
    line = group.numbers[int(group.line_of_segment[segment])]
    part = int(body.part_of_triangle[found.triangle])
    gap = found.distance - group.radius
    if found.distance > 0.0 and not group.is_swept:
        return Gap(gap, line, part, _triple(ends[0]), _triple(ends[1]))
    on_body, on_line, travel = _moment(body, place, group, found, np.array(ends))
    return Gap(gap, line, part, on_body, on_line, travel=travel)


def _moment(
    body: Body, place: Frame, group: LineGroup, found: Nearest, ends: Array
) -> tuple[Triple, Triple, float]:
    """Return where body and tube are nearest when they are, and at which share of the move."""
    piece = group.points[group.segments[group.segment_of(found.other_triangle)]]
    sweep = np.array(group.sweep)
    on_body, on_ribbon = ends
    if found.distance == 0.0:
        skin = place.to_car(body.mesh.vertices[body.mesh.triangles[found.triangle]])
        ribbon = np.array([piece[0], piece[1], piece[1] - sweep, piece[0] - sweep])
        on_body = on_ribbon = meeting_place(skin, ribbon, on_body)
    share = share_of_sweep(piece, sweep, on_ribbon)
    back = share * sweep
    return _triple((on_body + back).tolist()), _triple((on_ribbon + back).tolist()), share


def _held(body: Body, place: Frame, group: LineGroup, position: int) -> Gap:
    """Return the gap of a line of which a place is inside; inside unless it meets the skin."""
    numbered = group.numbers[position]
    alone = swept(one_by_one((group.lines[position],))[0], group.sweep)
    found = nearest(body.solid, alone.solid, seen_from(place))
    ends = place.to_car(np.array([found.place, found.other_place])).tolist()
    gap = _gap(body, place, alone, found, ends)
    depth = -(found.distance + group.radius)
    inside = found.distance > 0.0
    return Gap(depth, numbered, gap.part, gap.on_body, gap.on_line, inside, gap.travel)


def _triple(place: list[float]) -> Triple:
    return place[0], place[1], place[2]
