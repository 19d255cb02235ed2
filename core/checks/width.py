"""Rules on the width: strokes and angles of the shafts, and where the wheel planes may stand."""

from collections.abc import Iterator
from itertools import pairwise

from core.assess.limits import Limited, limit
from core.assess.width import (
    AxleWidth,
    ShaftAtDesign,
    axle_width,
    bench_shaft,
    drive_side,
    driven_pairs,
    plunge_limits,
    shaft_at_design,
)
from core.document.base import Ref, Vec3
from core.document.running_gear import Corner, DriveShaft, Hub
from core.driveline.bench import BenchShaft
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Remedy, Verdict
from core.quantities import number

DESIGN = "at the design position"
LEAST_SHOWN = 0.05  # mm; smaller moves are shown as none


def _no_shafts(read: Reader) -> tuple[Ref, ...]:
    shafts = read.all(DriveShaft)
    if not shafts:
        msg = "no drive shaft is entered"
        raise NotComputedError(msg)
    return shafts


def _unknown(rule: str, ref: Ref, words: str) -> Finding:
    return Finding(rule, "unknown", (ref,), words, governing=DESIGN)


@cell(When.LIVE)
def shaft_plunge(read: Reader) -> Findings:
    """Whether each inner joint is within its stroke."""
    return tuple(_plunge(read, ref) for ref in _no_shafts(read))


def _plunge(read: Reader, ref: Ref) -> Finding:
    try:
        at, limits = read(shaft_at_design, ref), read(plunge_limits, ref)
    except NotComputedError as error:
        return _unknown("shaft_plunge", ref, f"Plunge of {read.label(ref)}: {error}.")
    return _plunge_finding(read, ref, at, limits)


def _plunge_finding(
    read: Reader, ref: Ref, at: ShaftAtDesign, limits: tuple[float, float]
) -> Finding:
    held = read(limit, "plunge_reserve", ref)
    pushed = at.plunge < 0
    allowed = limits[0] if pushed else limits[1]
    spare = allowed - abs(at.plunge)
    verdict = held.verdict_at_least(spare)
    way = "pushed in" if pushed else "pulled out"
    figures = f"{number(abs(at.plunge), 1)} {way}, {number(allowed, 1)} allowed"
    name = read.label(ref)
    words = {
        "no": f"{name} runs out of stroke: {figures}. Move the engine and gearbox or the wheel, "
        "or change the shaft.",
        "tight": f"{name} has little stroke left: {figures}.",
        "fine": f"{name} is within its stroke: {figures}.",
        "unknown": "",
    }[verdict]
    return Finding(
        "shaft_plunge",
        verdict,
        (ref,),
        words,
        measured=round(at.plunge, 6),
        limit=-limits[0] if pushed else limits[1],
        higher_is_worse=not pushed,
        place=_place(read(drive_side, ref).inner_joint),
        governing=DESIGN,
        limit_source=f"stroke of {name}; {held.source}",
    )


def _place(xyz: tuple[float, float, float]) -> Vec3:
    return Vec3(*xyz)


@cell(When.LIVE)
def shaft_angles(read: Reader) -> Findings:
    """Whether each shaft joint is within the angle it allows."""
    return tuple(found for ref in _no_shafts(read) for found in _angles(read, ref))


def _angles(read: Reader, ref: Ref) -> Iterator[Finding]:
    shaft = read.thing(DriveShaft, ref)
    try:
        at = read(shaft_at_design, ref)
    except NotComputedError as error:
        yield _unknown("shaft_angle", ref, f"Joint angles of {read.label(ref)}: {error}.")
        return
    held = read(limit, "joint_angle", ref)
    drive = read(drive_side, ref)
    yield _angle(
        read, ref, "inner", at.inner_angle_deg, _allowed(shaft, at), held, drive.inner_joint
    )
    yield _angle(
        read, ref, "outer", at.outer_angle_deg, shaft.outer_angle_deg, held, drive.outer_joint
    )


def _allowed(shaft: DriveShaft, at: ShaftAtDesign) -> float | None:
    """What the inner joint allows at its plunge: its own table, straight between its lines."""
    table = sorted((line.plunge, line.angle_deg) for line in shaft.angle_table)
    if not table:
        return shaft.inner_angle_deg
    if not table[0][0] <= at.plunge <= table[-1][0]:
        return None
    for (p0, a0), (p1, a1) in pairwise(table):
        if p0 <= at.plunge <= p1 and p1 > p0:
            return a0 + (a1 - a0) * (at.plunge - p0) / (p1 - p0)
    return table[0][1]


