"""Every hardpoint of the car: where it is, what it is measured to, and how far to trust it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from core.assess.places import array, place, unit_end, unit_frame, vec
from core.assess.width import outer_joint
from core.document.base import Entity, Fact, Ref, Side, Vec3
from core.document.facts import fact_at
from core.document.power import Mount, PowerUnit
from core.document.running_gear import Corner, DriveShaft, Rack, Wheel
from core.document.steel import Datum, Point
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.frames import Frame, NoFrame, frame_from_three_points
from core.geometry.types import unit
from core.workshop.point_uses import Adjustment, adjustments, uses

WORKED_OUT = "worked out"
SOURCE_WORDS = {"in_hand": "in hand"}


@dataclass(frozen=True)
class Hardpoint:
    """One line of the hardpoint table.

    Attributes:
        ref: the thing and its side.
        name: what it is called.
        what: what it is for.
        place: mm, car frame; none where it is not known.
        measured_to: what of it the place is of.
        source: where the place comes from, or that it is worked out.
        uncertainty: standard uncertainty of the worst coordinate, mm; none where not known.
        tolerance: the strictest of its coordinates, mm; none where none is given.
        adjusters: what moves it; none, and it is fixed.
        notes: what it is worked out from, how it was measured, why it is not known.
    """

    ref: Ref
    name: str
    what: str
    place: Vec3 | None
    measured_to: str
    source: str
    uncertainty: float | None = None
    tolerance: float | None = None
    adjusters: tuple[Adjustment, ...] = ()
    notes: tuple[str, ...] = ()


@cell(When.LIVE)
def wheel_centre(read: Reader, corner: Ref) -> Vec3:
    """Where the rim's centre plane meets the spin axis at the design position, mm, car frame.

    Source:
        Hub face + (spacer - offset) along the spin axis, by the meaning of the three.
    """
    thing = read.thing(Corner, corner)
    if thing.wheel is None:
        msg = f"no wheel is named for {read.label(corner)}"
        raise NotComputedError(msg)
    out = thing.upright.spacer - read.thing(Wheel, thing.wheel).offset
    axis = unit(array(thing.upright.spin_axis))
    return vec(array(thing.upright.hub_face) + axis * out)


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
    point = read.thing(Point, ref)
    name, what, moved_by = read.label(ref), _use(read, ref), _moved_by(read, ref)
    at, why_not = _known(lambda: read(place, ref))
    along = point.along
    if along is not None:
        source = _source_words(fact_at(point, ref.side, "along.distance"))
        from_what = (
            f"from its distance along {read.label(along.tube)} from the tube's {along.end} "
            f"({source})"
        )
        notes = (from_what, *why_not)
        return Hardpoint(
            ref, name, what, at, point.measured_to, WORKED_OUT, adjusters=moved_by, notes=notes
        )
    trust = _trust(point, ref.side, "at")
    if point.carrier == "unit":
        notes = (f"from its place on the engine and gearbox ({trust.source})", *why_not)
        return Hardpoint(
            ref, name, what, at, point.measured_to, WORKED_OUT, adjusters=moved_by, notes=notes
        )
    return _given(ref, (name, what, point.measured_to), at, trust, moved_by)


def _use(read: Reader, ref: Ref) -> str:
    """What a point is for: its parts in linkages, the tubes that come to it, else what carries it."""
    found = dict(read(uses)).get(ref)
    if found:
        return "; ".join(found)
    return f"point on the {_CARRIER_WORDS.get(read.thing(Point, ref).carrier, 'chassis')}"


_CARRIER_WORDS = {"unit": "engine and gearbox", "shell": "body shell", "upright": "upright"} | {
    "arm": "arm",
    "rack": "rack",
    "table": "table",
}


def _moved_by(read: Reader, ref: Ref) -> tuple[Adjustment, ...]:
    return tuple(found for found in read(adjustments) if found.point == ref)


def _balls(read: Reader, rack: Ref) -> Iterator[Hardpoint]:
    thing = read.thing(Rack, Ref(rack.id))
    centre, spacing = _trust(thing, "one", "centre"), fact_at(thing, "one", "ball_spacing")
    from_what = (
        f"from the rack's centre ({centre.source}) and the spacing of its balls "
        f"({_source_words(spacing)})"
    )
    sides: tuple[Side, ...] = ("left", "right")
    for side in sides:
        ref = Ref(rack.id, side)
        parts = dict(read(uses)).get(ref, ())
        what = "; ".join(("ball of the rack", *parts))
        yield Hardpoint(
            ref,
            read.label(ref),
            what,
            read(place, ref),
            "ball centre",
            WORKED_OUT,
            adjusters=_moved_by(read, ref),
            notes=(from_what,),
        )


def _mount(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    mount = read.thing(Mount, ref)
    is_stay = mount.form == "stay"
    name, trust = read.label(ref), _trust(mount, ref.side, "place")
    end = " end on the engine and gearbox" if is_stay else ""
    notes = (f"from its place on {read.label(mount.unit)} ({trust.source})",)
    what = f"mount, {mount.form}"
    on_unit = unit_end(read, ref)
    yield Hardpoint(ref, name + end, what, on_unit, "bolt centre", WORKED_OUT, notes=notes)
    if mount.chassis_end is not None:
        given = (f"{name} end on the chassis", what, "bolt centre")
        yield _given(ref, given, mount.chassis_end, _trust(mount, ref.side, "chassis_end"))


def _corner(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    corner, name = read.thing(Corner, ref), read.label(ref)
    face = corner.upright.hub_face
    trust = _trust(corner, ref.side, "upright.hub_face")
    yield _given(ref, (f"{name} hub face", "hub face", "centre of the wheel's face"), face, trust)
    at, why_not = _known(lambda: read(wheel_centre, ref))
    yield _worked_out(
        ref,
        (f"{name} wheel centre", "wheel centre", "rim's centre plane on the spin axis"),
        at,
        ("from hub face, spacer and wheel offset along the spin axis", *why_not),
    )


def _shaft(read: Reader, ref: Ref) -> Iterator[Hardpoint]:
    shaft, name = read.thing(DriveShaft, ref), read.label(ref)
    inner, why_no_inner = _known(lambda: read(inner_joint, ref))
    yield _worked_out(
        ref,
        (f"{name} inner joint", "inner joint of a drive shaft", "joint centre at mid stroke"),
        inner,
        (f"from where the shaft meets {read.label(shaft.unit)}", *why_no_inner),
    )
    outer, why_no_outer = _known(lambda: read(outer_joint, shaft.corner))
    yield _worked_out(
        ref,
        (f"{name} outer joint", "outer joint of a drive shaft", "joint centre"),
        outer,
        ("from hub face and the joint's depth behind it on the spin axis", *why_no_outer),
    )


Words = tuple[str, str, str]
"""Name, what it is, what it is measured to."""


def _worked_out(ref: Ref, words: Words, at: Vec3 | None, notes: tuple[str, ...]) -> Hardpoint:
    name, what, measured_to = words
    return Hardpoint(ref, name, what, at, measured_to, WORKED_OUT, notes=notes)


def _given(
    ref: Ref,
    words: Words,
    at: Vec3 | None,
    trust: "_Trust",
    moved_by: tuple[Adjustment, ...] = (),
) -> Hardpoint:
    return Hardpoint(
        ref, *words[:2], at, words[2], trust.source, trust.uncertainty, trust.tolerance,
        moved_by, trust.notes,
    )  # fmt: skip


def _known(find: Callable[[], Vec3]) -> tuple[Vec3 | None, tuple[str, ...]]:
    """The place, or none and why not."""
    try:
        return find(), ()
    except NotComputedError as error:
        return None, (str(error),)


@dataclass(frozen=True)
class _Trust:
    """Where a place comes from, from the facts of its three coordinates."""

    source: str
    uncertainty: float | None
    tolerance: float | None
    notes: tuple[str, ...]


def _trust(thing: Entity, side: Side, path: str) -> _Trust:
    facts = [fact_at(thing, side, f"{path}.{axis}") for axis in Vec3._fields]
    words = [_source_words(fact) for fact in facts]
    alike = len(set(words)) == 1
    each = [f"{axis} {word}" for axis, word in zip(Vec3._fields, words, strict=True)]
    doubts = [None if fact is None else fact.uncertainty for fact in facts]
    known = [doubt for doubt in doubts if doubt is not None]
    allowed = [f.tolerance for f in facts if f is not None and f.tolerance is not None]
    return _Trust(
        source=words[0] if alike else ", ".join(each),
        uncertainty=max(known) if len(known) == len(doubts) else None,
        tolerance=min(allowed, default=None),
        notes=tuple(dict.fromkeys(note for fact in facts if fact for note in _notes(fact))),
    )


def _source_words(fact: Fact | None) -> str:
    source = "guessed" if fact is None else fact.source
    return SOURCE_WORDS.get(source, source)


def _notes(fact: Fact) -> Iterator[str]:
    if fact.how:
        yield fact.how
    if fact.held:
        yield f"held: {fact.held}"
