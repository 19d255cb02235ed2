"""What the rules on the suspension find of a rigid axle: held, travel, steer."""

import numpy as np

from core.assess.beam_motion import AxleMotion, over_heave, over_roll, slopes_of
from core.assess.beams import rigid_axle
from core.assess.limits import Limited, limit
from core.assess.pairs import pair_of
from core.assess.travels import CornerEnds, ends_of_travel, over_both
from core.assess.wheels import wheel_centre
from core.checks.corners import unknown
from core.checks.positions import height_words, position_words
from core.document.base import Ref, Vec3
from core.document.running_gear import Corner
from core.engine.cells import Findings, NotComputedError, Reader, When, cell
from core.engine.finding import Finding
from core.quantities import number
from core.suspension.rigid_axle import axle_holding
from core.suspension.rigid_axle_wheel import AxleWheelPoses

LEAST_TURN = 0.005
"""Half of the last digit of a turn, deg."""

NO_ROCKER = "A rocker on the axle with two rods, as Watt's, cannot be entered yet."
"""Said where an axle is held too little."""


def _subjects(read: Reader, axle: Ref) -> tuple[Ref, ...]:
    return (axle, *read(pair_of, axle))


def _middle(read: Reader, axle: Ref) -> Vec3:
    left, right = (read(wheel_centre, ref) for ref in read(pair_of, axle))
    return Vec3(*(0.5 * (one + other) for one, other in zip(left, right, strict=True)))


@cell(When.LIVE)
def axle_held(read: Reader, ref: Ref) -> Findings:
    """Whether a rigid axle is held, and left just to rise and to roll."""
    try:
        found = axle_holding(read(rigid_axle, ref))
    except NotComputedError as error:
        return unknown("corner_held", ref, f"{error}.")
    name, subjects, at = read.label(ref), _subjects(read, ref), _middle(read, ref)
    if found.is_held:
        words = f"{name} is held by {found.conditions} conditions and left just to rise and roll."
        return (Finding("corner_held", "fine", subjects, words, place=at),)
    words = f"{name}: {found.sentence}"
    if found.rank < found.needed:
        words += f" {NO_ROCKER}"
    return (Finding("corner_held", "no", subjects, words, place=at),)


@cell(When.RELEASE)
def axle_reaches(read: Reader, ref: Ref) -> Findings:
    """Whether a rigid axle reaches both ends of its travel, and one wheel up, the other down."""
    try:
        pair = read(pair_of, ref)
        ends, everywhere = read(ends_of_travel, pair[0]), read(over_both, pair[0])
    except NotComputedError as error:
        return unknown("wheel_travel", ref, f"{error}.")
    assert isinstance(everywhere, AxleWheelPoses)  # both its wheels are on it
    alike = _alike(read, ref, ends)
    if alike.verdict == "no" or everywhere.is_reached.all():
        return (alike,)
    return (_opposed(read, ref, everywhere),)


def _alike(read: Reader, ref: Ref, ends: CornerEnds) -> Finding:
    """Whether the links reach both ends with both wheels alike; the one with less governs."""
    corners = [read.thing(Corner, corner) for corner in read(pair_of, ref)]
    both = (
        ("droop", max(each.droop or 0.0 for each in corners), ends.droop),
        ("bump", max(each.bump or 0.0 for each in corners), ends.bump),
    )
    way, needed, end = min(both, key=lambda each: abs(each[2].travel) - each[1])
    goes, name = abs(end.travel), read.label(ref)
    locks = f"lock at {number(goes, 1)} of {way}" if end.is_lock else ""
    words = f"The links of {name} reach both ends of what is used{locks and ', and '}{locks}."
    if goes < needed:
        words = f"The links of {name} {locks}, before the {number(needed, 0)} that are used."
    return Finding(
        "wheel_travel",
        "fine" if goes >= needed else "no",
        _subjects(read, ref),
        words,
        measured=goes,
        limit=needed,
        place=_middle(read, ref),
        governing=way,
        limit_source="travel entered for its corners",
    )


def _opposed(read: Reader, ref: Ref, poses: AxleWheelPoses) -> Finding:
    """That the links lock before one wheel is up and the other down; where they get least far."""
    worst = np.unravel_index(int(poses.share.argmin()), poses.shape)
    own = float(poses.travel.bump[worst])
    assert poses.travel.apart is not None  # a wheel on an axle has it
    where = position_words(own, other=own + float(poses.travel.apart[worst]))
    share = number(100.0 * float(poses.share[worst]), 0)
    words = (
        f"The links of {read.label(ref)} lock {share} % of the way to the left wheel at {where}: "
        "shorten the travel, or move an end of a link."
    )
    subjects, place = _subjects(read, ref), _middle(read, ref)
    return Finding("wheel_travel", "no", subjects, words, place=place, governing=where)


@cell(When.LIVE)
def axle_steers(read: Reader, ref: Ref) -> Findings:
    """How much a rigid axle steers as both wheels rise; how much as the body rolls is told."""
    try:
        heaved, rolled = read(over_heave, ref), read(over_roll, ref)
        allowed = read(limit, "bump_steer", ref, *read(pair_of, ref))
        slope = read(slopes_of, ref).roll_steer
    except NotComputedError as error:
        return unknown("bump_steer", ref, f"bump steer of {read.label(ref)}: {error}.")
    if np.isnan(heaved.steer_deg).any():
        words = f"bump steer of {read.label(ref)}: it does not reach its whole travel."
        return unknown("bump_steer", ref, words)
    return (_steers(read, ref, heaved, allowed, _in_roll(rolled, slope)),)


def _steers(read: Reader, ref: Ref, found: AxleMotion, allowed: Limited, told: str) -> Finding:
    worst = int(np.abs(found.steer_deg).argmax())
    turn, at = float(found.steer_deg[worst]), height_words(float(found.along[worst]))
    verdict = allowed.verdict_at_most(abs(turn))
    words = f"{read.label(ref)} steers by {_turn(turn)} at {at} of both wheels"
    if abs(turn) < LEAST_TURN:
        words, at = f"{read.label(ref)} does not steer as both wheels rise and fall", ""
    words += {
        "no": f", more than the {number(allowed.value, 2)} wanted: move an end of a link up or "
        "down.",
        "tight": f", near the {number(allowed.value, 2)} wanted.",
    }.get(verdict, ".")
    return Finding(
        "bump_steer",
        verdict,
        _subjects(read, ref),
        f"{words} {told}",
        measured=abs(turn),
        limit=allowed.value,
        higher_is_worse=True,
        unit="deg",
        place=_middle(read, ref),
        governing=at,
        limit_source=allowed.source,
    )


def _in_roll(rolled: AxleMotion, slope: float) -> str:
    """What roll does to it, in words: no limit is set to it, for some is often wanted."""
    said = f"A degree of roll, left side up, steers it by {_turn(slope)}"
    if np.isfinite(rolled.steer_deg[-1]):
        most = number(float(rolled.along[-1]), 1)
        said += f"; {most} deg by {_turn(float(rolled.steer_deg[-1]))}"
    return f"{said}."


def _turn(angle: float) -> str:
    if abs(angle) < LEAST_TURN:
        return "0 deg"
    return f"{number(abs(angle), 2)} deg to the {'left' if angle > 0.0 else 'right'}"
