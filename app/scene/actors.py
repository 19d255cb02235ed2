"""Everything of a car on one screen: records in, actors out."""

from collections.abc import Iterable, Sequence

import numpy as np
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.scene.bars import Bar, BarSkin, Thinner, rod_bars, tube_bars
from app.scene.creases import Shaded
from app.scene.ground import Ground, Shadow
from app.scene.groups import SEEN_THROUGH, SOFT
from app.scene.layers import COLOUR_OF_LOOK, Layers
from app.scene.lights import light
from app.scene.mesh_loading import LightMesh
from app.scene.skin import PLAIN, STEEL, Bytes, Skin, line_pieces, triangle_cells
from app.scene.solids import Shades, SolidSkin
from app.scene.steel_marks import beads, marks_on
from app.scene.table import DASH, dashed, pieces_of
from app.scene.untyped import matrix_of
from core.geometry.types import Array
from core.scene.records import MeshRecord, OutlineRecord, Scene

OPACITIES = (1.0, SOFT, SEEN_THROUGH)
SCRIBED_SHARE = 0.5
"""How strongly edges are scribed on a mesh of the store, which has many of them."""

LEVEL = np.eye(4)
"""Where the table stands under a car at design."""

_BROKEN = ("opening", "zone", "keep_out", "bay")
_COLOUR_OF_OUTLINE = {"keep_out": "no", "zone": "guessed", "opening": "ink2", "bay": "ink2"}


