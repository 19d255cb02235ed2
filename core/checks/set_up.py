"""Rules on setting up: whether the adjusters bring each wheel to its wanted camber and toe-in."""

from collections.abc import Iterator

import numpy as np

from core.assess.adjusters import LENGTHENS, NO_THREAD, Fitted, NotFitted, adjusters_of
from core.assess.linkages import linkage
from core.assess.setting_up import CornerSetUp, Setting, set_up_of, wanted
from core.assess.travels import solved
from core.assess.wheels import wheel_centre
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Verdict
from core.quantities import number
from core.suspension.figures import Figure, read_figures
from core.suspension.nearest import Want
from core.suspension.travel import at

KEY = "set_up"
TIGHT_SHARE = 0.1
"""Of an adjuster's range: less left than this is tight. The program's own judgement, no text."""

WORDS: dict[Figure, str] = {"camber": "camber", "toe_in": "toe-in"}
BOTH = 2
SOURCE = "range entered for this adjuster"


@cell(When.RELEASE)
def set_up_rule(read: Reader) -> Findings:
    """Whether every wheel of which something is wanted, or can be set, comes to it."""
    return tuple(finding for ref in read.all(Corner) for finding in read(set_up_of_corner, ref))


@cell(When.RELEASE)
def set_up_of_corner(read: Reader, ref: Ref) -> Findings:
    """The same of one corner; nothing where nothing is wanted and nothing can be set."""
    has_adjusters = bool(read.thing(Corner, ref).adjusters)
    try:
        wants = read(wanted, ref)
        if not has_adjusters:
            return (_as_drawn(read, ref, wants),) if wants else ()
        found = read(set_up_of, ref)
    except NotComputedError as error:
        return (_unknown(read, ref, f"{error}."), *_threads_as_drawn(read, ref))
    return (_brought(read, ref, found), *_threads(ref, found.settings))


def _unknown(read: Reader, ref: Ref, words: str) -> Finding:
    said = f"Whether {read.label(ref)} can be set up is not known: {words}"
    return Finding(KEY, "unknown", (ref,), said)


def _brought(read: Reader, ref: Ref, found: CornerSetUp) -> Finding:
    name, room = read.label(ref), found.found
    if not np.isfinite(room.reached_rounded).all():
        return _unknown(read, ref, "its links do not reach the position asked for.")
    if not room.is_met:
        return _out_of_reach(read, ref, found)
    tight = found.tightest
    if not room.is_met_rounded:
        words = (
            f"In whole steps {name} comes to {_told(found.reached)}, {_wanted(found.wants)} "
            "wanted: a finer thread or thinner shims would do."
        )
        return _finding(read, ref, "no", words, tight)
    verdict: Verdict = "tight" if tight.share_left < TIGHT_SHARE else "fine"
    words = (
        f"Its adjusters bring {name} to {_told(found.reached)}, with {number(tight.left, 1)} of "
        f"range left at {tight.adjuster.label}."
    )
    if len(found.wants) < BOTH:
        verdict, words = "unknown", f"{words} {_not_wanted(found.wants)}"
    words += f"{_thread_untold(found.settings)}{_left_out(found.unknown)}"
    return _finding(read, ref, verdict, words, tight)


def _out_of_reach(read: Reader, ref: Ref, found: CornerSetUp) -> Finding:
    """What runs out; unknown where an adjuster that nothing is known of might help."""
    name, short, room = read.label(ref), found.runs_out, found.found
    if short:
        lacks = " and ".join(
            f"{each.adjuster.label} by {number(abs(each.lacking), 1)}" for each in short
        )
        words = f"{name} does not come to {_wanted(found.wants)}: the range runs out at {lacks}."
    else:
        gone = tuple(w for w in found.wants if w.figure in room.unreachable) or found.wants
        words = f"No range of its adjusters brings {name} to {_wanted(gone)}."
    words += f" It comes to {_told(found.reached)}.{_left_out(found.unknown)}"
    verdict: Verdict = "unknown" if found.unknown else "no"
    worst = min(short, key=lambda each: each.left) if short else None
    return _finding(read, ref, verdict, words, worst)


def _finding(
    read: Reader, ref: Ref, verdict: Verdict, words: str, governs: Setting | None
) -> Finding:
    words, centre = words[0].upper() + words[1:], read(wheel_centre, ref)
    if governs is None:
        return Finding(KEY, verdict, (ref,), words, place=centre)
    return Finding(
        KEY,
        verdict,
        (ref,),
        words,
        measured=governs.left,
        limit=0.0,
        place=centre,
        governing=governs.adjuster.label,
        limit_source=SOURCE,
    )


