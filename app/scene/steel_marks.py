"""Marks on steel that say how far it is made: lines and beads on the tube, not colours alone."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from app.look.tokens import ColourName
from app.scene.bars import Bar
from app.scene.table import dashed, pieces_of
from core.geometry.types import Array
from core.scene.records import TubeRecord

CENTRE = ((70.0, True), (16.0, False), (8.0, True), (16.0, False))
SAW = (14.0, 24.0)
BEAD = 9.0
CROSS = 45.0
PROUD = 1.5
"""mm: the line of a planned tube's centre, the two saw lines from an end, the length of a weld's
bead, half a spoilt tube's cross, and how far marks stand off the steel. For drawing only."""

_TURNS = np.linspace(0.0, 2.0 * np.pi, 17)


class Mark(NamedTuple):
    """Lines of one colour, as pieces (n, 2, 3), mm."""

    colour: ColourName
    pieces: Array


def marks_on(tubes: Sequence[TubeRecord]) -> list[Mark]:
    """The lines that mark the state of each tube."""
    return [mark for tube in tubes for mark in _MARKS[tube.state](tube)]


def _planned(tube: TubeRecord) -> list[Mark]:
    return [Mark("ink2", dashed(tube.line, CENTRE))]


def _cut(tube: TubeRecord) -> list[Mark]:
    rings = [_ring(tube, end, away) for end in (0, -1) for away in SAW]
    return [Mark("ink", np.concatenate(rings))]


def _bent(tube: TubeRecord) -> list[Mark]:
    rings = [_ring_at(tube, i) for i in _bend_ends(tube.line)]
    return [*_cut(tube), *(Mark("ink", ring) for ring in rings)]


def _tacked(tube: TubeRecord) -> list[Mark]:
    """Four short strokes round each end."""
    strokes: list[Array] = []
    for end in (0, -1):
        place, along, aside, third = _frame(tube.line, end)
        for spoke in (aside, third, -aside, -third):
            start = place + (tube.radius + PROUD) * spoke
            strokes.append(np.array([[start, start + 2.0 * BEAD * along]]))
    return [Mark("ink", np.concatenate(strokes))]


def _welded(tube: TubeRecord) -> list[Mark]:
    rings = [_ring(tube, end, away, 4.0) for end in (0, -1) for away in (2.0, 5.0, 8.0)]
    return [Mark("ink", np.concatenate(rings))]


def _spoilt(tube: TubeRecord) -> list[Mark]:
    """Crosses all along: two lines winding round the tube, one each way."""
    lengths = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(tube.line, axis=0), axis=1))])
    count = max(2, int(lengths[-1] / CROSS * 4))
    at: Array = np.linspace(0.0, float(lengths[-1]), count)
    places = np.stack([np.interp(at, lengths, tube.line[:, i]) for i in range(3)], axis=-1)
    _, _, aside, third = _frame(tube.line, 0)
    found: list[Array] = []
    for sense in (1.0, -1.0):
        angles = sense * at / CROSS * np.pi / 2.0
        spokes = np.outer(np.cos(angles), aside) + np.outer(np.sin(angles), third)
        found.append(pieces_of(places + (tube.radius + PROUD) * spokes))
    return [Mark("no", np.concatenate(found))]


_MARKS = {
    "planned": _planned,
    "cut": _cut,
    "bent": _bent,
    "tacked": _tacked,
    "welded": _welded,
    "spoilt": _spoilt,
}


def beads(tubes: Sequence[TubeRecord]) -> list[Bar]:
    """The bead at each end of a welded tube."""
    found: list[Bar] = []
    for tube in tubes:
        if tube.state == "welded":
            for end in (0, -1):
                place, along, _, _ = _frame(tube.line, end)
                line = np.array([place, place + BEAD * along])
                found.append(Bar(tube.ref, line, tube.radius + 3.0, "steel_welded"))
    return found


def _frame(line: Array, end: int) -> tuple[Array, Array, Array, Array]:
    """An end, the direction into the tube, and two directions square to it."""
    step = line[1] - line[0] if end == 0 else line[-2] - line[-1]
    along = step / max(float(np.linalg.norm(step)), 1e-9)
    aside = np.cross(along, np.eye(3)[int(np.argmin(np.abs(along)))])
    aside /= np.linalg.norm(aside)
    return line[end], along, aside, np.asarray(np.cross(along, aside), dtype=np.float64)


def _ring(tube: TubeRecord, end: int, away: float, proud: float = PROUD) -> Array:
    place, along, aside, third = _frame(tube.line, end)
    return _circle(place + away * along, aside, third, tube.radius + proud)


def _ring_at(tube: TubeRecord, number: int) -> Array:
    piece = tube.line[number : number + 2] if number == 0 else tube.line[number - 1 : number + 1]
    _, _, aside, third = _frame(piece, 0)
    return _circle(tube.line[number], aside, third, tube.radius + PROUD)


def _circle(middle: Array, aside: Array, third: Array, radius: float) -> Array:
    spokes = np.outer(np.cos(_TURNS), aside) + np.outer(np.sin(_TURNS), third)
    return pieces_of(middle + radius * spokes)


def _bend_ends(line: Array) -> list[int]:
    """Numbers of the places at which bends start and end: between a long piece and short ones."""
    lengths = np.linalg.norm(np.diff(line, axis=0), axis=1)
    if len(lengths) < 4:
        return []
    is_leg = lengths > 4.0 * np.median(lengths)
    return [i + 1 for i in range(len(lengths) - 1) if is_leg[i] != is_leg[i + 1]]
