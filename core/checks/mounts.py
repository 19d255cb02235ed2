"""Rules on the mounts of the engine and gearbox: what holds it, its stops, how far it turns."""

from collections.abc import Iterator

from core.assess.limits import limit
from core.assess.mount_loads import loads_told
from core.assess.mount_moves import CaseMoved, case_moved
from core.assess.mounts import free_motions, free_without, mounts_of_unit, unit_shakes
from core.assess.places import the_unit
from core.document.base import Ref
from core.document.power import Mount
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.geometry.types import Array
from core.powerunit.cases import case
from core.powerunit.held import FreeMotion
from core.quantities import number

NEARLY = 0.995
"""Least part of a direction along an axis of the car to be called by it: within 6 degrees."""


@cell(When.LIVE)
def held(read: Reader) -> Findings:
    """Whether the mounts hold the engine and gearbox against every motion."""
    unit, mounts = the_unit(read), read(mounts_of_unit)
    free = read(free_motions)
    name = read.label(unit)
    if free:
        words = f"Nothing holds {name}: it is free to {_told(free)}. Add a mount, or turn one."
        return (Finding("mounts_hold", "no", (unit,), words),)
    words = f"{len(mounts)} mounts hold {name} against every motion.{_shaking(read)}"
    return (Finding("mounts_hold", "fine", (unit,), words),)


def _shaking(read: Reader) -> str:
    """That it shakes, at which frequencies; no more than worth knowing."""
    try:
        found = read(unit_shakes)
    except NotComputedError as error:
        return f" How fast it shakes on them is not known: {error}."
    low, high = float(found.frequencies[0]), float(found.frequencies[-1])
    return (
        f" It shakes on them at {number(low, 1)} Hz ({found.names[0]}) to {number(high, 1)} Hz "
        f"({found.names[-1]})."
    )


@cell(When.LIVE)
def one_lost(read: Reader) -> Findings:
    """What is left free when one mount is lost or undone, each in turn."""
    if read(free_motions):
        return ()  # told of by the rule above
    return tuple(_lost(read, ref) for ref in read(mounts_of_unit))


def _lost(read: Reader, ref: Ref) -> Finding:
    free, captive = read(free_without, ref), read.thing(Mount, ref).captive
    name, subjects = read.label(ref), (ref, the_unit(read))
    if not free:
        words = f"Without {name} the other mounts still hold the engine and gearbox."
        return Finding("mount_lost", "fine", subjects, words)
    words = f"Without {name} the engine and gearbox is free to {_told(free)}"
    if captive:
        words += f"; {name} is captive, so it is caught when the rubber fails."
        return Finding("mount_lost", "fine", subjects, words)
    if captive is None:
        words += (
            f". Whether {name} is captive, so that it holds when its rubber fails, is not known."
        )
        return Finding("mount_lost", "unknown", subjects, words)
    words += f", and {name} is not captive: use a mount that holds when its rubber fails."
    return Finding("mount_lost", "no", subjects, words)


def _told(free: tuple[FreeMotion, ...]) -> str:
    return ", to ".join(_motion(each) for each in free)


def _motion(free: FreeMotion) -> str:
    if free.kind == "slide":
        return f"slide {_along(free.along)}"
    x, y, z = (number(float(value), 0) for value in free.through)
    words = f"turn about a line {_along(free.along)} through ({x}, {y}, {z})"
    if abs(free.slide_per_turn) > 1.0:
        words += ", sliding along it as it turns"
    return words


def _along(direction: Array) -> str:
    for part, words in zip(direction, ("fore and aft", "from side to side", "up"), strict=True):
        if part > NEARLY:
            return words
    return f"along ({', '.join(number(float(part), 2) for part in direction)})"


@cell(When.RELEASE)
def stops(read: Reader) -> Findings:
    """How near each mount comes to its stops, and how far the engine turns, in any load."""
    unit, told = the_unit(read), read(loads_told)
    if read(free_motions):
        words = "How far the engine and gearbox moves is not known: its mounts leave it free."
        return (Finding("mount_stops", "unknown", (unit,), words),)
    found = [read(case_moved, key, "fitted") for key in told.count]
    return (
        *_untold(read, unit),
        *(_stop(read, ref, number_of, found) for number_of, ref in enumerate(read(mounts_of_unit))),
        _turn(read, unit, found),
    )


