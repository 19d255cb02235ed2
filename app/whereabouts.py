"""Where in the car a thing is, going by what is drawn of it."""

from collections.abc import Iterable, Iterator

import numpy as np

from core.document.base import Ref
from core.geometry.types import Array
from core.scene.records import Scene


def place_of(scene: Scene, refs: Iterable[Ref]) -> Array | None:
    """The middle (3,) of things in mm, car frame; nothing if none of them is drawn."""
    middles = [middle for ref in refs if (middle := _middle(scene, ref)) is not None]
    return np.mean(middles, axis=0) if middles else None


def _middle(scene: Scene, ref: Ref) -> Array | None:
    """The handle of the thing itself where it has one, else the middle of all that is drawn."""
    own = [handle.at for handle in scene.handles if handle.ref == ref]
    if own:
        return np.asarray(own[0], dtype=np.float64)
    drawn = list(_drawn(scene, ref))
    if not drawn:
        return None
    points = np.concatenate(drawn)
    middle: Array = (points.min(axis=0) + points.max(axis=0)) / 2.0
    return middle


def _drawn(scene: Scene, ref: Ref) -> Iterator[Array]:
    for line in (*scene.tubes, *scene.rods):
        if line.ref == ref:
            yield line.line
    for solid in scene.solids:
        if solid.ref == ref:
            yield solid.vertices
    for mesh in scene.meshes:
        if mesh.ref == ref:
            yield np.asarray([mesh.origin], dtype=np.float64)
    for outline in scene.outlines:
        if outline.ref == ref:
            yield outline.points
