"""The rule on steering arms: whether each points to the side of its axis where its rack lies."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, degrees

import numpy as np

from core.assess.limits import Limited, limit
from core.assess.linkages import linkage
from core.assess.pairs import corners_of, stands_on
from core.assess.places import array, place, vec
from core.assess.travels import rack_of, solved, used_rack
from core.document.base import Ref, Vec3
from core.document.links import Link
from core.document.running_gear import Axle, Corner, Rack
from core.edits.donor_places import SteeringArm, steering_arm
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Verdict
from core.geometry.types import Array, unit
from core.quantities import number
from core.suspension.linkage import Linkage, outboard
from core.suspension.steering import steering_screw
from core.suspension.travel import at
from core.suspension.wheel import toe_in_deg

KEY = "steering_arm"
LITTLE_RACK = 10.0
"""mm of rack each way that the wheels are turned by where its own travel is not known."""

OF = {"ahead": "ahead of", "behind": "behind", "neither": "in line with"}


@dataclass(frozen=True)
class ArmHere:
    """The steering arm of a corner as it is drawn.

    Attributes:
        arm: its ball from the steering axis, at the height of the ball.
        rack: the rack's ball from the same axis, likewise.
        off_square_deg: of the track rod to the arm, seen along the axis.
        ball: of the arm, mm, car frame.
    """

    arm: SteeringArm
    rack: SteeringArm
    off_square_deg: float
    ball: Vec3

    @property
    def is_on_its_side(self) -> bool:
        """Whether arm and rack lie on one side of the axis."""
        return self.arm.points == self.rack.points != "neither"


@cell(When.LIVE)
def arm_of(read: Reader, corner: Ref) -> ArmHere:
    """The steering arm of a corner that a rack steers.

    Raises:
        NotComputedError: nothing steers it, or about what its wheel turns is not known.
    """
    rod = _rod_on_rack(read, corner)
    if rod is None:
        msg = f"no link of {read.label(corner)} ends on the rack"
        raise NotComputedError(msg)
    inner, ball = (array(read(place, end)) for end in (rod.inner, rod.outer))
    axis = _axis(read, corner)
    arm, rack = (_from_axis(read, corner, axis, each) for each in (ball, inner))
    return ArmHere(arm, rack, _off_square(axis, inner, ball), vec(ball))


def _rod_on_rack(read: Reader, corner: Ref) -> Link | None:
    links = read.thing(Corner, corner).links
    return next((link for link in links if read.has(Rack, link.inner)), None)


def _axis(read: Reader, corner: Ref) -> tuple[Array, Array]:
    """Two places (3,) mm of the line that the wheel turns about, the lower one first.

    Where no two points are that line it is the one the upright turns about as the rack begins to
    move.

    Raises:
        NotComputedError: the rack does not turn it.
    """
    held = read(linkage, corner)
    if held.steering_axis is not None:
        return held.steering_axis.lower, held.steering_axis.upper
    line = steering_screw(solved(held, at(), read.label(corner)))
    if not np.isfinite(line.point).all():
        msg = f"the rack does not turn {read.label(corner)}"
        raise NotComputedError(msg)
    up = line.direction * (1.0 if line.direction[2] > 0.0 else -1.0)
    return line.point, line.point + 100.0 * up


def _from_axis(read: Reader, corner: Ref, axis: tuple[Array, Array], ball: Array) -> SteeringArm:
    """Where a ball is from the axis, ahead and outboard, at its own height."""
    roles = ("lower_outer", "upper_outer", "tie_outer")
    side = stands_on(read, corner)
    by_role = {
        role: vec(outboard(each, side)) for role, each in zip(roles, (*axis, ball), strict=True)
    }
    found = steering_arm(by_role)
    if found is None:
        msg = f"the steering axis of {read.label(corner)} lies flat"
        raise NotComputedError(msg)
    return found


def _off_square(axis: tuple[Array, Array], inner: Array, ball: Array) -> float:
    """How far the track rod is from square to the arm, deg, seen along the axis (derived here)."""
    up = unit(axis[1] - axis[0])
    rod, arm = (each - float(each @ up) * up for each in (ball - inner, ball - axis[0]))
    size = float(np.linalg.norm(rod) * np.linalg.norm(arm))
    return degrees(asin(min(1.0, abs(float(rod @ arm)) / size))) if size else 90.0


@dataclass(frozen=True)
class Steered:
    """What the rack makes of a wheel, its links solved.

    Attributes:
        rack: mm each way that was asked.
        is_lock: whether that is all the rack goes.
        left_for_left: whether the wheel steers left as the rack goes left.
        inner_more_deg: steer of the inner wheel beyond the outer's there, each from where it stands
            straight ahead, the other side taken for the mirror image.
    """

    rack: float
    is_lock: bool
    left_for_left: bool
    inner_more_deg: float


@cell(When.RELEASE)
def steered(read: Reader, corner: Ref) -> Steered:
    """How a corner steers at both ends of its rack.

    Raises:
        NotComputedError: its links do not reach there, or do not hold the upright.
    """
    try:
        rack, is_lock = read(used_rack, corner), True
    except NotComputedError:
        rack, is_lock = LITTLE_RACK, False
    left, right = _toe_out(read(linkage, corner), rack, read.label(corner))
    if stands_on(read, corner) == "right":
        left, right = right, left
    is_front = read.thing(Axle, read.thing(Corner, corner).axle).end == "front"
    more = left + right
    return Steered(rack, is_lock, left > right, more if is_front else -more)


def _toe_out(held: Linkage, rack: float, name: str) -> tuple[float, float]:
    """Change of toe-out, deg, with the rack so far to the left, and to the right."""
    toe = toe_in_deg(solved(held, at(0.0, np.array([rack, 0.0, -rack])), name))
    if not np.isfinite(toe).all():
        msg = f"the links of {name} do not reach {number(rack, 0)} of rack each way"
        raise NotComputedError(msg)
    return float(toe[1] - toe[0]), float(toe[1] - toe[2])


@cell(When.RELEASE)
def arms_to_racks(read: Reader) -> Findings:
    """Whether the arm of every steered corner lies on the side of its rack."""
    return tuple(finding for ref in read.all(Corner) for finding in read(arm_to_rack, ref))


@cell(When.RELEASE)
def arm_to_rack(read: Reader, corner: Ref) -> Findings:
    """The same of one corner; nothing where no rack is named for its axle and none steers it."""
    axle = read.thing(Corner, corner).axle
    if read(rack_of, corner) is None and read.thing(Axle, axle).rack is None:
        return ()
    try:
        here = read(arm_of, corner)
        held = read(limit, "rod_off_square", corner, axle)
    except NotComputedError as error:
        words = f"Whether the steering arm of {read.label(corner)} suits its rack is not known: "
        return (Finding(KEY, "unknown", (corner,), f"{words}{error}."),)
    return (_finding(read, corner, here, held),)


def _finding(read: Reader, corner: Ref, here: ArmHere, held: Limited) -> Finding:
    verdict, words = _judged(here, held, read.label(corner))
    if _is_against_other(read, corner, here):
        verdict = "no"
        words += " The arm across the car points the other way, so both wheels steer against "
        words += "one another."
    try:
        words += _motion_words(read(steered, corner))
    except NotComputedError as error:
        verdict = "unknown" if verdict == "fine" else verdict
        words += f" How it steers is not known: {error}."
    return Finding(
        KEY,
        verdict,
        (corner,),
        words,
        measured=here.off_square_deg,
        limit=held.value,
        higher_is_worse=True,
        unit="deg",
        place=here.ball,
        governing="track rod off square to the arm",
        limit_source=held.source,
    )


def _judged(here: ArmHere, held: Limited, name: str) -> tuple[Verdict, str]:
    """The verdict on one arm alone, and in words where arm and rack lie."""
    arm, rack, off = here.arm, here.rack, here.off_square_deg
    square, turned = held.verdict_at_most(off), f"{number(off, 0)} deg off square to the arm"
    if arm.points == "neither":
        words = f"The steering arm of {name} points neither ahead nor behind: no rack can turn it."
        return "no", words
    words = f"The steering arm of {name} points {arm.points} by {number(abs(arm.ahead), 0)}"
    if not here.is_on_its_side:
        words += f", and its rack lies {OF[rack.points]} the steering axis: the track rod crosses "
        words += f"the axis, {turned}. Move the rack to the side of the arm, or use an upright "
        words += "whose arm points there."
        return "no" if square == "no" else "tight", words
    words += f", and its rack lies {OF[rack.points]} the steering axis too"
    if square == "fine":
        return "fine", f"{words}."
    return square, f"{words}, but the track rod stands {turned}: move the rack fore or aft."


def _is_against_other(read: Reader, corner: Ref, here: ArmHere) -> bool:
    """Whether the arm across the car is known to point the other way."""
    return any(
        {here.arm.points, other} == {"ahead", "behind"} for other in _other_arms(read, corner)
    )


def _other_arms(read: Reader, corner: Ref) -> Iterator[str]:
    for other in read(corners_of, read.thing(Corner, corner).axle):
        if other != corner:
            try:
                yield read(arm_of, other).arm.points
            except NotComputedError:
                continue


def _motion_words(found: Steered) -> str:
    """Which way the rack turns the wheel, and how far the inner wheel goes beside the outer."""
    goes = "left" if found.left_for_left else "right"
    words = f" For a left turn of the wheels the rack goes {goes}."
    where = "At full lock" if found.is_lock else f"At {number(found.rack, 0)} of rack"
    more = found.inner_more_deg
    if number(abs(more), 1) == number(0.0, 1):
        return f"{words} {where} both wheels steer alike, without Ackermann."
    said = "more than the outer" if more > 0.0 else "less than the outer: Ackermann is reversed"
    return f"{words} {where} the inner wheel steers {number(abs(more), 1)} deg {said}."


RULES = (
    Rule(
        KEY,
        "Does each steering arm point to the side of its axis where its rack lies?",
        arms_to_racks,
        "suspension",
    ),
)
