"""Gaps of the engine and gearbox to every tube: at rest, on its way out, and the lift for that."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.assess.limits import limit
from core.assess.places import drawn_tubes, the_unit, tube_line, tube_radius, unit_frame
from core.clearance.bodies import Body
from core.clearance.gaps import Gap, gaps
from core.clearance.lifting import RollOut, lift_to_roll_out
from core.clearance.lines import Line, LineGroup, grouped, one_by_one, swept
from core.document.base import Ref, Vec3
from core.document.power import PowerUnit
from core.document.records import WayOut
from core.document.surroundings import Workshop
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.frames import Frame
from core.geometry.meshes import MeshError, TriangleMesh, box_mesh, joined, mesh_from_ply
from core.geometry.types import Array, unit


@dataclass(frozen=True)
class TubeGap:
    """The gap of the engine and gearbox to one tube, and where.

    Attributes:
        tube: which tube.
        part: which solid of the engine and gearbox.
        gap: mm, below zero where they overlap.
        on_unit: mm, car frame.
        on_tube: mm, car frame, on the centre line.
        inside: the tube runs wholly inside.
        travel: share of the way at which it is this near; 0 at rest.
    """

    tube: Ref
    part: str
    gap: float
    on_unit: Vec3
    on_tube: Vec3
    inside: bool
    travel: float


@dataclass(frozen=True)
class UnitBody:
    """The engine and gearbox as a body, and the names of its parts."""

    body: Body
    parts: tuple[str, ...]


@cell(When.LIVE)
def unit_body(read: Reader, unit_ref: Ref) -> UnitBody:
    """The solids of an engine and gearbox in its own frame; its mesh where it has no solids."""
    thing = read.thing(PowerUnit, unit_ref)
    solids = thing.solids
    if solids:
        meshes = [box_mesh(solid.box.low, solid.box.high) for solid in solids]
        names = tuple(solid.name for solid in solids)
        return UnitBody(Body(*joined(meshes)), names)
    mesh = thing.mesh
    if mesh is None:  # pyright: ignore[reportUnnecessaryComparison]
        msg = f"the shape of {read.label(unit_ref)} is not known; give it boxes or a mesh"
        raise NotComputedError(msg)
    return mesh_body(read, mesh.sha256, mesh.what or read.label(unit_ref))


def mesh_body(read: Reader, sha256: str, name: str) -> UnitBody:
    """A mesh from the store as a body of one part.

    Raises:
        NotComputedError: the mesh is not at hand, or is no mesh.
    """
    try:
        mesh: TriangleMesh = mesh_from_ply(read.mesh(sha256))
    except MeshError as error:
        msg = f"the mesh {sha256[:12]}… cannot be used: {error}"
        raise NotComputedError(msg) from error
    parts = np.zeros(len(mesh.triangles), dtype=np.int32)
    return UnitBody(Body(mesh, parts), (name,))


REST = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class TubeLines:
    """Tubes as thick lines in groups, and which tube each line is."""

    groups: tuple[LineGroup, ...]
    tubes: tuple[Ref, ...]


@cell(When.LIVE)
def thick_line(read: Reader, ref: Ref) -> Line:
    """A tube as a line with half its outside diameter."""
    return Line(read(tube_line, ref), read(tube_radius, ref))


@cell(When.LIVE)
def radii(read: Reader) -> tuple[float, ...]:
    """The outside radii of all tubes, mm, each once, smallest first."""
    return tuple(sorted({read(tube_radius, ref) for ref in read(drawn_tubes)}))


@cell(When.LIVE)
def tubes_by_radius(read: Reader, radius: float) -> tuple[Ref, ...]:
    """The tubes of an outside radius, mm."""
    return tuple(ref for ref in read(drawn_tubes) if read(tube_radius, ref) == radius)


@cell(When.LIVE)
def tubes_of_radius(read: Reader, radius: float, left_out: tuple[Ref, ...]) -> TubeLines:
    """All tubes of an outside radius but those left out, in one group if there are any."""
    tubes = tuple(ref for ref in read(tubes_by_radius, radius) if ref not in left_out)
    return TubeLines(grouped([read(thick_line, ref) for ref in tubes]), tubes)


@cell(When.LIVE)
def tube_alone(read: Reader, ref: Ref) -> TubeLines:
    """One tube on its own."""
    return TubeLines(one_by_one((read(thick_line, ref),)), (ref,))


def _by_radius(read: Reader, left_out: tuple[Ref, ...]) -> list[TubeLines]:
    return [read(tubes_of_radius, radius, left_out) for radius in read(radii)]


def _one_by_one(read: Reader, left_out: tuple[Ref, ...]) -> list[TubeLines]:
    return [read(tube_alone, ref) for ref in read(drawn_tubes) if ref not in left_out]


def _gaps(
    read: Reader, unit_ref: Ref, lines: list[TubeLines], sweep: tuple[float, float, float] = REST
) -> tuple[TubeGap, ...]:
    """The least gap to each group, least first, from where the unit hangs."""
    return _gaps_at(read, unit_ref, lines, sweep, read(unit_frame, unit_ref))


def _gaps_at(
    read: Reader,
    unit_ref: Ref,
    lines: list[TubeLines],
    sweep: tuple[float, float, float],
    at: Frame,
) -> tuple[TubeGap, ...]:
    """The least gap to each group, least first, from a place of the unit.

    Raises:
        NotComputedError: there are no tubes, or no shape to measure from.
    """
    pairs = [(group, some) for some in lines for group in some.groups]
    if not pairs:
        msg = "there are no tubes to measure to"
        raise NotComputedError(msg)
    unit_thing = read(unit_body, unit_ref)
    still = sweep == REST
    groups = [group if still else swept(group, sweep) for group, _ in pairs]
    found = gaps(unit_thing.body, at, groups)
    named = (_named(gap, some, unit_thing) for gap, (_, some) in zip(found, pairs, strict=True))
    return tuple(sorted(named, key=lambda gap: gap.gap))


def _named(gap: Gap, lines: TubeLines, unit_thing: UnitBody) -> TubeGap:
    return TubeGap(
        tube=lines.tubes[gap.line],
        part=unit_thing.parts[gap.part],
        gap=gap.gap,
        on_unit=Vec3(*gap.on_body),
        on_tube=Vec3(*gap.on_line),
        inside=gap.inside,
        travel=gap.travel,
    )


def gaps_in_place(read: Reader, at: Frame, tubes: Sequence[Ref]) -> tuple[TubeGap, ...]:
    """The gap of the engine and gearbox to each of some tubes, from another place; least first.

    Args:
        read: gives the inputs.
        at: its own frame in the car.
        tubes: which, at least one.

    Raises:
        NotComputedError: there is no shape to measure from.
    """
    return _gaps_at(read, the_unit(read), [read(tube_alone, ref) for ref in tubes], REST, at)


@cell(When.LIVE)
def gap_to_radius(read: Reader, radius: float) -> TubeGap:
    """The least gap of the engine and gearbox to any tube of one outside radius."""
    return _gaps(read, the_unit(read), [read(tubes_of_radius, radius, ())])[0]


@cell(When.LIVE)
def closest_at_rest(read: Reader) -> TubeGap:
    """The least gap of the engine and gearbox to any tube."""
    the_unit(read)
    found = [read(gap_to_radius, radius) for radius in read(radii)]
    if not found:
        msg = "there are no tubes to measure to"
        raise NotComputedError(msg)
    return min(found, key=lambda gap: gap.gap)


@cell(When.RELEASE)
def gaps_at_rest(read: Reader) -> tuple[TubeGap, ...]:
    """The gap of the engine and gearbox to every tube, least first."""
    return _gaps(read, the_unit(read), _one_by_one(read, ()))


def sweep_of(read: Reader, way: Ref) -> tuple[float, float, float]:
    """The straight move of a way out, mm, car frame."""
    thing = read.thing(WayOut, way)
    move = unit(np.array(thing.direction, dtype=np.float64)) * thing.distance
    return float(move[0]), float(move[1]), float(move[2])


@cell(When.RELEASE)
def gaps_on_way_out(read: Reader, way: Ref) -> tuple[TubeGap, ...]:
    """The gap of the engine and gearbox to every tube along a straight way out, least first."""
    lines = _one_by_one(read, read.thing(WayOut, way).tubes_out)
    return _gaps(read, the_unit(read), lines, sweep_of(read, way))


@cell(When.RELEASE)
def still_between(read: Reader, way: Ref) -> Ref | None:
    """A tube that the unit is still level with, or short of, at the end of a straight way out.

    Looked at are tubes that lie in the unit's path as seen along the way, by their extent across
    it: what the unit passes beside is not in its way.
    """
    unit_ref = the_unit(read)
    frame, body = read(unit_frame, unit_ref), read(unit_body, unit_ref).body
    move = np.array(sweep_of(read, way))
    along = unit(move)
    across = np.linalg.svd(along[None, :])[2][1:]
    skin = frame.to_car(body.mesh.vertices) + move
    tail = float((skin @ along).min())
    wide = _extent(skin @ across.T)
    left_out = read.thing(WayOut, way).tubes_out
    for ref in read(drawn_tubes):
        line, radius = read(tube_line, ref), read(tube_radius, ref)
        if ref not in left_out and _meets(line, radius, (along, across), (tail, wide)):
            return ref
    return None


def _extent(places: Array) -> Array:
    return np.array([places.min(axis=0), places.max(axis=0)])


def _meets(
    line: Array, radius: float, axes: tuple[Array, Array], unit_at: tuple[float, Array]
) -> bool:
    """Whether any piece of a tube lies in the path and not wholly behind the unit's tail."""
    (along, across), (tail, wide) = axes, unit_at
    for start, end in pairwise(line):
        piece = np.array([start, end])
        low, high = _extent(piece @ across.T)
        beside = bool(np.any(low - radius > wide[1]) or np.any(high + radius < wide[0]))
        if not beside and float((piece @ along).max()) + radius > tail:
            return True
    return False


