"""How far each condition is from being met at a pose, and its exact slope.

A pose is a shift t of the wheel centre from design and a rotation R of the upright about it; of an
axle, of the place midway between its wheel centres. A small motion is written (dt, LEVER w), w the
turn as a vector: so scaled a turn weighs as much as the movement it makes at LEVER from the wheel
centre, and all six numbers are in mm.

Source of the slopes: with r = R a the place of an upright point from the wheel centre, its
movement is dt + w x r, so a length along u changes by u.dt + w.(r x u); the rest follows by the
product rule.
"""

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.aim import Aim, OnRoad
from core.suspension.rows import Planes, Rockers, Rods, Rows, Turns
from core.suspension.turning import LEVER


def evaluate(rows: Rows, aim: Aim, shift: Array, rotation: Array) -> tuple[Array, Array]:
    """Return the errors (positions, rows) in mm and the slopes (positions, rows, 6).

    The last rows are the wheel heights or the heights over the road.

    Args:
        rows: the conditions, flat.
        aim: what they must come to, flat.
        shift: (positions, 3) mm, of the wheel centre from design.
        rotation: (positions, 3, 3), of the upright from design.
    """
    errors = np.empty((len(shift), len(rows.names) + rows.wheel_count))
    slopes = np.empty((*errors.shape, 6))
    stop = len(aim.lengths[0])
    if stop:
        _rods(rows.rods, aim, shift, rotation, (errors[:, :stop], slopes[:, :stop]))
    for block, fill in ((rows.held, _held), (rows.slides, _slides), (rows.turns, _turns)):
        start, stop = stop, stop + block.arms.shape[1]
        if stop > start:
            part = errors[:, start:stop], slopes[:, start:stop]
            fill(block, shift[:, None], rotation.swapaxes(1, 2), part)  # type: ignore[arg-type]
    if rows.rockers is not None:
        start, stop = stop, stop + rows.rockers.arms.shape[1]
        part = errors[:, start:stop], slopes[:, start:stop]
        _rockers(rows.rockers, shift[:, None], rotation.swapaxes(1, 2), part)
    last = _heights if aim.road is None else _over_road
    last(rows, aim, shift, rotation, (errors[:, stop:], slopes[:, stop:]))
    return errors, slopes


