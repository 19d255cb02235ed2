"""Joints that break a load path: unmet bends, tees into mid-tube, loose ends, gaps.

What counts as a fault here is common practice in triangulated frames, no source: a tube pushes and
pulls along its length, so a bend or a mid-tube load needs other tubes to take its side force.
"""

from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.frame.nearest import nearest_on_line
from core.frame.network import Meeting, Network, Point, VisitKind, meetings, point

APART_TOLERANCE = 0.5
"""How far a joint may lie off a centre line, mm; own choice, above what rounding and chords
take."""

_ENDS_THAT_SUPPORT = 2
"""Two ends besides the tube that passes through carry its side force between them."""

TeeCause = Literal["one end", "crossing", "carried"]


@dataclass(frozen=True, slots=True)
class UnmetBend:
    """A bend with no other tube ending on it.

    Attributes:
        node: the joint on the bend.
        bending: the tubes that bend there unmet.
        place: mm, car frame.
    """

    node: int
    bending: tuple[int, ...]
    place: Point


@dataclass(frozen=True, slots=True)
class MidTubeTee:
    """A tube loaded sideways between its own ends with too little to hold it there.

    Attributes:
        node: the joint.
        passing: the tubes that pass through and are bent by it.
        ending: the tubes that end there, one or none.
        cause: one tube ends there; two tubes cross; or only a bracket stands there.
        place: mm, car frame.
    """

    node: int
    passing: tuple[int, ...]
    ending: tuple[int, ...]
    cause: TeeCause
    place: Point


@dataclass(frozen=True, slots=True)
class LooseNode:
    """An end or a bend at which no second tube is.

    Attributes:
        node: the joint.
        member: the one tube there.
        kind: whether the tube ends or bends there.
        place: mm, car frame.
    """

    node: int
    member: int
    kind: VisitKind
    place: Point


@dataclass(frozen=True, slots=True)
class Apart:
    """A joint a tube claims to visit, away from its centre line.

    Attributes:
        node: the joint.
        member: the tube.
        kind: what the tube is said to do there.
        distance: from the joint to the centre line, mm.
        place: the joint, mm, car frame.
        nearest: the nearest point of the centre line, mm, car frame.
    """

    node: int
    member: int
    kind: VisitKind
    distance: float
    place: Point
    nearest: Point


def unmet_bends(network: Network) -> tuple[UnmetBend, ...]:
    """The bends on which no other tube ends, in the order of the joints."""
    found: list[UnmetBend] = []
    for node, at in enumerate(meetings(network)):
        unmet = tuple(tube for tube in at.bending if not set(at.ending) - {tube})
        if unmet:
            found.append(UnmetBend(node, unmet, network.place(node)))
    return tuple(found)


def mid_tube_tees(
    network: Network, carried: AbstractSet[int] = frozenset()
) -> tuple[MidTubeTee, ...]:
    """The joints that load a passing tube sideways with fewer than two tube ends to hold it.

    A tube that bends there holds as two ends do. A joint that only marks a place on a tube is
    harmless unless something stands on it.

    Args:
        network: the frame.
        carried: joints on which a bracket or a pick-up stands.
    """
    found: list[MidTubeTee] = []
    for node, at in enumerate(meetings(network)):
        cause = _tee_cause(at, node in carried)
        if cause is not None:
            passing, ending = tuple(at.passing), tuple(at.ending)
            found.append(MidTubeTee(node, passing, ending, cause, network.place(node)))
    return tuple(found)


def loose_nodes(network: Network) -> tuple[LooseNode, ...]:
    """The ends and bends at which only one tube is; a mere mark on a tube is not loose."""
    found: list[LooseNode] = []
    for node, at in enumerate(meetings(network)):
        tubes = at.tubes()
        if len(tubes) == 1 and (at.ending or at.bending):
            kind: VisitKind = "end" if at.ending else "bend"
            found.append(LooseNode(node, tubes.pop(), kind, network.place(node)))
    return tuple(found)


def apart(network: Network, tolerance: float = APART_TOLERANCE) -> tuple[Apart, ...]:
    """The visits whose joint lies farther off the tube's centre line than `tolerance`, mm."""
    found: list[Apart] = []
    for index, member in enumerate(network.members):
        at = network.places[[visit.node for visit in member.visits]].reshape(-1, 3)
        nearest, distances = nearest_on_line(at, member.line)
        for k in np.flatnonzero(distances > tolerance).tolist():
            visit, distance = member.visits[k], float(distances[k])
            near, place = point(nearest[k]), network.place(visit.node)
            found.append(Apart(visit.node, index, visit.kind, distance, place, near))
    return tuple(found)


def _tee_cause(at: Meeting, is_carried: bool) -> TeeCause | None:  # noqa: FBT001 - a private step
    """Why a joint is a tee into mid-tube, or None."""
    if not at.passing or at.bending or len(at.ending) >= _ENDS_THAT_SUPPORT:
        return None
    if at.ending:
        return "one end"
    if len(set(at.passing)) > 1:
        return "crossing"
    return "carried" if is_carried else None