def _angle(
    read: Reader,
    ref: Ref,
    which: str,
    angle: float,
    allowed: float | None,
    held: Limited,
    place: tuple[float, float, float],
) -> Finding:
    rule, name = f"shaft_{which}_angle", read.label(ref)
    said = f"{which} joint of {name} runs at {number(angle, 1)} deg"
    if allowed is None:
        words = f"The {said}; what it allows there is not known."
        return Finding(
            rule,
            "unknown",
            (ref,),
            words,
            measured=angle,
            unit="deg",
            place=_place(place),
            governing=DESIGN,
        )
    kept = held.value
    verdict = held.verdict_at_least(allowed - angle)
    words = f"The {said}, {number(allowed, 1)} allowed"
    words += f" of which {number(kept, 1)} is kept back." if kept else "."
    source = f"the joint's own limit; {held.source}"
    return Finding(
        rule,
        verdict,
        (ref,),
        words,
        measured=angle,
        limit=allowed - kept,
        higher_is_worse=True,
        unit="deg",
        place=_place(place),
        governing=DESIGN,
        limit_source=source,
    )


@cell(When.LIVE)
def shaft_bench(read: Reader) -> Findings:
    """Whether length and stroke of a shaft are drawn as its bench readings give them."""
    return tuple(found for ref in read.all(DriveShaft) for found in _bench(read, ref))


def _bench(read: Reader, ref: Ref) -> Iterator[Finding]:
    try:
        bench = read(bench_shaft, ref)
    except NotComputedError as error:
        yield _unknown("shaft_bench", ref, f"{error}.")
        return
    if bench is None:
        return
    shaft = read.thing(DriveShaft, ref)
    if shaft.length is not None:
        yield _bench_length(read, ref, bench, shaft.length)
    if shaft.plunge_in is not None and shaft.plunge_out is not None:
        yield _bench_stroke(read, ref, bench, (shaft.plunge_in, shaft.plunge_out))


def _bench_stroke(read: Reader, ref: Ref, bench: BenchShaft, drawn: tuple[float, float]) -> Finding:
    off = max(abs(each - bench.plunge_each_way) for each in drawn)
    allowed = bench.stroke_plus_minus / 2
    words = (
        f"{read.label(ref)} is drawn to slide {number(drawn[0], 1)} in and {number(drawn[1], 1)} "
        f"out; the bench readings leave {number(bench.plunge_each_way, 1)} ± {number(allowed, 1)} "
        "each way."
    )
    verdict: Verdict = "fine" if off <= allowed else "no"
    source = "± of the bench readings, added in quadrature"
    return _misfit("shaft_stroke", verdict, ref, words, (off, allowed, source))


def _bench_length(read: Reader, ref: Ref, bench: BenchShaft, given: float) -> Finding:
    off = abs(given - bench.length)
    allowed = bench.length_plus_minus
    words = (
        f"{read.label(ref)} is drawn {number(given, 2)} between joint centres; the bench readings "
        f"give {number(bench.length, 2)} ± {number(allowed, 2)}."
    )
    verdict: Verdict = "fine" if off <= allowed else "no"
    source = "± of the bench readings, added in quadrature"
    return _misfit("shaft_bench", verdict, ref, words, (off, allowed, source))


def _misfit(
    rule: str, verdict: Verdict, ref: Ref, words: str, figures: tuple[float, float, str]
) -> Finding:
    off, allowed, source = figures
    return Finding(
        rule,
        verdict,
        (ref,),
        words,
        measured=off,
        limit=allowed,
        higher_is_worse=True,
        limit_source=source,
    )


@cell(When.LIVE)
def hub_seats(read: Reader) -> Findings:
    """Whether the depths of joint, hub seat and hub face add up."""
    found = (_seat(read, ref) for ref in read.all(DriveShaft))
    return tuple(finding for finding in found if finding is not None)


def _seat(read: Reader, ref: Ref) -> Finding | None:
    shaft = read.thing(DriveShaft, ref)
    hub_ref = read.thing(Corner, shaft.corner).hub
    if shaft.bench is None or hub_ref is None:
        return None
    hub = read.thing(Hub, hub_ref)
    if hub.joint_to_face is None or hub.seat_to_face is None:
        return None
    off = abs(shaft.bench.joint_to_hub_seat + hub.seat_to_face - hub.joint_to_face)
    held = read(limit, "seat_fit", ref)
    verdict: Verdict = "fine" if off <= held.value else "no"
    words = (
        f"Joint to hub seat on {read.label(ref)} and seat to face on {read.label(hub_ref)} give "
        f"{number(shaft.bench.joint_to_hub_seat + hub.seat_to_face, 1)} from joint to hub face; "
        f"{number(hub.joint_to_face, 1)} is entered."
    )
    return _misfit("hub_seats", verdict, ref, words, (off, held.value, held.source))


