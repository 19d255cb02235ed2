"""Places along a bent tube: its pieces, a polyline for drawing, and the nearest place."""

import math
from dataclasses import dataclass

import numpy as np

from core.geometry.tube_shape import TubeShape
from core.geometry.types import Array, read_only, unit

ALONG_SLACK = 1e-9
"""mm by which a distance along the tube may lie outside it and still count as its end."""


@dataclass(frozen=True, eq=False, slots=True)
class Leg:
    """A straight piece of a tube.

    Attributes:
        begin: mm along the tube where the piece starts.
        length: mm.
        start: (3,) mm, car frame.
        direction: (3,) unit, in the direction of travel.
    """

    begin: float
    length: float
    start: Array
    direction: Array

    def at(self, distances: Array) -> Array:
        """Return the points (n, 3) at distances (n,) mm from the start of the piece."""
        return np.asarray(self.start + distances[:, None] * self.direction, dtype=np.float64)

    def direction_at(self, distance: float) -> Array:
        """Return the direction of travel (3,), the same at every distance."""
        del distance
        return np.array(self.direction)

    def nearest(self, point: Array) -> tuple[float, float]:
        """Return mm from the start of the piece to the place nearest a point (3,), and the gap."""
        run = min(max(float((point - self.start) @ self.direction), 0.0), self.length)
        return run, _distance(point, self.start + run * self.direction)


@dataclass(frozen=True, eq=False, slots=True)
class Arc:
    """A bend of a tube: centre + radius (cos(a) outward + sin(a) forward), a from 0 to the turn.

    Attributes:
        begin: mm along the tube where the piece starts.
        length: mm along the arc.
        centre: (3,) mm, car frame.
        outward: (3,) unit, from the centre to the start of the arc.
        forward: (3,) unit, direction of travel at the start of the arc.
        radius: mm.
        turn_rad: turn angle, above 0.
    """

    begin: float
    length: float
    centre: Array
    outward: Array
    forward: Array
    radius: float
    turn_rad: float

    def at(self, distances: Array) -> Array:
        """Return the points (n, 3) at distances (n,) mm from the start of the piece."""
        angles = (distances / self.radius)[:, None]
        spokes = np.cos(angles) * self.outward + np.sin(angles) * self.forward
        return np.asarray(self.centre + self.radius * spokes, dtype=np.float64)

    def direction_at(self, distance: float) -> Array:
        """Return the direction of travel (3,) mm from the start of the piece."""
        angle = distance / self.radius
        return np.asarray(math.cos(angle) * self.forward - math.sin(angle) * self.outward)

    def nearest(self, point: Array) -> tuple[float, float]:
        """Return mm from the start of the piece to the place nearest a point (3,), and the gap."""
        spoke = point - self.centre
        angle = math.atan2(float(spoke @ self.forward), float(spoke @ self.outward))
        # Outside the sector the nearer end lies to the nearer side of it.
        if angle < 0.5 * self.turn_rad - math.pi:
            angle += 2.0 * math.pi
        run = min(max(angle, 0.0), self.turn_rad) * self.radius
        return run, _distance(point, self.at(np.array([run]))[0])


def pieces(shape: TubeShape) -> tuple[Leg | Arc, ...]:
    """Return the pieces of the tube in the direction of travel: leg, arc, leg and so on.

    A leg may have no length; bends that go straight through give no arc.
    """
    directions = unit(np.diff(shape.vertices, axis=0))
    result: list[Leg | Arc] = []
    begin = 0.0
    for i, straight in enumerate(shape.straights.tolist()):
        setback = shape.tangents[i - 1] if i else 0.0
        start = shape.vertices[i] + setback * directions[i]
        result.append(Leg(begin, straight, read_only(start), read_only(directions[i])))
        begin += straight
        if i < len(shape.arcs) and shape.arcs[i] > 0.0:
            result.append(_arc(shape, i, directions, begin))
            begin += float(shape.arcs[i])
    return tuple(result)


