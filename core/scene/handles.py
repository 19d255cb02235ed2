"""The places that can be taken in hand, and what holds each."""

from collections.abc import Iterator

from core.assess.places import array, mount_place, place, unit_end, vec
from core.assess.wheels import wheel_centre
from core.document.base import Fact, Ref, Vec3
from core.document.facts import counting_fact, hold_reason
from core.document.power import Mount, PowerUnit
from core.document.running_gear import Corner, Rack
from core.document.steel import Point, Tube
from core.engine.cells import NotComputedError, Reader, When, cell
from core.scene.records import Handle, HandleKind


@cell(When.LIVE)
def handles(read: Reader) -> tuple[Handle, ...]:
    """Every handle of the car."""
    return tuple(_all(read))


def _all(read: Reader) -> Iterator[Handle]:
    for kind, make in (
        (Point, point_handle),
        (Corner, wheel_handle),
        (Mount, mount_handle),
        (PowerUnit, unit_handle),
        (Rack, rack_handle),
    ):
        for ref in read.all(kind):
            try:
                yield read(make, ref)
            except NotComputedError:
                continue


@cell(When.LIVE)
def point_handle(read: Reader, ref: Ref) -> Handle:
    """The handle of a joint or a pick-up."""
    point = read.thing(Point, ref)
    kind: HandleKind = "joint" if point.measured_to == "node" else "pickup"
    path = "at" if point.along is None else "along.distance"
    along = None if point.along is None else point.along.tube
    held, axes = _held(point.facts, ref, path)
    steel = dict(read(fixed_joints)).get(ref.id, "")
    axes = (True, True, True) if steel else axes
    return Handle(ref, path, kind, read(place, ref), held or steel, axes, along)


@cell(When.LIVE)
def fixed_joints(read: Reader) -> tuple[tuple[str, str], ...]:
    """Joints that steel is tacked or welded to, each with the words for it."""
    found: list[tuple[str, str]] = []
    for ref in read.all(Tube):
        tube = read.thing(Tube, ref)
        if tube.state in ("tacked", "welded"):
            words = f"{read.label(ref)} is {tube.state} to it"
            joints = (tube.start, tube.end, *(bend.point for bend in tube.bends))
            found += [(joint.id, words) for joint in joints]
    return tuple(found)


@cell(When.LIVE)
def wheel_handle(read: Reader, ref: Ref) -> Handle:
    """The handle of a wheel: it moves the hub face, and with it the wheel plane."""
    held, axes = _held(read.thing(Corner, ref).facts, ref, "upright.hub_face")
    return Handle(ref, "upright.hub_face", "wheel_centre", read(wheel_centre, ref), held, axes)


@cell(When.LIVE)
def mount_handle(read: Reader, ref: Ref) -> Handle:
    """The handle of a mount's place on the engine and gearbox, or of a stay's chassis end."""
    mount = read.thing(Mount, ref)
    path = "place" if mount.form == "bush" else "chassis_end"
    at = unit_end(read, ref) if mount.form == "bush" else mount_place(read, ref)
    held, axes = _held(mount.facts, ref, path)
    return Handle(ref, path, "mount", at, held, axes)


@cell(When.LIVE)
def unit_handle(read: Reader, ref: Ref) -> Handle:
    """The handle of the engine and gearbox as one body, at the origin of its own frame."""
    thing = read.thing(PowerUnit, ref)
    held, axes = _held(thing.facts, ref, "origin")
    return Handle(ref, "origin", "unit", vec(array(thing.origin)), held, axes)


@cell(When.LIVE)
def rack_handle(read: Reader, ref: Ref) -> Handle:
    """The handle of a steering rack's middle."""
    thing = read.thing(Rack, ref)
    held, axes = _held(thing.facts, ref, "centre")
    return Handle(ref, "centre", "rack", thing.centre, held, axes)


def _held(facts: tuple[Fact, ...], ref: Ref, path: str) -> tuple[str, tuple[bool, bool, bool]]:
    """What holds a place, and for each of its coordinates whether it is held."""
    reasons = [
        hold_reason(counting_fact(facts, ref.side, f"{path}.{axis}")) for axis in Vec3._fields
    ]
    first = next((reason for reason in reasons if reason), "")
    return first, (bool(reasons[0]), bool(reasons[1]), bool(reasons[2]))