@dataclass(frozen=True)
class BodyLift:
    """How far the frame must be raised to roll the engine and gearbox out below it.

    Attributes:
        height: mm.
        governed_by: the tube that forbids any less, if any does.
        dolly_height: height of the lowest point of the unit on its dolly, mm.
        wanted_gap: room kept all round, mm.
    """

    height: float
    governed_by: TubeGap | None
    dolly_height: float
    wanted_gap: float


@cell(When.RELEASE)
def lift_to_clear(read: Reader, way: Ref) -> BodyLift | None:
    """The lift of the frame for rolling the unit out rearwards; none unless the way out is down."""
    thing = read.thing(WayOut, way)
    if thing.direction.z >= 0:
        return None
    dolly = _dolly_height(read)
    wanted = read(limit, "roll_out_gap").value
    unit_ref = the_unit(read)
    unit_thing, frame = read(unit_body, unit_ref), read(unit_frame, unit_ref)
    highest = BodyLift(0.0, None, dolly, wanted)
    for some in _by_radius(read, thing.tubes_out):
        found = lift_to_roll_out(unit_thing.body, frame, some.groups, RollOut(dolly, wanted))
        by = found.governed_by
        if by is not None and found.height > highest.height:
            highest = BodyLift(found.height, _named(by, some, unit_thing), dolly, wanted)
    return highest


