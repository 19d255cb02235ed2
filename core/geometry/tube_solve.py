"""Bent tubes through their nodes: a node on a bend is the middle of the bend's arc.

Moving one vertex turns both its legs and with them the arcs at the neighbouring vertices, so all
vertices of a tube are found together. The middle of the arc lies off the vertex by a vector that
depends little on the vertices; subtracting it from the nodes again and again settles in some ten
rounds. Where the legs are only just long enough this becomes slow, and Newton's method follows
the shape while the radii grow from nothing to their size: that is the solution which is
continuous with the plain polygon of the nodes, and no other.

With little straight left between sharp or wide bends a second tube may pass through the same
nodes, one that is not reached from the polygon by growing the radii. It is not looked for: the
answer is then that none was found. How rare that is was tried on random tubes of one to five
bends with straights of 60 mm and more: none missed of 20,000 with radii of 40 to 160 and turns up
to 120 deg; 6 missed of 20,000 with radii up to 300 and turns up to 160 deg. None came out wrong.
"""

import math
from collections.abc import Sequence

import numpy as np

from core.geometry.triples import Triple
from core.geometry.tube_shape import (
    LEAST_LEG,
    NoTubeShape,
    TubeShape,
    checked_input,
    leg_words,
    legs_between,
    shape_from_vertices,
    turns_between,
)
from core.geometry.types import Array, unit

NODE_TOLERANCE = 1e-9
"""mm by which the middle of an arc may miss its node. Far below any use; it proves the solution."""

SETTLED = 1e-10
"""mm of the last change of a vertex at which the rounds stop; leaves a decade to the tolerance."""

MOST_ROUNDS = 40
"""Rounds of plain iteration before Newton's method takes over: ordinary tubes need 5 to 15."""

MOST_NEWTON_STEPS = 12
"""Newton steps at one size of the radii; from a near start four are enough."""

LEAST_GROWTH = 1.0 / 256.0
"""Smallest step of the radii, as a share of their full size, before the search gives up."""

LEAST_LEG_COSINE = 0.97
"""Cosine of the most a leg may turn (14 deg) while the radii grow by one step."""

LEAST_HALF_TURN_COSINE = 0.02
"""Cosine of half a turn below which (beyond 177.7 deg) an iteration counts as run away."""


def solve_tube(points: Array, radii: Array) -> TubeShape:
    """Return the tube through its nodes.

    Args:
        points: (k, 3) mm, car frame, k at least 2: start node, for each bend the middle of its
            arc, end node. A bend node on the straight line between its neighbours is allowed:
            the tube goes straight through.
        radii: (k - 2,) mm, centre-line radius of each bend.

    Returns:
        The shape; the middles of its arcs are the nodes within `NODE_TOLERANCE`.

    Raises:
        NoTubeShape: if no tube with these radii is found through the nodes; says why.
    """
    nodes, sizes = checked_input(points, radii)
    shape = _settled(nodes, sizes)
    if shape is None:
        turns_between(legs_between(nodes)[1])  # a polygon that turns back cannot be followed
        shape = shape_from_vertices(_follow(points, radii), radii)
    if len(sizes) and float(np.max(np.abs(shape.midpoints - points[1:-1]))) > NODE_TOLERANCE:
        raise NoTubeShape(_too_tight(shape.vertices, radii))
    return shape


def _settled(nodes: Sequence[Triple], radii: Sequence[float]) -> TubeShape | None:
    """Return the shape found by plain iteration, or None if there is none or it cannot be bent.

    What cannot be bent may be another solution than the one continuous with the polygon, so it
    is no answer yet, and what it is short of is no figure to show.
    """
    vertices = _settle(nodes, radii)
    try:
        return None if vertices is None else shape_from_vertices(vertices, np.array(radii))
    except NoTubeShape:
        return None


def _settle(nodes: Sequence[Triple], radii: Sequence[float]) -> Array | None:
    """Return the vertices found by plain iteration from the nodes, or None if it is slow."""
    vertices = [list(node) for node in nodes]
    for _ in range(MOST_ROUNDS):
        change = 0.0
        for i, radius in enumerate(radii, start=1):
            moved = _vertex(nodes[i], vertices[i - 1], vertices[i], vertices[i + 1], radius)
            if moved is None:
                return None
            old = vertices[i]
            change = max(
                change, abs(moved[0] - old[0]), abs(moved[1] - old[1]), abs(moved[2] - old[2])
            )
            vertices[i] = moved
        if change <= SETTLED:
            return np.array(vertices)
    return None


def _vertex(
    node: Triple, before: list[float], vertex: list[float], after: list[float], radius: float
) -> list[float] | None:
    """Return the node less the step from vertex to arc middle; None where the tube turns back.

    The step is that of `tube_shape`, written out because half the time of a solution is here.
    """
    ax, ay, az = vertex[0] - before[0], vertex[1] - before[1], vertex[2] - before[2]
    bx, by, bz = after[0] - vertex[0], after[1] - vertex[1], after[2] - vertex[2]
    first = math.sqrt(ax * ax + ay * ay + az * az)
    second = math.sqrt(bx * bx + by * by + bz * bz)
    if first < LEAST_LEG or second < LEAST_LEG:
        return None
    x, y, z = bx / second - ax / first, by / second - ay / first, bz / second - az / first
    square = 0.25 * (x * x + y * y + z * z)
    cosine = math.sqrt(max(1.0 - square, 0.0))
    if cosine < LEAST_HALF_TURN_COSINE:
        return None
    step = 0.5 * radius * math.sqrt(square) / (cosine * (1.0 + cosine))
    return [node[0] - x * step, node[1] - y * step, node[2] - z * step]