class SceneActors:
    """The actors of one view."""

    def __init__(self, renderer: vtkRenderer) -> None:
        """Begin with a bare table."""
        light(renderer)
        self._renderer = renderer
        self.tubes = {share: BarSkin(renderer, "round", STEEL) for share in OPACITIES}
        self.rods = {share: BarSkin(renderer, "flat", PLAIN) for share in OPACITIES}
        self.solids = {share: SolidSkin(renderer) for share in OPACITIES}
        for share in OPACITIES:
            self.tubes[share].skin.opacity(share)
            self.rods[share].skin.opacity(share)
            self.solids[share].opacity(share)
        self._outlines = Skin(renderer, "lines")
        self._outlined: tuple[object, ...] = ()
        self._marks = Skin(renderer, "lines")
        self._marks.actor.GetProperty().SetLineWidth(2.0)
        self._marked: tuple[object, ...] = (None,)
        self._beads = BarSkin(renderer, "flat", PLAIN)
        self._meshes: dict[str, MeshSkin] = {}
        self.ground = Ground(renderer)
        self.ground.cast_by([self.solids[1.0].skin])
        self._thinner, self._shades = Thinner(), Shades()
        self.lines: list[Array] = []

    def show(
        self,
        scene: Scene,
        layers: Layers,
        design: Scene | None = None,
        road: Array = LEVEL,
    ) -> None:
        """Show a car.

        Args:
            scene: what to draw.
            layers: colours and switches.
            design: what the table is scribed for, where the car is shown moved.
            road: (4, 4), where the table stands.
        """
        self.lines = self._thinner.lines(scene.tubes)
        self._show_bars(scene, layers)
        self._show_solids(scene, layers)
        self._show_marks(scene, layers)
        self._show_outlines(scene.outlines, layers)
        self.ground.stand(road)
        self.ground.show(design or scene, self.lines, layers)

    def _show_bars(self, scene: Scene, layers: Layers) -> None:
        # What is steel goes with the tubes: when the frame is dragged, no other mesh changes.
        steel = [rod for rod in scene.rods if rod.look == "steel"]
        others = [rod for rod in scene.rods if rod.look != "steel"]
        tubes = [*tube_bars(scene.tubes, self.lines, layers), *rod_bars(steel)]
        of_tubes = [layers.opacity_of_tube(tube) for tube in scene.tubes]
        of_tubes += [layers.opacity(rod.ref, rod.look) for rod in steel]
        rods, of_rods = rod_bars(others), [layers.opacity(rod.ref, rod.look) for rod in others]
        for share in OPACITIES:
            self.tubes[share].show(_those(tubes, of_tubes, share), layers)
            self.rods[share].show(_those(rods, of_rods, share), layers)

    def _show_solids(self, scene: Scene, layers: Layers) -> None:
        shades = self._shades.of(scene.solids)
        for share in OPACITIES:
            some = [
                (solid, shade)
                for solid, shade in zip(scene.solids, shades, strict=True)
                if layers.opacity(solid.ref, solid.look) == share
            ]
            self.solids[share].show([s for s, _ in some], [s for _, s in some], layers)

    def _show_marks(self, scene: Scene, layers: Layers) -> None:
        """Mark on the steel how far it is made, where that is asked for."""
        shown = [
            tube for tube in scene.tubes if layers.by_state and layers.how(tube.ref) != "hidden"
        ]
        self._beads.show(beads(shown), layers)
        state = (*shown, layers.tint_of_line("ink").tobytes())
        if state == self._marked:
            return
        self._marked = state
        marks = marks_on(shown)
        if not marks:
            self._marks.clear()
            return
        tints = [np.tile(layers.tint_of_line(m.colour), (2 * len(m.pieces), 1)) for m in marks]
        points = np.concatenate([mark.pieces for mark in marks]).reshape(-1, 3)
        self._marks.rebuild(points, None, line_pieces(len(points) // 2), np.concatenate(tints))

    def _show_outlines(self, outlines: Iterable[OutlineRecord], layers: Layers) -> None:
        shown = tuple((outline, layers.how(outline.ref)) for outline in outlines)
        state = (shown, layers.tint_of_line("edge").tobytes(), layers.chosen)
        if state == self._outlined:
            return
        self._outlined = state
        pieces: list[Array] = []
        colours: list[Bytes] = []
        for outline, _ in shown:
            if layers.how(outline.ref) != "hidden":
                made = outline_pieces(outline)
                name = _COLOUR_OF_OUTLINE.get(outline.look, "edge")
                pieces.append(made)
                colour = layers.tint(outline.ref, name)  # type: ignore[arg-type]
                colours.append(np.tile(colour, (2 * len(made), 1)))
        if pieces:
            points = np.concatenate(pieces).reshape(-1, 3)
            tints = np.concatenate(colours).astype(np.uint8)
            self._outlines.rebuild(points, None, line_pieces(len(points) // 2), tints)
        else:
            self._outlines.clear()

    def show_meshes(
        self, records: Sequence[MeshRecord], ready: dict[str, LightMesh], layers: Layers
    ) -> None:
        """Show the meshes that are ready, each where its record says."""
        wanted = {f"{r.ref} {r.sha256}": r for r in records if r.sha256 in ready}
        for key in [key for key in self._meshes if key not in wanted]:
            self._meshes.pop(key).remove()
        for key, record in wanted.items():
            if key not in self._meshes:
                self._meshes[key] = MeshSkin(self._renderer, ready[record.sha256].shaded)
            self._meshes[key].show(record, layers, self.ground.road)


def outline_pieces(outline: OutlineRecord) -> Array:
    """An outline as pieces (n, 2, 3); broken where it bounds a room and not a thing."""
    line = outline.points
    if outline.closed:
        line = np.concatenate([line, line[:1]])
    return dashed(line, DASH) if outline.look in _BROKEN else pieces_of(line)


def _those(bars: Sequence[Bar], shares: Sequence[float], share: float) -> list[Bar]:
    return [bar for bar, its in zip(bars, shares, strict=True) if its == share]


class MeshSkin:
    """One mesh of the store: its numbers stay, only its place and its colours change."""

    def __init__(self, renderer: vtkRenderer, mesh: Shaded) -> None:
        """Take over a mesh that is ready."""
        self._renderer = renderer
        self._skin, self._edges = Skin(renderer), Skin(renderer, "lines")
        self._skin.finish(PLAIN)
        count, pieces = len(mesh.points), len(mesh.edges)
        blank = np.zeros((count, 3), dtype=np.uint8)
        self._skin.rebuild(mesh.points, mesh.normals, triangle_cells(count // 3), blank)
        lines = mesh.edges.reshape(-1, 3)
        self._edges.rebuild(lines, None, line_pieces(pieces), blank[:1].repeat(2 * pieces, axis=0))
        self._shadow = Shadow(renderer, self._skin)
        self._tints = b""

    def show(self, record: MeshRecord, layers: Layers, road: Array) -> None:
        """Show it at its place, its shadow on the table where that stands (4, 4)."""
        share = layers.opacity(record.ref, record.look)
        frame = np.eye(4)
        frame[:3, :3], frame[:3, 3] = record.axes, record.origin
        for skin, least in ((self._skin, 1.0), (self._edges, SCRIBED_SHARE)):
            skin.actor.SetUserMatrix(matrix_of(frame))
            skin.actor.SetVisibility(share > 0.0)
            skin.opacity(least * max(share, SEEN_THROUGH))
        self._shadow.place(frame, road)
        self._shadow.show(layers)
        self._colour(record, layers)

    def _colour(self, record: MeshRecord, layers: Layers) -> None:
        name = "bought" if record.look == "card" else COLOUR_OF_LOOK[record.look]
        tint, line = layers.tint(record.ref, name), layers.tint_of_line("bought_edge")
        tints = tint.tobytes() + line.tobytes()
        if tints != self._tints:
            self._tints = tints
            self._skin.recolour(np.tile(tint, (self._skin.count, 1)))
            self._edges.recolour(np.tile(line, (self._edges.count, 1)))

    def remove(self) -> None:
        """Take it off the screen."""
        for actor in (self._skin.actor, self._edges.actor, self._shadow.actor):
            self._renderer.RemoveActor(actor)