def centre_line(shape: TubeShape, chord_rad: float) -> Array:
    """Return the centre line as a polyline.

    Args:
        shape: the tube.
        chord_rad: largest angle of arc between two points of the polyline, above 0.

    Returns:
        (n, 3) mm, car frame: every point lies on the true centre line, among them both ends of
        every arc. Between points the polyline lies inside the arc by at most
        R (1 - cos(chord_rad / 2)).
    """
    return centre_line_with_distances(shape, chord_rad)[0]


def centre_line_with_distances(shape: TubeShape, chord_rad: float) -> tuple[Array, Array]:
    """Return the polyline of `centre_line` and how far along the true tube each point lies.

    Args:
        shape: the tube.
        chord_rad: largest angle of arc between two points of the polyline, above 0.

    Returns:
        (n, 3) mm, car frame, and (n,) mm from 0 to the length of the tube, rising throughout.

    Raises:
        ValueError: if `chord_rad` is not above 0.
    """
    if not chord_rad > 0.0:
        message = f"The step along an arc must be above zero, not {chord_rad:g} rad."
        raise ValueError(message)
    points, distances = [shape.vertices[:1]], [np.zeros(1)]
    for piece in pieces(shape):
        if piece.length > 0.0:
            run = piece.length * _shares(piece, chord_rad)
            points.append(piece.at(run))
            distances.append(piece.begin + run)
    return np.concatenate(points), np.concatenate(distances)


def place_along(shape: TubeShape, distance: float) -> tuple[Array, Array]:
    """Return the point of the centre line at a distance from the start, and its direction.

    Args:
        shape: the tube.
        distance: mm along the true centre line.

    Returns:
        (3,) mm and (3,) unit in the direction of travel, both car frame.

    Raises:
        ValueError: if the distance lies outside the tube.
    """
    if not -ALONG_SLACK <= distance <= shape.length + ALONG_SLACK:
        message = f"{distance:g} mm lies outside the tube, which is {shape.length:g} mm long."
        raise ValueError(message)
    piece = next(
        piece for piece in reversed(pieces(shape)) if piece.begin <= distance or piece.begin == 0.0
    )
    run = min(max(distance - piece.begin, 0.0), piece.length)
    return piece.at(np.array([run]))[0], piece.direction_at(run)


def nearest_on(shape: TubeShape, point: Array) -> tuple[float, float]:
    """Return the place of the centre line nearest to a point: mm along the tube, and the gap.

    Exact on legs and arcs alike. Of places equally near the first along the tube is given. The
    gap is to the centre line; less the outside radius it is the gap to the tube.

    Args:
        shape: the tube.
        point: (3,) mm, car frame.
    """
    best = (0.0, math.inf)
    for piece in pieces(shape):
        run, gap = piece.nearest(point)
        if gap < best[1]:
            best = (piece.begin + run, gap)
    return best


def _arc(shape: TubeShape, bend: int, directions: Array, begin: float) -> Arc:
    """Return the arc of one bend (from 0), given the direction of every leg."""
    before, after = directions[bend], directions[bend + 1]
    radius, turn = float(shape.radii[bend]), float(shape.turns_rad[bend])
    # From the start of the arc the centre lies square to the travel, on the side it turns to.
    inward = unit(after - (after @ before) * before)
    start = shape.vertices[bend + 1] - shape.tangents[bend] * before
    return Arc(
        begin=begin,
        length=float(shape.arcs[bend]),
        centre=read_only(start + radius * inward),
        outward=read_only(-inward),
        forward=read_only(before),
        radius=radius,
        turn_rad=turn,
    )


def _shares(piece: Leg | Arc, chord_rad: float) -> Array:
    """Return shares of the length of a piece, above 0 up to 1, for the points of a polyline."""
    steps = 1 if isinstance(piece, Leg) else max(1, math.ceil(piece.turn_rad / chord_rad - 1e-9))
    return np.arange(1, steps + 1, dtype=np.float64) / steps


def _distance(one: Array, other: Array) -> float:
    """Return the distance between two points (3,)."""
    return math.dist(one.tolist(), other.tolist())
