"""Tubes and rods: all of one opacity in one merged mesh, moved in place while its faces stay."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.look.tokens import ColourName
from app.scene.layers import COLOUR_OF_LOOK, COLOUR_OF_STATE, Layers
from app.scene.skin import Bytes, Finish, Skin
from app.scene.sweeping import SIDES, Ends, Rings, faces_of, rings_for, swept, thinned
from core.document.base import Ref
from core.geometry.types import Array, unit
from core.scene.records import RodRecord, TubeRecord


@dataclass(frozen=True, eq=False)
class Bar:
    """A round bar ready to draw: its line thinned, its colour by name."""

    ref: Ref
    line: Array
    radius: float
    colour: ColourName


class Thinner:
    """Thinned lines by record, so that a line that did not change is not thinned again."""

    def __init__(self) -> None:
        """Begin with none."""
        self._known: dict[int, tuple[TubeRecord, Array]] = {}

    def lines(self, tubes: Sequence[TubeRecord]) -> list[Array]:
        """The thinned line of each tube."""
        known = self._known
        self._known = {
            id(tube): known[id(tube)]
            if id(tube) in known and known[id(tube)][0] is tube
            else (tube, thinned(tube.line))
            for tube in tubes
        }
        return [self._known[id(tube)][1] for tube in tubes]


def tube_bars(tubes: Sequence[TubeRecord], lines: Sequence[Array], layers: Layers) -> list[Bar]:
    """The tubes as bars, coloured by state where that is asked for."""
    return [
        Bar(tube.ref, line, tube.radius, _tube_colour(tube, layers))
        for tube, line in zip(tubes, lines, strict=True)
    ]


def _tube_colour(tube: TubeRecord, layers: Layers) -> ColourName:
    if layers.by_state:
        return COLOUR_OF_STATE[tube.state]
    return "hoop" if tube.hoop else "tube"


def rod_bars(rods: Sequence[RodRecord]) -> list[Bar]:
    """The rods as bars; a spring as its wire."""
    return [_rod_bar(rod) for rod in rods]


def _rod_bar(rod: RodRecord) -> Bar:
    colour = COLOUR_OF_LOOK[rod.look]
    if rod.part == "spring" and len(rod.line) == 2:
        return Bar(rod.ref, coil(rod.line, rod.radius - WIRE), WIRE, colour)
    return Bar(rod.ref, rod.line, rod.radius, colour)


WIRE, COILS, POINTS_A_COIL = 5.0, 6, 11
"""A spring as it is drawn: mm half of its wire, turns, and places on each; for drawing only."""


def coil(line: Array, radius: float) -> Array:
    """Return a helix round a straight line (2, 3), mm."""
    along = unit(line[1] - line[0])
    square = np.cross(along, AIMS[int(np.argmin(np.abs(along)))])
    aside = unit(np.asarray(square, dtype=np.float64))
    third = np.cross(along, aside)
    share = np.linspace(0.0, 1.0, COILS * POINTS_A_COIL + 1)
    turns = share * COILS * 2.0 * np.pi
    spokes = np.outer(np.cos(turns), aside) + np.outer(np.sin(turns), third)
    return np.asarray(line[0] + np.outer(share, line[1] - line[0]) + radius * spokes)


AIMS = np.eye(3)


class BarSkin:
    """One merged mesh of bars."""

    def __init__(self, renderer: vtkRenderer, ends: Ends, finish: Finish) -> None:
        """Begin empty."""
        self.skin = Skin(renderer)
        self.skin.finish(finish)
        self._ends: Ends = ends
        self._rings: Rings | None = None
        self._colours: Bytes = np.zeros((0, 3), dtype=np.uint8)
        self._places = self._radii = np.zeros(0)
        self.rebuilt = 0
        """How often the faces had to be made anew; a drag of a joint needs none."""

    def show(self, bars: Sequence[Bar], layers: Layers) -> None:
        """Show these bars and no others."""
        if not bars:
            if self._rings is not None:
                self.skin.clear()
                self._rings = None
            return
        places = np.concatenate([bar.line for bar in bars])
        radii = np.array([bar.radius for bar in bars])
        counts = tuple(len(bar.line) for bar in bars)
        colours = np.array([layers.tint(bar.ref, bar.colour) for bar in bars], dtype=np.uint8)
        if self._rings is None or self._rings.counts != counts:
            self._build(counts, places, radii, colours)
            return
        if not np.array_equal(places, self._places) or not np.array_equal(radii, self._radii):
            self._places, self._radii = places, radii
            self.skin.overwrite(*swept(self._rings, places, radii))
        if not np.array_equal(colours, self._colours):
            self._colours = colours
            self.skin.recolour(colours[self._rings.points_of_bar()])

    def _build(self, counts: tuple[int, ...], places: Array, radii: Array, colours: Bytes) -> None:
        rings = rings_for(counts, self._ends)
        points, normals = swept(rings, places, radii)
        self.skin.rebuild(points, normals, faces_of(rings), colours[rings.points_of_bar()])
        self._rings, self._colours = rings, colours
        self._places, self._radii = places, radii
        self.rebuilt += 1

    def points(self) -> int:
        """How many points the mesh has."""
        return 0 if self._rings is None else len(self._rings.bar) * SIDES
