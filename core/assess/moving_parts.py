"""What moves with a wheel, as thick lines at every position of its travel and steer."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.assess.dampers import damper_at_design
from core.assess.linkages import arm_named, arms, holders_on
from core.assess.pairs import is_on_rigid_axle, links_of, stands_on
from core.assess.places import array, place
from core.assess.travels import over_both
from core.assess.width import drive_side, known
from core.document.base import Ref, Vec3
from core.document.links import Link
from core.document.running_gear import Corner, DriveShaft, Rack
from core.driveline.shaft import shaft_pose
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.carried import carried_place
from core.suspension.damper import lower_eye
from core.suspension.poses import Poses
from core.suspension.rigid_axle_wheel import AxleWheelPoses
from core.suspension.rocker import Rocker, rocker_poses

LINK_END = 45.0
"""Of a link or rod from its joint on chassis, rack or rocker, mm. Common practice, no source."""

ARM_END = 60.0
"""Of an arm welded to the upright, from its pivot, mm. Common practice, no source."""

DAMPER_END = 60.0
"""Of a damper from its upper eye, mm: eye, nut and spring plate. Common practice, no source."""

BOOT_LENGTH = 75.0
"""Of the outer boot from the joint's centre inboard, mm. Common practice, no source."""

UPRIGHT = "upright"
"""What a welded arm and a damper on the upright have in common."""

Kind = Literal["link", "arm", "damper", "rod", "drive shaft"]


@dataclass(frozen=True, eq=False)
class Piece:
    """One straight thick line of a part.

    Attributes:
        words: what it is called.
        start: (positions, 3) mm, car frame.
        end: the same.
        radius: mm.
    """

    words: str
    start: Array
    end: Array
    radius: float


@dataclass(frozen=True, eq=False)
class Part:
    """What moves with a wheel.

    Attributes:
        name: of a link; else what it is.
        kind: what sort.
        about: the thing of the document it is told by: of a link its joint on the chassis.
        joints: what it is jointed to.
        pieces: its lines.
    """

    name: str
    kind: Kind
    about: Ref
    joints: frozenset[Ref | str]
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, eq=False)
class MovingParts:
    """The parts of a corner at every position that its wheel reaches.

    Attributes:
        parts: what could be worked out.
        unknown: why something could not, each a clause of its own.
        bump: (positions,) mm.
        rack: (positions,) mm to the left.
        centre: (positions, 3) mm, of the wheel.
        spin: (positions, 3) unit.
        other: (positions,) mm, height of the other wheel of a rigid axle; None where it is none.
        told_elsewhere: names of parts whose gaps to tubes and to one another are told at the other
            wheel: the links of a rigid axle, at its left one.
    """

    parts: tuple[Part, ...]
    unknown: tuple[str, ...]
    bump: Array
    rack: Array
    centre: Array
    spin: Array
    other: Array | None = None
    told_elsewhere: frozenset[str] = frozenset()


@cell(When.RELEASE)
def moving_parts(read: Reader, corner: Ref) -> MovingParts:
    """Links and welded arms, damper, rod of a rocker and drive shaft of a corner."""
    rows = _Rows(read(over_both, corner))
    name = read.label(corner)
    if not rows.reached.any():
        msg = f"the wheel of {name} reaches no position"
        raise NotComputedError(msg)
    parts: list[Part] = []
    unknown: list[str] = []
    for make in _makers(read, corner, rows):
        try:
            parts.append(make())
        except NotComputedError as error:
            unknown.append(str(error))
    unknown += _shapeless(read, corner)
    if not rows.reached.all():
        unknown.append(f"the wheel of {name} does not reach all of its travel and steer")
    bump, rack = rows.of(rows.poses.travel.bump[..., None]), rows.rack
    centre, spin = rows.of(rows.poses.centre), rows.of(rows.poses.spin)
    names = frozenset(each.name for each in links_of(read, corner))
    return MovingParts(
        tuple(parts),
        tuple(unknown),
        bump[:, 0],
        rack[:, 0],
        centre,
        spin,
        rows.other,
        names if _tells_of_beam(read, corner) is False else frozenset(),
    )


