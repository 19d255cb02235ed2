"""Where two triangles meet, and at which moment of a move: the library tells neither."""

import numpy as np

from core.geometry.types import Array

_FLAT = 1e-9
"""Share of the product of two lengths below which their cross product is taken for none."""


def meeting_place(skin: Array, ribbon: Array, otherwise: Array) -> Array:
    """Return a place where a triangle and a ribbon cross, (3,) mm.

    Args:
        skin: (3, 3) corners of the triangle, mm.
        ribbon: (4, 3) corners of a parallelogram, in order round it, mm; it may be flat.
        otherwise: (3,) answer if they touch without crossing.
    """
    halves = (ribbon[[0, 1, 2]], ribbon[[0, 2, 3]])
    for half in halves:
        for edges, face in ((half, skin), (skin, half)):
            for start, end in zip(edges, np.roll(edges, -1, axis=0), strict=True):
                place = _pierced_at(start, end, face)
                if place is not None:
                    return place
    return otherwise


def share_of_sweep(piece: Array, sweep: Array, place: Array) -> float:
    """Return at which share of a move, 0 to 1, a piece of tube is at a place of its ribbon.

    Args:
        piece: (2, 3) ends of the piece at the start, mm.
        sweep: (3,) move of the body, mm; the piece is drawn out by its opposite.
        place: (3,) on the ribbon, mm.
    """
    along, drawn, offset = piece[1] - piece[0], -sweep, place - piece[0]
    spread = float(np.sum(np.cross(along, drawn) ** 2))
    if spread > _FLAT * float(along @ along) * float(drawn @ drawn):
        share = float(np.cross(along, drawn) @ np.cross(along, offset)) / spread
        return min(max(share, 0.0), 1.0)
    # The piece lies along the move: what the piece itself does not reach, the move must.
    beyond = offset - np.clip(_share(offset, along), 0.0, 1.0) * along
    return min(max(_share(beyond, drawn), 0.0), 1.0)


def _share(of: Array, vector: Array) -> float:
    square = float(vector @ vector)
    return float(of @ vector) / square if square > 0.0 else 0.0


def _pierced_at(start: Array, end: Array, face: Array) -> Array | None:
    """Return where a segment pierces a triangle (3, 3), or None.

    Source:
        Moeller, Trumbore, Journal of Graphics Tools 2(1), 1997 (from memory).
    """
    one, other, along = face[1] - face[0], face[2] - face[0], end - start
    across = np.cross(along, other)
    scale = float(one @ across)
    if abs(scale) <= _FLAT * float(np.linalg.norm(one) * np.linalg.norm(across)):
        return None
    offset = start - face[0]
    beside = np.cross(offset, one)
    u, v, t = (float(x) / scale for x in (offset @ across, along @ beside, other @ beside))
    if u < -_FLAT or v < -_FLAT or u + v > 1.0 + _FLAT or not -_FLAT <= t <= 1.0 + _FLAT:
        return None
    return np.asarray(start + t * along, dtype=np.float64)
