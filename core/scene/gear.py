"""Running gear to draw: links, dampers, wheels, shafts, rack, mounts, brackets."""

from collections.abc import Iterator

import numpy as np

from core.assess.places import array, mount_place, place, unit_end
from core.assess.wheels import tyre_figures, wheel_centre
from core.assess.width import drive_side
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.running_gear import Corner, DriveShaft, Rack, Wheel
from core.document.steel import Bracket, Point
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, unit
from core.scene.records import Look, RodRecord, SolidRecord
from core.scene.shapes import rim_mesh, tyre_mesh

LINK, DAMPER_BODY, SPRING, HUB, BUSH, PLATE = 11.0, 22.0, 31.0, 55.0, 22.0, 5.0
"""Radii drawn where a thing's own size is not given, mm; for drawing only."""


def rod(ref: Ref, part: str, ends: tuple[Vec3, Vec3], radius: float, look: Look) -> RodRecord:
    """A straight rod."""
    return RodRecord(ref, part, np.array(ends, dtype=np.float64), radius, look)


@cell(When.LIVE)
def corner_drawn(read: Reader, ref: Ref) -> tuple[RodRecord | SolidRecord, ...]:
    """A corner: links, damper, hub, wheel and tyre."""
    return (*_links(read, ref), *_damper(read, ref), *_wheel(read, ref))


def _links(read: Reader, ref: Ref) -> Iterator[RodRecord]:
    corner = read.thing(Corner, ref)
    for link in corner.links:
        ends = (read(place, link.inner), read(place, link.outer))
        yield rod(ref, link.name, ends, (link.outside or 2 * LINK) / 2, "link")
    roles = {role.role: role.point for role in corner.points}
    if "arm_pivot" in roles and "arm_rear" in roles:
        ends = (read(place, roles["arm_pivot"]), read(place, roles["arm_rear"]))
        yield rod(ref, "trailing arm", ends, 2 * LINK, "link")
    yield from _to_upright(read, ref, {link.outer for link in corner.links})


def _to_upright(read: Reader, ref: Ref, outers: set[Ref]) -> Iterator[RodRecord]:
    """Spokes from the wheel's axis to what the upright carries, so that it reads as one part."""
    corner = read.thing(Corner, ref)
    face, axis = array(corner.upright.hub_face), unit(array(corner.upright.spin_axis))
    x, y, z = (float(v) for v in face - axis * 45.0)
    for outer in sorted(outers):
        if read.has(Point, outer):
            yield rod(ref, "upright", (Vec3(x, y, z), read(place, outer)), 13.0, "upright")


def _damper(read: Reader, ref: Ref) -> Iterator[RodRecord]:
    damper = read.thing(Corner, ref).damper
    if damper is None:
        return
    low, high = read(place, damper.lower), read(place, damper.upper)
    along = np.array(high) - np.array(low)
    length = float(np.linalg.norm(along))
    if length < 1.0:
        return
    body = min(damper.body_length or length / 3, length)
    x, y, z = (float(v) for v in np.array(low) + along / length * body)
    middle = Vec3(x, y, z)
    yield rod(ref, "damper", (low, middle), (damper.body_outside or 2 * DAMPER_BODY) / 2, "link")
    yield rod(ref, "spring", (middle, high), (damper.spring_outside or 2 * SPRING) / 2, "link")


def _wheel(read: Reader, ref: Ref) -> Iterator[RodRecord | SolidRecord]:
    corner = read.thing(Corner, ref)
    face, axis = array(corner.upright.hub_face), unit(array(corner.upright.spin_axis))
    inner: Array = face - axis * 60.0
    yield RodRecord(ref, "hub", np.array([inner, face]), HUB, "card")
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
    """A drive shaft with its boots."""
    drive, shaft = read(drive_side, ref), read.thing(DriveShaft, ref)
    inner, outer = Vec3(*drive.inner_joint), Vec3(*drive.outer_joint)
    along = unit(np.array(outer) - np.array(inner))
    boot = (shaft.outer_boot_outside or 80.0) / 2
    x, y, z = (float(v) for v in np.array(outer) - along * 75.0)
    u, v, w = (float(n) for n in np.array(inner) + along * 75.0)
    return (
        rod(ref, "shaft", (inner, outer), (shaft.bar_outside or 26.0) / 2, "card"),
        rod(ref, "outer boot", (Vec3(x, y, z), outer), boot, "card"),
        rod(ref, "inner boot", (inner, Vec3(u, v, w)), boot, "card"),
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
        rod(ref, "rack", ends, outside / 4, "card"),
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
