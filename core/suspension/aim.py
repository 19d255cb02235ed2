"""What the conditions must come to at each position, all or part of the way from design."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.rows import Rods, Rows
from core.suspension.travel import Road, Wanted

_UP = np.array([0.0, 0.0, 1.0])
_LEFT = np.array([0.0, 1.0, 0.0])


@dataclass(frozen=True, eq=False, slots=True)
class OnRoad:
    """The tyres' lowest points at heights over the road, flat over the positions.

    Attributes:
        normal: (positions, 3) unit.
        points: of the road, (positions, wheels, 3) mm, from each wheel centre at design.
        radii: of the tyres, (wheels,) mm.
    """

    normal: Array
    points: Array
    radii: Array


@dataclass(frozen=True, eq=False, slots=True)
class Aim:
    """What the conditions must come to, flat over the positions.

    Attributes:
        ends: chassis ends of the rods, (positions or 1, rods, 3) mm, from the rows' centre.
        lengths: of the rods, (positions or 1, rods) mm.
        level: wheel heights, or heights of the tyres over the road, (positions, wheels) mm.
        road: what the level is over; None, the wheel centres at design.
    """

    ends: Array
    lengths: Array
    level: Array
    road: OnRoad | None

    def chosen(self, index: NDArray[np.intp]) -> "Aim":
        """The same for some positions only."""
        road = self.road
        some = road and OnRoad(road.normal[index], road.points[index], road.radii)
        return Aim(_some(self.ends, index), _some(self.lengths, index), self.level[index], some)


@dataclass(frozen=True, eq=False, slots=True)
class Way:
    """From the design position to where the wheels are wanted, flat over the positions."""

    start: Aim
    finish: Aim

    def at(self, share: Array, index: NDArray[np.intp]) -> Aim:
        """What the conditions come to after a share (positions,) of the way, for some of them."""
        first, last = self.start.chosen(index), self.finish.chosen(index)
        each = share[:, None]
        return Aim(
            _between(first.ends, last.ends, share[:, None, None]),
            _between(first.lengths, last.lengths, each),
            _between(first.level, last.level, each),
            first.road and last.road and _road_between(first.road, last.road, each),
        )

    def length(self) -> Array:
        """How far anything is moved on the way, (positions,) mm; at least 1."""
        first, last = self.start, self.finish
        moves = [
            np.abs(last.ends - first.ends).max(axis=(1, 2), initial=1.0),
            np.abs(last.lengths - first.lengths).max(axis=1, initial=1.0),
            np.abs(last.level - first.level).max(axis=1),
        ]
        if last.road is not None:
            turned = np.linalg.norm(last.road.normal - _UP, axis=1)
            moves.append(turned * np.linalg.norm(last.road.points, axis=2).max(axis=1))
        return np.asarray(np.max(np.broadcast_arrays(*moves), axis=0), dtype=np.float64)


def way_to(
    rows: Rows, travel: Wanted, radii: float | tuple[float, ...], shape: tuple[int, ...]
) -> Way:
    """Return the way from design to where the wheels are wanted.

    Args:
        rows: the conditions, laid out flat.
        travel: where the wheels are wanted.
        radii: of the tyres, mm, one or one for each wheel.
        shape: of the positions.
    """
    count, wheels = int(np.prod(shape, dtype=np.intp)), rows.wheel_count
    drawn = rows.rods.lengths[..., 0]
    ends, lengths = _ends(rows.rods, travel, shape), _lengths(drawn, travel, shape)
    if travel.road is None:
        level = np.broadcast_to(travel.heights, (*shape, wheels)).reshape(-1, wheels)
        start = Aim(rows.rods.ends, drawn, np.zeros((count, wheels)), None)
        return Way(start, Aim(ends, lengths, level, None))
    last = _on_road(rows, travel.road, np.atleast_1d(np.asarray(radii, dtype=np.float64)), shape)
    first = OnRoad(np.broadcast_to(_UP, last.normal.shape), last.points, last.radii)
    level = np.broadcast_to(_heights_at_design(rows, first), (count, wheels))
    start = Aim(rows.rods.ends, drawn, level, first)
    return Way(start, Aim(ends, lengths, np.zeros((count, wheels)), last))


def _ends(rods: Rods, travel: Wanted, shape: tuple[int, ...]) -> Array:
    rack = np.broadcast_to(travel.rack, shape).reshape(-1, 1, 1)
    ends = rods.ends + rack * (rods.on_rack * _LEFT)
    if travel.ends_moved is not None:
        moved = np.broadcast_to(travel.ends_moved, (*shape, *rods.ends.shape[-2:]))
        ends = ends + moved.reshape(-1, *rods.ends.shape[-2:])
    return np.asarray(ends, dtype=np.float64)


def _lengths(drawn: Array, travel: Wanted, shape: tuple[int, ...]) -> Array:
    if travel.lengthened is None:
        return drawn
    longer = np.broadcast_to(travel.lengthened, (*shape, drawn.shape[-1]))
    return np.asarray(drawn + longer.reshape(-1, drawn.shape[-1]), dtype=np.float64)


def _on_road(rows: Rows, road: Road, radii: Array, shape: tuple[int, ...]) -> OnRoad:
    normal = np.broadcast_to(road.normal, (*shape, 3)).reshape(-1, 3)
    point = np.broadcast_to(road.point, (*shape, 3)).reshape(-1, 1, 3)
    centres = rows.centre if rows.wheels is None else rows.centre + rows.wheels
    return OnRoad(normal, np.asarray(point - centres), radii)


def _heights_at_design(rows: Rows, road: OnRoad) -> Array:
    """Of the tyres' lowest points over the road at design, (positions, wheels) mm."""
    rise = rows.spin[..., 2]
    return np.asarray(-road.points[..., 2] - road.radii * np.sqrt(1.0 - rise**2))


def _road_between(first: OnRoad, last: OnRoad, share: Array) -> OnRoad:
    normal = _between(first.normal, last.normal, share)
    return OnRoad(normal / np.linalg.norm(normal, axis=1, keepdims=True), last.points, last.radii)


def _between(first: Array, last: Array, share: Array) -> Array:
    return np.asarray(first + share * (last - first), dtype=np.float64)


def _some(array: Array, index: NDArray[np.intp]) -> Array:
    return array[index] if len(array) > 1 else array
