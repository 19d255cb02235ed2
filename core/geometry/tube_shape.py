"""The shape of a bent tube: straight legs joined by true arcs, with every figure of its bends.

Terms: the vertices are where the straight legs would meet, with the two ends first and last. At
each bend, from the turn angle A and the centre-line radius R, tangent = R tan(A/2) and
arc = R A; the straight is the leg less the tangents at its ends; the cut length is all straights
and arcs together. The twist is the turn of the bend plane about the tube from one bend to the
next, right hand about the direction of travel. These are the usual length, rotation, angle (LRA)
terms of the bending trade; the formulas are plane trigonometry.

The inner loops use plain floats: a tube has a handful of bends and is worked out anew at every
step of a drag, where numpy's cost per call would govern.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.geometry.frames import mirror
from core.geometry.triples import Triple, along, cross, difference, dot, length
from core.geometry.types import Array, read_only

LARGEST_TURN = math.radians(175.0)
"""A sharper turn is refused: towards 180 the vertex runs off to infinity. Own rule."""

STRAIGHT_SLACK = 1e-9
"""mm by which a straight may be negative and still count as rounding of none left."""

LEAST_LEG = 1e-6
"""mm; points closer than this are one point, and a leg between them has no direction."""

LEAST_PLANE_TURN = 1e-6
"""rad; a bend of less (0.00006 deg) has no plane of its own that a twist could be read from."""


class NoTubeShape(Exception):  # noqa: N818 - reads as a sentence where it is raised and caught
    """No tube has the places and radii given; `reason` says why, for the builder."""

    def __init__(self, reason: str) -> None:
        """Keep the reason."""
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, eq=False, slots=True)
class TubeShape:
    """The centre line of a bent tube and its bend figures; all arrays are read-only.

    Made by `shape_from_vertices` or `solve_tube`, which check it.

    Attributes:
        vertices: (k, 3) mm, car frame: start, one per bend, end.
        radii: (k - 2,) mm, centre-line radius of each bend.
        turns_rad: (k - 2,) turn angle of each bend, 0 for a leg going straight through.
        tangents: (k - 2,) mm from vertex to either end of its arc.
        straights: (k - 1,) mm of each leg left straight.
        arcs: (k - 2,) mm along each arc.
        twists_rad: (k - 2,) turn of the bend plane since the last bend that has one, above -pi
            up to pi, right hand about the direction of travel; 0 for the first bend, and for a
            bend that goes straight through.
        length: mm along the centre line from end to end: the cut length.
        midpoints: (k - 2, 3) mm, car frame: the middle of each arc.
    """

    vertices: Array
    radii: Array
    turns_rad: Array
    tangents: Array
    straights: Array
    arcs: Array
    twists_rad: Array
    length: float
    midpoints: Array


def shape_from_vertices(vertices: Array, radii: Array) -> TubeShape:
    """Return the shape of a tube whose straight legs meet at the given vertices.

    Args:
        vertices: (k, 3) mm, car frame, k at least 2: start, one per bend, end.
        radii: (k - 2,) mm, centre-line radius of each bend.

    Raises:
        NoTubeShape: if vertices coincide, a radius is not above zero, a bend turns back, or the
            bends need more of a leg than there is.
    """
    corners, sizes = checked_input(vertices, radii)
    legs, directions = legs_between(corners)
    turns = turns_between(directions)
    tangents = [radius * math.tan(turn / 2) for radius, turn in zip(sizes, turns, strict=True)]
    straights = _straights(legs, tangents)
    arcs = [radius * turn for radius, turn in zip(sizes, turns, strict=True)]
    bends = range(len(sizes))
    midpoints = [
        _midpoint(corners[i + 1], directions[i], directions[i + 1], sizes[i]) for i in bends
    ]
    return TubeShape(
        vertices=read_only(corners),
        radii=read_only(sizes),
        turns_rad=read_only(turns),
        tangents=read_only(tangents),
        straights=read_only(straights),
        arcs=read_only(arcs),
        twists_rad=read_only(_twists(directions, turns)),
        length=math.fsum(straights) + math.fsum(arcs),
        midpoints=read_only(np.array(midpoints, dtype=np.float64).reshape(-1, 3)),
    )


def reverse(shape: TubeShape) -> TubeShape:
    """Return the same tube travelled from its other end."""
    return shape_from_vertices(shape.vertices[::-1], shape.radii[::-1])


def mirrored(shape: TubeShape) -> TubeShape:
    """Return the tube mirrored about the centre plane of the car, in the same direction."""
    return shape_from_vertices(mirror(shape.vertices), shape.radii)


def are_mirror_images(one: TubeShape, other: TubeShape, tolerance: float) -> bool:
    """Return whether one tube, mirrored about the centre plane of the car, is the other.

    The direction of travel of either does not count, nor do bends that go straight through.
    A tube lying across the car may so be its own mirror image.

    Args:
        one: a tube.
        other: a tube.
        tolerance: mm; the most by which a coordinate of a vertex, or a radius, may differ.
    """
    there = _outline(mirrored(one))
    here = _outline(other)
    if there.shape != here.shape:
        return False
    backwards = there[::-1]
    return any(bool(np.all(np.abs(way - here) <= tolerance)) for way in (there, backwards))


def checked_input(points: Array, radii: Array) -> tuple[list[Triple], list[float]]:
    """Return points (k, 3) and radii (k - 2,) as plain floats once they can make a tube.

    Raises:
        NoTubeShape: if a number is not finite, a radius not above zero, or two neighbouring
            points the same.
        ValueError: if the arrays do not belong together.
    """
    if points.ndim != 2 or points.shape[1] != 3 or len(points) < 2:
        message = f"A tube needs (k, 3) points with k at least 2, not {points.shape}."
        raise ValueError(message)
    if radii.shape != (len(points) - 2,):
        message = f"{len(points)} points need {len(points) - 2} radii, not {radii.shape}."
        raise ValueError(message)
    sizes: list[float] = radii.tolist()
    corners: list[Triple] = [(x, y, z) for x, y, z in points.tolist()]
    if not all(math.isfinite(x + y + z) for x, y, z in corners):
        raise NoTubeShape("A point of the tube is not a number.")
    for bend, size in enumerate(sizes, start=1):
        if not (0.0 < size < math.inf):
            raise NoTubeShape(f"Bend {bend} has a radius of {size:g}: it must be above zero.")
    _refuse_repeats(corners)
    return corners, sizes


def legs_between(corners: Sequence[Triple]) -> tuple[list[float], list[Triple]]:
    """Return the length, mm, and the unit direction of travel of each leg between corners."""
    vectors = [difference(corners[i + 1], corners[i]) for i in range(len(corners) - 1)]
    lengths = [length(vector) for vector in vectors]
    directions = [
        (x / size, y / size, z / size) for (x, y, z), size in zip(vectors, lengths, strict=True)
    ]
    return lengths, directions


def turns_between(directions: Sequence[Triple]) -> list[float]:
    """Return the turn from each direction to the next, rad.

    Raises:
        NoTubeShape: if a bend turns back on itself, or nearly so.
    """
    turns = [_turn(directions[i], directions[i + 1]) for i in range(len(directions) - 1)]
    for bend, turn in enumerate(turns, start=1):
        if turn > LARGEST_TURN:
            raise NoTubeShape(
                f"Bend {bend} would turn by {math.degrees(turn):.1f} deg, back on itself; "
                f"the most is {math.degrees(LARGEST_TURN):.0f} deg. Split it into two bends."
            )
    return turns


def leg_words(leg: int, legs: int) -> str:
    """Return the name of a leg (from 0, of `legs` in all) by what it runs between."""
    start = "the start" if leg == 0 else f"bend {leg}"
    end = "the end" if leg == legs - 1 else f"bend {leg + 1}"
    return f"the leg from {start} to {end}"


def _refuse_repeats(corners: Sequence[Triple]) -> None:
    """Raise NoTubeShape if two neighbouring points are the same."""
    for i in range(len(corners) - 1):
        if length(difference(corners[i + 1], corners[i])) < LEAST_LEG:
            raise NoTubeShape(f"Points {i + 1} and {i + 2} of the tube lie in the same place.")


def _turn(before: Triple, after: Triple) -> float:
    """Return the angle between two unit directions, rad; acos would lose digits near 0."""
    return math.atan2(length(cross(before, after)), dot(before, after))


def _straights(legs: Sequence[float], tangents: Sequence[float]) -> list[float]:
    """Return what the bends leave straight of each leg, or raise NoTubeShape."""
    used = [0.0, *tangents, 0.0]
    left = [size - used[i] - used[i + 1] for i, size in enumerate(legs)]
    worst = min(range(len(left)), key=lambda i: left[i])
    if left[worst] < -STRAIGHT_SLACK:
        raise NoTubeShape(
            f"{leg_words(worst, len(legs)).capitalize()} is {-left[worst]:.4g} mm too short for "
            "its bends. Move the points apart or choose a smaller radius."
        )
    return [max(straight, 0.0) for straight in left]


def _midpoint(vertex: Triple, before: Triple, after: Triple, radius: float) -> Triple:
    """Return the middle of the arc of one bend.

    It lies R / cos(A/2) - R from the vertex towards the arc centre, along after - before, whose
    length is 2 sin(A/2). With s, c the sine and cosine of A/2 the factor is written so that it
    keeps its digits for the smallest turn: 1/c - 1 = s^2 / (c (1 + c)).
    """
    towards = difference(after, before)
    sine = 0.5 * length(towards)
    cosine = 0.5 * length((before[0] + after[0], before[1] + after[1], before[2] + after[2]))
    return along(vertex, towards, 0.5 * radius * sine / (cosine * (1.0 + cosine)))


def _twists(directions: Sequence[Triple], turns: Sequence[float]) -> list[float]:
    """Return the turn of the bend plane at each bend since the last one that has a plane."""
    twists: list[float] = []
    last: Triple | None = None
    for i, turn in enumerate(turns):
        if turn < LEAST_PLANE_TURN:
            twists.append(0.0)
            continue
        normal = cross(directions[i], directions[i + 1])
        twists.append(0.0 if last is None else _twist(last, normal, directions[i]))
        last = normal
    return twists


def _twist(last: Triple, normal: Triple, travel: Triple) -> float:
    """Return the angle from one plane normal to the next about the direction of travel, rad."""
    twist = math.atan2(dot(travel, cross(last, normal)), dot(last, normal))
    # Plus and minus 180 are one turn; rounding must not choose between them.
    return math.pi if twist < LEAST_PLANE_TURN - math.pi else twist


def _outline(shape: TubeShape) -> Array:
    """Return (m, 4): vertices and radii of the ends (radius 0) and of the bends that bend."""
    counts = np.concatenate([[True], shape.turns_rad >= LEAST_PLANE_TURN, [True]])
    radii = np.concatenate([[0.0], shape.radii, [0.0]])
    return np.asarray(np.column_stack([shape.vertices, radii])[counts], dtype=np.float64)
