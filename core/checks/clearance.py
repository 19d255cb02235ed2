"""Rules on gaps: engine and gearbox to tubes, at rest and on the way out."""

from collections.abc import Iterator

from core.assess.clearance import (
    TubeGap,
    closest_at_rest,
    gaps_at_rest,
    gaps_on_way_out,
    lift_to_clear,
    still_between,
    unit_body,
)
from core.assess.limits import Limited, limit
from core.assess.places import shapeless_tubes, the_unit
from core.document.base import Ref
from core.document.records import WayOut
from core.document.steel import Tube
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.quantities import number

AT_REST = "at rest, as drawn"


@cell(When.LIVE)
def closest(read: Reader) -> Findings:
    """The least gap of the engine and gearbox to any tube, and what cannot be told of others."""
    gap, unit = read(closest_at_rest), the_unit(read)
    held = read(limit, "unit_gap", gap.tube, unit)
    found = _finding(read, "unit_gap", (gap.tube, unit), gap, held, AT_REST)
    return (found, *_untold(read, "unit_gap", (unit,)), *_holed(read, unit))


def _untold(read: Reader, rule: str, subjects: tuple[Ref, ...]) -> Iterator[Finding]:
    """That nothing is known of tubes without a shape."""
    for tube in read(shapeless_tubes):
        words = (
            f"{read.label(tube)} has no shape yet, so whether it is clear of the engine and "
            "gearbox is not known."
        )
        yield Finding(rule, "unknown", (tube, *subjects), words)


def _holed(read: Reader, unit: Ref) -> Iterator[Finding]:
    """That a mesh with holes cannot tell whether a tube lies wholly inside it."""
    if read(unit_body, unit).body.open_rest is not None:
        words = (
            "The mesh of the engine and gearbox has holes, so a tube wholly inside it could be "
            "taken for clear: close the mesh, or give it boxes."
        )
        yield Finding("unit_mesh", "unknown", (unit,), words)


@cell(When.RELEASE)
def others_near(read: Reader) -> Findings:
    """Every other tube that is too near the engine and gearbox."""
    unit, nearest = the_unit(read), read(closest_at_rest).tube
    found = (
        _finding(
            read,
            "unit_gap",
            (gap.tube, unit),
            gap,
            read(limit, "unit_gap", gap.tube, unit),
            AT_REST,
        )
        for gap in read(gaps_at_rest)
        if gap.tube != nearest
    )
    return tuple(finding for finding in found if finding.verdict != "fine")


@cell(When.RELEASE)
def way_out(read: Reader) -> Findings:
    """The least gap along each way out, every other that is not fine, and whether it leads out."""
    unit = the_unit(read)
    ways = read.all(WayOut)
    if not ways:
        words = "Nothing says which way the engine and gearbox leave the car."
        return (Finding("way_out", "unknown", (unit,), words),)
    return tuple(found for way in ways for found in _way_out(read, unit, way))


def _way_out(read: Reader, unit: Ref, way: Ref) -> Iterator[Finding]:
    words = _move_words(read, way)
    for rank, gap in enumerate(read(gaps_on_way_out, way)):
        held = read(limit, "drop_gap", gap.tube, unit, way)
        found = _finding(read, "way_out", (gap.tube, unit, way), gap, held, words)
        if not rank or found.verdict != "fine":
            yield found
    yield from _untold(read, "way_out", (unit, way))
    yield from _not_out(read, unit, way, words)
    yield from _welded_in(read, unit, way)


def _not_out(read: Reader, unit: Ref, way: Ref, words: str) -> Iterator[Finding]:
    """That a way ends with the unit still between the tubes."""
    left = read(still_between, way)
    if left is not None:
        sentence = (
            f"After {words} the engine and gearbox is still level with {read.label(left)}: "
            "whether it can leave from there is not known. Make the way out longer."
        )
        yield Finding("way_out_end", "unknown", (left, unit, way), sentence)


