"""Bodies and outlines to draw: engine and gearbox, obstacles, people, openings, zones, shell."""

from collections.abc import Iterator

import numpy as np

from core.assess.places import the_unit, unit_frame
from core.document.base import Box, Ref, Vec3
from core.document.power import PowerUnit, ServiceZone
from core.document.surroundings import (
    Controls,
    KeepOut,
    Obstacle,
    Occupant,
    Opening,
    Shell,
)
from core.engine.cells import Reader, When, cell
from core.geometry.frames import Frame, car_frame
from core.geometry.meshes import box_mesh
from core.geometry.types import Array
from core.scene.records import Look, MeshRecord, OutlineRecord, RodRecord, SolidRecord
from core.scene.shapes import ball_mesh

_EDGES = ((0, 1, 3, 2, 0), (4, 5, 7, 6, 4), (0, 4), (1, 5), (2, 6), (3, 7))


def _solid(ref: Ref, part: str, box: Box, frame: Frame, look: Look) -> SolidRecord:
    mesh = box_mesh(box.low, box.high).moved(frame)
    return SolidRecord(ref, part, mesh.vertices, mesh.triangles, look)


def _edges(box: Box, frame: Frame) -> Iterator[Array]:
    corners = np.array(
        [(x, y, z) for x in _ends(box, 0) for y in _ends(box, 1) for z in _ends(box, 2)]
    )
    placed = frame.to_car(corners)
    yield from (placed[list(edge)] for edge in _EDGES)


def _ends(box: Box, axis: int) -> tuple[float, float]:
    return box.low[axis], box.high[axis]


@cell(When.LIVE)
def unit_drawn(read: Reader, ref: Ref) -> tuple[MeshRecord | SolidRecord, ...]:
    """An engine and gearbox: its shown mesh, else its solids."""
    thing, frame = read.thing(PowerUnit, ref), read(unit_frame, ref)
    mesh = thing.mesh
    if mesh is not None and mesh.shown:
        x, y, z = (float(v) for v in frame.origin)
        return (MeshRecord(ref, mesh.sha256, Vec3(x, y, z), frame.axes, "card"),)
    return tuple(_solid(ref, s.name, s.box, frame, "card") for s in thing.solids)


@cell(When.LIVE)
def obstacle_drawn(read: Reader, ref: Ref) -> tuple[SolidRecord | RodRecord, ...]:
    """A tank, radiator, battery, silencer or pipe."""
    thing = read.thing(Obstacle, ref)
    look: Look = "hot" if thing.hot else "soft"
    if thing.box is not None:
        box = Box(low=thing.box.low, high=thing.box.high)
        return (_solid(ref, "box", box, _carrier(read, thing.carrier), look),)
    line = np.array(thing.line, dtype=np.float64)
    return (RodRecord(ref, "pipe", line, (thing.outside or 1.0) / 2, look),)


def _carrier(read: Reader, carrier: str) -> Frame:
    return read(unit_frame, the_unit(read)) if carrier == "unit" else car_frame()


@cell(When.LIVE)
def keep_out_drawn(read: Reader, ref: Ref) -> tuple[OutlineRecord, ...]:
    """A space that nothing may enter, by its edges."""
    thing = read.thing(KeepOut, ref)
    box = Box(low=thing.box.low, high=thing.box.high)
    edges = _edges(box, _carrier(read, thing.carrier))
    return tuple(OutlineRecord(ref, edge, closed=False, look="keep_out") for edge in edges)


@cell(When.LIVE)
def zone_drawn(read: Reader, ref: Ref) -> tuple[OutlineRecord, ...]:
    """The room that service needs, by its edges."""
    thing = read.thing(ServiceZone, ref)
    box = Box(low=thing.box.low, high=thing.box.high)
    edges = _edges(box, _carrier(read, thing.carrier))
    return tuple(OutlineRecord(ref, edge, closed=False, look="zone") for edge in edges)


