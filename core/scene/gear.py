"""Running gear to draw: links, dampers, wheels, shafts, rack, mounts, brackets."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.assess.places import array, mount_place, place, unit_end, vec
from core.assess.wheels import tyre_figures, wheel_centre
from core.assess.width import drive_side
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.running_gear import Corner, DriveShaft, Rack, Wheel
from core.document.steel import Bracket, Point
from core.driveline.shaft import ShaftPose, shaft_pose
from core.driveline.sides import DriveSide
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.scene.records import Look, RodRecord, SolidRecord
from core.scene.shapes import rim_mesh, tyre_mesh

LINK, DAMPER_BODY, SPRING, HUB, BUSH, PLATE = 11.0, 22.0, 31.0, 55.0, 22.0, 5.0
"""Radii drawn where a thing's own size is not given, mm; for drawing only."""

LEAST_DAMPER = 1.0
"""mm between its eyes, below which nothing is drawn of a damper."""

RACK_BAR = "rack"
"""The part of a rack that goes sideways; the other is its housing."""


def rod(ref: Ref, part: str, ends: tuple[Vec3, Vec3], radius: float, look: Look) -> RodRecord:
    """A straight rod."""
    return RodRecord(ref, part, np.array(ends, dtype=np.float64), radius, look)


On = Literal["chassis", "rack", "upright", "damper", "rocker", "rod"]
"""What carries the end of a rod; damper and rocker are drawn by where all of them stands."""


@dataclass(frozen=True, eq=False)
class CarriedRod:
    """A rod of a corner as it is drawn at design, and what carries its two ends."""

    rod: RodRecord
    inner: On
    outer: On


@cell(When.LIVE)
def corner_drawn(read: Reader, ref: Ref) -> tuple[RodRecord | SolidRecord, ...]:
    """A corner: links, damper, hub, wheel and tyre."""
    return (*(carried.rod for carried in read(corner_rods, ref)), *_wheel(read, ref))


@cell(When.LIVE)
def corner_rods(read: Reader, ref: Ref) -> tuple[CarriedRod, ...]:
    """Links, arms, upright, damper and hub of a corner."""
    face, axis = _hub(read, ref)
    hub = rod(ref, "hub", (vec(face - axis * 60.0), vec(face)), HUB, "card")
    return (
        *_links(read, ref),
        *_h_arm(read, ref),
        *_to_upright(read, ref),
        CarriedRod(hub, "upright", "upright"),
        *_rocker(read, ref),
        *_damper(read, ref),
    )


def _links(read: Reader, ref: Ref) -> Iterator[CarriedRod]:
    corner = read.thing(Corner, ref)
    for link in corner.links:
        ends = (read(place, link.inner), read(place, link.outer))
        drawn = rod(ref, link.name, ends, (link.outside or 2 * LINK) / 2, "link")
        yield CarriedRod(drawn, "rack" if read.has(Rack, link.inner) else "chassis", "upright")
    for arm in corner.arms:
        ends = (read(place, arm.inner), read(place, arm.outer))
        drawn = rod(ref, arm.name, ends, (arm.outside or 4 * LINK) / 2, "link")
        yield CarriedRod(drawn, "upright", "upright")


def _h_arm(read: Reader, ref: Ref) -> Iterator[CarriedRod]:
    """Both sides of an arm that is hinged to the chassis, and to the upright, at two points."""
    corner = read.thing(Corner, ref)
    for held in corner.holders:
        if held.how == "h_arm":
            for pair in zip(held.points[:2], held.points[2:], strict=True):
                ends = (read(place, pair[0]), read(place, pair[1]))
                yield CarriedRod(rod(ref, held.name, ends, LINK, "link"), "chassis", "upright")
    if corner.linkage != "upper_link_lower_h_arm":
        return
    roles = {role.role: role.point for role in corner.points}
    for end in ("front", "rear"):
        inner, outer = roles.get(f"lower_inner_{end}"), roles.get(f"lower_outer_{end}")
        if inner is not None and outer is not None:
            ends = (read(place, inner), read(place, outer))
            drawn = rod(ref, f"lower arm, {end}", ends, LINK, "link")
            yield CarriedRod(drawn, "chassis", "upright")


def _hub(read: Reader, ref: Ref) -> tuple[Array, Array]:
    """Middle of the hub face and direction of the spin axis, at design."""
    upright = read.thing(Corner, ref).upright
    return array(upright.hub_face), unit(array(upright.spin_axis))


def _to_upright(read: Reader, ref: Ref) -> Iterator[CarriedRod]:
    """Spokes from the wheel's axis to what the upright carries, so that it reads as one part."""
    corner = read.thing(Corner, ref)
    face, axis = _hub(read, ref)
    middle = vec(face - axis * 45.0)
    for outer in sorted({link.outer for link in (*corner.links, *corner.arms)}):
        if read.has(Point, outer):
            drawn = rod(ref, "upright", (middle, read(place, outer)), 13.0, "upright")
            yield CarriedRod(drawn, "upright", "upright")


def _rocker(read: Reader, ref: Ref) -> Iterator[CarriedRod]:
    """A rocker from its pivot to what it holds, and its rod."""
    corner = read.thing(Corner, ref)
    if corner.rocker is None:
        return
    pivot, inner = read(place, corner.rocker.pivot), read(place, corner.rocker.rod_inner)
    rod_ends = (inner, read(place, corner.rocker.rod_outer))
    outside = corner.rocker.rod_outside or 2 * LINK
    yield CarriedRod(rod(ref, "rod of rocker", rod_ends, outside / 2, "link"), "rocker", "rod")
    yield CarriedRod(rod(ref, "rocker", (pivot, inner), LINK, "link"), "rocker", "rocker")
    if corner.damper is not None and corner.damper.lower_on == "rocker":
        eye = (pivot, read(place, corner.damper.lower))
        yield CarriedRod(rod(ref, "rocker", eye, LINK, "link"), "rocker", "rocker")


