"""The order of work: how far each step is, from what is entered and what is found."""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from core.document.base import Ref
from core.document.facts import source_of
from core.document.project import Document
from core.document.steel import Point, Tube
from core.engine.assess import Assessment
from core.engine.finding import WORDS, WORST_FIRST, Finding, Verdict
from core.study.order import (
    PART_TITLES,
    PARTS,
    STEPS,
    Order,
    PartKey,
    StepKey,
    number_of,
)

Standing = Literal["settled", "open", "waiting"]
Counts = tuple[tuple[Verdict, int], ...]

NOT_YET = {
    "shell": "a check of openings, seats and reach",
    "rear": "a check of the shafts in the travel of their wheels",
    "front": "a check of column, pedals and pipes",
    "bench": "sheets for the tubes",
}
"""What this version does not look at yet, for each step that is not settled without it."""


@dataclass(frozen=True)
class StepState:
    """How far one step of the order of work is.

    Attributes:
        key: which step.
        title: what it is called.
        state: settled; open, with something to do; or waiting on a named thing.
        words: the state in a few words.
        counts: its findings that are not accepted and have caught up, by verdict.
        accepted: findings that were accepted with a reason.
        waits_on: what it waits for, by name.
        behind: whether some of its findings are of before the last change.
    """

    key: StepKey
    title: str
    state: Standing
    words: str
    counts: Counts
    accepted: int
    waits_on: tuple[str, ...]
    behind: bool

    @property
    def number(self) -> int:
        """Its number in the order of work, from 1."""
        return number_of(self.key)

    def count(self, verdict: Verdict) -> int:
        """How many of its findings have a verdict and are not accepted."""
        return dict(self.counts).get(verdict, 0)


@dataclass(frozen=True)
class PartState:
    """One part of the driven end: the worst of what is found there.

    Attributes:
        key: which part.
        title: what it is called.
        verdict: the worst verdict; don't know where nothing, or not all, is looked at.
        words: why it is not known, or empty.
        behind: whether some of its findings are of before the last change.
    """

    key: PartKey
    title: str
    verdict: Verdict
    words: str
    behind: bool


def steps(assessment: Assessment, findings: Sequence[Finding]) -> tuple[StepState, ...]:
    """Every step of the order of work, as it stands.

    A step is settled only where something was looked at, nothing of it is no or don't know, and
    nothing that it needs is missing. Accepted findings do not count.

    Args:
        assessment: what is known of the car.
        findings: its findings, accepted ones marked.
    """
    document = assessment.document
    order = Order(document)
    of_step: dict[StepKey, list[Finding]] = {step: [] for step in STEPS}
    for finding in findings:
        of_step[order.place(finding)[0]].append(finding)
    found: list[StepState] = []
    for step in STEPS:
        waits = _waits_on(document, order, step, found)
        found.append(_state(order, step, of_step[step], waits))
    return tuple(found)


@dataclass(frozen=True)
class _Missing:
    """What a step waits on, by name, and whether nothing of the step is entered at all."""

    names: tuple[str, ...]
    nothing_entered: bool = False


def _state(order: Order, step: StepKey, found: list[Finding], missing: _Missing) -> StepState:
    open_ones = [finding for finding in found if not (finding.accepted or finding.behind)]
    accepted = sum(bool(finding.accepted) for finding in found)
    behind = any(finding.behind for finding in found)
    counted = Counter(finding.verdict for finding in open_ones)
    counts: Counts = tuple((v, counted[v]) for v in WORST_FIRST if counted[v])
    if missing.nothing_entered:
        counts = ()  # rules that had nothing to look at say so; that is one thing, not many
    state = _standing(counts, missing, looked_at=bool(found) and not behind)
    return StepState(
        key=step,
        title=order.title(step),
        state=state,
        words=_words(state, counts, missing.names, accepted),
        counts=counts,
        accepted=accepted,
        waits_on=missing.names,
        behind=behind,
    )


def _standing(counts: Counts, missing: _Missing, *, looked_at: bool) -> Standing:
    if missing.nothing_entered:
        return "waiting"
    verdicts = {verdict for verdict, _ in counts}
    if verdicts & {"no", "unknown"} or (missing.names and "tight" in verdicts):
        return "open"
    if missing.names:
        return "waiting"
    return "settled" if looked_at else "open"


