"""Solids by their triangles, merged by how much of them is seen; their sharp edges scribed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.look.tokens import ColourName
from app.scene.creases import Shaded, shaded
from app.scene.layers import COLOUR_OF_LOOK, Layers
from app.scene.skin import PLAIN, Bytes, Skin, line_pieces, triangle_cells
from core.geometry.types import Array
from core.scene.posed import MovedSolid
from core.scene.records import SolidRecord

SCRIBED: frozenset[str] = frozenset({"card", "hot", "soft"})
"""Looks whose edges are scribed: what is bought, as a mock-up of card would be."""

_SAME_WITHIN = 1e-7


@dataclass(frozen=True, eq=False)
class _Known:
    """A solid as it is drawn, and as it was last moved."""

    record: SolidRecord
    shaded: Shaded
    moved: MovedSolid | None = None
    moved_shade: Shaded | None = None

    def after(self, record: MovedSolid) -> "_Known":
        if self.moved is record:
            return self
        return replace(self, moved=record, moved_shade=_turned(self.shaded, record))


class Shades:
    """Normals and edges by record; a solid that only moved has its own, shifted or turned."""

    def __init__(self) -> None:
        """Begin with none."""
        self._known: dict[tuple[object, str, int], _Known] = {}

    def of(self, records: Sequence[SolidRecord]) -> list[Shaded]:
        """The points, normals and edges of each solid."""
        old, self._known = self._known, {}
        found: list[Shaded] = []
        for record in records:
            drawn = record.drawn if isinstance(record, MovedSolid) else record
            key = (record.ref, record.part, len(record.triangles))
            known = old.get(key)
            if known is None or known.record is not drawn:
                known = _Known(drawn, _shaded_after(known, drawn))
            shade: Shaded | None = known.shaded
            if isinstance(record, MovedSolid):
                known = known.after(record)
                shade = known.moved_shade
            assert shade is not None
            self._known[key] = known
            found.append(shade)
        return found


def _turned(was: Shaded, record: MovedSolid) -> Shaded:
    back = record.rotation.T
    points, edges = was.points @ back + record.shift, was.edges @ back + record.shift
    return Shaded(points, was.normals @ back, edges)


def _shaded_after(known: _Known | None, record: SolidRecord) -> Shaded:
    if known is not None and len(known.record.vertices) == len(record.vertices):
        steps = record.vertices - known.record.vertices
        if float(np.ptp(steps, axis=0).max()) < _SAME_WITHIN:
            was = known.shaded
            return Shaded(was.points + steps[0], was.normals, was.edges + steps[0])
    return shaded(record.vertices, record.triangles)


def solid_colour(record: SolidRecord) -> ColourName:
    """The colour of a solid by name."""
    return "bought" if record.look == "card" else COLOUR_OF_LOOK[record.look]


class SolidSkin:
    """One merged mesh of solids, and one of the lines scribed on them."""

    def __init__(self, renderer: vtkRenderer) -> None:
        """Begin empty."""
        self.skin, self.edges = Skin(renderer), Skin(renderer, "lines")
        self.skin.finish(PLAIN)
        self._sizes: tuple[int, ...] = ()
        self._state: tuple[tuple[int, ...], bytes] | None = None
        self._kept: tuple[Shaded, ...] = ()  # so that no other takes one's number

    def opacity(self, share: float) -> None:
        """Set how much is seen of them."""
        self.skin.opacity(share)
        self.edges.actor.GetProperty().SetOpacity(min(1.0, 2.0 * share))

    def show(
        self, records: Sequence[SolidRecord], shades: Sequence[Shaded], layers: Layers
    ) -> None:
        """Show these solids and no others."""
        if not records:
            self.skin.clear()
            self.edges.clear()
            self._sizes, self._state = (), None
            return
        tints = [layers.tint(record.ref, solid_colour(record)) for record in records]
        state = (tuple(id(shade) for shade in shades), b"".join(t.tobytes() for t in tints))
        if state == self._state:
            return
        self._state, self._kept = state, tuple(shades)
        points = np.concatenate([shade.points for shade in shades])
        normals = np.concatenate([shade.normals for shade in shades])
        sizes = tuple(len(shade.points) for shade in shades)
        colours = np.repeat(np.array(tints, dtype=np.uint8), sizes, axis=0)
        if sizes == self._sizes:
            self.skin.overwrite(points, normals)
            self.skin.recolour(colours)
        else:
            self.skin.rebuild(points, normals, triangle_cells(len(points) // 3), colours)
            self._sizes = sizes
        self._show_edges(records, shades, layers)

    def _show_edges(
        self, records: Sequence[SolidRecord], shades: Sequence[Shaded], layers: Layers
    ) -> None:
        scribed = [
            shade.edges
            for record, shade in zip(records, shades, strict=True)
            if record.look in SCRIBED
        ]
        if not scribed:
            self.edges.clear()
            return
        show_lines(self.edges, np.concatenate(scribed), layers.tint_of_line("bought_edge"))


def show_lines(skin: Skin, pieces: Array, colour: Bytes) -> None:
    """Show lines (e, 2, 3) in one colour."""
    points = pieces.reshape(-1, 3)
    if skin.count == len(points) and len(points):
        skin.overwrite(points, None)
        skin.recolour(np.tile(colour, (len(points), 1)))
    elif len(points):
        cells = line_pieces(len(pieces))
        skin.rebuild(points, None, cells, np.tile(colour, (len(points), 1)))
    else:
        skin.clear()
