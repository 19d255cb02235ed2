"""Every hardpoint of the car: where it is, what it is measured to, and how far to trust it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from core.assess.places import array, place, unit_end, unit_frame, vec
from core.assess.wheels import wheel_centre
from core.assess.width import outer_joint
from core.document.base import Ref, Side, Vec3
from core.document.power import Mount, PowerUnit
from core.document.running_gear import Corner, DriveShaft, Hub, Rack, Wheel
from core.document.steel import Datum, Point
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.frames import Frame, NoFrame, frame_from_three_points
from core.workshop.point_uses import Adjustment, adjustments, uses
from core.workshop.trust import Trust, source_words, trust_in_place, worked_out


@dataclass(frozen=True)
class Hardpoint:
    """One line of the hardpoint table.

    Attributes:
        ref: the thing and its side.
        name: what it is called.
        what: what it is for.
        place: mm, car frame; none where it is not known.
        measured_to: what of it the place is of.
        trust: where the place comes from and how sure it is.
        adjusters: what moves it; none, and it is fixed.
        why_not: why its place is not known; empty where it is.
    """

    ref: Ref
    name: str
    what: str
    place: Vec3 | None
    measured_to: str
    trust: Trust
    adjusters: tuple[Adjustment, ...] = ()
    why_not: str = ""


@cell(When.LIVE)
def inner_joint(read: Reader, shaft: Ref) -> Vec3:
    """Inner joint centre of a shaft at mid stroke, mm, car frame."""
    thing = read.thing(DriveShaft, shaft)
    outputs = read.thing(PowerUnit, thing.unit).outputs
    if outputs is None:  # pyright: ignore[reportUnnecessaryComparison]
        msg = f"where the shafts meet {read.label(thing.unit)} is not known"
        raise NotComputedError(msg)
    output = outputs.right if thing.corner.side == "right" else outputs.left
    return vec(read(unit_frame, thing.unit).to_car(array(output)))


@cell(When.RELEASE)
def datum_frame(read: Reader, ref: Ref) -> Frame:
    """The frame of a named datum, placed in the car by its three points."""
    datum = read.thing(Datum, ref)
    corners = [array(read(place, at)) for at in (datum.origin, datum.ahead, datum.aside)]
    try:
        return frame_from_three_points(*corners)
    except NoFrame as error:
        msg = f"{read.label(ref)} gives no axes: {error.reason}"
        raise NotComputedError(msg) from error


@cell(When.RELEASE)
def hardpoints(read: Reader) -> tuple[Hardpoint, ...]:
    """Every hardpoint, each side: points, rack balls, mounts, then what follows from others."""
    return (
        *(_point(read, ref) for ref in read.all(Point)),
        *(ball for ref in read.all(Rack) if ref.side != "right" for ball in _balls(read, ref)),
        *(end for ref in read.all(Mount) for end in _mount(read, ref)),
        *(of_hub for ref in read.all(Corner) for of_hub in _corner(read, ref)),
        *(joint for ref in read.all(DriveShaft) for joint in _shaft(read, ref)),
    )


def _point(read: Reader, ref: Ref) -> Hardpoint:
    at, why_not = _known(lambda: read(place, ref))
    return Hardpoint(
        ref,
        read.label(ref),
        _use(read, ref),
        at,
        read.thing(Point, ref).measured_to,
        _trust_in_point(read, ref),
        _moved_by(read, ref),
        why_not,
    )


def _trust_in_point(read: Reader, ref: Ref) -> Trust:
    point = read.thing(Point, ref)
    if point.along is not None:
        tube, end = read.label(point.along.tube), point.along.end
        source = source_words(point, ref.side, "along.distance")
        return worked_out(f"from its distance along {tube} from the tube's {end} ({source})")
    trust = trust_in_place(point, ref.side, "at")
    units = read.all(PowerUnit)
    if point.carrier == "unit" and units:
        return _on_unit(read, units[0], trust)
    return trust


def _on_unit(read: Reader, unit: Ref, trust: Trust) -> Trust:
    """Trust in the place in the car of what is given in the frame of an engine and gearbox."""
    stands = trust_in_place(read.thing(PowerUnit, unit), unit.side, "origin")
    words = f"from its place on {read.label(unit)} ({trust.source}) and where that stands"
    return worked_out(f"{words} ({stands.source})")


def _use(read: Reader, ref: Ref) -> str:
    """What a point is for: its parts in linkages, the tubes that come to it, else its carrier."""
    found = dict(read(uses)).get(ref)
    if found:
        return "; ".join(found)
    carrier = read.thing(Point, ref).carrier
    return f"point on the {'engine and gearbox' if carrier == 'unit' else carrier}"


def _moved_by(read: Reader, ref: Ref) -> tuple[Adjustment, ...]:
    return tuple(found for found in read(adjustments) if found.point == ref)


def _balls(read: Reader, rack: Ref) -> Iterator[Hardpoint]:
    thing = read.thing(Rack, Ref(rack.id))
    centre = trust_in_place(thing, "one", "centre").source
    spacing = source_words(thing, "one", "ball_spacing")
    trust = worked_out(
        f"from the rack's centre ({centre}) and the spacing of its balls ({spacing})"
    )
    sides: tuple[Side, ...] = ("left", "right")
    for ref in (Ref(rack.id, side) for side in sides):
        what = "; ".join(("ball of the rack", *dict(read(uses)).get(ref, ())))
        at, moved_by = read(place, ref), _moved_by(read, ref)
        yield Hardpoint(ref, read.label(ref), what, at, "ball centre", trust, moved_by)


def _mount(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    mount, name = read.thing(Mount, ref), read.label(ref)
    what = f"mount, {mount.form}"
    on_unit = _on_unit(read, mount.unit, trust_in_place(mount, ref.side, "place"))
    if mount.chassis_end is None:
        yield Hardpoint(ref, name, what, unit_end(read, ref), "bush centre", on_unit)
        return
    ends = (f"{name} end on the engine and gearbox", f"{name} end on the chassis")
    yield Hardpoint(ref, ends[0], what, unit_end(read, ref), "bush centre", on_unit)
    trust = trust_in_place(mount, ref.side, "chassis_end")
    yield Hardpoint(ref, ends[1], what, mount.chassis_end, "bush centre", trust)


def _corner(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    corner, name = read.thing(Corner, ref), read.label(ref)
    trust = trust_in_place(corner, ref.side, "upright.hub_face")
    to = "centre of the face the wheel bolts to"
    yield Hardpoint(ref, f"{name} hub face", "hub face", corner.upright.hub_face, to, trust)
    at, why_not = _known(lambda: read(wheel_centre, ref))
    spacer, wheel = source_words(corner, ref.side, "upright.spacer"), "don't know"
    if corner.wheel is not None:
        wheel = source_words(read.thing(Wheel, corner.wheel), corner.wheel.side, "offset")
    follows = worked_out(
        f"from hub face ({trust.source}), spacer ({spacer}) and wheel offset ({wheel})"
    )
    to = "rim's centre plane on the spin axis"
    yield Hardpoint(ref, f"{name} wheel centre", "wheel centre", at, to, follows, why_not=why_not)


def _shaft(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    name, shaft = read.label(ref), read.thing(DriveShaft, ref)
    at, why_not = _known(lambda: read(inner_joint, ref))
    output = "outputs.right" if shaft.corner.side == "right" else "outputs.left"
    unit = read.thing(PowerUnit, shaft.unit)
    trust = _on_unit(read, shaft.unit, trust_in_place(unit, shaft.unit.side, output))
    what, to = "inner joint of a drive shaft", "joint centre at mid stroke"
    yield Hardpoint(ref, f"{name} inner joint", what, at, to, trust, why_not=why_not)
    at, why_not = _known(lambda: read(outer_joint, shaft.corner))
    what, trust = "outer joint of a drive shaft", _trust_in_outer(read, shaft.corner)
    yield Hardpoint(ref, f"{name} outer joint", what, at, "joint centre", trust, why_not=why_not)


def _trust_in_outer(read: Reader, ref: Ref) -> Trust:
    corner, depth = read.thing(Corner, ref), "don't know"
    face = trust_in_place(corner, ref.side, "upright.hub_face").source
    if corner.hub is not None:
        depth = source_words(read.thing(Hub, corner.hub), corner.hub.side, "joint_to_face")
    return worked_out(f"from hub face ({face}) and the depth of the joint behind it ({depth})")


def _known(find: Callable[[], Vec3]) -> tuple[Vec3 | None, str]:
    """The place, or none and why not."""
    try:
        return find(), ""
    except NotComputedError as error:
        return None, str(error)
