"""Rules on the engine and gearbox as it moves on its mounts: how near it comes to tubes."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.assess.clearance import TubeGap
from core.assess.limits import Limited, limit
from core.assess.mount_loads import loads_told
from core.assess.mount_moves import CaseMoved, case_moved, gaps_moved
from core.assess.places import shapeless_tubes, the_unit
from core.checks.mounts import ROOM, governing
from core.document.base import Ref
from core.engine.cells import Findings, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.quantities import number


@dataclass(frozen=True)
class _Near:
    """A gap in a load."""

    gap: TubeGap
    found: CaseMoved


@cell(When.RELEASE)
def gap_moved(read: Reader) -> Findings:
    """The least gap to any tube as the engine moves in its loads, and every other not fine.

    In a load that takes it past a stop, the gap counts that it has at the share of the load at
    which the stop is met: it comes as near as that. What it is beyond is not known.
    """
    unit = the_unit(read)
    found = [read(case_moved, key, "fitted") for key in read(loads_told).count]
    return (
        *_each_tube(read, unit, found),
        *_beyond(read, unit, [each for each in found if each.holds < 1.0]),
        *_shapeless(read, unit),
    )


def _each_tube(read: Reader, unit: Ref, found: list[CaseMoved]) -> Iterator[Finding]:
    least: dict[Ref, _Near] = {}
    for each in found:
        for gap in read(gaps_moved, each.asked.case.key, "fitted", each.holds):
            if gap.tube not in least or gap.gap < least[gap.tube].gap.gap:
                least[gap.tube] = _Near(gap, each)
    for rank, near in enumerate(sorted(least.values(), key=lambda near: near.gap.gap)):
        held_to = read(limit, "unit_gap_moved", near.gap.tube, unit)
        finding = _near(read, unit, near, held_to)
        if not rank or finding.verdict != "fine":
            yield finding


def _near(read: Reader, unit: Ref, near: _Near, held_to: Limited) -> Finding:
    gap, tube = near.gap, read.label(near.gap.tube)
    load = near.found.asked.case.words
    up_to = f", {load}" if near.found.holds == 1.0 else f", {load}, when it meets a stop"
    verdict = held_to.verdict_at_least(gap.gap)
    words = f"Moved on its mounts, {_comes(gap, tube)}{up_to}."
    if verdict == "no":
        words += f" {number(held_to.value, 1)} is wanted: move the tube, or use firmer inserts."
    return Finding(
        "unit_gap_moved",
        verdict,
        (gap.tube, unit),
        words,
        measured=gap.gap,
        limit=held_to.value,
        place=gap.on_tube,
        governing=governing(near.found),
        limit_source=held_to.source,
    )


def _comes(gap: TubeGap, tube: str) -> str:
    if gap.inside:
        return f"{gap.part} has {tube} inside it, by {number(-gap.gap, 1)} or more"
    if gap.gap < 0.0:
        return f"{gap.part} overlaps {tube} by {number(-gap.gap, 1)} or more"
    return f"{gap.part} comes within {number(gap.gap, 1)} of {tube}"


def _beyond(read: Reader, unit: Ref, past: list[CaseMoved]) -> Iterator[Finding]:
    """That the gap is not known where a stop is met or it turns too far."""
    if not past:
        return
    near = min(
        (_Near(read(gaps_moved, each.asked.case.key, "fitted", 1.0)[0], each) for each in past),
        key=lambda near: near.gap.gap,
    )
    loads = "; ".join(each.asked.case.words for each in past)
    words = (
        f"How near the engine and gearbox comes to the tubes is not known past a stop or a small "
        f"turn: {loads}. Free to go on, {_comes(near.gap, read.label(near.gap.tube))}, "
        f"{near.found.asked.case.words}."
    )
    yield Finding(
        "unit_gap_past_stops",
        "unknown",
        (near.gap.tube, unit),
        words,
        measured=near.gap.gap,
        limit=read(limit, "unit_gap_moved", near.gap.tube, unit).value,
        place=near.gap.on_tube,
        governing=governing(near.found),
    )


def _shapeless(read: Reader, unit: Ref) -> Iterator[Finding]:
    for tube in read(shapeless_tubes):
        words = (
            f"{read.label(tube)} has no shape yet, so whether the engine and gearbox moves clear "
            "of it is not known."
        )
        yield Finding("unit_gap_moved", "unknown", (tube, unit), words)


RULES = (Rule("unit_gap_moved", "Is it clear of every tube as it moves?", gap_moved, ROOM),)
