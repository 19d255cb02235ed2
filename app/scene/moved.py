"""Records moved or looked up for showing; the session's own stay as they are."""

from dataclasses import replace

import numpy as np

from core.document.base import Ref, Vec3
from core.geometry.types import Array
from core.scene.records import Scene


def with_unit_moved(scene: Scene, units: frozenset[str], shift: Vec3) -> Scene:
    """Return the scene with engine and gearbox shown moved; the same scene for no move.

    Args:
        scene: at the design position.
        units: ids of the engines and gearboxes.
        shift: mm, car frame.
    """
    if not any(shift):
        return scene
    step = np.array(shift)
    meshes = tuple(
        replace(m, origin=Vec3(*(m.origin[i] + shift[i] for i in range(3))))
        if m.ref.id in units
        else m
        for m in scene.meshes
    )
    solids = tuple(
        replace(s, vertices=s.vertices + step) if s.ref.id in units else s for s in scene.solids
    )
    return replace(scene, meshes=meshes, solids=solids)


def road_under(bump: float, roll_deg: float) -> Array:
    """Return where the table stands, (4, 4), while the body is held still and the wheels move.

    Args:
        bump: how far the wheels, and so the road, rise against the body, mm.
        roll_deg: of the body, left side up above zero, about the ground's centre line.
    """
    sine, cosine = np.sin(np.radians(roll_deg)), np.cos(np.radians(roll_deg))
    frame = np.eye(4)
    frame[1:3, 1:3] = [[cosine, sine], [-sine, cosine]]
    frame[2, 3] = bump
    return frame


def places_of(scene: Scene, refs: frozenset[Ref]) -> Array:
    """Return (n, 3) mm the places at which things are."""
    found = [tube.line for tube in scene.tubes if tube.ref in refs]
    found += [rod.line for rod in scene.rods if rod.ref in refs]
    found += [solid.vertices for solid in scene.solids if solid.ref in refs]
    found += [np.array([mesh.origin]) for mesh in scene.meshes if mesh.ref in refs]
    found += [np.array([handle.at]) for handle in scene.handles if handle.ref in refs]
    return np.concatenate(found) if found else np.zeros((0, 3))
