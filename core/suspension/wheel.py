"""How the wheel stands and where it goes: camber, toe, contact, path, and their slopes.

Signs are those of the side's own frame (y outboard), so that both sides of a symmetrical car read
the same. Source of the signs of toe: ISO 8855:2011, 7.1.6 (read in an excerpt); of camber: the
same standard, from memory.
"""

import numpy as np

from core.geometry.types import Array
from core.suspension.linkage import outboard
from core.suspension.poses import Poses

_UP = np.array([0.0, 0.0, 1.0])


def own_spin(poses: Poses) -> Array:
    """Return the spin axis, (..., 3) unit, y outboard."""
    return outboard(poses.spin, poses.linkage.side)


def camber_deg(poses: Poses) -> Array:
    """Return the angle (...) of the wheel plane to the car's vertical, top outward positive."""
    return np.asarray(np.degrees(np.arcsin(-own_spin(poses)[..., 2])))


def projected_camber_deg(poses: Poses) -> Array:
    """Return camber (...) as seen from the front; not the true angle once the wheel is steered."""
    spin = own_spin(poses)
    return np.asarray(np.degrees(np.arctan2(-spin[..., 2], spin[..., 1])))


def toe_in_deg(poses: Poses) -> Array:
    """Return the angle (...) of the wheel plane to straight ahead, front inward positive."""
    spin = own_spin(poses)
    return np.asarray(np.degrees(np.arctan2(spin[..., 0], spin[..., 1])))


def camber_to_road_deg(poses: Poses) -> Array:
    """Return the angle (...) of the wheel plane to square to the road, top outward positive.

    ISO 8855 and SAE J670 sign it about the wheel's x axis instead, so that left and right differ
    (from memory).
    """
    lean = np.sum(poses.spin * road_normal(poses), axis=-1)
    return np.asarray(np.degrees(np.arcsin(-lean)))


def camber_slope(poses: Poses) -> Array:
    """Return the change of camber with wheel height, (...) deg/mm."""
    change = outboard(poses.per_bump.of(poses.spin), poses.linkage.side)
    flat = np.sqrt(1.0 - own_spin(poses)[..., 2] ** 2)
    return np.asarray(np.degrees(-change[..., 2] / flat))


def bump_steer_slope(poses: Poses) -> Array:
    """Return the change of toe-in with wheel height, (...) deg/mm."""
    spin = own_spin(poses)
    change = outboard(poses.per_bump.of(poses.spin), poses.linkage.side)
    turn = spin[..., 1] * change[..., 0] - spin[..., 0] * change[..., 1]
    return np.asarray(np.degrees(turn / (spin[..., 0] ** 2 + spin[..., 1] ** 2)))


def road_normal(poses: Poses) -> Array:
    """Return up from the road as seen from the car, (..., 3): the car's own where none is given."""
    road = poses.travel.road
    return np.broadcast_to(_UP if road is None else road.normal, (*poses.shape, 3))


def contact(poses: Poses) -> Array:
    """Return the lowest place (..., 3) mm of the tyre, a thin disc, car frame."""
    normal = road_normal(poses)
    lean = np.sum(poses.spin * normal, axis=-1, keepdims=True)
    down = lean * poses.spin - normal
    down = down / np.sqrt(1.0 - lean**2)
    return np.asarray(poses.centre + poses.linkage.wheel.tyre_radius * down)


def path(poses: Poses) -> Array:
    """Return how far the wheel centre is from design, (..., 3) mm, y outboard."""
    return outboard(poses.centre - poses.linkage.centre, poses.linkage.side)


def half_track_change(poses: Poses) -> Array:
    """Return how far the contact is further outboard than at design, (...) mm."""
    linkage = poses.linkage
    rise = linkage.spin[..., 2]
    flat = np.sqrt(1.0 - rise**2)
    spin = outboard(linkage.spin, linkage.side)
    drawn = outboard(linkage.centre, linkage.side)[..., 1]
    drawn = drawn + linkage.wheel.tyre_radius * rise * spin[..., 1] / flat
    return np.asarray(outboard(contact(poses), linkage.side)[..., 1] - drawn)


def forward_change(poses: Poses) -> Array:
    """Return how far the wheel centre is ahead of design, (...) mm.

    That lengthens the wheelbase at the front and shortens it at the rear.
    """
    return path(poses)[..., 0]
