"""What tilts in the joint at an end of a link, at a pivot or in a hinge, at any poses."""

from dataclasses import dataclass

import numpy as np

from core.assess.dampers import damper_at_design, lengths_of
from core.assess.joints import JointEnd, joint_at
from core.assess.linkages import arm_named, arms
from core.assess.places import array, place
from core.document.base import Ref
from core.document.links import Link
from core.document.running_gear import Rack
from core.document.steel import LinkEnd
from core.engine.cells import NotComputedError, Reader
from core.geometry.types import Array, unit
from core.suspension.arms import arm_poses
from core.suspension.damper import lower_eye
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.tilt import (
    LeastTilt,
    least_tilt_from_axis,
    least_tilt_from_square,
    tilt_from_axis_deg,
    tilt_from_square_deg,
)

_LEFT = np.array([0.0, 1.0, 0.0])

ACROSS = 0.7
"""Cosine of a bolt to a strut below which it is across it rather than along."""

BALLS = ("ball", "axial_ball")


@dataclass(frozen=True, eq=False)
class Turns:
    """What tilts in a joint: directions as they lie in what carries the bolt or cup.

    Attributes:
        directions: (..., 3) unit, of the link, the stud or the hinge.
        bolt: (3,) unit, as drawn.
        is_square: whether the link should be square to the bolt, as in an eye; else along it.
        is_of_bolt: whether the directions are those of the bolt itself, and go with it.
    """

    directions: Array
    bolt: Array
    is_square: bool
    is_of_bolt: bool = False

    def tilt_deg(self) -> Array:
        """How far it tilts, (...)."""
        if self.is_square:
            return tilt_from_square_deg(self.directions, self.bolt)
        return tilt_from_axis_deg(self.directions, self.bolt)

    def least(self) -> LeastTilt:
        """The best that any bolt could do.

        Raises:
            NotComputedError: what is tilted goes with the bolt.
        """
        if self.is_of_bolt:
            raise NotComputedError("how its bolt would lie best is not worked out")
        if self.is_square:
            return least_tilt_from_square(self.directions, self.bolt)
        return least_tilt_from_axis(self.directions)


def turns_of(read: Reader, corner: Ref, poses: Poses, end: JointEnd) -> Turns:
    """What tilts in the joint at an end.

    A bush on an arm's hinge only turns: its tilt is how far its bolt is off the hinge. A ball
    between arm and upright tilts by its stud; every other joint by its link.

    Raises:
        NotComputedError: no joint is entered there, or it does not tilt, or too little is known.
    """
    if not poses.is_reached.any():
        raise NotComputedError("the wheel reaches no position")
    joint = joint_at(read, end.ref)
    line = _hinge_line(read, corner, end)
    if joint.kind == "fixed" or (joint.kind == "hinge" and line is None):
        msg = f"a {joint.kind} joint does not tilt"
        raise NotComputedError(msg)
    if end.hinge is not None:
        return _in_hinge(poses, end, joint, line)
    if end.is_pivot:
        return _at_pivot(poses, joint)
    if end.foot is not None:
        return _at_strut(read, poses, end, joint)
    return _of_link(read, corner, poses, end)


def _hinge_line(read: Reader, corner: Ref, end: JointEnd) -> Array | None:
    """Direction (3,) of the hinge that a bolt lies in: of an arm on the chassis, or by its points.

    Raises:
        NotComputedError: both points are one.
    """
    if end.hinge is not None:
        first, second = (array(read(place, ref)) for ref in end.hinge)
        if np.array_equal(first, second):
            raise NotComputedError(f"the two points of {end.name} are one")
        return unit(second - first)
    arm = _arm_of(read, corner, end)
    return unit(arm.rear - arm.front) if arm is not None and end.is_inner else None


def _in_hinge(poses: Poses, end: JointEnd, joint: LinkEnd, line: Array | None) -> Turns:
    """A bolt off the line that both points turn about, whatever the travel."""
    assert line is not None  # an end with a hinge has its line
    if joint.kind not in BALLS:
        return _along(line, unit(array(joint.direction)))
    if not end.is_inner:
        msg = f"how far a ball tilts between {end.name} and the upright is not worked out"
        raise NotComputedError(msg)
    return _at_pivot(poses, joint)


