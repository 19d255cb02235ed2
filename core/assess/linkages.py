"""What holds each wheel, from the document to the room of suspensions."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from core.assess.pairs import is_on_rigid_axle, links_of, stands_on
from core.assess.places import array, place
from core.assess.wheels import wheel_centre
from core.document.base import Ref
from core.document.links import Holder, Link
from core.document.running_gear import Axle, Corner, Rack, Tyre
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.constraints import Constraint, Guide, HArm, Held, Hinge, Rod, Slide
from core.suspension.linkage import Linkage, SteeringAxis, WheelAtDesign
from core.suspension.makers import Arm

ROLES: Mapping[str, tuple[str, ...]] = {
    "strut": ("strut_lower", "strut_top"),
    "trailing_arm_two_lateral_links": ("arm_pivot",),
    "semi_trailing_arm": ("arm_hinge_inner", "arm_hinge_outer"),
    "upper_link_lower_h_arm": (
        "lower_inner_front",
        "lower_inner_rear",
        "lower_outer_front",
        "lower_outer_rear",
    ),
}
"""Points that a linkage needs besides its links, by their roles."""

H_ARM = "upper_link_lower_h_arm"

ArmName = Literal["lower arm", "upper arm"]


def role(read: Reader, corner: Ref, name: str) -> Array:
    """Place (3,) mm of the point that has a role in a corner.

    Raises:
        NotComputedError: no point has it.
    """
    thing = read.thing(Corner, corner)
    found = next((each.point for each in thing.points if each.role == name), None)
    if found is None:
        msg = f"{read.label(corner)} has no point in the role {name.replace('_', ' ')}"
        raise NotComputedError(msg)
    return array(read(place, found))


@cell(When.LIVE)
def tyre_radius(read: Reader, corner: Ref) -> float:
    """Radius under load, mm: the tyre's, else the height at which the wheel is drawn."""
    ref = read.thing(Corner, corner).tyre
    given = None if ref is None else read.thing(Tyre, ref).loaded_radius
    radius = read(wheel_centre, corner).z if given is None else given
    if radius <= 0.0:
        msg = f"how high the wheel of {read.label(corner)} stands over the ground is not known"
        raise NotComputedError(msg)
    return radius


@dataclass(frozen=True, eq=False)
class CornerArm:
    """An arm with two inner ends and the ball or balls they share.

    Attributes:
        name: lower or upper, by the height of the ball.
        arm: its points at design.
        links: the names of its legs.
    """

    name: ArmName
    arm: Arm
    links: tuple[str, ...]


@cell(When.LIVE)
def arms(read: Reader, corner: Ref) -> tuple[CornerArm, ...]:
    """The arms of a corner, or of the beam it is on: links two by two, and H-arms.

    Two links that share their outer end are an arm. A link on a rack is the leg of none: its
    inner end moves. Of an H-arm the first of its outer points stands for its ball.
    """
    if read.thing(Corner, corner).linkage == "upper_link_lower_h_arm":
        inner, rear, outer, _ = (role(read, corner, name) for name in ROLES[H_ARM])
        return (CornerArm("lower arm", Arm(inner, rear, outer), ()),)
    shared: dict[Ref, list[Link]] = {}
    for link in links_of(read, corner):
        if not read.has(Rack, link.inner):
            shared.setdefault(link.outer, []).append(link)
    pairs = [legs for legs in shared.values() if len(legs) == 2]
    made = [(_arm(read, legs), tuple(leg.name for leg in legs)) for legs in pairs]
    made += [(_h_arm(read, each), ()) for each in holders_on(read, corner) if each.how == "h_arm"]
    if len(made) > 2:
        return ()
    middle = read(wheel_centre, corner).z
    made.sort(key=lambda each: float(each[0].outer[2]))
    names = _arm_names([float(arm.outer[2]) for arm, _ in made], middle)
    return tuple(CornerArm(name, arm, legs) for name, (arm, legs) in zip(names, made, strict=True))


def _arm(read: Reader, legs: list[Link]) -> Arm:
    """An arm; its front leg is the one further ahead on the chassis."""
    inner = sorted((array(read(place, leg.inner)) for leg in legs), key=lambda at: -float(at[0]))
    return Arm(inner[0], inner[1], array(read(place, legs[0].outer)))


def _h_arm(read: Reader, held: Holder) -> Arm:
    inner, rear, outer = (array(read(place, point)) for point in held.points[:3])
    return Arm(inner, rear, outer)


