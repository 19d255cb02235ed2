"""Where things are in the car: points, racks, mounts, the engine and gearbox, tubes."""

from dataclasses import dataclass

import numpy as np

from core.document.base import Ref, Vec3
from core.document.power import Mount, PowerUnit
from core.document.running_gear import Rack
from core.document.steel import Die, Point, Section, Tube
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.frames import Frame
from core.geometry.tubes import (
    NoTubeShape,
    TubeShape,
    centre_line,
    place_along,
    solve_tube,
)
from core.geometry.types import Array, read_only

CHORD_DEG = 1.0
"""Step of the chords by which bends are drawn for gaps. On a centre-line radius of 150 mm it
leaves the chord at most 0.006 mm inside the true arc: R (1 - cos(step/2))."""


def array(place: Vec3) -> Array:
    """A place as an array (3,), mm."""
    return np.array(place, dtype=np.float64)


def vec(place: Array) -> Vec3:
    """An array (3,) as a place."""
    x, y, z = (float(v) for v in place)
    return Vec3(x, y, z)


@cell(When.LIVE)
def unit_frame(read: Reader, unit: Ref) -> Frame:
    """Frame of an engine and gearbox in the car."""
    thing = read.thing(PowerUnit, unit)
    axes = np.column_stack([thing.axes.x, thing.axes.y, thing.axes.z]).astype(np.float64)
    return Frame(array(thing.origin), axes)


def the_unit(read: Reader) -> Ref:
    """The engine and gearbox of the car.

    Raises:
        NotComputedError: there is none, or more than one.
    """
    units = read.all(PowerUnit)
    if len(units) != 1:
        msg = "there is no engine and gearbox" if not units else "there are several engines"
        raise NotComputedError(msg)
    return units[0]


@cell(When.LIVE)
def place(read: Reader, ref: Ref) -> Vec3:
    """Place of a point, a rack's ball, or a mount's chassis side, mm, car frame."""
    if read.has(Rack, ref) or read.has(Mount, ref):
        return _rack_ball(read, ref) if read.has(Rack, ref) else mount_place(read, ref)
    point = read.thing(Point, ref)
    at = point.at
    if at is None:
        return _place_along(read, ref)
    if point.carrier == "unit":
        return vec(read(unit_frame, the_unit(read)).to_car(array(at)))
    if point.carrier == "table":
        msg = f"{read.label(ref)} is given on the table, and where the table stands is not known"
        raise NotComputedError(msg)
    return at  # the frames of shell, upright, arm and rack are the car's at the design position


def _rack_ball(read: Reader, ref: Ref) -> Vec3:
    rack = read.thing(Rack, Ref(ref.id))
    half = {"left": 0.5, "right": -0.5, "one": 0.0}[ref.side] * rack.ball_spacing
    return rack.centre._replace(y=rack.centre.y + half)


def mount_place(read: Reader, ref: Ref) -> Vec3:
    """Where a mount acts on the chassis: its bush, or the stay's chassis end; mm, car frame."""
    mount = read.thing(Mount, ref)
    if mount.chassis_end is not None:
        return mount.chassis_end
    return unit_end(read, ref)


def unit_end(read: Reader, ref: Ref) -> Vec3:
    """Where a mount acts on the engine and gearbox, mm, car frame."""
    mount = read.thing(Mount, ref)
    return vec(read(unit_frame, mount.unit).to_car(array(mount.place)))


def _place_along(read: Reader, ref: Ref) -> Vec3:
    along = read.thing(Point, ref).along
    assert along is not None
    shape = read(tube_shape, along.tube)
    from_start = along.distance if along.end == "start" else shape.length - along.distance
    if not 0 <= from_start <= shape.length:
        msg = (
            f"{read.label(ref)} is {along.distance:.1f} along {read.label(along.tube)}, "
            f"which is only {shape.length:.1f} long"
        )
        raise NotComputedError(msg)
    return vec(place_along(shape, from_start)[0])


@cell(When.LIVE)
def tube_shape(read: Reader, ref: Ref) -> TubeShape:
    """Centre line of a tube as legs and arcs, mm, car frame, from its start to its end."""
    bent = read(tube_bent, ref)
    if isinstance(bent, CannotBeBent):
        raise NotComputedError(bent.words)
    return bent


@dataclass(frozen=True)
class CannotBeBent:
    """A tube whose joints and radii are known and which cannot be bent so, and why."""

    words: str


@cell(When.LIVE)
def tube_bent(read: Reader, ref: Ref) -> TubeShape | CannotBeBent:
    """The shape of a tube, or why there is none for the joints and radii it has."""
    tube = read.thing(Tube, ref)
    joints = (tube.start, *(bend.point for bend in tube.bends), tube.end)
    points = np.array([read(place, joint) for joint in joints], dtype=np.float64)
    radii = np.array([bend.radius or die_radius(read, ref) for bend in tube.bends])
    try:
        return solve_tube(points, radii.astype(np.float64))
    except NoTubeShape as error:
        return CannotBeBent(f"{read.label(ref)} cannot be bent so: {error}")


def die_radius(read: Reader, ref: Ref) -> float:
    """Centre-line radius of the die that a tube is bent on, mm.

    Raises:
        NotComputedError: neither the tube nor its section names a die.
    """
    tube = read.thing(Tube, ref)
    die = tube.die or read.thing(Section, tube.section).die
    if die is None:
        msg = f"no die is named for the bends of {read.label(ref)}"
        raise NotComputedError(msg)
    return read.thing(Die, die).radius


@cell(When.LIVE)
def tube_line(read: Reader, ref: Ref) -> Array:
    """Centre line of a tube as a polyline (n, 3), mm, car frame; points on its arcs."""
    return read_only(centre_line(read(tube_shape, ref), np.radians(CHORD_DEG)))


@cell(When.LIVE)
def tube_radius(read: Reader, ref: Ref) -> float:
    """Outside radius of a tube, mm."""
    return read.thing(Section, read.thing(Tube, ref).section).outside / 2


@cell(When.LIVE)
def drawn_tubes(read: Reader) -> tuple[Ref, ...]:
    """Every tube that has a shape, each side, in the document's order; spoilt ones are left out."""
    return tuple(ref for ref in read.all(Tube) if read(is_drawn, ref))


@cell(When.LIVE)
def shapeless_tubes(read: Reader) -> tuple[Ref, ...]:
    """Every tube, but spoilt ones, whose shape is not known: what looks at all tubes misses it."""
    drawn = set(read(drawn_tubes))
    rest = (ref for ref in read.all(Tube) if ref not in drawn)
    return tuple(ref for ref in rest if read.thing(Tube, ref).state != "spoilt")


@cell(When.LIVE)
def is_drawn(read: Reader, ref: Ref) -> bool:
    """Whether a tube has a shape and is not spoilt."""
    if read.thing(Tube, ref).state == "spoilt":
        return False
    try:
        read(tube_shape, ref)
    except NotComputedError:
        return False
    return True