def _tells_of_beam(read: Reader, corner: Ref) -> bool | None:
    """Whether what holds a beam is told at this wheel of it; None where there is no beam."""
    return stands_on(read, corner) == "left" if read(is_on_rigid_axle, corner) else None


class _Rows:
    """Positions of a corner in a row, those alone that its wheel reaches."""

    def __init__(self, poses: Poses) -> None:
        self.poses = poses
        self.reached = poses.is_reached.ravel()
        self.rack = self.of(np.asarray(poses.travel.rack)[..., None])
        self.other: Array | None = None
        if isinstance(poses, AxleWheelPoses):
            self.other = self.of(poses.others_height[..., None])[:, 0]

    def of(self, values: Array) -> Array:
        """Values (..., n) that broadcast to the positions, as (positions, n)."""
        size = values.shape[-1]
        whole = np.broadcast_to(values, (*self.poses.shape, size))
        return whole.reshape(-1, size)[self.reached]


def _makers(read: Reader, corner: Ref, rows: _Rows) -> Iterator[Callable[[], Part]]:
    """What makes each part of a corner; each raises why it cannot."""
    thing = read.thing(Corner, corner)
    for link in links_of(read, corner):
        yield lambda link=link: _link(read, corner, rows, link)  # type: ignore[misc]
    for arm in thing.arms:
        yield lambda arm=arm: _arm(read, corner, rows, arm)  # type: ignore[misc]
    yield lambda: _damper(read, corner, rows)
    if thing.rocker is not None:
        yield lambda: _rod(read, corner, rows)
    for ref in read.all(DriveShaft):
        if read.thing(DriveShaft, ref).corner == corner:
            yield lambda ref=ref: _shaft(read, ref, rows)  # type: ignore[misc]


def _thick(read: Reader, corner: Ref, link: Link) -> float:
    """Radius of a link, mm."""
    axle = read.thing(Corner, corner).axle
    owner = axle if read(is_on_rigid_axle, corner) else corner
    what = f"the outside diameter of {link.name} of {read.label(owner)}"
    return known(link.outside, what) / 2.0


def _link(read: Reader, corner: Ref, rows: _Rows, link: Link) -> Part:
    radius = _thick(read, corner, link)
    inner = array(read(place, link.inner))
    if read.has(Rack, link.inner):
        inner = inner + rows.rack * np.array([0.0, 1.0, 0.0])
    outer = rows.of(rows.poses.at(array(read(place, link.outer))))
    legs = {each.name for each in read(arms, corner) if link.name in each.links}
    joints: frozenset[Ref | str] = frozenset({link.inner, link.outer, *legs})
    piece = Piece(link.name, _along(inner, outer, LINK_END), outer, radius)
    return Part(link.name, "link", link.inner, joints, (piece,))


def _arm(read: Reader, corner: Ref, rows: _Rows, arm: Link) -> Part:
    radius = _thick(read, corner, arm)
    pivot, rear = (
        rows.of(rows.poses.at(array(read(place, end)))) for end in (arm.inner, arm.outer)
    )
    joints: frozenset[Ref | str] = frozenset({arm.inner, arm.outer, UPRIGHT})
    piece = Piece(arm.name, _along(pivot, rear, ARM_END), rear, radius)
    return Part(arm.name, "arm", arm.inner, joints, (piece,))


def _damper(read: Reader, corner: Ref, rows: _Rows) -> Part:
    """Body from the lower eye, then the spring; a damper with no figures is not assumed."""
    design, damper = read(damper_at_design, corner), read.thing(Corner, corner).damper
    assert damper is not None  # `damper_at_design` asks for it
    name = f"the damper of {read.label(corner)}"
    body = known(damper.body_outside, f"the outside diameter of {name}") / 2.0
    spring = known(damper.spring_outside, f"the outside diameter of the spring on {name}") / 2.0
    length = known(damper.body_length, f"the length of the body of {name}")
    lower = rows.of(lower_eye(rows.poses, design))
    if np.isnan(lower).any():
        msg = f"where {name} stands is not known at every position"
        raise NotComputedError(msg)
    top = _along(design.upper, lower, DAMPER_END)
    middle = _along(lower, top, length)
    pieces = (Piece("damper", lower, middle, body), Piece("spring", middle, top, spring))
    joints = frozenset({damper.lower, damper.upper, damper.lower_on})
    return Part("damper", "damper", damper.upper, joints, pieces)


