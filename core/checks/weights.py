"""Rules on weight: what is not weighed, scales against the sum, stands, tyres under their load."""

from collections.abc import Iterator

from core.assess.limits import Limited, limit
from core.assess.linkages import tyre_radius
from core.assess.stands import OnStands, on_stands, states_of
from core.assess.weighing import weighed, weighing_of
from core.assess.weights import (
    Weight,
    corner_load,
    summed_load,
    weight_at_design,
    wheel_order,
)
from core.assess.wheels import tyre_figures, wheel_centre
from core.balance.masses import GRAVITY
from core.document.base import Ref
from core.document.records import Lift, LoadCase
from core.document.running_gear import Corner, Tyre
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.quantities import number

SHAKE = "Shake it by hand on hard level ground before anyone goes under it."


@cell(When.RELEASE)
def all_weighed(read: Reader) -> Findings:
    """Whether everything on the car has a weight and a place."""
    weight = read(weight_at_design)
    if weight.has_parts and not weight.missing:
        return (Finding("all_weighed", "fine", (), _sum_in_words(weight), place=weight.centre),)
    if not weight.has_parts:
        words = "Nothing is on the parts list, so the weight of the car is not known."
        return (Finding("all_weighed", "unknown", (), words),)
    least = number(weight.least_kg, 1)
    return tuple(
        Finding(
            "all_weighed",
            "unknown",
            (ref,),
            f"{words[0].upper()}{words[1:]} is not known; the car weighs {least} kg at least.",
        )
        for ref, words in weight.missing
    )


def _sum_in_words(weight: Weight) -> str:
    parts = ", ".join(f"{group} {number(kg, 1)}" for group, kg in weight.groups if kg)
    words = f"All that is listed weighs {number(weight.least_kg, 1)} kg ({parts})."
    if weight.unweighed_brackets:
        words += (
            f" {weight.unweighed_brackets} brackets give no weight of their own: "
            "they count only as far as the parts list holds them."
        )
    return words


@cell(When.RELEASE)
def scales_and_sum(read: Reader) -> Findings:
    """Whether wheels on scales carry what the sum of all weights says."""
    cases = (None, *(case for case in read.all(LoadCase) if read(weighing_of, case) is not None))
    on_them = [
        case
        for case in cases
        if any(read(weighed, ref, case) is not None for ref in read.all(Corner))
    ]
    if not on_them:
        return ()
    order = read(wheel_order)
    pairs = (order[:2], order[2:])
    return tuple(
        found for case in on_them for pair in pairs for found in _of_axle(read, pair, case)
    )


def _of_axle(read: Reader, pair: tuple[Ref, ...], case: Ref | None) -> Iterator[Finding]:
    """One finding for an axle, or for its one wheel that was weighed; none where none was."""
    on_them = {ref: read(weighed, ref, case) for ref in pair}
    known = {ref: found.kg for ref, found in on_them.items() if found is not None}
    if not known:
        return
    refs = tuple(known)
    name = " and ".join(read.label(ref) for ref in refs)
    if case is not None:
        name = f"With {read.label(case)}, {name}"
    try:
        summed = sum(read(summed_load, ref, case) for ref in refs)
        allowed = read(limit, "weighed_apart", *refs)
    except NotComputedError as error:
        words = f"{name} was weighed, and there is no sum to hold against it: {error}."
        yield Finding("weighed_apart", "unknown", refs, words)
        return
    yield _apart(refs, name, (sum(known.values()), summed), allowed)


def _apart(refs: tuple[Ref, ...], name: str, both: tuple[float, float], held: Limited) -> Finding:
    scales, summed = both
    apart = 100.0 * abs(scales - summed) / scales
    verdict = held.verdict_at_most(apart)
    words = f"{name}: scales say {number(scales, 1)} kg, the sum of all weights "
    words += f"{number(summed, 1)} kg"
    words += "." if verdict == "fine" else "; look for what was left out, or entered twice."
    return Finding(
        "weighed_apart",
        verdict,
        refs,
        words,
        measured=apart,
        limit=held.value,
        higher_is_worse=True,
        unit=held.unit,
        limit_source=held.source,
    )


