"""Rules on springs: coil bind, loose springs, bump stops, and what stops a hanging wheel."""

from core.assess.hanging import LOCK, STRAP, Hangs, hangs
from core.assess.limits import Limited, limit
from core.assess.pairs import is_on_rigid_axle
from core.assess.places import place
from core.assess.spring_lengths import StopMet, left_to_bind, pressed_at_droop, stop_met
from core.assess.wheels import wheel_centre
from core.document.base import Ref, Vec3
from core.document.running_gear import Corner
from core.engine.cells import Cell, Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Verdict
from core.quantities import number

SAME_WITHIN = 0.5
"""mm by which a strap may seem to be taut before the droop in use: half of what is shown."""

HOLD_IT = "Hold the wheel up while the damper is off, or fit a strap; the car is on stands."


def _corners(read: Reader) -> tuple[Ref, ...]:
    found = read.all(Corner)
    if not found:
        msg = "no corner is entered"
        raise NotComputedError(msg)
    return found


def _each(read: Reader, rule: str, of: Cell[[Ref], Findings], *, coils_only: bool) -> Findings:
    """One finding for each corner; of a pair that lacks the same on both sides, one for both."""
    known: list[Finding] = []
    lacking: dict[tuple[str, str], list[tuple[Ref, str]]] = {}
    for ref in _corners(read):
        if coils_only and not read(has_coil, ref):
            continue
        try:
            known += read(of, ref)
        except NotComputedError as error:
            both = str(error).replace(read.label(ref), read.thing(Corner, ref).name)
            lacking.setdefault((ref.id, both), []).append((ref, str(error)))
    unknown = (_unknown(rule, told, both) for (_, both), told in lacking.items())
    return (*known, *unknown)


def _unknown(rule: str, told: list[tuple[Ref, str]], both: str) -> Finding:
    words = both if len(told) > 1 else told[0][1]
    refs = tuple(ref for ref, _ in told)
    return Finding(rule, "unknown", refs, f"{words[0].upper()}{words[1:]}.")


@cell(When.LIVE)
def has_coil(read: Reader, ref: Ref) -> bool:
    """Whether a corner is asked for a coil: one on a torsion bar alone has none."""
    thing = read.thing(Corner, ref)
    if thing.torsion_bar is None or thing.damper is None:
        return thing.torsion_bar is None
    return thing.damper.spring_rate is not None


def _eye(read: Reader, ref: Ref) -> Vec3 | None:
    damper = read.thing(Corner, ref).damper
    return None if damper is None else read(place, damper.lower)


@cell(When.RELEASE)
def coil_bind(read: Reader) -> Findings:
    """Whether each spring is longer at full bump than with its coils closed."""
    return _each(read, "coil_bind", coil_bind_of, coils_only=True)


@cell(When.RELEASE)
def coil_bind_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    left = read(left_to_bind, ref)
    kept = read(limit, "coil_bind_left", ref, read.thing(Corner, ref).axle)
    verdict = kept.verdict_at_least(left)
    return (
        Finding(
            "coil_bind",
            verdict,
            (ref,),
            _bind_words(read.label(ref), left, kept, verdict),
            measured=left,
            limit=kept.value,
            place=_eye(read, ref),
            governing="full bump",
            limit_source=kept.source,
        ),
    )


def _bind_words(name: str, left: float, kept: Limited, verdict: Verdict) -> str:
    mend = "a spring with fewer or thinner coils, seats further apart, or less bump"
    if left < 0.0:
        early = number(-left, 1)
        return f"The coils of the spring of {name} close {early} before full bump: {mend}."
    words = f"The spring of {name} has {number(left, 1)} left at full bump before its coils close"
    if verdict == "no":
        return f"{words}, and {number(kept.value, 1)} is kept back: {mend}."
    return f"{words}."


@cell(When.RELEASE)
def spring_loose(read: Reader) -> Findings:
    """Whether each spring is still under load at full droop."""
    return _each(read, "spring_loose", spring_loose_of, coils_only=True)


@cell(When.RELEASE)
def spring_loose_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    pressed, name = read(pressed_at_droop, ref), read.label(ref)
    words = f"At full droop the spring of {name} is still pressed by {number(pressed, 1)}."
    if pressed < 0.0:
        words = (
            f"At full droop the spring of {name} lies {number(-pressed, 1)} loose: it needs a "
            "helper spring, or seats that keep it in its place."
        )
    return (
        Finding(
            "spring_loose",
            "fine" if pressed >= 0.0 else "tight",
            (ref,),
            words,
            measured=pressed,
            limit=0.0,
            place=_eye(read, ref),
            governing="full droop",
            limit_source="a spring off its seat may come back beside it",
        ),
    )


