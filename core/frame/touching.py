"""Tubes that touch without a joint that says so, and how close the others come."""

from collections import defaultdict
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np

from core.frame.chords import (
    Chords,
    Mask,
    Pair,
    chords_of,
    close_pairs,
    least_gaps_possible,
    nearest_places,
    surface_gaps,
)
from core.frame.nearest import nearest_on_line, nearest_on_segments
from core.frame.network import Member, Network, Point
from core.geometry.types import Array

TOUCH = 1.0
"""Surfaces closer than this count as touching, mm; own choice, about what a weld gap is."""

COINCIDENT = 1.0
"""Two joints closer than this are one place, mm; own choice, well below any tube's radius."""

_FIRST_LOOK = 256
"""How many of the most promising pairs of chords are measured before the rest is ruled out."""

_TIE = 1e-6
"""Gaps that differ by less are equal, mm; rounding only."""

Repair = Literal["ends_together", "end_on_tube", "crossing"]


@dataclass(frozen=True, slots=True)
class CoincidentNodes:
    """Joints that are apart in name only.

    Attributes:
        nodes: two or more joints, each within reach of another of them.
        spread: the largest distance between two of them, mm.
        place: the first of them, mm, car frame.
    """

    nodes: tuple[int, ...]
    spread: float
    place: Point


@dataclass(frozen=True, slots=True)
class Touch:
    """Two tubes that touch and share no joint.

    Attributes:
        members: the two tubes.
        gap: between their surfaces, mm, below zero where they overlap.
        places: where they come closest, one point on either centre line, mm, car frame.
        repair: what the touch looks like. Two ends together want to be one joint; an end on a tube
            wants its joint on that tube; two tubes crossing want a joint, or to be moved.
        nodes: the end joints concerned: two, one or none.
        onto: the tube that the end lies on, for an end on a tube.
    """

    members: tuple[int, int]
    gap: float
    places: tuple[Point, Point]
    repair: Repair
    nodes: tuple[int, ...]
    onto: int | None


@dataclass(frozen=True, slots=True)
class TouchAgain:
    """Two tubes that share a joint and touch once more, away from it.

    Attributes:
        members: the two tubes.
        shared: the joints they share.
        gap: between their surfaces at the other place, mm.
        places: where they come closest there, one point on either centre line, mm, car frame.
    """

    members: tuple[int, int]
    shared: tuple[int, ...]
    gap: float
    places: tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class LeastGap:
    """The two tubes that come closest among those that share no joint.

    Attributes:
        members: the two tubes.
        gap: between their surfaces, mm, below zero where they overlap.
        places: where, one point on either centre line, mm, car frame.
    """

    members: tuple[int, int]
    gap: float
    places: tuple[Point, Point]


def coincident_nodes(network: Network, within: float = COINCIDENT) -> tuple[CoincidentNodes, ...]:
    """The joints visited by tubes that lie closer than `within`, mm, each group once."""
    merged, groups = _same_place(network, within), defaultdict[int, list[int]](list)
    for node in sorted({visit.node for member in network.members for visit in member.visits}):
        groups[merged[node]].append(node)
    return tuple(
        CoincidentNodes(tuple(nodes), _spread(network.places[nodes]), network.place(nodes[0]))
        for nodes in groups.values()
        if len(nodes) > 1
    )


def touching_not_shared(network: Network, touch: float = TOUCH) -> tuple[Touch, ...]:
    """The pairs of tubes that share no joint and whose surfaces come closer than `touch`, mm.

    Joints in one place count as one: `coincident_nodes` tells of them.
    """
    chords = chords_of(network)
    least: dict[tuple[int, int], Pair] = {}
    for pair in close_pairs(chords, ~_shared_mask(network), touch):
        members = _members(chords, pair)
        if members not in least or pair.gap < least[members].gap:
            least[members] = pair
    return tuple(_touch(network, chords, least[members], touch) for members in sorted(least))


def touch_again(network: Network, touch: float = TOUCH) -> tuple[TouchAgain, ...]:
    """The pairs of tubes that share a joint and touch at another place too.

    Tubes that leave a joint at a small angle overlap for a while: only places that no run of
    touching chords connects with a shared joint are told of. Pairs of which a tube is off a shared
    joint are left to `apart`.
    """
    chords, merged = chords_of(network), _same_place(network, COINCIDENT)
    inside = _nodes_inside(network, chords)
    found: defaultdict[tuple[int, int], list[Pair]] = defaultdict(list)
    for pair in close_pairs(chords, _shared_mask(network), touch):
        found[_members(chords, pair)].append(pair)
    again: list[TouchAgain] = []
    for members, pairs in sorted(found.items()):
        shared = _shared_nodes(network, members, merged)
        elsewhere = _unconnected(pairs, set(shared), inside)
        if elsewhere:
            worst = min(elsewhere, key=lambda pair: pair.gap)
            places = nearest_places(chords, worst)
            again.append(TouchAgain(members, shared, worst.gap, places))
    return tuple(again)


