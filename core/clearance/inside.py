"""Whether a line lies wholly inside a body, which a distance to its skin cannot tell."""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from core.clearance.bodies import Body
from core.clearance.lines import LineGroup
from core.clearance.pieces import ClosedPiece, OpenRest
from core.geometry.frames import Frame
from core.geometry.types import Array

LEAST_HALF = 1e-3
"""Half the thickness, mm, that even a flat open mesh is given, so that it can be divided by."""

Where = tuple[int, int]
"""A line: number of its group, and its position in it."""


def lines_inside(body: Body, place: Frame, groups: Sequence[LineGroup]) -> frozenset[Where]:
    """Return the lines of which a tested place lies inside the body.

    A line that does not meet the skin of a closed piece lies inside it with all its places or
    with none: its first one tells, and is tested only if both ends lie within the bounds. A
    piece counts whichever way its triangles face, and so does a sealed cavity in it: no tube
    could get there. Of an open mesh one place of each line is tested, the one nearest to the
    middle of its bounds; the answer is then an estimate.

    Args:
        body: in its own frame.
        place: of the body in the car.
        groups: lines in the car frame; if swept, they are taken at the start of the move.
    """
    found = list(_inside_closed(body, place, groups))
    if body.open_rest is not None:
        found += _inside_open(body.open_rest, place, groups)
    return frozenset(found)


def _inside_closed(body: Body, place: Frame, groups: Sequence[LineGroup]) -> Iterator[Where]:
    """Yield the lines inside a closed piece."""
    # All groups at once: with one group a line, anything done for each costs more than measuring.
    ends = place.from_car(np.concatenate([group.ends for group in groups]))
    near = np.flatnonzero(_within(body.bounds, ends))
    if not len(near):
        return
    owners = [(n, at) for n, group in enumerate(groups) for at in range(len(group.lines))]
    for number in near:
        if any(_holds(piece, ends[number]) for piece in body.closed_pieces):
            yield owners[number]


def _inside_open(rest: OpenRest, place: Frame, groups: Sequence[LineGroup]) -> Iterator[Where]:
    """Yield the lines that an open mesh probably holds."""
    low, high = rest.bounds
    half = np.maximum((high - low) / 2.0, LEAST_HALF)
    for number, group in enumerate(groups):
        samples = place.from_car(group.samples)
        away = np.max(np.abs(samples - (low + high) / 2.0) / half, axis=1)
        least = np.minimum.reduceat(away, group.sample_starts)
        for position in np.flatnonzero(least <= 1.0).tolist():
            start = int(group.sample_starts[position])
            # The first place as near to the middle as the nearest is the nearest itself.
            nearest = start + int(np.argmax(away[start:] == least[position]))
            if rest.holds(samples[nearest]):
                yield number, position


def _holds(piece: ClosedPiece, ends: Array) -> bool:
    return bool(_within(piece.bounds, ends[None])[0]) and piece.holds(ends[0])


def _within(bounds: Array, ends: Array) -> NDArray[np.bool_]:
    """Return for each pair of ends (n, 2, 3) whether both lie within the bounds (2, 3)."""
    return np.asarray(np.all((ends >= bounds[0]) & (ends <= bounds[1]), axis=(1, 2)))