def _welded_in(read: Reader, unit: Ref, way: Ref) -> Iterator[Finding]:
    """That a tube to be taken out first is not one that can be."""
    for tube in read.thing(WayOut, way).tubes_out:
        if not read.thing(Tube, tube).removable:
            name = read.label(tube)
            words = f"{name} is to be taken out first, but it is not bolted in: make it removable."
            yield Finding("way_out_tube", "no", (tube, unit, way), words)


def _move_words(read: Reader, way: Ref) -> str:
    thing = read.thing(WayOut, way)
    x, y, z = thing.direction
    length = number(thing.distance, 0)
    if x == y == 0:
        return f"{'rising' if z > 0 else 'dropping'} {length} straight {'up' if z > 0 else 'down'}"
    return f"moving {length} along {read.label(way)}"


def _finding(
    read: Reader,
    rule: str,
    subjects: tuple[Ref, ...],
    gap: TubeGap,
    held: Limited,
    governing: str,
) -> Finding:
    tube, verdict = read.label(gap.tube), held.verdict_at_least(gap.gap)
    where = f" {governing}" if rule == "way_out" else ""
    if gap.inside:
        words = f"{tube} runs inside {gap.part}{where}, by {number(-gap.gap, 1)} or more."
    elif gap.gap < 0:
        words = f"{gap.part} overlaps {tube} by {number(-gap.gap, 1)} or more{where}."
    else:
        words = f"{gap.part} comes within {number(gap.gap, 1)} of {tube}{where}."
    if verdict == "no":
        words += f" {number(held.value, 1)} is wanted: move the tube or the engine and gearbox."
    return Finding(
        rule,
        verdict,
        subjects,
        words,
        measured=gap.gap,
        limit=held.value,
        place=gap.on_tube,
        governing=governing,
        limit_source=held.source,
    )


@cell(When.RELEASE)
def body_lift(read: Reader) -> Findings:
    """How far the frame must be raised to roll the engine and gearbox out rearwards."""
    found = (_lift(read, way) for way in read.all(WayOut))
    return tuple(finding for finding in found if finding is not None)


def _lift(read: Reader, way: Ref) -> Finding | None:
    unit = the_unit(read)
    try:
        lift = read(lift_to_clear, way)
    except NotComputedError as error:
        words = f"How far the frame must be raised to roll the engine and gearbox out: {error}."
        return Finding("body_lift", "unknown", (unit, way), words)
    if lift is None:
        return None
    hidden = read(shapeless_tubes)
    if hidden:
        names = " and ".join(read.label(tube) for tube in hidden)
        words = (
            f"How far the frame must be raised to roll the engine and gearbox out is not known: "
            f"{names} has no shape yet. The other tubes ask for {number(lift.height, 1)}."
        )
        return Finding("body_lift", "unknown", (unit, way), words)
    by = lift.governed_by
    kept = f"with {number(lift.wanted_gap, 0)} kept all round"
    dolly = f"on a dolly that holds it {number(lift.dolly_height, 0)} off the floor"
    words = (
        f"Raise the frame {number(lift.height, 1)} to roll the engine and gearbox out rearwards "
        f"{dolly}, {kept}"
    )
    words += "." if by is None else f"; {read.label(by.tube)} over {by.part} asks for it."
    subjects = (unit, way) if by is None else (by.tube, unit, way)
    place = None if by is None else by.on_tube
    source = read(limit, "roll_out_gap").source
    return Finding(
        "body_lift",
        "fine",
        subjects,
        words,
        measured=lift.height,
        higher_is_worse=True,
        place=place,
        governing=f"{dolly}, {kept}",
        limit_source=source,
    )


ROOM = "clearance"
RULES = (
    Rule("unit_gap", "Is the engine and gearbox clear of every tube?", closest, ROOM),
    Rule("unit_gaps", "Which other tubes are near the engine and gearbox?", others_near, ROOM),
    Rule("way_out", "Can the engine and gearbox leave the car?", way_out, ROOM),
    Rule("body_lift", "How far must the frame be raised to roll it out?", body_lift, ROOM),
)
