"""Rigid axles to draw: the beam between the hubs, what it carries, and the links that hold it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np

from core.assess.pairs import is_rigid, pair_of
from core.assess.places import array, place, vec
from core.document.base import Ref, Vec3
from core.document.links import Holder
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.scene.bars import bar_drawn, posed_bar
from core.scene.gear import LINK, rod
from core.scene.records import RodRecord
from core.suspension.poses import Poses

BEAM, SPOKE, INSIDE = 32.0, 13.0, 45.0
"""Radii of the beam and of what stands on it, and how far inside of the hub faces it ends, mm; for
drawing only."""


@dataclass(frozen=True, eq=False)
class BeamRod:
    """A rod of a rigid axle as it is drawn at design, and whether its first end goes with it.

    Its last end always does.
    """

    rod: RodRecord
    is_on_axle: bool


@cell(When.LIVE)
def axle_drawn(read: Reader, axle: Ref) -> tuple[RodRecord, ...]:
    """All that is drawn of an axle: its anti-roll bar, and the beam if it is rigid."""
    return (*_bar(read, axle), *(each.rod for each in _beam(read, axle)))


def _bar(read: Reader, axle: Ref) -> tuple[RodRecord, ...]:
    try:
        return read(bar_drawn, axle)
    except NotComputedError:
        return ()


def _beam(read: Reader, axle: Ref) -> tuple[BeamRod, ...]:
    try:
        return read(beam_rods, axle)
    except NotComputedError:
        return ()


@cell(When.LIVE)
def beam_rods(read: Reader, axle: Ref) -> tuple[BeamRod, ...]:
    """A rigid axle's links and the beam; nothing of any other axle."""
    if not read(is_rigid, axle):
        return ()
    ends = tuple(_inside(read, corner) for corner in read(pair_of, axle))
    line = rod(axle, "axle", (vec(ends[0]), vec(ends[1])), BEAM, "upright")
    return (
        BeamRod(line, is_on_axle=True),
        *_links(read, axle),
        *(BeamRod(each, is_on_axle=True) for each in _spokes(read, axle, ends)),
    )


def _inside(read: Reader, corner: Ref) -> Array:
    """Where the beam ends at a wheel, (3,) mm."""
    upright = read.thing(Corner, corner).upright
    return array(upright.hub_face) - unit(array(upright.spin_axis)) * INSIDE


def _links(read: Reader, axle: Ref) -> Iterator[BeamRod]:
    thing = read.thing(Axle, axle)
    for link in thing.links:
        ends = (read(place, link.inner), read(place, link.outer))
        drawn = rod(axle, link.name, ends, (link.outside or 2 * LINK) / 2, "link")
        yield BeamRod(drawn, is_on_axle=False)
    for name, inner, outer in chain.from_iterable(map(_arm, thing.holders)):
        ends = (read(place, inner), read(place, outer))
        yield BeamRod(rod(axle, name, ends, LINK, "link"), is_on_axle=False)


def _arm(held: Holder) -> Iterator[tuple[str, Ref, Ref]]:
    """Both sides of an H-arm, and a strut from its top."""
    if held.how == "h_arm":
        first, second, first_outer, second_outer = held.points
        yield held.name, first, first_outer
        yield held.name, second, second_outer
    if held.how == "strut":
        yield held.name, held.points[1], held.points[0]


def _spokes(read: Reader, axle: Ref, ends: tuple[Array, ...]) -> Iterator[RodRecord]:
    """From the beam to what is on it, so that it reads as one part."""
    thing = read.thing(Axle, axle)
    held = (ref for each in thing.holders for ref in _on_axle(each))
    for ref in dict.fromkeys((*(link.outer for link in thing.links), *held)):
        at = read(place, ref)
        yield rod(axle, "axle", (_nearest(ends, array(at)), at), SPOKE, "upright")


def _on_axle(held: Holder) -> tuple[Ref, ...]:
    """The points of a holder that go with the axle."""
    match held.how:
        case "h_arm":
            return held.points[2:]
        case "strut":
            return held.points[:1]
        case _:
            return held.points


def _nearest(ends: tuple[Array, ...], at: Array) -> Vec3:
    """The place of the beam that a place is nearest to."""
    start, along = ends[0], ends[1] - ends[0]
    size = float(np.sum(along**2))
    share = float(np.clip(np.sum((at - start) * along) / size, 0.0, 1.0)) if size else 0.0
    return vec(start + share * along)


def posed_axle(read: Reader, axle: Ref, posed: Mapping[Ref, Poses]) -> tuple[RodRecord, ...] | None:
    """All that is drawn of an axle where its wheels stand.

    Args:
        read: what the document says.
        axle: whose.
        posed: poses () of the corners of which it is known where they stand.

    Returns:
        Its rods; None where nothing moves, or it is not known where to: it stays as drawn.
    """
    bar, beam = posed_bar(read, axle, posed), _posed_beam(read, axle, posed)
    if bar is None and beam is None:
        return None
    drawn = tuple(each.rod for each in _beam(read, axle))
    return (*(_bar(read, axle) if bar is None else bar), *(drawn if beam is None else beam))


def _posed_beam(
    read: Reader, axle: Ref, posed: Mapping[Ref, Poses]
) -> tuple[RodRecord, ...] | None:
    carried = _beam(read, axle)
    if not carried:
        return None
    poses = posed.get(read(pair_of, axle)[0])
    return None if poses is None else tuple(_moved(each, poses) for each in carried)


def _moved(each: BeamRod, poses: Poses) -> RodRecord:
    line = np.array(poses.at(each.rod.line))
    if not each.is_on_axle:
        line[0] = each.rod.line[0]
    return replace(each.rod, line=line)