def _follow(points: Array, radii: Array) -> Array:
    """Return the vertices (k, 3) found while the radii grow from nothing to their size.

    Raises:
        NoTubeShape: if the shape is lost on the way.
    """
    vertices, grown, growth = points, 0.0, 0.5
    while grown < 1.0:
        share = min(1.0, grown + growth)
        found = _newton(points, vertices, share * radii)
        if found is not None and _is_near(vertices, found):
            vertices, grown = found, share
        elif growth <= LEAST_GROWTH:
            raise NoTubeShape(_too_tight(vertices, grown * radii))
        else:
            growth *= 0.5
    return vertices


def _is_near(vertices: Array, others: Array) -> bool:
    """Return whether no leg turned so far that another solution may have been met."""
    ways = unit(np.diff(vertices, axis=0)), unit(np.diff(others, axis=0))
    return bool(np.min(np.sum(ways[0] * ways[1], axis=1)) > LEAST_LEG_COSINE)


def _newton(points: Array, start: Array, radii: Array) -> Array | None:
    """Return the vertices (k, 3) for these radii by Newton's method from `start`, or None."""
    vertices = np.array(start)
    for _ in range(MOST_NEWTON_STEPS):
        linear = _linearised(points, vertices, radii)
        if linear is None:
            return None
        misses, slope = linear
        if float(np.max(np.abs(misses))) <= SETTLED:
            return vertices
        try:
            vertices[1:-1] -= np.linalg.solve(slope, misses).reshape(-1, 3)
        except np.linalg.LinAlgError:
            return None
    return None


def _linearised(points: Array, vertices: Array, radii: Array) -> tuple[Array, Array] | None:
    """Return by how much the arc middles miss the nodes, and its change with the vertices.

    With u, v the leg directions at a bend, w = v - u, s = |w| / 2 and c the sine and cosine of
    half the turn h, the step from vertex to arc middle is w k(h), k = R s / (2 c (1 + c)). Its
    differential is k dw + w k' dh with dh = w.dw / (4 s c), and du = (1 - u u^T) dV / leg.

    Returns:
        (3 m,) mm and (3 m, 3 m) for m bends, or None where a leg vanishes or a bend turns back.
    """
    edges = np.diff(vertices, axis=0)
    legs = np.linalg.norm(edges, axis=1)
    if float(np.min(legs)) < LEAST_LEG:
        return None
    directions = edges / legs[:, None]
    bends = np.diff(directions, axis=0)
    sines = 0.5 * np.linalg.norm(bends, axis=1)
    cosines = np.sqrt(np.maximum(1.0 - sines**2, 0.0))
    if float(np.min(cosines)) < LEAST_HALF_TURN_COSINE:
        return None
    factors = 0.5 * radii * sines / (cosines * (1.0 + cosines))
    misses = vertices[1:-1] + bends * factors[:, None] - points[1:-1]
    steps = [
        _step_change(bend, radius, sine, cosine)
        for bend, radius, sine, cosine in zip(bends, radii, sines, cosines, strict=True)
    ]
    return misses.reshape(-1), _slope(steps, directions, legs)


def _step_change(bend: Array, radius: float, sine: float, cosine: float) -> Array:
    """Return (3, 3): change of the step from vertex to arc middle with w = v - u."""
    factor = 0.5 * radius * sine / (cosine * (1.0 + cosine))
    if sine == 0.0:
        return np.zeros((3, 3))
    tangent, share = sine / cosine, 1.0 / (1.0 + cosine)
    growth = 0.5 * radius * share * (1.0 + tangent * tangent + tangent * sine * share)
    return factor * np.eye(3) + np.outer(bend, bend) * (growth / (4.0 * sine * cosine))


def _slope(steps: Sequence[Array], directions: Array, legs: Array) -> Array:
    """Return (3 m, 3 m): change of the arc middles with the vertices of the bends."""
    turning = [
        (np.eye(3) - np.outer(way, way)) / leg for way, leg in zip(directions, legs, strict=True)
    ]
    slope = np.eye(3 * len(steps))
    for i, step in enumerate(steps):
        here = slice(3 * i, 3 * i + 3)
        slope[here, here] -= step @ (turning[i] + turning[i + 1])
        if i > 0:
            slope[here, 3 * i - 3 : 3 * i] += step @ turning[i]
        if i + 1 < len(steps):
            slope[here, 3 * i + 3 : 3 * i + 6] += step @ turning[i + 1]
    return slope


def _too_tight(vertices: Array, radii: Array) -> str:
    """Return the sentence for a tube that cannot be: which leg of the nearest shape is tightest."""
    edges = np.diff(vertices, axis=0)
    legs = np.linalg.norm(edges, axis=1)
    bends = np.diff(edges / legs[:, None], axis=0)
    sines = np.minimum(0.5 * np.linalg.norm(bends, axis=1), 1.0 - LEAST_HALF_TURN_COSINE)
    tangents = np.concatenate([[0.0], radii * sines / np.sqrt(1.0 - sines**2), [0.0]])
    worst = int(np.argmin((legs - tangents[:-1] - tangents[1:]) / legs))
    return (
        "No tube with these radii was found through the points: "
        f"{leg_words(worst, len(legs))} leaves its bends no room. "
        "Move the points apart or choose a smaller radius."
    )
