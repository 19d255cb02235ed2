"""What each point is for, and what moves it: gathered from linkages, racks and tubes."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.assess.frame import visits
from core.document.base import Ref
from core.document.running_gear import Axle, Corner, Rack
from core.document.steel import Tube
from core.engine.cells import Reader, When, cell


@dataclass(frozen=True)
class Adjustment:
    """A screw, shim or slot that moves a point.

    Attributes:
        point: the point moved.
        least: mm, the one end of its range.
        most: mm, the other end.
        sets: what it is there to set.
    """

    point: Ref
    least: float
    most: float
    sets: str


@cell(When.LIVE)
def adjustments(read: Reader) -> tuple[Adjustment, ...]:
    """Every adjuster of every corner."""
    return tuple(
        Adjustment(found.point, found.least, found.most, found.sets)
        for corner in read.all(Corner)
        for found in read.thing(Corner, corner).adjusters
    )


@cell(When.LIVE)
def uses(read: Reader) -> tuple[tuple[Ref, tuple[str, ...]], ...]:
    """What each point that something refers to is for, in words."""
    found: dict[Ref, dict[str, None]] = {}
    for ref, words in _uses(read):
        found.setdefault(ref, {})[words] = None
    return tuple((ref, tuple(words)) for ref, words in found.items())


def _uses(read: Reader) -> Iterator[tuple[Ref, str]]:
    for corner in read.all(Corner):
        yield from _in_linkage(read, corner)
    for axle in read.all(Axle):
        yield from _in_axle(read, axle)
    for rack in read.all(Rack):
        for foot in read.thing(Rack, rack).feet:
            yield foot, f"foot of {read.label(rack)}"
    for tube in read.all(Tube):
        for joint, _ in read(visits, tube):
            yield joint, "tube joint"


def _in_axle(read: Reader, axle: Ref) -> Iterator[tuple[Ref, str]]:
    """What holds a rigid axle."""
    thing, name = read.thing(Axle, axle), read.label(axle)
    for link in thing.links:
        yield link.inner, f"inner end of {link.name}, {name}"
        yield link.outer, f"outer end of {link.name}, {name}"
    for held in thing.holders:
        for point in held.points:
            yield point, f"{held.name}, {name}"


def _in_linkage(read: Reader, corner: Ref) -> Iterator[tuple[Ref, str]]:
    """Roles by their names; ends of links and damper only where no role is given."""
    thing, name = read.thing(Corner, corner), read.label(corner)
    roles = {role.point: role.role.replace("_", " ") for role in thing.points}
    ends = [(link.inner, f"inner end of {link.name}") for link in (*thing.links, *thing.arms)]
    ends += [(link.outer, f"outer end of {link.name}") for link in (*thing.links, *thing.arms)]
    damper = thing.damper
    if damper is not None:
        ends += [
            (damper.lower, "lower eye of the damper"),
            (damper.upper, "upper eye of the damper"),
        ]
    for point, words in (*roles.items(), *(end for end in ends if end[0] not in roles)):
        yield point, f"{words}, {name}"