def _dolly_height(read: Reader) -> float:
    for ref in read.all(Workshop):
        height = read.thing(Workshop, ref).dolly_height
        if height is not None:
            return height
    msg = "the height of the dolly is not known"
    raise NotComputedError(msg)


@cell(When.LIVE)
def gap_at_drop(read: Reader, way: Ref, mm: float) -> TubeGap:
    """The least gap of the engine and gearbox to any tube, moved so far along its way out.

    Args:
        read: gives the inputs.
        way: the way out; the tubes taken out first do not count.
        mm: how far it has moved along the way, from where it hangs.
    """
    return _gaps_along(read, way, (mm,))[0]


@cell(When.RELEASE)
def gaps_along(read: Reader, way: Ref, count: int) -> tuple[TubeGap, ...]:
    """The least gap at `count` places evenly along a way out, its start and its end included."""
    length = read.thing(WayOut, way).distance
    return _gaps_along(read, way, [length * n / (count - 1) for n in range(count)])


def _gaps_along(read: Reader, way: Ref, places: Sequence[float]) -> tuple[TubeGap, ...]:
    thing, unit_ref = read.thing(WayOut, way), the_unit(read)
    lines = [(group, some) for some in _by_radius(read, thing.tubes_out) for group in some.groups]
    if not lines:
        msg = "there are no tubes to measure to"
        raise NotComputedError(msg)
    along = unit(np.array(thing.direction, dtype=np.float64))
    hung, unit_thing = read(unit_frame, unit_ref), read(unit_body, unit_ref)
    groups = [group for group, _ in lines]
    least: list[TubeGap] = []
    for mm in places:
        found = gaps(unit_thing.body, Frame(hung.origin + along * mm, hung.axes), groups)
        gap, (_, some) = min(zip(found, lines, strict=True), key=lambda pair: pair[0].gap)
        least.append(_named(gap, some, unit_thing))
    return tuple(least)
