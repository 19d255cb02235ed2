"""The points that a corner is drawn through, each with the ends of what holds the upright there."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.assess.linkages import ROLES, linkage
from core.document.base import Ref
from core.document.running_gear import Corner, Rack
from core.engine.cells import NotComputedError, Reader
from core.suspension.changes import Body, End, Point, bodies

AXIS_WORDS = {"x": "fore and aft", "y": "sideways", "z": "up and down"}
"""Which way a coordinate of a point goes."""


@dataclass(frozen=True)
class CornerPoint:
    """One point of the drawing.

    Attributes:
        ref: the point, or a rack's ball.
        point: the ends that are there, by the name of its reference.
    """

    ref: Ref
    point: Point

    @property
    def body(self) -> Body:
        """What has it: the chassis, the upright, or a stiff arm."""
        return self.point.body


def corner_points(read: Reader, corner: Ref) -> tuple[CornerPoint, ...]:
    """Every point of a corner, those on the chassis first.

    Raises:
        NotComputedError: what holds the upright is not known, or there is no such corner.
    """
    if not read.has(Corner, corner):
        raise NotComputedError(f"there is no corner {corner}")
    found: dict[tuple[Ref, Body], list[End]] = {}
    for ref, end, body in _ends(read, corner):
        found.setdefault((ref, body), []).append(end)
    points = [
        CornerPoint(ref, Point(f"{ref} {body}", tuple(ends), body))
        for (ref, body), ends in found.items()
    ]
    return tuple(sorted(points, key=lambda each: each.body != "chassis"))


def _ends(read: Reader, corner: Ref) -> Iterator[tuple[Ref, End, Body]]:
    """Each place of each constraint, with the reference that it was made from."""
    places = [place for each in _references(read, corner) for place in each]
    fields: list[tuple[End, Body]] = [
        ((held.name, name), body)
        for held in read(linkage, corner).constraints
        for name, body in bodies(held)
    ]
    for ref, (end, body) in zip(places, fields, strict=True):
        yield ref, end, body


def _references(read: Reader, corner: Ref) -> Iterator[tuple[Ref, ...]]:
    """The points of each constraint, in the order in which `linkage` makes them."""
    thing = read.thing(Corner, corner)
    yield from ((link.inner, link.outer) for link in thing.links)
    roles = {role.role: role.point for role in thing.points}
    yield tuple(roles[name] for name in ROLES.get(thing.linkage, ()))
    yield from (held.points for held in thing.holders)


def coordinate_path(read: Reader, ref: Ref, axis: str) -> str:
    """The path of a coordinate inside the thing that has it."""
    return f"centre.{axis}" if read.has(Rack, ref) else f"at.{axis}"


def owner_of(read: Reader, ref: Ref) -> Ref:
    """The thing that has the coordinates of a place: a rack is one thing, whichever ball it is."""
    return Ref(ref.id) if read.has(Rack, ref) else ref
