"""How much of a force the tubes that meet at a joint take along themselves."""

import numpy as np

from core.geometry.types import Array, unit

LEAST_SINE = 0.1
"""Tubes within 6 degrees of one line or one plane count as in it: across, they would take a force
only by many times its size. Own choice."""


ON_LINE = 1.0
"""mm by which a straight piece of tube may miss a joint and still be said to lead there."""


def ways_at(line: Array, place: Array) -> Array:
    """Return the directions (ways, 3) unit in which a tube leads away from a joint on it.

    At a bend both straight pieces lead there, for they meet where they would without the bend.

    Args:
        line: (n, 3) mm, centre line of the tube; bends as chords.
        place: (3,) mm, the joint.
    """
    along = unit(np.diff(line, axis=0))
    off = np.linalg.norm(np.cross(place - line[:-1], along), axis=1)
    found = along[off < ON_LINE]
    return found if len(found) else along[[int(np.argmin(off))]]


def share_along(force: Array, tubes: Array) -> float:
    """Return the part of a force, 0 to 1, that tubes can take by push and pull alone.

    The rest is square to all of them and bends them. Two tubes take what lies in their plane,
    three that are in no plane take everything.

    Args:
        force: (3,) N.
        tubes: (tubes, 3) directions at the joint, mm, any length above nought.
    """
    size = float(np.linalg.norm(force))
    if size == 0.0:
        return 1.0
    if not len(tubes):
        return 0.0
    _, spread, ways = np.linalg.svd(unit(tubes), full_matrices=False)
    held = ways[spread > LEAST_SINE * spread[0]]
    return float(np.linalg.norm(held @ force) / size)