def least_tube_gap(network: Network) -> LeastGap | None:
    """The closest two tubes that share no joint, or None if there are no two such tubes."""
    chords = chords_of(network)
    bounds = least_gaps_possible(chords, ~_shared_mask(network))
    order = np.argsort(bounds, axis=None, kind="stable")[:_FIRST_LOOK]
    order = order[np.isfinite(bounds.flat[order])]
    if order.size == 0:
        return None
    first_look = surface_gaps(chords, *np.unravel_index(order, bounds.shape))
    # A pair whose bound is above the best gap found so far cannot beat it.
    first, second = np.nonzero(bounds <= float(first_look.min()))
    gaps = surface_gaps(chords, first, second)
    # Mirror images tie but for rounding: the first of them is told of.
    best = int(np.argmax(gaps <= gaps.min() + _TIE))
    pair = Pair(int(first[best]), int(second[best]), float(gaps[best]))
    return LeastGap(_members(chords, pair), pair.gap, nearest_places(chords, pair))


def _members(chords: Chords, pair: Pair) -> tuple[int, int]:
    return int(chords.owner[pair.first]), int(chords.owner[pair.second])


def _same_place(network: Network, within: float) -> list[int]:
    """For each joint the first joint in the same place, through any chain of near neighbours."""
    gaps = np.linalg.norm(network.places[:, None] - network.places[None], axis=-1)
    first = list(range(len(network.places)))
    for one, other in np.argwhere(np.triu(gaps < within, 1)).tolist():
        old, new = max(first[one], first[other]), min(first[one], first[other])
        first = [new if group == old else group for group in first]
    return first


def _spread(places: Array) -> float:
    return float(np.linalg.norm(places[:, None] - places[None], axis=-1).max())


def _shared_mask(network: Network) -> Mask:
    """Which pairs of tubes (t, t) visit a joint in the same place; a tube with itself does."""
    merged = _same_place(network, COINCIDENT)
    visits = np.zeros((len(network.members), len(network.places)), dtype=np.int64)
    for index, member in enumerate(network.members):
        visits[index, [merged[visit.node] for visit in member.visits]] = 1
    return (visits @ visits.T + np.eye(len(visits), dtype=np.int64)) > 0


def _shared_nodes(network: Network, members: tuple[int, int], merged: list[int]) -> tuple[int, ...]:
    first, second = (
        {merged[visit.node] for visit in network.members[member].visits} for member in members
    )
    return tuple(sorted(first & second))


def _unconnected(pairs: list[Pair], shared: set[int], inside: list[set[int]]) -> list[Pair]:
    """The touching pairs of chords that no run of neighbours connects with a shared joint.

    The gap of two straight pieces is convex, so a touch on one pair of chords is one patch, and a
    run of neighbouring pairs carries it on round a bend.
    """
    left = {(pair.first, pair.second): pair for pair in pairs}
    seeds = {(i, j): inside[i] & inside[j] & shared for i, j in left}
    if set[int]().union(*seeds.values()) != shared:
        return []
    reached = [key for key, nodes in seeds.items() if nodes]
    while reached:
        i, j = reached.pop()
        left.pop((i, j), None)
        steps = product((i - 1, i, i + 1), (j - 1, j, j + 1))
        reached.extend(key for key in steps if key in left)
    return list(left.values())


def _nodes_inside(network: Network, chords: Chords) -> list[set[int]]:
    """For each chord the joints that lie inside its tube."""
    nodes = network.places[None]
    near = nearest_on_segments(nodes, chords.start[:, None], chords.end[:, None])
    within = np.linalg.norm(near - nodes, axis=-1) <= chords.radius[:, None]
    return [set(np.flatnonzero(row).tolist()) for row in within]


def _touch(network: Network, chords: Chords, pair: Pair, slack: float) -> Touch:
    members, places = _members(chords, pair), nearest_places(chords, pair)
    together = _ends_together(network, members, slack)
    if together:
        return Touch(members, pair.gap, places, "ends_together", together, None)
    for k, onto in enumerate(reversed(members)):
        end = _end_that_touches(network, members[k], onto, places[k], slack)
        if end is not None:
            return Touch(members, pair.gap, places, "end_on_tube", (end,), onto)
    return Touch(members, pair.gap, places, "crossing", (), None)


def _ends_together(network: Network, members: tuple[int, int], slack: float) -> tuple[int, ...]:
    """The closest ends of two tubes, if they lie within the larger radius of each other."""
    one, other = (network.members[member] for member in members)
    pairs = list(product(_end_nodes(one), _end_nodes(other)))
    if not pairs:
        return ()
    first, second = np.array(pairs).T
    distances = np.linalg.norm(network.places[first] - network.places[second], axis=-1)
    best = int(np.argmin(distances))
    return pairs[best] if distances[best] <= max(one.radius, other.radius) + slack else ()


def _end_that_touches(
    network: Network, member: int, onto: int, touched: Point, slack: float
) -> int | None:
    """The end of a tube that lies within another tube, or is itself what touches it."""
    nodes = _end_nodes(network.members[member])
    if not nodes:
        return None
    ends = network.places[nodes]
    _, distances = nearest_on_line(ends, network.members[onto].line)
    inside = distances <= network.members[onto].radius + slack
    touching = np.linalg.norm(ends - np.array(touched), axis=-1) <= COINCIDENT
    best = int(np.argmin(distances))
    return nodes[best] if inside[best] or touching[best] else None


def _end_nodes(member: Member) -> list[int]:
    return [visit.node for visit in member.visits if visit.kind == "end"]
