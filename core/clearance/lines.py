"""Tubes as thickened centre lines, alone or in groups of one radius, at rest or swept."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from core.clearance.distances import Solid, solid_of
from core.geometry.meshes import IntArray, content_key
from core.geometry.triples import Triple
from core.geometry.types import Array, read_only

SAMPLE_SPACING = 25.0
"""Places along a line from which one is picked to test whether the line lies inside an open
mesh, mm. It never touches a gap. Own rule."""

_AT_REST = (0.0, 0.0, 0.0)


@dataclass(frozen=True, eq=False, slots=True)
class Line:
    """A round tube: its centre line, and half its outside diameter. Equal if the numbers are.

    Attributes:
        points: (n, 3) mm, car frame, at least two; a bend comes as points on its arc.
        radius: mm.
        key: digest of the content.

    Raises:
        ValueError: if there are not two points, or a figure is not finite and usable.
    """

    points: Array
    radius: float
    key: bytes = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Check the numbers and keep a read-only copy."""
        points = read_only(self.points)
        if points.ndim != 2 or points.shape[1] != 3 or len(points) < 2:
            raise ValueError("A centre line needs at least two points of x, y and z.")
        if not np.all(np.isfinite(points)) or not 0.0 < self.radius < math.inf:
            raise ValueError("A tube needs finite points and an outside radius above zero.")
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "key", content_key(points, np.array([self.radius])))

    def __eq__(self, other: object) -> bool:
        """Return whether the other line has the same numbers."""
        return isinstance(other, Line) and self.key == other.key

    def __hash__(self) -> int:
        """Return a hash of the content."""
        return hash(self.key)


@dataclass(frozen=True, eq=False, slots=True)
class LineGroup:
    """Lines of one radius in one tree; equal if all numbers are equal.

    At rest each piece of a line is a triangle that repeats a corner. If the body is to move by
    `sweep`, each piece is drawn out by the opposite into a ribbon of two triangles: the gap of
    the body to the ribbons is the least gap at any place of the move.

    Attributes:
        lines: all of one radius.
        numbers: for each line the number it has where it comes from.
        sweep: straight move of the body past the lines, mm, car frame.
        key: digest of the content.
        points: (n, 3) all points of the lines, mm, car frame.
        segments: (s, 2) pieces of the centre lines as pairs of points.
        line_of_segment: (s,) position in `lines`.
        ends: (k, 2, 3) first and last point of each line, mm, car frame.
        samples: (p, 3) places along the lines, mm, car frame.
        sample_starts: (k,) where the samples of each line start.
        solid: the tree; triangle i belongs to segment i at rest, to segment i // 2 if swept.

    Raises:
        ValueError: if there is no line, radii or the count of numbers differ, or the move is
            not finite.
    """

    lines: tuple[Line, ...]
    numbers: tuple[int, ...]
    sweep: Triple = _AT_REST
    key: bytes = field(init=False, repr=False)
    points: Array = field(init=False, repr=False)
    segments: IntArray = field(init=False, repr=False)
    line_of_segment: IntArray = field(init=False, repr=False)
    ends: Array = field(init=False, repr=False)
    samples: Array = field(init=False, repr=False)
    sample_starts: IntArray = field(init=False, repr=False)
    solid: Solid = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Lay the lines end to end and build the tree."""
        if len({line.radius for line in self.lines}) != 1 or len(self.numbers) != len(self.lines):
            raise ValueError("A group needs lines of one radius and one number for each.")
        if not all(math.isfinite(share) for share in self.sweep):
            raise ValueError("A move needs finite x, y and z.")
        points = read_only(np.concatenate([line.points for line in self.lines]))
        segments, owner = _segments([len(line.points) for line in self.lines])
        samples, starts = _samples(points[segments], owner)
        figures = np.array([*self.numbers, *self.sweep])
        for name, value in {
            "key": content_key(figures) + b"".join(line.key for line in self.lines),
            "points": points,
            "segments": segments,
            "line_of_segment": owner,
            "ends": read_only([line.points[[0, -1]] for line in self.lines]),
            "samples": samples,
            "sample_starts": starts,
            "solid": _ribbons(points, segments, self.sweep),
        }.items():
            object.__setattr__(self, name, value)

    def __eq__(self, other: object) -> bool:
        """Return whether the other group has the same numbers."""
        return isinstance(other, LineGroup) and self.key == other.key

    def __hash__(self) -> int:
        """Return a hash of the content."""
        return hash(self.key)

    @property
    def radius(self) -> float:
        """Outside radius of every line, mm."""
        return self.lines[0].radius

    @property
    def is_swept(self) -> bool:
        """Whether the group stands for a move."""
        return self.sweep != _AT_REST

    def segment_of(self, triangle: int) -> int:
        """Return the segment that a triangle of the tree belongs to."""
        return triangle // 2 if self.is_swept else triangle


def grouped(lines: Sequence[Line]) -> tuple[LineGroup, ...]:
    """Return the lines in one group for each radius, smallest first; quickest for the least gap."""
    groups: list[LineGroup] = []
    for radius in sorted({line.radius for line in lines}):
        numbers = tuple(n for n, line in enumerate(lines) if line.radius == radius)
        groups.append(LineGroup(tuple(lines[n] for n in numbers), numbers))
    return tuple(groups)


def one_by_one(lines: Sequence[Line]) -> tuple[LineGroup, ...]:
    """Return each line as a group of its own, for one answer a line."""
    return tuple(LineGroup((line,), (number,)) for number, line in enumerate(lines))


def swept(group: LineGroup, sweep: Triple) -> LineGroup:
    """Return the lines drawn out for a straight move of the body by `sweep`, mm, car frame."""
    return LineGroup(group.lines, group.numbers, sweep)


def _segments(counts: list[int]) -> tuple[IntArray, IntArray]:
    """Return pairs of neighbouring points, and the line of each pair."""
    line_of_point = np.repeat(np.arange(len(counts), dtype=np.int32), counts)
    start = np.flatnonzero(line_of_point[:-1] == line_of_point[1:]).astype(np.int32)
    return np.stack([start, start + 1], axis=1), line_of_point[start]


def _ribbons(points: Array, segments: IntArray, sweep: Triple) -> Solid:
    """Return the tree of the segments, drawn out by the opposite of `sweep`."""
    start, end = segments[:, 0], segments[:, 1]
    if sweep == _AT_REST:
        return solid_of(points, np.stack([start, end, end], axis=1))
    drawn = np.concatenate([points, points - np.array(sweep)])
    size = np.int32(len(points))
    near = np.stack([start, end, end + size], axis=1)
    far = np.stack([start, end + size, start + size], axis=1)
    return solid_of(drawn, np.stack([near, far], axis=1).reshape(-1, 3))


def _samples(segments: Array, owner: IntArray) -> tuple[Array, IntArray]:
    """Return places along segments (s, 2, 3), ends included, and where each line's start."""
    lengths = np.sqrt(np.sum((segments[:, 1] - segments[:, 0]) ** 2, axis=1))
    counts = np.maximum(1, np.ceil(lengths / SAMPLE_SPACING)).astype(np.int64) + 1
    first = np.cumsum(counts) - counts
    of = np.repeat(np.arange(len(counts)), counts)
    share = (np.arange(len(of)) - first[of]) / (counts[of] - 1)
    places = segments[of, 0] + share[:, None] * (segments[of, 1] - segments[of, 0])
    starts = np.searchsorted(owner[of], np.arange(int(owner[-1]) + 1))
    return read_only(places), starts.astype(np.int32)
