"""How far each condition is from being met at a pose, and its exact slope.

A pose is a shift t of the wheel centre from design and a rotation R of the upright about it. A
small motion is written (dt, LEVER w), w the turn as a vector: so scaled a turn weighs as much as
the movement it makes at LEVER from the wheel centre, and all six numbers are in mm.

Source of the slopes: with r = R a the place of an upright point from the wheel centre, its
movement is dt + w x r, so a length along u changes by u.dt + w.(r x u); the rest follows by the
product rule.
"""

import numpy as np

from core.geometry.types import Array
from core.suspension.aim import Aim, OnRoad
from core.suspension.rows import Planes, Rods, Rows, Turns
from core.suspension.turning import LEVER


def evaluate(rows: Rows, aim: Aim, shift: Array, rotation: Array) -> tuple[Array, Array]:
    """Return the errors (positions, rows) in mm and the slopes (positions, rows, 6).

    The last row is the wheel height or the height over the road.

    Args:
        rows: the conditions, flat.
        aim: what they must come to, flat.
        shift: (positions, 3) mm, of the wheel centre from design.
        rotation: (positions, 3, 3), of the upright from design.
    """
    errors = np.empty((len(shift), len(rows.names) + 1))
    slopes = np.empty((*errors.shape, 6))
    stop = len(aim.lengths[0])
    if stop:
        _rods(rows.rods, aim, shift, rotation, (errors[:, :stop], slopes[:, :stop]))
    for block, fill in ((rows.held, _held), (rows.slides, _slides), (rows.turns, _turns)):
        start, stop = stop, stop + block.arms.shape[1]
        if stop > start:
            part = errors[:, start:stop], slopes[:, start:stop]
            fill(block, shift[:, None], rotation.swapaxes(1, 2), part)  # type: ignore[arg-type]
    _lead(rows, aim, shift, rotation, (errors[:, -1], slopes[:, -1]))
    return errors, slopes


_TURNS = 1.0 / LEVER

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


def _lead(rows: Rows, aim: Aim, shift: Array, rotation: Array, part: Part) -> None:
    """Wheel height, or that of the lowest point of a thin disc over the road."""
    if aim.road is None:
        np.subtract(shift[:, 2], aim.level, out=part[0])
        part[1][:] = (0.0, 0.0, 1.0, 0.0, 0.0, 0.0)
        return
    height, sideways = _on_road(aim.road, shift, (rotation @ rows.spin.swapaxes(1, 2))[..., 0])
    part[0][:] = height - aim.level
    part[1][:, :3], part[1][:, 3:] = aim.road.normal, sideways * _TURNS


def _on_road(road: OnRoad, shift: Array, spin: Array) -> tuple[Array, Array]:
    """n.(wheel centre) - radius sqrt(1 - (s.n)^2), and its slope by turns."""
    lean = np.einsum("ni,ni->n", spin, road.normal)
    flat = np.sqrt(np.maximum(1.0 - lean**2, 1e-12))
    height = np.einsum("ni,ni->n", shift - road.point, road.normal) - road.radius * flat
    return height, (road.radius * lean / flat)[:, None] * np.cross(spin, road.normal)


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