def _untold(read: Reader, unit: Ref) -> Iterator[Finding]:
    """That loads are not known, or known in part."""
    missing = read(loads_told).unknown
    if missing:
        names = "; ".join(case(key).words for key, _ in missing)
        whys = "; ".join(dict.fromkeys(why for _, why in missing))
        words = f"How the engine and gearbox moves is not known {names}: {whys}."
        yield Finding("mount_loads", "unknown", (unit,), words)


def _stop(read: Reader, ref: Ref, row: int, found: list[CaseMoved]) -> Finding:
    name, subjects = read.label(ref), (ref, the_unit(read))
    gap = read.thing(Mount, ref).stop_gap
    most = max(found, key=lambda each: float(abs(each.moved.own_moves[row]).max()))
    if gap is None or (gap.x is None and gap.y is None and gap.z is None):
        moves = number(float(abs(most.moved.own_moves[row]).max()), 1)
        words = (
            f"How far {name} may move before it meets a stop is not known; it moves {moves}, "
            f"{most.asked.case.words}."
        )
        return Finding("mount_stops", "unknown", subjects, words)
    worst = min(found, key=lambda each: float(each.moved.stop_left[row].min()))
    return _stop_finding(read, subjects, worst, row)


def _stop_finding(read: Reader, subjects: tuple[Ref, Ref], worst: CaseMoved, row: int) -> Finding:
    left = worst.moved.stop_left[row]
    axis = int(left.argmin())
    least, held_to = float(left[axis]), read(limit, "mount_stop", *subjects)
    load, name, along = worst.asked.case.words, read.label(subjects[0]), "xyz"[axis]
    verdict = held_to.verdict_at_least(least)
    words = f"{name} has {number(least, 1)} left to its stop along its {along}, {load}."
    if least < 0.0:
        moves = number(float(abs(worst.moved.own_moves[row][axis])), 1)
        gap = number(float(worst.moved.held.bushes[row].stop_gap[axis]), 1)
        words = (
            f"{name} meets its stop along its {along}, {load}: free, it would move {moves}, and "
            f"it has {gap}. How the engine and gearbox moves from there is not known; a firmer "
            "insert, or mounts farther apart, keep it off the stop."
        )
        verdict = "unknown"
    return Finding(
        "mount_stops",
        verdict,
        subjects,
        words,
        measured=least,
        limit=held_to.value,
        governing=governing(worst),
        limit_source=held_to.source,
    )


def governing(found: CaseMoved) -> str:
    """A load in words with the torque of its axle, and what is left out of it."""
    asked = found.asked
    torque = f", {number(abs(asked.torque_nm), 0)} N m at the axle" if asked.torque_nm else ""
    left_out = f"; without {asked.left_out}" if asked.left_out else ""
    return f"{asked.case.words}{torque}{left_out}"


def _turn(read: Reader, unit: Ref, found: list[CaseMoved]) -> Finding:
    worst = max(found, key=lambda each: each.moved.whole_turn_deg)
    turn, held_to = worst.moved.whole_turn_deg, read(limit, "mount_turn", unit)
    words = (
        f"{read.label(unit)} turns {number(turn, 1)} degrees on its mounts, "
        f"{worst.asked.case.words}"
    )
    if turn > held_to.value:
        words += (
            f"; how it moves beyond {number(held_to.value, 1)} is not known, for small turns are "
            "worked out. Firmer inserts, or a stay farther off, keep it less."
        )
    else:
        words += "."
    return Finding(
        "mount_turn",
        "unknown" if turn > held_to.value else "fine",
        (unit,),
        words,
        measured=turn,
        limit=held_to.value,
        higher_is_worse=True,
        unit="deg",
        governing=governing(worst),
        limit_source=held_to.source,
    )


ROOM = "mounts"
RULES = (
    Rule("mounts_hold", "Do the mounts hold the engine and gearbox?", held, ROOM),
    Rule("mount_lost", "What if one mount is lost?", one_lost, ROOM),
    Rule("mount_stops", "Do the mounts keep off their stops?", stops, ROOM),
)