_TURNS = 1.0 / LEVER
_RISE = np.array([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
_RISE.setflags(write=False)

OUT_OF_REACH = 1e3
"""Error, mm, of a rocker that its first rod does not reach: no pose closes with it."""

LEAST_TURN = 1e-10
"""Square of the sine between rocker and first rod below which they are taken to be in line."""

Part = tuple[Array, Array]
"""Views of the errors and slopes that a kind of condition fills in."""


def _rods(rods: Rods, aim: Aim, shift: Array, rotation: Array, part: Part) -> None:
    arms = rods.arms @ rotation.swapaxes(1, 2)
    along = arms - aim.ends
    along += shift[:, None]
    length = np.sqrt(np.einsum("nki,nki->nk", along, along))
    along /= length[..., None]
    np.subtract(length, aim.lengths, out=part[0])
    part[1][..., :3] = along
    cross_into(part[1][..., 3:], arms * _TURNS, along)


def _held(planes: Planes, shift: Array, turned: Array, part: Part) -> None:
    """n.(q - c) = 0 with q on the upright: slope (n, r x n)."""
    arms = planes.arms @ turned
    part[0][:] = np.einsum(
        "nki,nki->nk", arms + shift - planes.through, np.broadcast_to(planes.normals, arms.shape)
    )
    part[1][..., :3] = planes.normals
    cross_into(part[1][..., 3:], arms * _TURNS, planes.normals)


def _slides(planes: Planes, shift: Array, turned: Array, part: Part) -> None:
    """(R n).g = 0 with g = c - q, q on the upright: slope (-Rn, Rn x g - r x Rn)."""
    arms, normals = planes.arms @ turned, planes.normals @ turned
    gap = planes.through - shift - arms
    part[0][:] = np.einsum("nki,nki->nk", normals, gap)
    np.negative(normals, out=part[1][..., :3])
    cross_into(part[1][..., 3:], normals, (gap + arms) * _TURNS)  # Rn x g - r x Rn = Rn x (g + r)


def _turns(turns: Turns, shift: Array, turned: Array, part: Part) -> None:
    """(A n).(R d) = 0, A the turn of the arm about its axis e that follows the point p.

    With s from the axis to p, the arm turns by e x s.dp / s.s, so that the slope is
    k (e x s) along dp, plus Rd x An for the turn of the upright; k = Rd.(e x An) / s.s.
    """
    arms, spans = turns.arms @ turned, turns.spans @ turned
    drawn = turns.arms - turns.feet
    out = arms + shift - turns.feet
    out = out - _dot(out, turns.axes) * turns.axes
    square = _dot(out, out)
    scale = np.sqrt(square * _dot(drawn, drawn))
    cosine = _dot(drawn, out) / scale
    sine = _dot(np.cross(drawn, out), turns.axes) / scale
    normals = _about(turns.axes, turns.normals, cosine, sine)
    part[0][:] = _dot(normals, spans)[..., 0]
    ahead = np.cross(turns.axes, out)
    pull = _dot(spans, np.cross(turns.axes, normals)) / square * ahead
    part[1][..., :3] = pull
    part[1][..., 3:] = (np.cross(arms, pull) + np.cross(spans, normals)) * _TURNS


def _rockers(rockers: Rockers, shift: Array, turned: Array, part: Part) -> None:
    """|p + b2 - c2| - its length at design, b2 turned with b1 so that |p + b1 - c1| keeps its own.

    With u1, u2 along the rods and e the axis, the rocker turns by -u1.dp1 / u1.(e x b1), so that
    the slope is u2 along dp2 less k u1 along dp1, k = u2.(e x b2) / u1.(e x b1), dp the movement
    with the rocker stiff on the body.
    """
    arms, axes = rockers.arms @ turned, rockers.axes @ turned
    pivots = arms + shift
    drawn = [rockers.arms + to for to in (rockers.to_first, rockers.to_second)]
    lengths = [_length(drawn[0] - rockers.first_ends), _length(drawn[1] - rockers.second_ends)]
    to_ends = (rockers.first_ends - pivots) @ turned.swapaxes(1, 2)
    cosine, sine, is_within = _rocker_turn(rockers, to_ends)
    to_first, to_second = (
        _about(rockers.axes, to, cosine, sine) @ turned
        for to in (rockers.to_first, rockers.to_second)
    )
    first, second = pivots + to_first - rockers.first_ends, pivots + to_second - rockers.second_ends
    reach = _length(second)
    along, other = first / lengths[0], second / reach
    share = _dot(other, np.cross(axes, to_second)) / _dot(along, np.cross(axes, to_first))
    pull = share * along
    part[0][:] = np.where(is_within, reach - lengths[1], OUT_OF_REACH)[..., 0]
    part[1][..., :3] = other - pull
    turns = np.cross(arms + to_second, other) - np.cross(arms + to_first, pull)
    part[1][..., 3:] = turns * _TURNS


def _rocker_turn(rockers: Rockers, end: Array) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Cosine and sine of the turn that keeps the first rod's length, and whether any does.

    With g from the pivot to the chassis end as the body sees it, g.b1 = (b1^2 + g^2 - L^2) / 2,
    which is A cos + B sin + C; of its two answers that which is nought at design.
    """
    to, axes = rockers.to_first, rockers.axes
    square = _dot(to, to) + _dot(end, end) - _square_at_design(rockers)
    level = 0.5 * square - _dot(end, axes) * _dot(to, axes)
    a = _dot(end, to) - _dot(end, axes) * _dot(to, axes)
    b = _dot(end, np.cross(axes, to))
    drawn = _dot(rockers.first_ends - rockers.arms, np.cross(axes, to))
    size = a**2 + b**2
    left, least = size - level**2, LEAST_TURN * size
    root = np.sign(drawn) * np.sqrt(np.maximum(left, least))
    return (a * level + b * root) / size, (b * level - a * root) / size, left > least


def _square_at_design(rockers: Rockers) -> Array:
    rod = rockers.arms + rockers.to_first - rockers.first_ends
    return _dot(rod, rod)


def _length(vectors: Array) -> Array:
    return np.asarray(np.sqrt(_dot(vectors, vectors)))


def _heights(rows: Rows, aim: Aim, shift: Array, rotation: Array, part: Part) -> None:
    """Heights of the wheel centres: z.(t + R a - a), slope (z, R a x z)."""
    part[1][:] = _RISE
    np.subtract(shift[:, 2:], aim.level, out=part[0])
    if rows.wheels is not None:
        arms = rows.wheels @ rotation.swapaxes(1, 2)
        part[0][:] += arms[..., 2] - rows.wheels[..., 2]
        part[1][..., 3], part[1][..., 4] = arms[..., 1] * _TURNS, -arms[..., 0] * _TURNS


def _over_road(rows: Rows, aim: Aim, shift: Array, rotation: Array, part: Part) -> None:
    """Heights of the lowest points of thin discs over the road."""
    road, moved, carried = aim.road, shift[:, None], np.zeros(3)
    assert road is not None
    normal = road.normal[:, None]
    if rows.wheels is not None:
        arms = rows.wheels @ rotation.swapaxes(1, 2)
        moved, carried = moved + arms - rows.wheels, np.cross(arms, normal)
    height, turns = _on_road(road, moved, rows.spin @ rotation.swapaxes(1, 2))
    part[0][:] = height - aim.level
    part[1][..., :3], part[1][..., 3:] = normal, (turns + carried) * _TURNS


def _on_road(road: OnRoad, moved: Array, spin: Array) -> tuple[Array, Array]:
    """n.(wheel centre) - radius sqrt(1 - (s.n)^2), and its slope by turns about that centre."""
    normal = road.normal[:, None]
    lean = np.einsum("nwi,nwi->nw", spin, np.broadcast_to(normal, spin.shape))
    flat = np.sqrt(np.maximum(1.0 - lean**2, 1e-12))
    height = np.einsum("nwi,ni->nw", moved - road.points, road.normal) - road.radii * flat
    return height, (road.radii * lean / flat)[..., None] * np.cross(spin, normal)


def cross_into(out: Array, one: Array, other: Array) -> None:
    """Write the vector products (..., 3) into `out`: many times faster than numpy's for few."""
    ax, ay, az = one[..., 0], one[..., 1], one[..., 2]
    bx, by, bz = other[..., 0], other[..., 1], other[..., 2]
    np.subtract(ay * bz, az * by, out=out[..., 0])
    np.subtract(az * bx, ax * bz, out=out[..., 1])
    np.subtract(ax * by, ay * bx, out=out[..., 2])


def _about(axes: Array, vectors: Array, cosine: Array, sine: Array) -> Array:
    """Vectors turned about axes (Rodrigues)."""
    along = _dot(axes, vectors) * axes
    return np.asarray(cosine * (vectors - along) + sine * np.cross(axes, vectors) + along)


def _dot(one: Array, other: Array) -> Array:
    return np.asarray(np.sum(one * other, axis=-1, keepdims=True), dtype=np.float64)
