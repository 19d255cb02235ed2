"""Cells that make the records of what to draw, one a thing, so that a drag redraws what moved."""

from collections.abc import Iterator

import numpy as np

from core.assess.clearance import TubeGap, closest_at_rest
from core.assess.limits import limit
from core.assess.places import tube_line, tube_radius
from core.assess.width import axle_width, chain, drive_side, driven_pairs
from core.document.base import Ref, Vec3
from core.document.power import Mount, PowerUnit, ServiceZone
from core.document.records import Car
from core.document.running_gear import Axle, Corner, DriveShaft, Rack
from core.document.steel import Bracket, Tube
from core.document.surroundings import Controls, KeepOut, Obstacle, Occupant, Opening, Shell
from core.engine.cells import Cell, NotComputedError, Reader, When, cell
from core.engine.finding import Verdict
from core.quantities import number
from core.scene import beams, bodies, gear
from core.scene.handles import handles
from core.scene.records import (
    Dimension,
    GapMark,
    MeshRecord,
    OutlineRecord,
    RodRecord,
    Scene,
    SolidRecord,
    TubeRecord,
)


@cell(When.LIVE)
def tube_record(read: Reader, ref: Ref) -> TubeRecord:
    """A tube to draw."""
    tube = read.thing(Tube, ref)
    is_hoop = "hoop" in tube.role
    return TubeRecord(ref, read(tube_line, ref), read(tube_radius, ref), tube.state, is_hoop)


Drawn = RodRecord | SolidRecord | MeshRecord | OutlineRecord


def _tried(read: Reader, make: "Cell[[Ref], tuple[Drawn, ...]]", ref: Ref) -> tuple[Drawn, ...]:
    """What a thing is drawn as; nothing where too little is known of it to draw."""
    try:
        return read(make, ref)
    except NotComputedError:
        return ()


_MAKERS: tuple[tuple[type, "Cell[[Ref], tuple[Drawn, ...]]"], ...] = (
    (Corner, gear.corner_drawn),
    (Axle, beams.axle_drawn),
    (DriveShaft, gear.shaft_drawn),
    (Rack, gear.rack_drawn),
    (Bracket, gear.bracket_drawn),
    (Mount, gear.mount_drawn),
    (PowerUnit, bodies.unit_drawn),
    (Obstacle, bodies.obstacle_drawn),
    (KeepOut, bodies.keep_out_drawn),
    (ServiceZone, bodies.zone_drawn),
    (Opening, bodies.opening_drawn),
    (Occupant, bodies.occupant_drawn),
    (Controls, bodies.controls_drawn),
    (Shell, bodies.shell_drawn),
)


@cell(When.LIVE)
def the_scene(read: Reader) -> Scene:
    """All there is to draw."""
    drawn = [
        record
        for kind, make in _MAKERS
        for ref in read.all(kind)
        for record in _tried(read, make, ref)
    ]
    return Scene(
        tubes=tuple(_tubes(read)),
        rods=tuple(r for r in drawn if isinstance(r, RodRecord)),
        solids=tuple(r for r in drawn if isinstance(r, SolidRecord)),
        meshes=tuple(r for r in drawn if isinstance(r, MeshRecord)),
        handles=read(handles),
        outlines=tuple(r for r in drawn if isinstance(r, OutlineRecord)),
        dimensions=tuple(d for pair in read(driven_pairs) for d in _width(read, pair)),
        gaps=tuple(_gap_marks(read)),
        stations=read(stations),
    )


def _tubes(read: Reader) -> Iterator[TubeRecord]:
    """Every tube that has a shape, spoilt ones too: they are seen, but count for nothing."""
    for ref in read.all(Tube):
        try:
            yield read(tube_record, ref)
        except NotComputedError:
            continue


@cell(When.LIVE)
def stations(read: Reader) -> tuple[tuple[str, float], ...]:
    """The marked stations along the car."""
    return tuple(
        (station.name, station.x)
        for ref in read.all(Car)
        for station in read.thing(Car, ref).stations
    )


def _width(read: Reader, pair: tuple[Ref, Ref]) -> Iterator[Dimension]:
    """The chain of lengths of both sides on one level, and the whole width below."""
    try:
        links = [read(chain, ref) for ref in pair]
        width = read(axle_width, *pair)
    except NotComputedError:
        return
    outer = read(drive_side, pair[0]).outer_joint
    for sign, side in zip((1.0, -1.0), links, strict=True):
        for link in side:
            if abs(link.y) > _LEAST_DRAWN:
                y0, y1 = sign * (link.total - link.y), sign * link.total
                ends = (Vec3(outer[0], y0, 0.0), Vec3(outer[0], y1, 0.0))
                yield Dimension(*ends, number(abs(link.y), 1), 0)
    left, right = width.planes
    ends = (Vec3(outer[0], left, 0.0), Vec3(outer[0], -right, 0.0))
    yield Dimension(*ends, number(width.track, 1), 1)


_LEAST_DRAWN = 0.05


def _gap_marks(read: Reader) -> Iterator[GapMark]:
    try:
        gap = read(closest_at_rest)
    except NotComputedError:
        return
    yield _mark(gap, read(limit, "unit_gap").verdict_at_least(gap.gap))


def _mark(gap: TubeGap, verdict: Verdict) -> GapMark:
    axis = np.array(gap.on_unit) - np.array(gap.on_tube)
    length = float(np.linalg.norm(axis))
    radius = length - gap.gap
    skin = gap.on_tube
    if length > radius > 0:
        x, y, z = (float(v) for v in np.array(gap.on_tube) + axis / length * radius)
        skin = Vec3(x, y, z)
    return GapMark(gap.on_unit, skin, number(gap.gap, 1), verdict, gap.tube)