def _rod(read: Reader, corner: Ref, rows: _Rows) -> Part:
    """The push- or pull-rod of a rocker."""
    thing = read.thing(Corner, corner).rocker
    assert thing is not None  # `_makers` asks for it
    name = f"the rod of the rocker of {read.label(corner)}"
    radius = known(thing.rod_outside, f"the outside diameter of {name}") / 2.0
    at = [array(read(place, ref)) for ref in (thing.pivot, thing.rod_outer, thing.rod_inner)]
    arm = None if thing.rod_on == "upright" else arm_named(read, corner, thing.rod_on)
    try:
        turned = rocker_poses(rows.poses, Rocker(at[0], array(thing.pivot_axis), at[1], at[2], arm))
    except ValueError as error:
        raise NotComputedError(f"{name}: {error}") from error
    inner = rows.of(turned.at(at[2]))
    outer = rows.of(carried_place(rows.poses, at[1], arm))
    if np.isnan(inner).any():
        msg = f"where {name} stands is not known at every position"
        raise NotComputedError(msg)
    joints = frozenset({thing.rod_outer, thing.rod_inner, thing.rod_on, "rocker"})
    piece = Piece("rod", _along(inner, outer, LINK_END), outer, radius)
    return Part("rod of the rocker", "rod", thing.rod_inner, joints, (piece,))


def _shaft(read: Reader, ref: Ref, rows: _Rows) -> Part:
    """Bar from the sliding centre of the inner joint to the outer joint, and the outer boot."""
    drive, thing, name = read(drive_side, ref), read.thing(DriveShaft, ref), read.label(ref)
    bar = known(thing.bar_outside, f"the outside diameter of {name}") / 2.0
    boot = (
        known(thing.outer_boot_outside, f"the outside diameter of the outer boot of {name}") / 2.0
    )
    outer = rows.of(rows.poses.at(array(Vec3(*drive.outer_joint))))
    spin = rows.of(rows.poses.spin)
    inner, axis = array(Vec3(*drive.inner_joint)), array(Vec3(*drive.slide_axis))
    pose = shaft_pose(inner, axis, outer, spin, drive.shaft_length)
    if not pose.reaches.all():
        msg = f"{name} is {float(pose.shortfall.max()):.1f} mm too short to reach everywhere"
        raise NotComputedError(msg)
    sliding = outer - drive.shaft_length * pose.direction
    pieces = (
        Piece("drive shaft", sliding, outer, bar),
        Piece("outer boot", outer, _along(outer, sliding, BOOT_LENGTH), boot),
    )
    return Part("drive shaft", "drive shaft", ref, frozenset(), pieces)


def _along(start: Array, end: Array, distance: float) -> Array:
    """The place (positions, 3) so far from the start, at most half way, towards the end."""
    way = end - start
    length = np.linalg.norm(way, axis=-1, keepdims=True)
    share = np.minimum(distance / np.where(length > 0.0, length, 1.0), 0.5)
    return np.asarray(start + share * way)


def _shapeless(read: Reader, corner: Ref) -> Iterator[str]:
    """What holds the upright and has no tube entered, so that nothing says how thick it is."""
    thing, name = read.thing(Corner, corner), read.label(corner)
    if thing.linkage == "upper_link_lower_h_arm":
        yield f"the shape of the lower arm of {name} is not known"
    is_arm = thing.linkage in ("trailing_arm_two_lateral_links", "semi_trailing_arm")
    if is_arm and not thing.arms:
        yield f"the tubes of the arm of {name} are not entered"
    tells = _tells_of_beam(read, corner)
    if tells is False:
        return
    if tells:
        name = read.label(thing.axle)
        yield f"the shape of the axle itself between the wheels of {name} is not known"
    for each in holders_on(read, corner):
        if each.how == "h_arm" or (each.how in ("ball", "hinge") and not thing.arms):
            yield f"the shape of {each.name} of {name} is not known"
