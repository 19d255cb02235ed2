"""Which coordinates of a corner may move when its geometry is settled, and how far."""

from dataclasses import dataclass
from math import inf, sqrt
from typing import Literal

from core.assess.limits import limit
from core.assess.pairs import stands_on
from core.assess.places import array, place
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Rack
from core.document.steel import Bracket, Point
from core.edits.values import held_by
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import Cell, Reader, When
from core.quantities import number
from core.study.corner_points import CornerPoint, coordinate_path, corner_points, owner_of
from core.suspension.changes import Body
from core.suspension.changes import Point as RoomPoint

Axis = Literal["x", "y", "z"]

EACH_WAY = 15.0
"""mm that a coordinate may move either way unless something else is said. Own choice."""

_NOT_IN_CAR = ("unit", "table")
"""Carriers whose frame is not the car's, so that a coordinate there is none of the corner."""


@dataclass(frozen=True)
class MayMove:
    """One coordinate of a corner.

    Attributes:
        ref: the point, or a rack's ball.
        axis: x, y or z.
        address: where the number stands.
        at: mm, what it is.
        body: what has the point.
        held: why it may not move; empty if it may.
        down: how far it may go below what it is, mm, by the reach of its bracket; infinite where
            no bracket carries it.
        up: how far above.
        is_left: whether its wheel is on the left.
        ends: of the links that meet there.
    """

    ref: Ref
    axis: Axis
    address: Address
    at: float
    body: Body
    held: str
    down: float
    up: float
    is_left: bool
    ends: RoomPoint

    @property
    def is_on(self) -> bool:
        """Whether it moves unless it is switched off: what is made at the chassis and not held."""
        return self.body == "chassis" and not self.held


def coordinates(document: Document, corner: Ref) -> tuple[MayMove, ...]:
    """Every coordinate that a corner is drawn by, the chassis side first.

    Raises:
        NotComputedError: what holds the upright is not known.
    """

    def run(read: Reader) -> tuple[MayMove, ...]:
        points = corner_points(read, corner)
        lookup, is_left = Lookup(document), stands_on(read, corner) == "left"
        return tuple(
            _coordinate(read, lookup, point, axis, is_left=is_left)
            for point in points
            for axis in _axes(read, point.ref)
        )

    return compute(document, {}, Cell("coordinates", When.ASKED, run))


def _axes(read: Reader, ref: Ref) -> tuple[Axis, ...]:
    """The coordinates of a point; of a rack only those by which both its balls move alike."""
    return ("x", "z") if read.has(Rack, ref) else ("x", "y", "z")


def _coordinate(
    read: Reader, lookup: Lookup, point: CornerPoint, axis: Axis, *, is_left: bool
) -> MayMove:
    address = Address(owner_of(read, point.ref), coordinate_path(read, point.ref, axis))
    at = read(place, point.ref)["xyz".index(axis)]
    held = _follows(read, point.ref) or held_by(lookup.document, address) or ""
    down, up = _within_reach(read, point.ref, "xyz".index(axis))
    return MayMove(point.ref, axis, address, at, point.body, held, down, up, is_left, point.point)


def _follows(read: Reader, ref: Ref) -> str:
    """Why the place of a point is not a number of its own; empty if it is."""
    if read.has(Rack, ref):
        return ""
    point = read.thing(Point, ref)
    if point.along is not None:
        return f"it follows {read.label(point.along.tube)}: slide it there"
    return "it does not stand on the car" if point.carrier in _NOT_IN_CAR else ""


def _within_reach(read: Reader, ref: Ref, axis: int) -> tuple[float, float]:
    """How far a coordinate alone may go either way before its bracket is too long, mm.

    Where the bracket is too long already nothing is bound: a proposal is held to it afterwards.
    """
    down, up = inf, inf
    for bracket in read.all(Bracket):
        stands = read.thing(Bracket, bracket)
        if stands.carries != ref or not read.has(Point, stands.on):
            continue
        allowed = read(limit, "bracket_reach", ref, stands.on, bracket).value
        off = array(read(place, ref)) - array(read(place, stands.on))
        room = allowed**2 - float(off @ off) + float(off[axis]) ** 2
        if room > float(off[axis]) ** 2:
            down = min(down, sqrt(room) + float(off[axis]))
            up = min(up, sqrt(room) - float(off[axis]))
    return down, up


def way_words(axis: Axis, by: float, *, is_left: bool) -> str:
    """How far a coordinate goes, mm, as a builder says it, on one side of the car."""
    outward = by if is_left else -by
    ways = {
        "x": "ahead" if by > 0.0 else "back",
        "y": "out" if outward > 0.0 else "in",
        "z": "up" if by > 0.0 else "down",
    }
    return f"{number(abs(by), 1)} {ways[axis]}"
