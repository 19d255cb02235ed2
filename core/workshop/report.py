"""What a check has to say, as lines of plain words."""

from collections import Counter
from collections.abc import Iterable, Iterator

from core.checks.rules import NOT_LOOKED_AT, to_look_at
from core.document.project import Document
from core.engine.assess import Assessment, reads_of
from core.engine.cells import CellKey, Rule
from core.engine.finding import (
    WORDS,
    WORSE_BY,
    WORST_FIRST,
    Finding,
    Verdict,
    is_worse,
)
from core.engine.view import FieldKey, FormKey
from core.quantities import number
from core.workshop.figure import Figure
from core.workshop.figures import figures

TAKING_OUT = (
    "Taking the engine out and raising the car: firm level ground, stands rated for the load, "
    "never a jack alone, nobody below what hangs; local rules apply."
)
PROTECTION = (
    "Whatever protects people, such as a roll structure or belts, is signed off by licensed "
    "practice, not by this program."
)

INDENT = 12  # as wide as the widest verdict, and two
FINEST = 4  # decimals by which a figure is shown at most


def answer(findings: Iterable[Finding]) -> Verdict:
    """The worst verdict that is not accepted; fine where there is none."""
    found = {finding.verdict for finding in findings if not finding.accepted}
    for verdict in WORST_FIRST:
        if verdict in found:
            return verdict
    return "fine"


def check_lines(assessment: Assessment) -> Iterator[str]:
    """All that a check of a car has to say, worst first; the figures must have been asked for."""
    findings = to_look_at(assessment)
    open_ones = [f for f in findings if not f.accepted and f.verdict != "fine"]
    yield tally(open_ones)
    for finding in open_ones:
        yield from finding_lines(finding)
    yield ""
    yield "Figures worth knowing:"
    yield from (figure_line(figure) for figure in assessment.value(figures))
    yield ""
    yield from _fine_lines(assessment, findings)
    yield from _accepted_lines(findings)
    yield ""
    yield from closing_lines()


def tally(open_ones: Iterable[Finding]) -> str:
    """How many findings there are to look at, by verdict."""
    count = Counter(finding.verdict for finding in open_ones)
    parts = [f"{count[v]} {WORDS[v]}" for v in WORST_FIRST if count[v]]
    return f"To look at, worst first: {', '.join(parts) if parts else 'nothing'}."


def finding_lines(finding: Finding) -> Iterator[str]:
    """A finding: its verdict and sentence, what was measured, and what would mend it."""
    yield f"{WORDS[finding.verdict]:<{INDENT}}{finding.sentence}"
    details = "; ".join(_details(finding))
    if details:
        yield f"{'':<{INDENT}}{details}"
    for remedy in finding.remedies:
        yield f"{'':<{INDENT}}could mend it: {remedy.words}"


def _details(finding: Finding) -> Iterator[str]:
    if finding.measured is not None:
        yield measure(finding.measured, finding.limit, finding.unit, most=finding.higher_is_worse)
    if finding.governing:
        yield finding.governing
    if finding.limit_source:
        yield f"from: {finding.limit_source}"


def measure(measured: float, limit: float | None, unit: str, *, most: bool) -> str:
    """A figure against its limit, with digits enough to show on which side of it it lies."""
    if limit is None:
        return f"{number(measured, 1)} {unit}"
    decimals = _decimals(measured, limit)
    bound = "at most" if most else "at least"
    shown = number(measured, decimals)
    return f"{shown} {unit}, {bound} {number(limit, decimals)} {unit} wanted"


def _decimals(measured: float, limit: float) -> int:
    """One, or as many as keep two unlike figures unlike and a small limit from reading 0."""
    for decimals in range(1, FINEST):
        figures = [number(figure, decimals) for figure in (measured, limit)]
        hides = figures[0] == figures[1] and measured != limit
        spoils = limit != 0 and abs(float(f"{limit:.{decimals}f}") / limit - 1) > SPOILT
        if not (hides or spoils):
            return decimals
    return FINEST


SPOILT = 0.02
"""Share by which rounding may change a limit as it is shown; own choice."""


def figure_line(figure: Figure) -> str:
    """A figure worth knowing with what it is between, or that it is not known and why."""
    if figure.value is None:
        return f"  {figure.what}: {WORDS['unknown']}, because {figure.note}"
    note = f" ({figure.note})" if figure.note else ""
    return f"  {figure.what}: {number(figure.value, 1)} {figure.unit}{note}"


def _fine_lines(assessment: Assessment, findings: list[Finding]) -> Iterator[str]:
    fine = sum(f.verdict == "fine" and f.limit is not None for f in findings)
    silent = [rule for rule in assessment.rules if not assessment.findings_of(rule)]
    idle = [rule for rule in silent if not looked_at_anything(assessment, rule)]
    things = "thing" if fine == 1 else "things"
    asked = len(silent) - len(idle)
    questions = "question" if asked == 1 else "questions"
    yield f"Fine: {fine} {things}; {asked} more {questions} found nothing amiss."
    if idle:
        asks = " ".join(rule.asks for rule in idle)
        yield f"Nothing is entered that these questions are about, so they have no answer: {asks}"


def looked_at_anything(assessment: Assessment, rule: Rule) -> bool:
    """Whether a rule looked at any value; one that found no thing of its kind did not."""
    reads = reads_of(assessment, CellKey(rule.cell, ()))
    return any(isinstance(read, FieldKey | FormKey) for read in reads)


def _accepted_lines(findings: list[Finding]) -> Iterator[str]:
    accepted = [finding for finding in findings if finding.accepted]
    if accepted:
        yield ""
        yield "Accepted by the builder, and not counted:"
    for finding in accepted:
        yield from finding_lines(finding)
        yield f"{'':<{INDENT}}accepted: {finding.accepted}"


def closing_lines() -> Iterator[str]:
    """What is not looked at, and the usual cautions."""
    yield f"Not looked at by this version: {'; '.join(NOT_LOOKED_AT)}."
    yield "Silence about any of these does not mean fine."
    yield ""
    yield TAKING_OUT
    yield PROTECTION


def heading_lines(document: Document, version: str) -> Iterator[str]:
    """The car and its version."""
    for car in document.cars:
        yield car.name
        if car.statement:
            yield car.statement
    yield version
    yield ""


def worsened(before: Assessment, after: Assessment) -> list[Finding]:
    """The findings of `after` that are new, or worse than in `before`, worst first.

    A finding is worse with a worse verdict, or with the same one and a worse figure.
    """
    old: dict[object, list[Finding]] = {}
    for finding in to_look_at(before):
        old.setdefault(finding.key, []).append(finding)
    return [
        finding
        for finding in to_look_at(after)
        if all(_is_worse_than(finding, was) for was in old.get(finding.key, ()))
        and (finding.verdict != "fine" or finding.key in old)
    ]


def _is_worse_than(finding: Finding, was: Finding) -> bool:
    rank = WORST_FIRST.index(finding.verdict) - WORST_FIRST.index(was.verdict)
    if rank != 0:
        return rank < 0
    if finding.measured is None:
        return False
    if None in (finding.limit, was.measured, was.limit):
        return is_worse(finding, was.measured)
    return finding.shortfall - was.shortfall > WORSE_BY