def _words(
    state: Standing,
    counts: Counts,
    waits_on: tuple[str, ...],
    accepted: int,
) -> str:
    if state == "waiting":
        return f"waits on: {', '.join(waits_on)}"
    told = [f"{number} {WORDS[verdict]}" for verdict, number in counts if verdict != "fine"]
    if accepted:
        told.append(f"{accepted} accepted")
    return " · ".join([state, ", ".join(told)] if told else [state])


def _waits_on(
    document: Document, order: Order, step: StepKey, before: Sequence[StepState]
) -> _Missing:
    if step == "shell":
        entered = bool(document.shells or document.occupants or document.openings)
        return _either(
            entered=entered, needed=("the shell", "the people"), not_yet=NOT_YET["shell"]
        )
    if step == "rear":
        return _rear(document, order)
    if step == "front":
        driven = {axle.id for axle in document.axles if axle.driven}
        entered = any(corner.axle.id not in driven for corner in document.corners)
        return _either(
            entered=entered or bool(document.racks),
            needed=order.other_end,
            not_yet=NOT_YET["front"],
        )
    unsettled = tuple(f"{s.number} {s.title}" for s in before[1:] if s.state != "settled")
    if step == "frame":
        if not document.tubes:
            return _Missing(("the first tube",), nothing_entered=True)
        return _Missing(unsettled)
    return _Missing(unsettled[-1:] or (NOT_YET["bench"],), nothing_entered=not document.tubes)


def _either(*, entered: bool, needed: tuple[str, ...], not_yet: str) -> _Missing:
    return _Missing((not_yet,)) if entered else _Missing(needed, nothing_entered=True)


def _rear(document: Document, order: Order) -> _Missing:
    driven = {axle.id for axle in document.axles if axle.driven}
    entered = {
        "engine and gearbox": bool(document.power_units),
        "drive shafts": bool(document.drive_shafts),
        f"{order.driven_end} wheels": any(c.axle.id in driven for c in document.corners),
        "mounts": bool(document.mounts),
    }
    missing = tuple(name for name, there in entered.items() if not there)
    if len(missing) == len(entered):
        return _Missing(missing[:2], nothing_entered=True)
    return _Missing(missing or (NOT_YET["rear"],))


def parts(assessment: Assessment, findings: Sequence[Finding]) -> tuple[PartState, ...]:
    """The parts of the driven end, each with the worst mark of what is found there.

    Args:
        assessment: what is known of the car.
        findings: its findings, accepted ones marked.
    """
    order = Order(assessment.document)
    of_part: dict[PartKey, list[Finding]] = {part: [] for part in PARTS}
    for finding in findings:
        step, part = order.place(finding)
        if step == "rear" and part is not None:
            of_part[part].append(finding)
    return tuple(_part(part, of_part[part]) for part in PARTS)


_PART_NOT_YET: dict[PartKey, str] = {"shafts": "in the travel of the wheels: not looked at yet"}


def _part(part: PartKey, found: list[Finding]) -> PartState:
    verdicts: set[Verdict] = {f.verdict for f in found if not f.accepted}
    words = _PART_NOT_YET.get(part, "" if found else "nothing entered")
    if words:
        verdicts.add("unknown")
    worst = worst_of(verdicts)
    behind = any(f.behind for f in found)
    return PartState(part, PART_TITLES[part], worst, words, behind)


def worst_of(verdicts: Collection[Verdict]) -> Verdict:
    """The worst of some verdicts; fine where there is none."""
    for verdict in WORST_FIRST:
        if verdict in verdicts:
            return verdict
    return "fine"


@dataclass(frozen=True)
class TubesPlaced:
    """How many tubes are drawn, and how many of them rest on a joint whose place is guessed."""

    drawn: int
    on_a_guess: int


def tubes_placed(document: Document) -> TubesPlaced:
    """How many pieces of tube there are, and how many rest on a guessed joint; spoilt ones not."""
    points = {point.id: point for point in document.points}
    guessed = {id_ for id_, point in points.items() if _is_guessed(point)}
    drawn = on_a_guess = 0
    for tube in document.tubes:
        if tube.state == "spoilt":
            continue
        pieces = 2 if tube.pair else 1
        drawn += pieces
        on_a_guess += pieces * any(ref.id in guessed for ref in _joints(tube))
    return TubesPlaced(drawn, on_a_guess)


def _is_guessed(point: Point) -> bool:
    path = "along.distance" if point.along is not None else "at"
    return source_of(point, "left" if point.pair else "one", path) == "guessed"


def _joints(tube: Tube) -> Iterator[Ref]:
    yield tube.start
    yield tube.end
    for bend in tube.bends:
        yield bend.point