@cell(When.LIVE)
def bump_stop(read: Reader) -> Findings:
    """Whether each bump stop is met before its damper closes, within the travel in use."""
    return _each(read, "bump_stop", bump_stop_of, coils_only=False)


@cell(When.LIVE)
def bump_stop_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    met = read(stop_met, ref)
    verdict, words = _stop_told(read.label(ref), met)
    return (
        Finding(
            "bump_stop",
            verdict,
            (ref,),
            words,
            measured=met.at,
            limit=met.bump,
            higher_is_worse=True,
            place=_eye(read, ref),
            governing="full bump" if met.at is None else f"{number(met.at, 0)} of bump",
            limit_source="bump entered for this corner",
        ),
    )


def _stop_told(name: str, met: StopMet) -> tuple[Verdict, str]:
    full = f"the {number(met.bump, 0)} of bump in use"
    if met.left < 0.0:
        far = number(-met.left, 1)
        return "no", (
            f"The damper of {name} closes metal to metal before {full}, {far} too soon, and its "
            "bump stop is crushed: shorten the bump, move an eye, or another damper."
        )
    if met.at is None:
        return "no", (
            f"The bump stop of {name} is not met within {full}, so the wheel goes on past what all "
            f"else is looked at for: a stop longer by {number(met.left - met.length, 1)} or more."
        )
    pressed = f"pressed from {number(met.length, 0)} to {number(met.left, 1)} at full bump"
    if met.at <= 0.0:
        return "tight", f"The bump stop of {name} is pressed already as drawn, and {pressed}."
    return "fine", f"The bump stop of {name} is met at {number(met.at, 0)} of bump, and {pressed}."


@cell(When.RELEASE)
def hanging_wheels(read: Reader) -> Findings:
    """What stops each wheel when its damper is off."""
    return _each(read, "hangs", hanging_of, coils_only=False)


@cell(When.RELEASE)
def hanging_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    found = read(hangs, ref)
    verdict, words = _hang_told(read, ref, found)
    where = read(wheel_centre, ref) if found.joint is None else read(place, found.joint)
    subjects = (ref,) if found.joint is None else (ref, found.joint)
    return (
        Finding(
            "hangs",
            verdict,
            subjects,
            words,
            measured=None if verdict == "unknown" else found.droop,
            higher_is_worse=True,
            place=where,
            governing="damper off",
        ),
    )


def _hang_told(read: Reader, ref: Ref, found: Hangs) -> tuple[Verdict, str]:
    off = "both dampers of its axle" if read(is_on_rigid_axle, ref) else "its damper"
    said = f"With {off} off {read.label(ref)} hangs {number(found.droop, 0)} down"
    words = f"{said}, where {_stop_words(found)}."
    used = read.thing(Corner, ref).droop
    if found.by == STRAP and used is not None and found.droop < used - SAME_WITHIN:
        return "no", f"{words} That is before the {number(used, 0)} of droop in use."
    if found.not_known:
        return "unknown", f"{words} {_unknown_words(found)} {_shaft_words(found)}{HOLD_IT}"
    if found.by == STRAP:
        return "fine", words
    return "tight", f"{words} {_shaft_words(found)}{HOLD_IT}"


def _stop_words(found: Hangs) -> str:
    if found.by is None:
        return "nothing has stopped it yet"
    if found.by == LOCK:
        return "its links lock"
    if found.by == STRAP:
        return "its strap holds it"
    return f"the joint at {found.by} is at the end of its tilt and would be forced"


def _unknown_words(found: Hangs) -> str:
    first, more = found.not_known[0], len(found.not_known) - 1
    rest = f" and {more} more" if more else ""
    return f"What tilt the joint at {first}{rest} allows is not known: it may be forced before."


def _shaft_words(found: Hangs) -> str:
    return "The drive shaft is no stop: it is pulled apart. " if found.has_shaft else ""


ROOM = "suspension"

RULES = (
    Rule("coil_bind", "Is each spring longer at full bump than its coils?", coil_bind, ROOM),
    Rule("spring_loose", "Is each spring under load at full droop?", spring_loose, ROOM),
    Rule("bump_stop", "Is each bump stop met before the damper closes?", bump_stop, ROOM),
    Rule("hangs", "What stops each wheel with its damper off?", hanging_wheels, ROOM),
)
