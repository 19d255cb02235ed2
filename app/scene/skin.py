"""One merged mesh on the screen whose numbers are overwritten in place."""

from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray
from vtkmodules.vtkRenderingCore import vtkRenderer

from app.scene.untyped import (
    actor_of,
    cells_of,
    handed,
    mapper_of,
    points_of,
    poly_data,
    view_of,
)
from core.geometry.types import Array

Bytes = NDArray[np.uint8]
Longs = NDArray[np.int64]


class Finish(NamedTuple):
    """How a surface takes the light: shares of the colour, and the highlight."""

    ambient: float = 0.28
    diffuse: float = 0.9
    specular: float = 0.12
    power: float = 18.0


STEEL = Finish(ambient=0.34, specular=0.22)
PLAIN = Finish()


class Skin:
    """A merged mesh of faces or lines with a colour at every point."""

    def __init__(self, renderer: vtkRenderer, kind: Literal["faces", "lines"] = "faces") -> None:
        """Begin empty; nothing is drawn of it."""
        self._kind = kind
        self.data: Any = poly_data()
        self._points: Array | None = None
        self._normals: Array | None = None
        self._colours: Bytes | None = None
        mapper = mapper_of(self.data)
        mapper.SetScalarModeToUsePointData()
        self.actor: Any = actor_of(mapper)
        self.actor.VisibilityOff()
        self.actor.GetProperty().SetInterpolationToPhong()
        if kind == "lines":
            self.actor.GetProperty().LightingOff()
        renderer.AddActor(self.actor)

    @property
    def count(self) -> int:
        """How many points there are."""
        return 0 if self._points is None else len(self._points)

    @property
    def points(self) -> Array:
        """The places drawn, (n, 3) mm; a copy."""
        return np.zeros((0, 3)) if self._points is None else np.array(self._points)

    @property
    def normals(self) -> Array:
        """The normals, (n, 3); a copy."""
        return np.zeros((0, 3)) if self._normals is None else np.array(self._normals)

    def finish(self, finish: Finish) -> None:
        """Set how it takes the light."""
        surface = self.actor.GetProperty()
        surface.SetAmbient(finish.ambient)
        surface.SetDiffuse(finish.diffuse)
        surface.SetSpecular(finish.specular)
        surface.SetSpecularPower(finish.power)

    def unlit(self) -> None:
        """Show it in its plain colours, whatever the light."""
        self.actor.GetProperty().LightingOff()

    def opacity(self, share: float) -> None:
        """Set how much of it hides what is behind; seen through, only its near side is drawn."""
        surface = self.actor.GetProperty()
        surface.SetOpacity(share)
        surface.SetBackfaceCulling(share < 1.0)

    def rebuild(self, points: Array, normals: Array | None, cells: Longs, colours: Bytes) -> None:
        """Show other faces or lines.

        Args:
            points: (n, 3) mm, car frame.
            normals: (n, 3) unit, or none for lines.
            cells: (m, k) one row a face or line: how many corners, then which.
            colours: (n, 3) red, green, blue.
        """
        self.actor.SetVisibility(len(cells) > 0)
        held = handed(np.array(points, dtype=np.float32))
        self.data.SetPoints(points_of(held))
        flat = np.ascontiguousarray(cells[:, 1:]).ravel().astype(np.int64)
        offsets = np.arange(0, len(flat) + 1, cells.shape[1] - 1, dtype=np.int64)
        made = cells_of(offsets, flat)
        (self.data.SetPolys if self._kind == "faces" else self.data.SetLines)(made)
        self._set_normals(normals)
        shown = handed(np.ascontiguousarray(colours, dtype=np.uint8))
        self.data.GetPointData().SetScalars(shown)
        self._points, self._colours = view_of(held), view_of(shown)
        self.data.Modified()

    def _set_normals(self, normals: Array | None) -> None:
        if normals is None:
            self._normals = None
            return
        made = handed(np.array(normals, dtype=np.float32))
        self.data.GetPointData().SetNormals(made)
        self._normals = view_of(made)

    def overwrite(self, points: Array, normals: Array | None, first: int = 0) -> None:
        """Move points from number `first` on; faces and colours stay."""
        assert self._points is not None
        self._points[first : first + len(points)] = points
        self.data.GetPoints().GetData().Modified()
        self.data.GetPoints().Modified()
        if normals is not None and self._normals is not None:
            self._normals[first : first + len(normals)] = normals
            self.data.GetPointData().GetNormals().Modified()
        self.data.Modified()

    def recolour(self, colours: Bytes) -> None:
        """Give every point another colour; (n, 3)."""
        if self._colours is not None and len(colours) == len(self._colours):
            self._colours[:] = colours
            self.data.GetPointData().GetScalars().Modified()
            self.data.Modified()

    def clear(self) -> None:
        """Show nothing."""
        self.actor.VisibilityOff()
        self._points = self._normals = self._colours = None


def line_pieces(count: int) -> Longs:
    """Cells of `count` lines of two points each, one pair after another."""
    ends = np.arange(2 * count, dtype=np.int64).reshape(-1, 2)
    return np.column_stack([np.full(count, 2, dtype=np.int64), ends])


def triangle_cells(count: int) -> Longs:
    """Cells of `count` triangles of three own points each."""
    corners = np.arange(3 * count, dtype=np.int64).reshape(-1, 3)
    return np.column_stack([np.full(count, 3, dtype=np.int64), corners])
