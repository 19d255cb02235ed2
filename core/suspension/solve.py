"""The poses of a body at all positions at once, each one reached from the design position."""

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.aim import Way, way_to
from core.suspension.holding import HeldBody, refuse, upright_of
from core.suspension.linkage import Linkage
from core.suspension.newton import Found, newton
from core.suspension.poses import Poses, WheelOfBody
from core.suspension.rows import Rows
from core.suspension.travel import Travel, Wanted

NEAREST = 1e-3
"""How near to the lock a position that cannot be reached is followed, mm of its way."""


def solve(linkage: Linkage, travel: Travel) -> Poses:
    """Return the upright at every position.

    Args:
        linkage: the corner; its geometries broadcast against the positions.
        travel: where the wheel is wanted.

    Raises:
        NotHeldError: if the conditions are not five, or the only geometry does not leave the
            upright just its travel at design. Of many, such a one reaches no position.
    """
    if isinstance(linkage, WheelOfBody):
        return linkage.poses_at(travel)
    shape = np.broadcast_shapes(linkage.rows.shape, travel.shape)
    drives = None if is_more_than_drives(travel) else (travel.bump, travel.rack)
    way = Asked(upright_of(linkage), travel, linkage.wheel.tyre_radius, drives, shape)
    return Poses(*reached(way), linkage=linkage, travel=travel)


def is_more_than_drives(travel: Wanted) -> bool:
    """Return whether more is moved than wheel heights and rack."""
    others = (travel.road, travel.ends_moved, travel.lengthened)
    return any(other is not None for other in others)


class Asked(NamedTuple):
    """A body and where its wheels are wanted.

    Attributes:
        body: its geometries broadcast against the positions.
        travel: where its wheels are wanted.
        radii: of its tyres, mm.
        drives: the two that its first motion is known by, (...) mm each; None if more is moved.
        shape: of the positions.
    """

    body: HeldBody
    travel: Wanted
    radii: float | tuple[float, ...]
    drives: tuple[Array, Array] | None
    shape: tuple[int, ...]


Pose = tuple[Array, Array, Array, Array, Array, NDArray[np.bool_], Array]
"""What `BodyPoses` holds, in its order."""


def reached(asked: Asked) -> Pose:
    """Return a body at every position.

    Newton's method goes from design straight to each position; where it does not close, or the
    steps do not shorten as they do on an unbroken way, the way is gone in parts, halved until
    they do. So no pose is ever of another branch, and past the end of travel there is none.

    Raises:
        NotHeldError: if the conditions with the wheel heights are not six, or the only geometry
            does not leave the body just its travel at design.
    """
    body, shape = asked.body, asked.shape
    refuse(body)
    rows = body.rows.flat(shape)
    way = way_to(rows, asked.travel, asked.radii, shape)
    count = len(way.finish.level)
    first = _first_steps(body, asked.drives, shape)
    found = newton(rows, way.finish, np.zeros((count, 3)), _upright(count), first)
    share = np.ones(count)
    held = np.broadcast_to(body.design.is_held.reshape(body.rows.shape), shape).reshape(-1)
    left = np.flatnonzero(~(found.is_trusted & held))
    if left.size:
        followed = follow(rows, way, left, held[left])
        share[left] = followed.share
        found = _with(found, left, followed)
    return _shaped(body, shape, found, share)


def _upright(count: int) -> Array:
    return np.broadcast_to(np.eye(3), (count, 3, 3))


def _first_steps(
    body: HeldBody, drives: tuple[Array, Array] | None, shape: tuple[int, ...]
) -> Array | None:
    """First steps (positions, 6), where only the drives are moved."""
    if drives is None:
        return None
    one, other = np.broadcast_arrays(*drives)
    powers = np.stack([one, other, 0.5 * one**2, one * other, 0.5 * other**2], axis=-1)
    motion = body.design.motion.reshape(*body.rows.shape, 5, 6)
    step = (powers[..., None, :] @ motion)[..., 0, :]
    return np.broadcast_to(step, (*shape, 6)).reshape(-1, 6)


@dataclass(frozen=True, eq=False, slots=True)
class Followed:
    """Where the ways of some positions ended.

    Attributes:
        shift: (positions, 3) mm, of the last pose.
        rotation: (positions, 3, 3).
        inverse: (positions, 6, 6).
        error: (positions,) mm.
        margin: (positions,).
        share: (positions,), of the way gone; 1 where the position was reached.
    """

    shift: Array
    rotation: Array
    inverse: Array
    error: Array
    margin: Array
    share: Array


def follow(rows: Rows, way: Way, which: NDArray[np.intp], held: NDArray[np.bool_]) -> Followed:
    """Return the poses at the ends of ways gone in parts from design.

    A part is halved while Newton's method is not trusted over it, and doubled after it was; a way
    ends where parts come below NEAREST. One that is not held at design does not begin.
    """
    count = len(which)
    start = way.at(np.zeros(count), which)
    at = newton(rows.chosen(which), start, np.zeros((count, 3)), _upright(count).copy())
    gone = Followed(at.shift, at.rotation, at.inverse, at.error, at.margin, np.zeros(count))
    least = NEAREST / np.broadcast_to(way.length(), len(way.finish.level))[which]
    part = np.where(held, 0.5, 0.0)
    while (going := np.flatnonzero((gone.share < 1.0) & (part >= least))).size:
        part[going] = _gone_on(rows, way, which[going], gone, going, part[going])
    return gone


def _gone_on(
    rows: Rows,
    way: Way,
    which: NDArray[np.intp],
    gone: Followed,
    going: NDArray[np.intp],
    part: Array,
) -> Array:
    """Go one part on where Newton's method is trusted; return the parts to try next."""
    share = np.minimum(gone.share[going] + part, 1.0)
    tried = newton(
        rows.chosen(which), way.at(share, which), gone.shift[going], gone.rotation[going]
    )
    good = tried.is_trusted
    into = going[good]
    gone.share[into] = share[good]
    for name in ("shift", "rotation", "inverse", "error", "margin"):
        getattr(gone, name)[into] = getattr(tried, name)[good]
    return np.asarray(np.where(good, 2.0 * part, 0.5 * part))


def _with(found: Found, left: NDArray[np.intp], followed: Followed) -> Found:
    """What was found, with the ways that had to be gone in parts."""
    changed = {}
    for name in ("shift", "rotation", "inverse", "error", "margin"):
        array = getattr(found, name)
        array[left] = getattr(followed, name)
        changed[name] = array
    is_reached = found.is_trusted.copy()
    is_reached[left] = followed.share >= 1.0
    return replace(found, is_trusted=is_reached, **changed)


def _shaped(body: HeldBody, shape: tuple[int, ...], found: Found, share: Array) -> Pose:
    is_reached = found.is_trusted
    if not is_reached.all():
        for array in (found.shift, found.rotation, found.inverse, found.error, found.margin):
            array[~is_reached] = np.nan
    return (
        found.rotation.reshape(*shape, 3, 3),
        found.shift.reshape(*shape, 3) + body.centre,
        found.inverse.reshape(*shape, 6, 6),
        found.error.reshape(shape),
        found.margin.reshape(shape),
        is_reached.reshape(shape),
        share.reshape(shape),
    )