@cell(When.LIVE)
def wheel_planes(read: Reader) -> Findings:
    """Whether both wheel planes of a driven axle stand where the shafts let them."""
    shafts = _no_shafts(read)
    pairs = read(driven_pairs)
    alone = [ref for ref in shafts if not any(ref in pair for pair in pairs)]
    return (
        *(_planes(read, left, right) for left, right in pairs),
        *(
            _unknown("wheel_planes", ref, f"{read.label(ref)} has no shaft opposite it.")
            for ref in alone
        ),
    )


def _planes(read: Reader, left: Ref, right: Ref) -> Finding:
    try:
        width = read(axle_width, left, right)
    except NotComputedError as error:
        words = f"Where the wheel planes may stand: {error}."
        return Finding("wheel_planes", "unknown", (left, right), words, governing=DESIGN)
    spare = min(_spare(width, 0), _spare(width, 1))
    held = read(limit, "plunge_reserve", left, right)
    verdict = held.verdict_at_least(spare)
    corners = tuple(read.thing(DriveShaft, ref).corner for ref in (left, right))
    return Finding(
        "wheel_planes",
        verdict,
        (left, right),
        _plane_words(width, verdict),
        measured=spare,
        limit=held.value,
        governing=DESIGN,
        limit_source=f"strokes of both shafts; {held.source}",
        remedies=_remedies(read, width, corners) if verdict == "no" else (),
    )


def _spare(width: AxleWidth, side: int) -> float:
    found = width.ranges[side]
    return min(width.planes[side] - found.lower, found.upper - width.planes[side])


def _plane_words(width: AxleWidth, verdict: Verdict) -> str:
    sides = "; ".join(
        f"{name} wheel plane drawn {number(width.planes[i], 1)} from the centre plane, may stand "
        f"{number(width.ranges[i].lower, 1)} to {number(width.ranges[i].upper, 1)}"
        for i, name in enumerate(("left", "right"))
    )
    track = f"Track {number(width.track, 1)} between wheel planes: {sides}."
    return f"{track} {_shift_words(width)}" if verdict == "no" else track


def _shift_words(width: AxleWidth) -> str:
    allowed = width.shift.allowed
    if allowed is None:
        return "No shift of the engine and gearbox suits both shafts; a bought part must change."
    return f"Moving the engine and gearbox {_span(*allowed)} would bring both within stroke."


def _span(least: float, most: float) -> str:
    """A span of moves in words of sides: both ends to one side, or one to either."""
    if least * most > 0:
        near, far = sorted((least, most), key=abs)
        return f"between {number(abs(near), 1)} and {_way(far)}"
    return f"anywhere from {_way(least)} to {_way(most)}"


def _way(move: float) -> str:
    if abs(move) < LEAST_SHOWN:
        return "0"
    return f"{number(abs(move), 1)} to the {'left' if move > 0 else 'right'}"


def _remedies(read: Reader, width: AxleWidth, corners: tuple[Ref, ...]) -> tuple[Remedy, ...]:
    found: list[Remedy] = []
    if width.shift.least_move is not None:
        unit = read.thing(DriveShaft, width.shafts[0]).unit
        by = Vec3(0.0, width.shift.least_move, 0.0)
        words = f"move the engine and gearbox {_way(width.shift.least_move)}"
        found.append(Remedy("move_unit", (("ref", unit), ("by", by)), words))
    for side, corner in enumerate(corners):
        plane, allowed = width.planes[side], width.ranges[side]
        if allowed.width >= 0 and not allowed.lower <= plane <= allowed.upper:
            to = min(max(plane, allowed.lower), allowed.upper)
            way = "out" if to > plane else "in"
            words = f"stand the {corner.side} wheel {number(abs(to - plane), 1)} further {way}"
            arguments = (("corner", corner), ("outward", to - plane))
            found.append(Remedy("settle_width", arguments, words))
    return tuple(found)


ROOM = "width"
RULES = (
    Rule("shaft_plunge", "Is each drive shaft within its stroke?", shaft_plunge, ROOM),
    Rule("shaft_angle", "Does each shaft joint run within its angle?", shaft_angles, ROOM),
    Rule("shaft_bench", "Are the shafts drawn as measured on the bench?", shaft_bench, ROOM),
    Rule("hub_seats", "Do the depths of the hub add up?", hub_seats, ROOM),
    Rule("wheel_planes", "Do the wheels stand where the shafts let them?", wheel_planes, ROOM),
)
