"""Rules on the suspension: how wheels are held, how far they go, toe, dampers, link joints."""

from collections.abc import Iterator

import numpy as np

from core.assess.curves import travel_curves
from core.assess.dampers import DamperTravel, damper_travel
from core.assess.limits import Limited, limit
from core.assess.linkages import linkage
from core.assess.places import place
from core.assess.travels import ends_of_travel, used_rack
from core.assess.wheels import wheel_centre
from core.checks.beams import axle_held, axle_reaches, axle_steers
from core.checks.corners import each_body, each_corner, unknown
from core.checks.link_tilts import link_tilts
from core.checks.positions import height_words, position_words
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Verdict
from core.quantities import number
from core.suspension.ends import End
from core.suspension.holding import holding


@cell(When.LIVE)
def held(read: Reader) -> Findings:
    """Whether each upright is held, and left just its travel."""
    return each_body(read, held_of, axle_held)


@cell(When.LIVE)
def held_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner; a cell of its own, so that a drag asks again only what moved."""
    try:
        found = holding(read(linkage, ref))
    except NotComputedError as error:
        return unknown("corner_held", ref, f"{error}.")
    name, at = read.label(ref), read(wheel_centre, ref)
    if found.is_held:
        words = f"{name} is held by {found.conditions} conditions and left just its travel."
        return (Finding("corner_held", "fine", (ref,), words, place=at),)
    words = f"{name}: {found.sentence}"
    return (Finding("corner_held", "no", (ref,), words, place=at),)


@cell(When.RELEASE)
def reached(read: Reader) -> Findings:
    """Whether each wheel reaches both ends of its travel, and both locks of its rack."""
    return each_body(read, reached_of, axle_reaches)


@cell(When.RELEASE)
def reached_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    thing = read.thing(Corner, ref)
    try:
        ends, rack = read(ends_of_travel, ref), read(used_rack, ref)
    except NotComputedError as error:
        return unknown("wheel_travel", ref, f"{error}.")
    missing = [
        way for way, given in (("droop", thing.droop), ("bump", thing.bump)) if given is None
    ]
    if missing:
        words = f"how far {read.label(ref)} goes in {' and '.join(missing)} is not known."
        return unknown("wheel_travel", ref, words)
    wheel = (("droop", thing.droop or 0.0, ends.droop), ("bump", thing.bump or 0.0, ends.bump))
    found = [_reached(read, ref, "wheel_travel", wheel)]
    if ends.right is not None and ends.left is not None:
        steered = (("rack to the right", rack, ends.right), ("rack to the left", rack, ends.left))
        found.append(_reached(read, ref, "rack_travel", steered))
    return tuple(found)


def _reached(
    read: Reader, ref: Ref, rule: str, both: tuple[tuple[str, float, End], ...]
) -> Finding:
    """Whether the links reach both ends; the one with less to spare governs."""
    way, needed, end = min(both, key=lambda each: abs(each[2].travel) - each[1])
    goes, name = abs(end.travel), read.label(ref)
    verdict: Verdict = "fine" if goes >= needed else "no"
    locks = f"lock at {number(goes, 1)} of {way}" if end.is_lock else ""
    words = f"The links of {name} reach both ends of what is used"
    if verdict == "no":
        words = f"The links of {name} {locks}, before the {number(needed, 0)} that are used."
    else:
        words += f", and {locks}." if locks else "."
    return Finding(
        rule,
        verdict,
        (ref,),
        words,
        measured=goes,
        limit=needed,
        place=read(wheel_centre, ref),
        governing=way,
        limit_source="travel entered for this corner",
    )


@cell(When.LIVE)
def bump_steer(read: Reader) -> Findings:
    """How much the toe of each wheel changes over its travel."""
    return each_body(read, bump_steer_of, axle_steers)


@cell(When.LIVE)
def bump_steer_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    try:
        curves = read(travel_curves, ref)
        allowed = read(limit, "bump_steer", ref, read.thing(Corner, ref).axle)
    except NotComputedError as error:
        return unknown("bump_steer", ref, f"bump steer of {read.label(ref)}: {error}.")
    toe = curves.of("toe_in")
    change = toe - toe[int(np.abs(curves.along).argmin())]
    if np.isnan(change).any():
        words = f"bump steer of {read.label(ref)}: the wheel does not reach its whole travel."
        return unknown("bump_steer", ref, words)
    worst = int(np.abs(change).argmax())
    return (_bump_steer(read, ref, float(change[worst]), float(curves.along[worst]), allowed),)


def _bump_steer(read: Reader, ref: Ref, change: float, at: float, allowed: Limited) -> Finding:
    verdict = allowed.verdict_at_most(abs(change))
    way = "in" if change > 0 else "out"
    words = f"{read.label(ref)} toes {way} by {number(abs(change), 2)} deg at {height_words(at)}"
    words += {
        "no": f", more than the {number(allowed.value, 2)} wanted: move a joint of the link that "
        "steers it up or down.",
        "tight": f", near the {number(allowed.value, 2)} wanted.",
    }.get(verdict, ".")
    return Finding(
        "bump_steer",
        verdict,
        (ref,),
        words,
        measured=abs(change),
        limit=allowed.value,
        higher_is_worse=True,
        unit="deg",
        place=read(wheel_centre, ref),
        governing=height_words(at),
        limit_source=allowed.source,
    )


@cell(When.LIVE)
def dampers(read: Reader) -> Findings:
    """How much travel each damper has left at both ends."""
    return each_corner(read, damper_of)


@cell(When.LIVE)
def damper_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    if read.thing(Corner, ref).damper is None:
        return unknown("damper", ref, f"no damper is entered for {read.label(ref)}.")
    try:
        found = read(damper_travel, ref)
        kept = read(limit, "damper_left", ref, read.thing(Corner, ref).axle)
    except NotComputedError as error:
        return unknown("damper", ref, f"the damper of {read.label(ref)}: {error}.")
    return tuple(_damper_ends(read, ref, found, kept))


def _damper_ends(read: Reader, ref: Ref, found: DamperTravel, kept: Limited) -> Iterator[Finding]:
    closes = None if found.closed is None else found.shortest - found.closed
    opens = None if found.open is None else found.open - found.longest
    ends = (
        (
            "closed", closes, found.closed, found.shortest,
            position_words(found.shortest_at, other=found.shortest_other),
        ),
        (
            "open", opens, found.open, found.longest,
            position_words(found.longest_at, other=found.longest_other),
        ),
    )  # fmt: skip
    for way, left, own, length, at in ends:
        if left is None or own is None:
            words = f"How long the damper of {read.label(ref)} is fully {way} is not known."
            yield Finding(f"damper_{way}", "unknown", (ref,), words, governing=way)
        else:
            yield _damper_end(read, ref, (way, left, own, length, at), kept)


def _damper_end(
    read: Reader, ref: Ref, end: tuple[str, float, float, float, str], kept: Limited
) -> Finding:
    way, left, own, length, where = end
    verdict = kept.verdict_at_least(left)
    name = read.label(ref)
    words = {
        "no": f"The damper of {name} would have to be {number(length, 1)} at {where} and is "
        f"{number(own, 1)} fully {way}: shorten the travel, move an eye, or another damper.",
        "tight": f"The damper of {name} has {number(left, 1)} left at {where}.",
        "fine": f"The damper of {name} has {number(left, 1)} left at {where}.",
        "unknown": "",
    }[verdict]
    damper = read.thing(Corner, ref).damper
    assert damper is not None  # `damper_of` asks for it
    return Finding(
        f"damper_{way}",
        verdict,
        (ref,),
        words,
        measured=left,
        limit=kept.value,
        place=read(place, damper.lower),
        governing=where,
        limit_source=kept.source,
    )


RULES = (
    Rule("corner_held", "Is each upright held, and left just its travel?", held, "suspension"),
    Rule("wheel_travel", "Does each wheel reach both ends of its travel?", reached, "suspension"),
    Rule("bump_steer", "Does the toe stay as it is over the travel?", bump_steer, "suspension"),
    Rule("damper", "Has each damper travel left at both ends?", dampers, "suspension"),
    Rule("link_tilt", "Does each link joint tilt less than it allows?", link_tilts, "suspension"),
)
