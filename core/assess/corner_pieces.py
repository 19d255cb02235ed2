"""Parts of what holds a corner at a pose, as forces and assumptions for the room of loads."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from core.assess.dampers import rocker_at_design
from core.assess.linkages import ROLES, CornerArm
from core.assess.places import array, place
from core.document.base import Ref
from core.document.links import Holder, Link
from core.document.running_gear import Corner, Rack
from core.engine.cells import NotComputedError, Reader
from core.geometry.types import Array
from core.loads.statics import (
    CHASSIS,
    Action,
    Tie,
    across,
    ball,
    rod,
    shared_alike,
    shared_by_legs,
)
from core.suspension.carried import carried_place
from core.suspension.poses import Poses
from core.suspension.rocker import rocker_poses

UPRIGHT = 0
"""The body that every corner has."""

LEFT = np.array([0.0, 1.0, 0.0])

HOW = {
    "strut": "strut",
    "trailing_arm_two_lateral_links": "ball",
    "semi_trailing_arm": "hinge",
    "upper_link_lower_h_arm": "h_arm",
}
"""How a linkage holds besides its links."""

HOLDER_NAMES = {
    "strut": "strut",
    "ball": "arm pivot",
    "hinge": "arm hinge",
    "h_arm": "lower arm",
}


@dataclass(frozen=True, eq=False)
class Leg:
    """Something between two places that is pulled or pushed.

    Attributes:
        name: what it is called.
        key: of its force.
        inner: (3,) mm, its end on the chassis.
        outer: (3,) mm.
        bends: whether it is the leg of an arm that carries more, and is bent too.
    """

    name: str
    key: str
    inner: Array
    outer: Array
    bends: bool = False


@dataclass(frozen=True, eq=False)
class Piece:
    """A part of what holds a corner.

    Attributes:
        actions: its unknowns.
        ties: assumptions.
        seats: places on the chassis, each with its key.
        balls: places on the upright, each with its key.
        legs: what is told as pulled or pushed.
    """

    actions: tuple[Action, ...]
    ties: tuple[Tie, ...] = ()
    seats: tuple[tuple[Ref, str], ...] = ()
    balls: tuple[tuple[Ref, str], ...] = ()
    legs: tuple[Leg, ...] = ()


@dataclass(frozen=True, eq=False)
class Posed:
    """A corner at a pose, and where its places stand.

    Attributes:
        read: what the document says.
        corner: which.
        thing: the same.
        poses: of its upright, shape ().
        arms: by name.
        bodies: besides the upright, by name.
    """

    read: Reader
    corner: Ref
    thing: Corner
    poses: Poses
    arms: dict[str, CornerArm]
    bodies: dict[str, int]

    @property
    def arm_bodies(self) -> list[CornerArm]:
        """Arms that are bodies of their own."""
        return [each for name, each in self.arms.items() if name in self.bodies]

    def fixed(self, ref: Ref) -> Array:
        """Where a place on the chassis, or the ball of a rack, stands."""
        at = array(self.read(place, ref))
        return at + self.poses.travel.rack * LEFT if self.read.has(Rack, ref) else at

    def moving(self, ref: Ref, name: str = "upright") -> Array:
        """Where a place on the upright, or on an arm, stands."""
        arm = None if name == "upright" else self.arms[name].arm
        return carried_place(self.poses, array(self.read(place, ref)), arm)

    def on_rocker(self, drawn: Array) -> Array:
        """Where a place on the rocker stands."""
        try:
            found = rocker_poses(self.poses, self.read(rocker_at_design, self.corner)).at(drawn)
        except ValueError as error:
            raise NotComputedError(str(error)) from error
        if np.isnan(found).any():
            msg = f"the rocker of {self.read.label(self.corner)} has no place there"
            raise NotComputedError(msg)
        return found


def links_and_holders(posed: Posed) -> Iterator[Piece]:
    """All that holds the upright but what springs it."""
    own = {name for each in posed.arm_bodies for name in each.links}
    for link in posed.thing.links:
        if link.name not in own:
            yield _link(posed, link)
    for each in posed.arm_bodies:
        if each.links:
            yield _arm(posed, each)
    for held in _holders(posed):
        yield _holder(posed, held)


def _link(posed: Posed, link: Link) -> Piece:
    inner, outer = posed.fixed(link.inner), posed.moving(link.outer)
    key = f"link {link.name}"
    return Piece(
        rod(key, UPRIGHT, CHASSIS, inner, outer),
        seats=((link.inner, key),),
        balls=((link.outer, key),),
        legs=(Leg(link.name, key, inner, outer),),
    )


def _arm(posed: Posed, arm: CornerArm) -> Piece:
    """A wishbone that carries more than its ball."""
    body, at_ball = posed.bodies[arm.name], f"{arm.name} ball"
    links = [link for link in posed.thing.links if link.name in arm.links]
    keys, outer = [f"link {link.name}" for link in links], posed.moving(links[0].outer)
    inner = [posed.fixed(link.inner) for link in links]
    hung = [a for key, at in zip(keys, inner, strict=True) for a in ball(key, body, CHASSIS, at)]
    return Piece(
        (*ball(at_ball, UPRIGHT, body, outer), *hung),
        (shared_by_legs(keys[0], keys[1], at_ball, (inner[0], inner[1], outer)),),
        tuple(zip((link.inner for link in links), keys, strict=True)),
        ((links[0].outer, at_ball),),
        tuple(
            Leg(link.name, key, at, outer, bends=True)
            for link, key, at in zip(links, keys, inner, strict=True)
        ),
    )


def _holders(posed: Posed) -> Iterator[Holder]:
    """What holds besides links; what a linkage has by its roles is told as one of them."""
    kind = posed.thing.linkage
    if kind in HOW:
        roles = {each.role: each.point for each in posed.thing.points}
        points = tuple(roles[name] for name in ROLES[kind])
        how = HOW[kind]
        yield Holder(name=HOLDER_NAMES[how], how=how, points=points)  # type: ignore[arg-type]
    yield from posed.thing.holders


def _holder(posed: Posed, held: Holder) -> Piece:
    match held.how:
        case "ball":
            return _ball(posed, held)
        case "hinge":
            return _hinge(posed, held)
        case "strut":
            return _strut(posed, held)
        case "guide":
            return _guide(posed, held)
        case "h_arm":
            return _h_arm(posed, held)


def _ball(posed: Posed, held: Holder) -> Piece:
    at = held.points[0]
    return Piece(
        ball(held.name, UPRIGHT, CHASSIS, posed.fixed(at)),
        seats=((at, held.name),),
        balls=((at, held.name),),
    )


def _hinge(posed: Posed, held: Holder) -> Piece:
    keys = f"{held.name} first", f"{held.name} second"
    first, second = (posed.fixed(ref) for ref in held.points)
    seats = tuple(zip(held.points, keys, strict=True))
    return Piece(
        (*ball(keys[0], UPRIGHT, CHASSIS, first), *ball(keys[1], UPRIGHT, CHASSIS, second)),
        (shared_alike(*keys, second - first),),
        seats,
        seats,
    )


def _strut(posed: Posed, held: Holder) -> Piece:
    lower, top = held.points
    at = posed.fixed(top)
    return Piece(
        across(held.name, UPRIGHT, CHASSIS, at, at - posed.moving(lower)),
        seats=((top, held.name),),
    )


def _guide(posed: Posed, held: Holder) -> Piece:
    assert held.direction is not None  # `Holder.check` asks for it
    at = held.points[0]
    return Piece(
        across(held.name, UPRIGHT, CHASSIS, posed.moving(at), array(held.direction)),
        seats=((at, held.name),),
        balls=((at, held.name),),
    )


def _h_arm(posed: Posed, held: Holder) -> Piece:
    body = posed.bodies[_name_of(posed, held)]
    keys = [f"{held.name} {which}" for which in ("inner 1", "inner 2", "outer 1", "outer 2")]
    inner = [posed.fixed(ref) for ref in held.points[:2]]
    outer = [posed.moving(ref) for ref in held.points[2:]]
    hung = (ball(key, body, CHASSIS, at) for key, at in zip(keys[:2], inner, strict=True))
    out = (ball(key, UPRIGHT, body, at) for key, at in zip(keys[2:], outer, strict=True))
    return Piece(
        tuple(action for actions in (*hung, *out) for action in actions),
        (
            shared_alike(keys[0], keys[1], inner[1] - inner[0]),
            shared_alike(keys[2], keys[3], outer[1] - outer[0]),
        ),
        tuple(zip(held.points[:2], keys[:2], strict=True)),
        tuple(zip(held.points[2:], keys[2:], strict=True)),
    )


def _name_of(posed: Posed, held: Holder) -> str:
    """Lower or upper, of an H-arm."""
    at = array(posed.read(place, held.points[2]))
    found = (n for n, each in posed.arms.items() if np.array_equal(each.arm.outer, at))
    return next(name for name in found if not posed.arms[name].links)