def _at_pivot(poses: Poses, joint: LinkEnd) -> Turns:
    """An eye, bush or stud that is one with the upright, in a place that stays.

    An eye is taken to be drawn with its hole along its bolt.
    """
    bolt, cup = unit(array(joint.direction)), unit(array(joint.cup_direction or joint.direction))
    is_on_frame = joint.carried_by == "frame"
    seen = poses.turned_back(bolt) if is_on_frame else poses.turned(bolt)
    is_ball = joint.kind in BALLS
    return Turns(seen, cup if is_ball else bolt, is_square=False, is_of_bolt=not is_ball)


def _at_strut(read: Reader, poses: Poses, end: JointEnd, joint: LinkEnd) -> Turns:
    """The line of a strut at its top: square to the bolt of an eye, along that of a mount.

    A bush is an eye where it is drawn across the strut.
    """
    assert end.foot is not None  # `turns_of` asks for it
    top, foot = array(read(place, end.ref)), array(read(place, end.foot))
    line, bolt = unit(top - poses.at(foot)), unit(array(joint.direction))
    is_across = abs(float(np.sum(unit(top - foot) * bolt))) < ACROSS
    if joint.kind in ("rod_end", "eye") or (joint.kind == "bush" and is_across):
        return Turns(line, bolt, is_square=True)
    return _along(line, unit(array(joint.cup_direction or joint.direction)))


def _of_link(read: Reader, corner: Ref, poses: Poses, end: JointEnd) -> Turns:
    joint, arm = joint_at(read, end.ref), _arm_of(read, corner, end)
    bolt = unit(array(joint.direction))
    if joint.kind in ("bush", "hinge") and arm is not None and end.is_inner:
        return _along(unit(arm.rear - arm.front), bolt)
    cup = unit(array(joint.cup_direction or joint.direction))
    if joint.kind == "ball" and arm is not None and not end.is_inner:
        return Turns(arm_poses(poses, arm).turned_back(poses.turned(bolt)), cup, is_square=False)
    links = _seen_from(read, corner, poses, joint, _directions(read, corner, poses, end))
    if joint.kind in BALLS:
        return _along(links, cup)
    return Turns(links, bolt, is_square=True)


def _along(directions: Array, bolt: Array) -> Turns:
    """Directions along a bolt or cup, whichever way round they are drawn."""
    along = np.nan_to_num(np.sum(directions * bolt, axis=-1))
    way = 1.0 if float(np.sum(along)) >= 0.0 else -1.0
    return Turns(way * directions, bolt, is_square=False)


def _directions(read: Reader, corner: Ref, poses: Poses, end: JointEnd) -> Array:
    """From the chassis end of the link to the other, (..., 3) unit, car frame."""
    if end.link is None:
        damper = read(damper_at_design, corner)
        lengths = lengths_of(poses, damper)
        return np.asarray((lower_eye(poses, damper) - damper.upper) / lengths[..., None])
    return _of_rod(read, poses, end.link)


def _of_rod(read: Reader, poses: Poses, link: Link) -> Array:
    inner = array(read(place, link.inner))
    if read.has(Rack, link.inner):
        inner = inner + poses.travel.rack[..., None] * _LEFT
    return unit(poses.at(array(read(place, link.outer))) - inner)


def _seen_from(read: Reader, corner: Ref, poses: Poses, joint: LinkEnd, along: Array) -> Array:
    """Directions as they lie in what carries the bolt, by the axes of design."""
    if joint.carried_by == "upright":
        return poses.turned_back(along)
    if joint.carried_by in ("lower arm", "upper arm"):
        return arm_poses(poses, arm_named(read, corner, joint.carried_by)).turned_back(along)
    return along


def _arm_of(read: Reader, corner: Ref, end: JointEnd) -> Arm | None:
    """The arm that a link is a leg of."""
    for each in read(arms, corner):
        if end.name in each.links and end.link is not None:
            return each.arm
    return None