@cell(When.RELEASE)
def stands(read: Reader) -> Findings:
    """Whether the car stays on its stands as parts are taken out."""
    return tuple(_lifted(read, lift) for lift in read.all(Lift))


def _lifted(read: Reader, lift: Ref) -> Finding:
    """The state of a lift that comes nearest to tipping."""
    try:
        held = read(limit, "stand_margin", lift)
        found = [read(on_stands, lift, count) for count in range(len(states_of(read, lift)))]
    except NotComputedError as error:
        words = f"{read.label(lift)}: which way the car would tip is not known: {error}."
        return Finding("stands", "unknown", (lift,), words)
    worst = min(found, key=lambda state: state.margin)
    verdict = held.verdict_at_least(worst.margin)
    return Finding(
        "stands",
        verdict,
        (lift, *worst.over),
        f"{_tips_in_words(read, worst)} {SHAKE}",
        measured=worst.margin,
        limit=held.value,
        place=worst.centre,
        governing=worst.state,
        limit_source=held.source,
    )


def _tips_in_words(read: Reader, state: OnStands) -> str:
    first, second = (read.label(ref) for ref in state.over)
    over = f"the line from {first} to {second}"
    far = number(abs(state.margin), 0)
    if state.margin < 0.0:
        return f"With {state.state}, the car tips off its stands: {far} beyond {over}."
    return f"With {state.state}, the centre of gravity is {far} inside {over}."


@cell(When.RELEASE)
def tyre_radii(read: Reader) -> Findings:
    """Whether each tyre is drawn at the radius that its load and stiffness give."""
    if not read.all(Corner):
        msg = "no corner is entered"
        raise NotComputedError(msg)
    reasons: dict[str, tuple[Ref, ...]] = {}
    found: list[Finding] = []
    for corner in read.all(Corner):
        try:
            found.append(_squashed(read, corner))
        except NotComputedError as error:
            reasons[str(error)] = (*reasons.get(str(error), ()), corner)
    unknown = (
        Finding("loaded_radius", "unknown", refs, f"Tyre radius under load: {why}.")
        for why, refs in reasons.items()
    )
    return (*found, *unknown)


def _squashed(read: Reader, corner: Ref) -> Finding:
    drawn, given = read(tyre_radius, corner), radius_under_load(read, corner)
    held = read(limit, "loaded_radius", corner)
    verdict = held.verdict_at_most(abs(drawn - given))
    words = f"{read.label(corner)} is drawn on a tyre radius of {number(drawn, 1)}; its load "
    words += f"and the tyre's stiffness give {number(given, 1)}"
    words += "." if verdict == "fine" else ". Measure it on the car, or draw it so."
    return Finding(
        "loaded_radius",
        verdict,
        (corner,),
        words,
        measured=abs(drawn - given),
        limit=held.value,
        higher_is_worse=True,
        place=read(wheel_centre, corner),
        limit_source=held.source,
    )


def radius_under_load(read: Reader, corner: Ref) -> float:
    """Radius of a tyre under the load of its corner, mm: free radius less load by stiffness.

    Raises:
        NotComputedError: the tyre, its stiffness or the load is not known.
    """
    free = read(tyre_figures, corner).unloaded_radius
    tyre = read.thing(Corner, corner).tyre
    assert tyre is not None  # `tyre_figures` asks for it
    stiffness = read.thing(Tyre, tyre).vertical_stiffness
    if stiffness is None:
        msg = f"the stiffness of {read.label(tyre)} is not known"
        raise NotComputedError(msg)
    return free - read(corner_load, corner) * GRAVITY / stiffness


ROOM = "weight"

RULES = (
    Rule("all_weighed", "Does everything on the car have a weight and a place?", all_weighed, ROOM),
    Rule("weighed_apart", "Do scales and the sum of all weights agree?", scales_and_sum, ROOM),
    Rule("stands", "Does the car stay on its stands as parts are taken out?", stands, ROOM),
    Rule(
        "loaded_radius", "Is each tyre drawn at the radius that its load gives?", tyre_radii, ROOM
    ),
)