def _arm_names(heights: list[float], middle: float) -> tuple[ArmName, ...]:
    """Lower and upper; one alone by whether its ball is below the wheel centre."""
    if len(heights) == 1:
        return ("lower arm",) if heights[0] < middle else ("upper arm",)
    names: tuple[ArmName, ...] = ("lower arm", "upper arm")
    return names[: len(heights)]


def arm_named(read: Reader, corner: Ref, name: str) -> Arm:
    """The arm of a name.

    Raises:
        NotComputedError: the corner has none.
    """
    for each in read(arms, corner):
        if each.name == name:
            return each.arm
    msg = f"{read.label(corner)} has no {name}: no two of its links share an outer end there"
    raise NotComputedError(msg)


@cell(When.LIVE)
def linkage(read: Reader, corner: Ref) -> Linkage:
    """What holds the upright of a corner, with its wheel and its steering axis."""
    thing = read.thing(Corner, corner)
    if read(is_on_rigid_axle, corner):
        msg = f"{read.label(corner)} is on a rigid axle, whose wheels are not held one by one"
        raise NotComputedError(msg)
    held = (
        *(_rod(read, link) for link in thing.links),
        *_by_roles(read, corner, thing.linkage),
        *(_holder(read, each) for each in thing.holders),
    )
    if not held:
        msg = f"nothing is entered that holds the upright of {read.label(corner)}"
        raise NotComputedError(msg)
    return Linkage(held, wheel_at_design(read, corner), _steering_axis(read, corner))


def wheel_at_design(read: Reader, corner: Ref) -> WheelAtDesign:
    """The wheel of a corner as it is drawn."""
    return WheelAtDesign(
        array(read(wheel_centre, corner)),
        array(read.thing(Corner, corner).upright.spin_axis),
        read(tyre_radius, corner),
        stands_on(read, corner),
    )


def _rod(read: Reader, link: Link) -> Rod:
    ends = array(read(place, link.inner)), array(read(place, link.outer))
    return Rod(link.name, *ends, read.has(Rack, link.inner))


def rods_of(read: Reader, links: tuple[Link, ...]) -> tuple[Rod, ...]:
    """Links as rods."""
    return tuple(_rod(read, link) for link in links)


def holders_on(read: Reader, corner: Ref) -> tuple[Holder, ...]:
    """What else holds a wheel, or the beam that it is on."""
    thing = read.thing(Corner, corner)
    return read.thing(Axle, thing.axle).holders if read(is_on_rigid_axle, corner) else thing.holders


def _by_roles(read: Reader, corner: Ref, kind: str) -> Iterator[Constraint]:
    """What holds the upright besides links, by the roles of points."""
    at = [role(read, corner, name) for name in ROLES.get(kind, ())]
    match kind:
        case "strut":
            yield Slide("strut", *at)
        case "trailing_arm_two_lateral_links":
            yield Held("arm pivot", *at)
        case "semi_trailing_arm":
            yield Hinge("arm hinge", *at)
        case "upper_link_lower_h_arm":
            yield HArm("lower arm", *at)
        case _:
            return


def _holder(read: Reader, held: Holder) -> Constraint:
    at = [array(read(place, point)) for point in held.points]
    match held.how:
        case "ball":
            return Held(held.name, *at)
        case "hinge":
            return Hinge(held.name, *at)
        case "strut":
            return Slide(held.name, *at)
        case "guide":
            assert held.direction is not None  # `Holder.check` asks for it
            return Guide(held.name, at[0], array(held.direction))
        case "h_arm":
            return HArm(held.name, *at)


def holders_of(read: Reader, held: tuple[Holder, ...]) -> tuple[Constraint, ...]:
    """What else holds, as constraints."""
    return tuple(_holder(read, each) for each in held)


def _steering_axis(read: Reader, corner: Ref) -> SteeringAxis | None:
    """The two points that a wheel is steered about, where two points are; an H-arm has no ball."""
    found = {each.name: each.arm for each in read(arms, corner) if each.links}
    top = _strut_top(read, corner)
    if top is not None and "lower arm" in found:
        return SteeringAxis(found["lower arm"].outer, top, "chassis")
    if {"lower arm", "upper arm"} <= found.keys():
        return SteeringAxis(found["lower arm"].outer, found["upper arm"].outer)
    return None


def _strut_top(read: Reader, corner: Ref) -> Array | None:
    """Where a strut stands on the chassis, (3,) mm; none where there is no strut, or several."""
    thing = read.thing(Corner, corner)
    if thing.linkage == "strut":
        return role(read, corner, "strut_top")
    struts = [held for held in thing.holders if held.how == "strut"]
    return array(read(place, struts[0].points[1])) if len(struts) == 1 else None