@cell(When.LIVE)
def opening_drawn(read: Reader, ref: Ref) -> tuple[OutlineRecord, ...]:
    """An opening by its outline."""
    points = np.array(read.thing(Opening, ref).outline, dtype=np.float64)
    return (OutlineRecord(ref, points, closed=True, look="opening"),)


@cell(When.LIVE)
def occupant_drawn(read: Reader, ref: Ref) -> tuple[SolidRecord | RodRecord, ...]:
    """A person: helmet room, body and legs as soft rods, seat cushion."""
    person = read.thing(Occupant, ref)
    found: list[SolidRecord | RodRecord] = []
    if person.helmet_centre is not None and person.helmet_radius:
        ball = ball_mesh(np.array(person.helmet_centre), person.helmet_radius)
        found.append(SolidRecord(ref, "helmet", ball.vertices, ball.triangles, "soft"))
    if person.shoulder is not None:
        found.append(_limb(ref, "body", person.hip_point, person.shoulder, 110.0))
    if person.heel is not None:
        found.append(_limb(ref, "leg", person.hip_point, person.heel, 60.0))
    if person.seat is not None:
        cushion = Box(low=person.seat.cushion.low, high=person.seat.cushion.high)
        found.append(_solid(ref, "seat", cushion, car_frame(), "soft"))
    return tuple(found)


def _limb(ref: Ref, part: str, start: Vec3, end: Vec3, radius: float) -> RodRecord:
    return RodRecord(ref, part, np.array([start, end], dtype=np.float64), radius, "soft")


@cell(When.LIVE)
def controls_drawn(read: Reader, ref: Ref) -> tuple[RodRecord, ...]:
    """The steering column and the wheel's rim."""
    thing = read.thing(Controls, ref)
    found: list[RodRecord] = []
    if len(thing.column) > 1:
        line = np.array(thing.column, dtype=np.float64)
        found.append(RodRecord(ref, "column", line, (thing.column_outside or 19.0) / 2, "card"))
    if thing.wheel_centre is not None and thing.wheel_diameter and len(thing.column) > 1:
        axis = np.array(thing.column[0]) - np.array(thing.column[1])
        found.append(_rim(ref, thing.wheel_centre, axis, thing.wheel_diameter, thing.rim_outside))
    return tuple(found)


def _rim(ref: Ref, centre: Vec3, axis: Array, diameter: float, outside: float | None) -> RodRecord:
    along = axis / np.linalg.norm(axis)
    aside = np.cross(along, [0.0, 1.0, 0.0])
    aside = aside / np.linalg.norm(aside)
    third = np.cross(along, aside)
    turns = np.linspace(0.0, 2 * np.pi, 49)
    spokes = np.outer(np.cos(turns), aside) + np.outer(np.sin(turns), third)
    line = np.array(centre) + spokes * diameter / 2
    return RodRecord(ref, "steering wheel", line, (outside or 28.0) / 2, "card")


@cell(When.LIVE)
def shell_drawn(read: Reader, ref: Ref) -> tuple[OutlineRecord, ...]:
    """The shell: sills, roof outline and wheel arches."""
    shell = read.thing(Shell, ref)
    found = [
        OutlineRecord(ref, np.array([s.start, s.end], dtype=np.float64), closed=False, look="shell")
        for s in shell.sills
    ]
    roof = shell.roof
    if roof is not None:
        xs, half = (roof.front_x, roof.rear_x), roof.half_width
        corners = [(xs[0], half), (xs[1], half), (xs[1], -half), (xs[0], -half)]
        points = np.array([(x, y, roof.z) for x, y in corners], dtype=np.float64)
        found.append(OutlineRecord(ref, points, closed=True, look="shell"))
    half_width = shell.half_width
    for arch in shell.arches:
        turns = np.linspace(0.0, np.pi, 25)
        x = arch.centre_x + arch.radius * np.cos(turns)
        z = arch.centre_z + arch.radius * np.sin(turns)
        for y in (half_width, -half_width) if half_width else ():
            points = np.column_stack([x, np.full_like(x, y), z])
            found.append(OutlineRecord(ref, points, closed=False, look="arch"))
    return tuple(found)
