"""Round bars along lines, all at once: the points, normals and faces of one merged mesh."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from core.geometry.meshes import IntArray
from core.geometry.types import Array

Ends = Literal["round", "flat"]
Bytes = NDArray[np.uint8]

SIDES = 16
"""Flat sides of a bar; its normals are those of the true round, so none is seen."""

STEP_DEG = 5.0
"""Turn of the centre line from ring to ring. On a centre-line radius of 150 mm the drawn line
stays within 0.15 mm of the arc: R (1 - cos(step/2))."""

_DIAGONAL = 0.5**0.5
_CAPS: dict[Ends, tuple[tuple[float, float, float, float], ...]] = {
    # ahead of the end, share of the radius, and the normal ahead and outwards
    "round": ((_DIAGONAL, _DIAGONAL, _DIAGONAL, _DIAGONAL), (1.0, 0.0, 1.0, 0.0)),
    "flat": ((0.0, 1.0, 1.0, 0.0), (0.0, 0.0, 1.0, 0.0)),
}
_ANGLES = np.arange(SIDES) * (2.0 * np.pi / SIDES)
_COS, _SIN = np.cos(_ANGLES), np.sin(_ANGLES)


def _unit_rows(rows: list[list[int]]) -> Array:
    made = np.array(rows, dtype=np.float64)
    return np.asarray(made / np.linalg.norm(made, axis=1, keepdims=True), dtype=np.float64)


_AIMS = _unit_rows(
    [[1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, 0], [1, -1, 0], [1, 0, 1], [1, 0, -1], [0, 1, 1],
     [0, 1, -1], [1, 1, 1], [1, 1, -1], [1, -1, 1], [-1, 1, 1]]
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Rings:
    """How the rings of many bars follow from the places of their lines; kept while that does.

    Attributes:
        counts: (k,) places on each line.
        ends: how bars end.
        place: (r,) for each ring the number of its place among all places.
        bar: (r,) for each ring the number of its bar.
        shape: (r, 4) ahead, share of the radius, normal ahead, normal outwards.
    """

    counts: tuple[int, ...]
    ends: Ends
    place: IntArray
    bar: IntArray
    shape: Array

    def points_of_bar(self) -> IntArray:
        """Return for each point of the mesh the number of its bar."""
        return np.repeat(self.bar, SIDES)


def rings_for(counts: Sequence[int], ends: Ends) -> Rings:
    """Return the rings of bars with so many places on each line, two or more."""
    places: list[IntArray] = []
    bars: list[IntArray] = []
    shapes: list[Array] = []
    first = 0
    for bar, count in enumerate(counts):
        place, shape = _one_bar(first, count, ends)
        places.append(place)
        shapes.append(shape)
        bars.append(np.full(len(place), bar, dtype=np.int32))
        first += count
    return Rings(
        tuple(counts), ends, np.concatenate(places), np.concatenate(bars), np.concatenate(shapes)
    )


def _one_bar(first: int, count: int, ends: Ends) -> tuple[IntArray, Array]:
    cap = np.array(_CAPS[ends])
    start = cap[::-1] * [-1.0, 1.0, -1.0, 1.0]
    body = np.tile([0.0, 1.0, 0.0, 1.0], (count, 1))
    last = first + count - 1
    place = np.concatenate(
        [np.full(len(cap), first), np.arange(first, last + 1), np.full(len(cap), last)]
    )
    return place.astype(np.int32), np.concatenate([start, body, cap])


def faces_of(rings: Rings) -> NDArray[np.int64]:
    """Return the four-cornered faces as one row each: 4, a, b, c, d."""
    count = len(rings.bar)
    joined = np.flatnonzero(rings.bar[:-1] == rings.bar[1:]) if count else np.arange(0)
    here = joined[:, None] * SIDES + np.arange(SIDES)
    turned = joined[:, None] * SIDES + (np.arange(SIDES) + 1) % SIDES
    corners = np.stack([here, turned, turned + SIDES, here + SIDES], axis=-1).reshape(-1, 4)
    return np.column_stack([np.full(len(corners), 4), corners]).astype(np.int64)


def swept(rings: Rings, places: Array, radii: Array) -> tuple[Array, Array]:
    """Return points and normals of the bars' skin.

    Args:
        rings: made for lines of these lengths.
        places: (n, 3) the lines one after another, mm, car frame.
        radii: (k,) outside radius of each bar, mm.

    Returns:
        Two arrays (r * SIDES, 3).
    """
    along = _along(places, rings.counts)
    aside = _aside(along, rings.counts)
    third = np.cross(along, aside)
    spokes = (
        aside[rings.place, None, :] * _COS[None, :, None]
        + third[rings.place, None, :] * _SIN[None, :, None]
    )
    ahead, share, normal_ahead, normal_out = (rings.shape[:, i, None] for i in range(4))
    radius = radii[rings.bar, None]
    centres = places[rings.place] + along[rings.place] * (ahead * radius)
    points = centres[:, None, :] + spokes * (share * radius)[:, :, None]
    normals = along[rings.place][:, None, :] * normal_ahead[:, :, None]
    normals = normals + spokes * normal_out[:, :, None]
    return points.reshape(-1, 3), normals.reshape(-1, 3)


def _along(places: Array, counts: Sequence[int]) -> Array:
    """Direction of travel at each place: the mean of the pieces before and after it."""
    steps = np.zeros_like(places)
    steps[:-1] = np.diff(places, axis=0)
    lasts = np.cumsum(counts) - 1
    steps[lasts] = 0.0
    steps /= np.maximum(np.linalg.norm(steps, axis=1, keepdims=True), 1e-12)
    before = np.roll(steps, 1, axis=0)
    mean = steps + before
    return np.asarray(mean / np.maximum(np.linalg.norm(mean, axis=1, keepdims=True), 1e-12))


def _aside(along: Array, counts: Sequence[int]) -> Array:
    """A direction square to the travel that turns little along each bar."""
    firsts = np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(np.intp)
    likeness = np.maximum.reduceat(np.abs(along @ _AIMS.T), firsts, axis=0)
    aims = np.repeat(_AIMS[np.argmin(likeness, axis=1)], counts, axis=0)
    square = aims - np.sum(aims * along, axis=1, keepdims=True) * along
    return np.asarray(square / np.linalg.norm(square, axis=1, keepdims=True), dtype=np.float64)


FEW = 4
"""A line of no more places than this is drawn as it is."""


def thinned(line: Array) -> Array:
    """Return a line with fewer places on its bends: one every few degrees, and both ends of each.

    Args:
        line: (n, 3) mm.
    """
    if len(line) <= FEW:
        return line
    steps = np.diff(line, axis=0)
    lengths = np.linalg.norm(steps, axis=1)
    ways = steps / np.maximum(lengths, 1e-12)[:, None]
    turns = np.degrees(np.arccos(np.clip(np.sum(ways[:-1] * ways[1:], axis=1), -1.0, 1.0)))
    so_far = np.floor(np.concatenate([[0.0], np.cumsum(turns)]) / STEP_DEG + 1e-6)
    keep = np.ones(len(line), dtype=bool)
    keep[1:-1] = np.diff(so_far) > 0
    straight = lengths > 4.0 * np.median(lengths)
    keep[:-1] |= straight
    keep[1:] |= straight
    return line[keep]
