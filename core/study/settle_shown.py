"""A proposal as it is shown: coordinates, figures present and proposed, what would get worse."""

from collections.abc import Iterator
from math import isfinite, trunc

from core.assess.curves import travel_curves
from core.checks.rules import assess_all
from core.document.base import Because
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.settle import Placed, settle_places
from core.engine.assess import Assessment, compute
from core.engine.cells import NotComputedError
from core.engine.finding import WORDS, WORST_FIRST, Finding, is_worse
from core.quantities import number
from core.study.corner_points import AXIS_WORDS
from core.study.settle_aims import AIMS, told
from core.study.settle_places import MayMove, way_words
from core.study.settle_records import Aimed, Moved, Proposal, Settling
from core.suspension.settling import Bound, Freedom, Settled

IN_ONE = 10
"""Parts of a mm that places are told to: no tape reads less."""


def proposal(
    asked: Settling,
    freed: tuple[MayMove, ...],
    freedoms: tuple[Freedom, ...],
    found: Settled,
) -> Proposal:
    """What the room found, as it is shown; everything told of it is worked out from the car.

    Args:
        asked: for what.
        freed: coordinates that may move.
        freedoms: the room each has, in the same order.
        found: by the room.

    Raises:
        HeldError: steel that is tacked or welded would move.
        EditRefusedError: the car would contradict itself.
    """
    lookup = Lookup(asked.document)
    amounts = [_on_tape(a, f) for a, f in zip(found.amounts.tolist(), freedoms, strict=True)]
    moves = tuple(_moves(freed, amounts))
    after = settle_places(asked.document, (move.placed for move in moves))
    aims = tuple(_aimed(asked, after))
    room = {f.change.name: (each, f) for each, f in zip(freed, freedoms, strict=True)}
    return Proposal(
        asked.corner,
        moves,
        aims,
        tuple(_worse(asked, after)) if moves else (),
        tuple(_end(lookup, *room[bound.name], bound) for bound in found.bounds),
        (Because(ref=asked.corner, words=_reason(aims)),),
    )


def _on_tape(amount: float, freedom: Freedom) -> float:
    """An amount to the tenth of a mm, within what it may."""
    near = round(amount * IN_ONE) / IN_ONE
    inside = freedom.least <= near <= freedom.most
    return near if inside else trunc(amount * IN_ONE) / IN_ONE


def _moves(freed: tuple[MayMove, ...], amounts: list[float]) -> Iterator[Moved]:
    for each, by in zip(freed, amounts, strict=True):
        if by:
            to = round(each.at + by, 6)
            way = way_words(each.axis, by, is_left=each.is_left)
            yield Moved(Placed(each.address, to), each.ref, each.axis, each.at, way)


def _aimed(asked: Settling, after: Document) -> Iterator[Aimed]:
    present = compute(asked.document, {}, travel_curves, asked.corner)
    try:
        proposed = compute(after, {}, travel_curves, asked.corner)
    except NotComputedError:
        proposed = None
    for wish in asked.wishes:
        kind = AIMS[wish.key]
        figure = None if proposed is None else told(kind, proposed)
        known = figure if figure is not None and isfinite(figure) else None
        yield Aimed(kind, wish.wanted, told(kind, present), known)


def _reason(aims: tuple[Aimed, ...]) -> str:
    """What the numbers rest on, for their facts."""
    figures = (
        f"{each.kind.words} {number(each.before, each.kind.digits)} to "
        f"{'unknown' if each.after is None else number(each.after, each.kind.digits)} "
        f"{each.kind.unit}"
        for each in aims
    )
    return f"settled: {'; '.join(figures)}"


def _worse(asked: Settling, after: Document) -> Iterator[str]:
    """What rules say of the proposal that they do not say of the drawing."""
    before = assess_all(asked.document, asked.meshes)
    then = assess_all(after, asked.meshes, before)
    yield from (f"{WORDS[f.verdict]}: {f.sentence}" for f in _got_worse(before, then))


def _got_worse(before: Assessment, then: Assessment) -> Iterator[Finding]:
    old: dict[object, list[Finding]] = {}
    for finding in before.findings():
        old.setdefault(finding.key, []).append(finding)
    for finding in then.findings():
        was = old.get(finding.key, [])
        if finding.verdict != "fine" and all(_is_worse(finding, each) for each in was):
            yield finding


def _is_worse(finding: Finding, was: Finding) -> bool:
    rank, old = WORST_FIRST.index(finding.verdict), WORST_FIRST.index(was.verdict)
    if rank != old:
        return rank < old
    return finding.verdict == "no" and is_worse(finding, was.measured)


def _end(lookup: Lookup, each: MayMove, freedom: Freedom, bound: Bound) -> str:
    """A coordinate at the end of what it may, in words."""
    by_bracket = freedom.most >= each.up if bound.end == "most" else -freedom.least >= each.down
    why = ", which the reach of its bracket sets" if by_bracket else ""
    return f"{lookup.label(each.ref)}, {AXIS_WORDS[each.axis]}, is at the end of its room{why}"
