"""Rules on brakes: which axle locks first, and what the hand brake holds."""

from core.assess.braking import braking, slope_held, the_system
from core.assess.limits import limit
from core.document.base import Ref
from core.document.records import LoadCase
from core.document.running_gear import Brake, BrakeSystem
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.quantities import number

PROVE = "Prove brakes on the car, at low speed first and off the road."


def _loads(read: Reader) -> tuple[Ref | None, ...]:
    return (None, *read.all(LoadCase))


def _has_none(read: Reader) -> bool:
    return not read.all(BrakeSystem) and not read.all(Brake)


@cell(When.RELEASE)
def first_to_lock(read: Reader) -> Findings:
    """Up to which grip the front axle locks first, in each load."""
    if _has_none(read):
        return ()
    return tuple(read(first_to_lock_in, case) for case in _loads(read))


@cell(When.RELEASE)
def first_to_lock_in(read: Reader, case: Ref | None) -> Finding:
    """The same in one load."""
    subjects = () if case is None else (case,)
    try:
        subjects = (the_system(read), *subjects)
        found, held = read(braking, case), read(limit, "front_locks", *subjects)
    except NotComputedError as error:
        words = f"Which axle locks first is not known: {error}."
        return Finding("front_locks", "unknown", subjects, words)
    up_to = found.both_lock_at
    words = f"With {found.load}, the front axle locks first up to a grip of {number(up_to, 2)}"
    if up_to <= 0.0:
        words = f"With {found.load}, the rear axle locks first on every road"
    return Finding(
        "front_locks",
        held.verdict_at_least(up_to),
        subjects,
        f"{words}; beyond that the rear does, and the car may turn round. {PROVE}",
        measured=up_to,
        limit=held.value,
        unit=held.unit,
        governing=found.load,
        limit_source=held.source,
    )


@cell(When.RELEASE)
def hand_brake(read: Reader) -> Findings:
    """Whether the hand brake holds the slope wanted of it, in each load."""
    if _has_none(read):
        return ()
    system = the_system(read)
    hand = read.thing(BrakeSystem, system).handbrake
    if hand is None:
        return (Finding("hand_brake", "unknown", (system,), "No hand brake is entered."),)
    if hand.slope_wanted_percent is None:
        words = "What slope the hand brake is to hold is not entered."
        return (Finding("hand_brake", "unknown", (system,), words),)
    wanted = hand.slope_wanted_percent
    return tuple(_holds(read, system, case, wanted) for case in _loads(read))


def _holds(read: Reader, system: Ref, case: Ref | None, wanted: float) -> Finding:
    subjects = (system,) if case is None else (system, case)
    try:
        slope = read(slope_held, case)
    except NotComputedError as error:
        words = f"What slope the hand brake holds is not known: {error}."
        return Finding("hand_brake", "unknown", subjects, words)
    load = "the load the car is drawn at" if case is None else read.label(case)
    words = f"With {load}, the hand brake holds a slope of {number(slope, 0)} %, of which "
    words += f"{number(wanted, 0)} % are wanted; the tyres may slide before. Chock the wheels too."
    return Finding(
        "hand_brake",
        "fine" if slope >= wanted else "no",
        subjects,
        words,
        measured=slope,
        limit=wanted,
        unit="%",
        governing=load,
        limit_source="slope entered for the hand brake",
    )


ROOM = "brakes"

RULES = (
    Rule("front_locks", "Does the front axle lock first?", first_to_lock, ROOM),
    Rule("hand_brake", "Does the hand brake hold the slope wanted?", hand_brake, ROOM),
)
