"""How far the joint at each end of a link must tilt over travel and steer."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from core.assess.dampers import height_of_other
from core.assess.joints import JointEnd, ends_of, ends_that_turn, joint_at
from core.assess.tilting import Turns, turns_of
from core.assess.travels import over_both
from core.document.base import Ref, Vec3
from core.document.steel import JointKind
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.poses import Poses


@dataclass(frozen=True)
class EndTilt:
    """The joint at one end of a link.

    Attributes:
        end: the point, or the rack's ball.
        link: what ends there, as the builder calls it.
        kind: of joint.
        tilt_deg: largest over travel and steer, as drawn.
        bump: wheel height at which it is, mm.
        rack: rack travel at which it is, mm to the left.
        limit_deg: figure on the part; None where none is given.
        limit_from: where that figure is from.
        is_whole: whether the wheel reaches all of its travel and steer; else it is of what it does.
        other: height of the other wheel at which it is, mm, on a rigid axle; else None.
    """

    end: Ref
    link: str
    kind: JointKind
    tilt_deg: float
    bump: float
    rack: float
    limit_deg: float | None
    limit_from: str
    is_whole: bool = True
    other: float | None = None


@dataclass(frozen=True)
class BestBolt:
    """The direction of a bolt, or of a ball's cup, that needs the least tilt.

    Attributes:
        end: the point, or the rack's ball.
        link: what ends there.
        tilt_deg: largest tilt that is left with it.
        direction: of the bolt or cup at the design position, car frame.
    """

    end: Ref
    link: str
    tilt_deg: float
    direction: Vec3


@dataclass(frozen=True)
class NoTilt:
    """A link end whose tilt could not be worked out, and why.

    Attributes:
        end: the point, or the rack's ball.
        link: what ends there.
        reason: why.
        has_joint: whether a joint is entered there.
    """

    end: Ref
    link: str
    reason: str
    has_joint: bool = True


@cell(When.RELEASE)
def tilts(read: Reader, corner: Ref) -> tuple[EndTilt | NoTilt, ...]:
    """The joint at each end of each link and of the damper, and pivots, in the corner's order.

    A link of a rigid axle is told at the wheel on whose side it ends.
    """
    return tuple(_all(read, corner, read(over_both, corner)))


def _all(read: Reader, corner: Ref, poses: Poses) -> Iterator[EndTilt | NoTilt]:
    for end in ends_of(read, corner):
        yield _tried(read, corner, poses, end)


def _tried(read: Reader, corner: Ref, poses: Poses, end: JointEnd) -> EndTilt | NoTilt:
    try:
        joint_at(read, end.ref)
    except NotComputedError as error:
        return NoTilt(end.ref, end.name, str(error), has_joint=False)
    try:
        return _tilt(read, poses, end, turns_of(read, corner, poses, end))
    except NotComputedError as error:
        return NoTilt(end.ref, end.name, str(error))


@dataclass(frozen=True, eq=False)
class Tilting:
    """The joint at one end of a link, with how far it tilts at any poses.

    Attributes:
        end: the point, or the rack's ball.
        link: what ends there.
        reading: from poses (...) to tilts (...) deg; None where it cannot be worked out.
        limit_deg: figure on the part; None where none is given.
    """

    end: Ref
    link: str
    reading: Callable[[Poses], Array] | None
    limit_deg: float | None


def tilting(read: Reader, corner: Ref) -> Iterator[Tilting]:
    """Each joint of what holds a wheel that tilts, also where too little is entered of it."""
    at_design = read(over_both, corner)
    for end in ends_that_turn(read, corner):
        try:
            joint = joint_at(read, end.ref)
            if joint.kind in ("hinge", "fixed"):
                continue
            turns_of(read, corner, at_design, end)
        except NotComputedError:
            yield Tilting(end.ref, end.name, None, None)
            continue

        def reading(poses: Poses, end: JointEnd = end) -> Array:
            return turns_of(read, corner, poses, end).tilt_deg()

        yield Tilting(end.ref, end.name, reading, joint.tilt_limit_deg)


@cell(When.RELEASE)
def best_bolts(read: Reader, corner: Ref) -> tuple[BestBolt, ...]:
    """The best that each bolt could do, for every joint that can be worked out."""
    return tuple(_bests(read, corner, read(over_both, corner)))


def _bests(read: Reader, corner: Ref, poses: Poses) -> Iterator[BestBolt]:
    for end in ends_of(read, corner):
        try:
            yield _best(read, corner, poses, end)
        except NotComputedError:
            continue


def _best(read: Reader, corner: Ref, poses: Poses, end: JointEnd) -> BestBolt:
    least = turns_of(read, corner, poses, end).least()
    x, y, z = (float(value) for value in least.direction)
    return BestBolt(end.ref, end.name, least.tilt_deg, Vec3(x, y, z))


@cell(When.RELEASE)
def best_bolt(read: Reader, corner: Ref, end: Ref, link: str) -> BestBolt:
    """The best that the bolt of one joint could do; the others take no time.

    Raises:
        NotComputedError: the corner has no such joint, or it cannot be worked out.
    """
    found = next((e for e in ends_of(read, corner) if (e.ref, e.name) == (end, link)), None)
    if found is None:
        msg = f"{read.label(corner)} has no {link} at {read.label(end)}"
        raise NotComputedError(msg)
    return _best(read, corner, read(over_both, corner), found)


def _tilt(read: Reader, poses: Poses, end: JointEnd, turns: Turns) -> EndTilt:
    """The worst of a joint over all positions."""
    joint = joint_at(read, end.ref)
    everywhere = np.broadcast_to(turns.tilt_deg(), poses.shape)
    flat = int(np.nanargmax(everywhere))
    at = np.unravel_index(flat, poses.shape)
    bump, rack = np.broadcast_arrays(poses.travel.bump, poses.travel.rack)
    return EndTilt(
        end=end.ref,
        link=end.name,
        kind=joint.kind,
        tilt_deg=float(everywhere[at]),
        bump=float(bump[at]),
        rack=float(rack[at]),
        limit_deg=joint.tilt_limit_deg,
        limit_from=joint.limit_from,
        is_whole=bool(poses.is_reached.all()),
        other=height_of_other(poses, flat),
    )