def _told(reached: dict[Figure, float]) -> str:
    said = (f"{number(value, 2)} deg of {WORDS[name]}" for name, value in reached.items())
    return " and ".join(said)


def _wanted(wants: tuple[Want, ...]) -> str:
    return _told({want.figure: want.value for want in wants})


def _not_wanted(wants: tuple[Want, ...]) -> str:
    asked = {want.figure for want in wants}
    missing = " and ".join(words for name, words in WORDS.items() if name not in asked)
    return f"What {missing} is wanted is not entered."


def _thread_untold(settings: tuple[Setting, ...]) -> str:
    """That nothing is entered of threads; of those with half of it there is a finding."""
    bare = any(
        each.adjuster.how in LENGTHENS and each.adjuster.thread == NO_THREAD for each in settings
    )
    return " How much thread stays engaged is not entered." if bare else ""


def _left_out(unknown: tuple[NotFitted, ...]) -> str:
    said = (f"The adjuster at {each.label} is left out: {each.reason}." for each in unknown)
    return "".join(f" {words}" for words in said)


def _as_drawn(read: Reader, ref: Ref, wants: tuple[Want, ...]) -> Finding:
    """What a wheel that cannot be set is drawn at, against what is wanted of it."""
    name = read.label(ref)
    names: tuple[Figure, ...] = tuple(want.figure for want in wants)
    drawn = read_figures(solved(read(linkage, ref), at(), name), names).tolist()
    if not np.isfinite(drawn).all():
        return _unknown(read, ref, "its links do not reach the design position.")
    off = [abs(value - want.value) for value, want in zip(drawn, wants, strict=True)]
    worst = max(range(len(wants)), key=lambda k: off[k] / wants[k].tolerance)
    verdict: Verdict = "fine" if off[worst] <= wants[worst].tolerance else "no"
    reached = dict(zip(names, drawn, strict=True))
    words = f"{name} is drawn at {_told(reached)}, {_wanted(wants)} wanted"
    words += ", and no adjuster is entered for it." if verdict == "no" else "."
    if verdict == "fine" and len(wants) < BOTH:
        verdict, words = "unknown", f"{words} {_not_wanted(wants)}"
    return Finding(
        KEY,
        verdict,
        (ref,),
        words[0].upper() + words[1:],
        measured=off[worst],
        limit=wants[worst].tolerance,
        higher_is_worse=True,
        unit="deg",
        place=read(wheel_centre, ref),
        governing=WORDS[names[worst]],
        limit_source="how far off the wanted figure is still right",
    )


def _threads_as_drawn(read: Reader, ref: Ref) -> Iterator[Finding]:
    """Threads where nothing says what they are to be set to."""
    try:
        known = read(adjusters_of, ref).known
    except NotComputedError:
        return
    yield from _threads(ref, tuple(Setting(each, 0.0, 0.0) for each in known))


def _threads(ref: Ref, settings: tuple[Setting, ...]) -> Iterator[Finding]:
    """Threads of which something is entered, at what they are to be set to."""
    for each in settings:
        if each.adjuster.thread.engaged is not None or each.adjuster.thread.needed is not None:
            yield _thread(ref, each)


def _thread(ref: Ref, setting: Setting) -> Finding:
    fitted, engaged = setting.adjuster, setting.engaged
    needed, subjects = fitted.thread.needed, _subjects(fitted, ref)
    if engaged is None or needed is None:
        what = "how much thread is engaged as drawn" if engaged is None else "how much is needed"
        words = f"Whether the thread at {fitted.label} holds is not known: {what} is not entered."
        return Finding(KEY, "unknown", subjects, words)
    verdict: Verdict = "no" if engaged < needed else "fine"
    words = f"{number(max(engaged, 0.0), 1)} of thread stay engaged at {fitted.label}, "
    words += f"{number(needed, 1)} needed"
    words += ": a longer end, or another adjuster for it." if verdict == "no" else "."
    return Finding(
        KEY,
        verdict,
        subjects,
        words,
        measured=engaged,
        limit=needed,
        governing="as set up" if not setting.is_left_alone else "as drawn",
        limit_source="thread needed, entered for this adjuster",
    )


def _subjects(fitted: Fitted, ref: Ref) -> tuple[Ref, ...]:
    return (fitted.point, ref)


RULES = (
    Rule(
        KEY,
        "Do the adjusters bring each wheel to its wanted camber and toe-in?",
        set_up_rule,
        "suspension",
    ),
)
