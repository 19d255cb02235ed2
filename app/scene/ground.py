"""The table on the screen: its lines, the floor drawing, and the flat shadow of the car."""

from typing import Any

import numpy as np
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.scene.groups import Shown
from app.scene.layers import Layers, rgb
from app.scene.skin import Skin
from app.scene.solids import show_lines
from app.scene.table import (
    SHADOW_AT,
    Extent,
    Wheels,
    edge_lines,
    extent_of,
    floor_drawing,
    scribed_lines,
    wheels_of,
)
from app.scene.untyped import actor_of, mapper_of, matrix_of
from core.geometry.types import Array
from core.scene.records import Scene

DRAWING_SHARE = 0.42
"""How strongly the floor drawing stands out from the table."""

FLAT = 1e-4
"""What height is squashed by in a shadow; not to nothing, for that could not be turned back."""


class Shadow:
    """The flat shadow of a merged mesh; its numbers are the mesh's own, squashed on the way."""

    def __init__(self, renderer: vtkRenderer, skin: Skin) -> None:
        """Share the numbers of a mesh."""
        mapper = mapper_of(skin.data)
        mapper.ScalarVisibilityOff()
        self._skin = skin
        self.actor: Any = actor_of(mapper)
        self.actor.GetProperty().LightingOff()
        renderer.AddActor(self.actor)
        self.place(np.eye(4), np.eye(4))

    def place(self, frame: Array, road: Array) -> None:
        """Follow a mesh that stands at (4, 4), on a table that stands at (4, 4)."""
        squashed = np.diag([1.0, 1.0, FLAT, 1.0]) @ frame
        squashed[2, 3] = SHADOW_AT
        self.actor.SetUserMatrix(matrix_of(road @ squashed))

    def show(self, layers: Layers) -> None:
        """Take the colour of shadows, or go where nothing casts one."""
        casts = bool(self._skin.actor.GetVisibility())
        self.actor.SetVisibility(casts and layers.shown["Floor drawing"] != "hidden")
        colour = layers.palette.colour("shadow")
        self.actor.GetProperty().SetColor(colour.redF(), colour.greenF(), colour.blueF())


class Ground:
    """Everything that lies on the table."""

    def __init__(self, renderer: vtkRenderer) -> None:
        """Begin with a bare table."""
        self._renderer = renderer
        self._edge, self._scribed = Skin(renderer, "lines"), Skin(renderer, "lines")
        self._drawing = Skin(renderer)
        self._drawing.unlit()
        self._shadows: list[Shadow] = []
        self.road = np.eye(4)
        self._edged: tuple[Extent, bytes] | None = None
        self._stood: tuple[Extent, bytes, Wheels] | None = None
        self._scribed_for: tuple[Scene, bytes] | None = None
        self._drawn: tuple[tuple[int, ...], Shown, Shown] | None = None
        self._kept: list[Array] = []  # so that no other takes one's number

    def cast_by(self, skins: list[Skin]) -> None:
        """Let these merged meshes cast a flat shadow."""
        self._shadows += [Shadow(self._renderer, skin) for skin in skins]

    def stand(self, road: Array) -> None:
        """Stand at (4, 4): raised and tilted where the body is held still and the wheels move."""
        if np.array_equal(road, self.road):
            return
        self.road = road
        for skin in (self._edge, self._scribed, self._drawing):
            skin.actor.SetUserMatrix(matrix_of(road))
        for shadow in self._shadows:
            shadow.place(np.eye(4), road)

    def show(self, scene: Scene, lines: list[Array], layers: Layers) -> None:
        """Show the table of a car.

        Args:
            scene: what stands on it.
            lines: the thinned line of each tube.
            layers: colours and switches.
        """
        self._show_table(scene, layers)
        self._show_drawing(scene, lines, layers)
        for shadow in self._shadows:
            shadow.show(layers)

    def _show_table(self, scene: Scene, layers: Layers) -> None:
        """Scribe the table anew where the car outgrew it, or its axles moved."""
        tint = layers.tint_of_line("edge")
        last = self._scribed_for
        if last is not None and last[0] is scene and last[1] == tint.tobytes():
            return
        self._scribed_for = (scene, tint.tobytes())
        extent = extent_of(scene)
        if (extent, tint.tobytes()) != self._edged:
            self._edged = (extent, tint.tobytes())
            show_lines(self._edge, edge_lines(extent), tint)
        stands = (extent, tint.tobytes(), wheels_of(scene))
        if stands != self._stood:
            self._stood = stands
            show_lines(self._scribed, scribed_lines(scene, extent), tint)

    def _show_drawing(self, scene: Scene, lines: list[Array], layers: Layers) -> None:
        shown = (layers.shown["Floor drawing"], layers.shown["Frame"])
        state = (tuple(id(line) for line in lines), *shown)
        if state == self._drawn:
            return
        self._drawn, self._kept = state, lines
        if "hidden" in shown:
            self._drawing.clear()
            return
        corners = floor_drawing(scene.tubes, lines)
        points = corners.reshape(-1, 3)
        if len(points) == 0:
            self._drawing.clear()
            return
        steel = rgb(layers.palette.colour("tube")).astype(np.float64)
        table = rgb(layers.palette.colour("table_near")).astype(np.float64)
        share = DRAWING_SHARE * (0.5 if layers.shown["Floor drawing"] == "see-through" else 1.0)
        colour = np.tile((share * steel + (1.0 - share) * table).astype(np.uint8), (len(points), 1))
        if self._drawing.count == len(points):
            self._drawing.overwrite(points, None)
            self._drawing.recolour(colour)
            return
        numbers = np.arange(len(points), dtype=np.int64).reshape(-1, 4)
        cells = np.column_stack([np.full(len(numbers), 4, dtype=np.int64), numbers])
        self._drawing.rebuild(points, None, cells, colour)

    def forget_colours(self) -> None:
        """Make the floor drawing anew next time, as after a change of theme."""
        self._drawing.clear()
        self._drawn = None
