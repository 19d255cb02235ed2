"""The joints of a corner: at both ends of links and damper, at pivots, in hinges, over a strut.

A guide and the foot of a strut have none: they slide, or are one with the upright.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain

from core.assess.linkages import ROLES, holders_on
from core.assess.pairs import is_on_rigid_axle, links_of, stands_on
from core.assess.places import place
from core.document.base import Ref
from core.document.links import Holder, Link
from core.document.running_gear import Corner, Rack
from core.document.steel import LinkEnd, Point
from core.engine.cells import NotComputedError, Reader


@dataclass(frozen=True)
class JointEnd:
    """Where a joint is, and what it joins.

    Attributes:
        ref: the point, or the rack's ball.
        name: of the link, arm or holder that ends there, or damper.
        link: that ends there; None where it is no link.
        is_inner: whether it is on the chassis.
        hinge: the two points of the line that its bolt should lie along; None where there is none.
        foot: of the strut whose top it is, on the upright; None where it is no strut's.
        is_pivot: whether a ball there is all that holds a place of the upright.
    """

    ref: Ref
    name: str
    link: Link | None = None
    is_inner: bool = False
    hinge: tuple[Ref, Ref] | None = None
    foot: Ref | None = None
    is_pivot: bool = False


def ends_of(read: Reader, corner: Ref) -> Iterator[JointEnd]:
    """Every joint of a corner once; of a beam those of the links that end on this side of it.

    What holds a beam besides links is told at its left wheel. A damper that is the strut has its
    joint at the strut's top alone.
    """
    held = tuple(_held(read, corner))
    is_strut = {ref for end in held if end.foot is not None for ref in (end.ref, end.foot)}
    yield from _once(_of_links(_on_side(read, corner)))
    yield from (end for end in _of_damper(read, corner) if end.ref not in is_strut)
    if not read(is_on_rigid_axle, corner) or stands_on(read, corner) == "left":
        yield from held


def ends_that_turn(read: Reader, corner: Ref) -> Iterator[JointEnd]:
    """The joints of all that holds a wheel, on whichever side of a beam; not those in a hinge."""
    yield from _once(_of_links(links_of(read, corner)))
    yield from (end for end in _held(read, corner) if end.hinge is None)


def _held(read: Reader, corner: Ref) -> Iterator[JointEnd]:
    """Joints that are no ends of links: by roles and holders."""
    linked = {end.ref for end in _of_links(links_of(read, corner))}
    found = (
        *_by_roles(read, corner),
        *chain.from_iterable(map(_of_holder, holders_on(read, corner))),
    )
    yield from _once(end for end in found if end.ref not in linked)


def _once(found: Iterable[JointEnd]) -> Iterator[JointEnd]:
    """The ball that two legs share, once."""
    seen: set[Ref] = set()
    for end in found:
        if end.ref not in seen:
            seen.add(end.ref)
            yield end


def _of_links(links: tuple[Link, ...]) -> Iterator[JointEnd]:
    for link in links:
        yield JointEnd(link.inner, link.name, link, is_inner=True)
        yield JointEnd(link.outer, link.name, link)


def _on_side(read: Reader, corner: Ref) -> tuple[Link, ...]:
    """Links of a beam belong to the side that they end on; in the middle, to the left."""
    links = links_of(read, corner)
    if not read(is_on_rigid_axle, corner):
        return links
    is_left = stands_on(read, corner) == "left"
    return tuple(each for each in links if (read(place, each.outer).y >= 0.0) == is_left)


def _of_damper(read: Reader, corner: Ref) -> Iterator[JointEnd]:
    damper = read.thing(Corner, corner).damper
    if damper is not None:
        yield JointEnd(damper.upper, "damper", is_inner=True)
        yield JointEnd(damper.lower, "damper")


def _by_roles(read: Reader, corner: Ref) -> Iterator[JointEnd]:
    thing = read.thing(Corner, corner)
    roles = {role.role: role.point for role in thing.points}
    at = [roles[name] for name in ROLES.get(thing.linkage, ()) if name in roles]
    if len(at) != len(ROLES.get(thing.linkage, ())):
        return  # what is missing is told where it holds the wheel
    match thing.linkage:
        case "trailing_arm_two_lateral_links":
            yield JointEnd(at[0], "arm pivot", is_inner=True, is_pivot=True)
        case "semi_trailing_arm":
            yield from _hinge("arm hinge", (at[0], at[1]), is_inner=True)
        case "upper_link_lower_h_arm":
            yield from _h_arm("lower arm", at)
        case "strut":
            yield JointEnd(at[1], "strut", is_inner=True, foot=at[0])
        case _:
            return


def _of_holder(held: Holder) -> Iterator[JointEnd]:
    match held.how:
        case "ball":
            yield JointEnd(held.points[0], held.name, is_inner=True, is_pivot=True)
        case "hinge":
            yield from _hinge(held.name, (held.points[0], held.points[1]), is_inner=True)
        case "h_arm":
            yield from _h_arm(held.name, list(held.points))
        case "strut":
            yield JointEnd(held.points[1], held.name, is_inner=True, foot=held.points[0])
        case "guide":
            return


def _h_arm(name: str, at: list[Ref]) -> Iterator[JointEnd]:
    yield from _hinge(name, (at[0], at[1]), is_inner=True)
    yield from _hinge(name, (at[2], at[3]), is_inner=False)


def _hinge(name: str, line: tuple[Ref, Ref], *, is_inner: bool) -> Iterator[JointEnd]:
    for ref in line:
        yield JointEnd(ref, name, is_inner=is_inner, hinge=line)


def joint_at(read: Reader, end: Ref) -> LinkEnd:
    """The joint at a point, or at a rack's ball.

    Raises:
        NotComputedError: none is entered there.
    """
    if read.has(Rack, end):
        joint = read.thing(Rack, Ref(end.id)).joint
        if joint is not None and end.side == "right":
            return _mirrored(joint)
    else:
        joint = read.thing(Point, end).joint
    if joint is None:
        msg = f"what joint is at {read.label(end)}, and how its bolt lies, is not known"
        raise NotComputedError(msg)
    return joint


def _mirrored(joint: LinkEnd) -> LinkEnd:
    """The same joint at the right ball."""
    cup = joint.cup_direction
    return LinkEnd(
        kind=joint.kind,
        carried_by=joint.carried_by,
        direction=joint.direction._replace(y=-joint.direction.y),
        cup_direction=cup and cup._replace(y=-cup.y),
        tilt_limit_deg=joint.tilt_limit_deg,
        limit_from=joint.limit_from,
    )