def _damper(read: Reader, ref: Ref) -> Iterator[CarriedRod]:
    damper = read.thing(Corner, ref).damper
    if damper is None:
        return
    eyes = array(read(place, damper.lower)), array(read(place, damper.upper))
    length = float(np.linalg.norm(eyes[1] - eyes[0]))
    if length < LEAST_DAMPER:
        return
    radii = (damper.body_outside or 2 * DAMPER_BODY) / 2, (damper.spring_outside or 2 * SPRING) / 2
    for drawn in damper_rods(ref, eyes, damper.body_length or length / 3, radii):
        yield CarriedRod(drawn, "damper", "damper")


def damper_rods(
    ref: Ref, eyes: tuple[Array, Array], body: float, radii: tuple[float, float]
) -> tuple[RodRecord, RodRecord]:
    """A damper from lower to upper eye (3,) mm: its body, as long as there is room, and spring."""
    low, high = eyes
    length = float(np.linalg.norm(high - low))
    middle = low + (high - low) * (min(body, length) / max(length, LEAST_DAMPER))
    return (
        RodRecord(ref, "damper", np.array([low, middle]), radii[0], "link"),
        RodRecord(ref, "spring", np.array([middle, high]), radii[1], "link"),
    )


def _wheel(read: Reader, ref: Ref) -> Iterator[SolidRecord]:
    corner = read.thing(Corner, ref)
    _, axis = _hub(read, ref)
    try:
        centre, tyre = array(read(wheel_centre, ref)), read(tyre_figures, ref)
    except NotComputedError:
        return
    skin = tyre_mesh(centre, axis, tyre.section, tyre.unloaded_radius, tyre.rim_radius)
    yield SolidRecord(ref, "tyre", skin.vertices, skin.triangles, "tyre")
    if corner.wheel is not None:
        width = read.thing(Wheel, corner.wheel).rim_width_in * 25.4
        rim = rim_mesh(centre, axis, width, tyre.rim_radius)
        yield SolidRecord(ref, "rim", rim.vertices, rim.triangles, "upright")


@cell(When.LIVE)
def shaft_drawn(read: Reader, ref: Ref) -> tuple[RodRecord, ...]:
    """A drive shaft with its boots, from where its inner joint slides to at design."""
    drive, shaft = read(drive_side, ref), read.thing(DriveShaft, ref)
    outer, spin = np.array(drive.outer_joint), np.array(drive.spin_axis)
    pose = pose_of_shaft(drive, outer, spin)
    inner = outer - pose.direction * drive.shaft_length
    ends = (inner if bool(pose.reaches) else np.array(drive.inner_joint), outer)
    radii = (shaft.bar_outside or 26.0) / 2, (shaft.outer_boot_outside or 80.0) / 2
    return shaft_rods(ref, ends, radii)


def pose_of_shaft(drive: DriveSide, outer: Array, spin: Array) -> ShaftPose:
    """Where a shaft stands for a place (3,) mm of its outer joint and a spin axis (3,)."""
    inner, axis = np.array(drive.inner_joint), np.array(drive.slide_axis)
    return shaft_pose(inner, axis, outer, spin, drive.shaft_length)


def shaft_rods(
    ref: Ref, ends: tuple[Array, Array], radii: tuple[float, float]
) -> tuple[RodRecord, ...]:
    """A drive shaft with its boots, from inner to outer joint (3,) mm; radii of bar and boots."""
    inner, outer = ends
    boot = unit(outer - inner) * 75.0
    return (
        RodRecord(ref, "shaft", np.array([inner, outer]), radii[0], "card"),
        RodRecord(ref, "outer boot", np.array([outer - boot, outer]), radii[1], "card"),
        RodRecord(ref, "inner boot", np.array([inner, inner + boot]), radii[1], "card"),
    )


@cell(When.LIVE)
def rack_drawn(read: Reader, ref: Ref) -> tuple[RodRecord, ...]:
    """A steering rack and its housing."""
    rack = read.thing(Rack, ref)
    ends = (read(place, Ref(ref.id, "left")), read(place, Ref(ref.id, "right")))
    inset = min(60.0, rack.ball_spacing / 4)
    housing = (ends[0]._replace(y=ends[0].y - inset), ends[1]._replace(y=ends[1].y + inset))
    outside = rack.housing_outside or 44.0
    return (
        rod(ref, RACK_BAR, ends, outside / 4, "card"),
        rod(ref, "housing", housing, outside / 2, "card"),
    )


@cell(When.LIVE)
def mount_drawn(read: Reader, ref: Ref) -> tuple[RodRecord, ...]:
    """A bush along its own y, or a stay from end to end."""
    mount = read.thing(Mount, ref)
    if mount.form == "stay":
        ends = (unit_end(read, ref), mount_place(read, ref))
        return (rod(ref, "stay", ends, BUSH / 2, "card"),)
    at = np.array(unit_end(read, ref))
    half = np.array(mount.axes.y, dtype=np.float64) * BUSH
    return (RodRecord(ref, "bush", np.array([at - half, at + half]), BUSH, "card"),)


@cell(When.LIVE)
def bracket_drawn(read: Reader, ref: Ref) -> tuple[RodRecord, ...]:
    """A bracket as a thin plate-like rod from what it stands on to what it carries."""
    bracket = read.thing(Bracket, ref)
    ends = (read(place, bracket.on), read(place, bracket.carries))
    return (rod(ref, "bracket", ends, PLATE, "steel"),)
