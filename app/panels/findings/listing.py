"""Which findings to list, in which order, and which of them got worse by the change in hand."""

from collections.abc import Callable
from typing import Any, NamedTuple

from app.session import State
from core.engine.assess import Assessment, NotYet, NoValue
from core.engine.cells import CellKey
from core.engine.finding import WORST_FIRST, Finding, Verdict
from core.workshop.report import worsened

Key = tuple[Any, int]
Wanted = Callable[[Finding], bool]


class Listed(NamedTuple):
    """One finding in the list.

    Attributes:
        key: what it is about, and which of several about the same; stays as figures change.
        finding: what is found.
        worse: it is new or worse since the change in hand began.
    """

    key: Key
    finding: Finding
    worse: bool


def listed(state: State, baseline: State, wanted: Wanted) -> list[Listed]:
    """The findings about things, in the order of the state.

    Args:
        state: what is shown.
        baseline: what things were like when the change in hand began.
        wanted: which findings are meant.
    """
    worse = {id(f) for f in _worse(state, baseline)}
    found: list[Listed] = []
    seen: dict[object, int] = {}
    for finding in state.findings:
        if not finding.subjects or not wanted(finding):
            continue
        seen[finding.key] = seen.get(finding.key, -1) + 1
        key = (finding.key, seen[finding.key])
        found.append(Listed(key, finding, id(finding) in worse and not finding.behind))
    return found


def rank(verdict: Verdict, *, accepted: bool) -> tuple[bool, int]:
    """Where a finding comes in the list: fine ones last, accepted ones just before them."""
    if verdict == "fine":
        return True, len(WORST_FIRST)
    return accepted, WORST_FIRST.index(verdict)


def _worse(state: State, baseline: State) -> list[Finding]:
    """Those of the state's own findings that are new or worse than at the baseline."""
    if state.document is baseline.document:
        return []
    keys = {finding.key for finding in worsened(baseline.assessment, state.assessment)}
    return [finding for finding in state.findings if finding.key in keys]


def unanswered(assessment: Assessment, wanted: Wanted) -> dict[str, tuple[str, ...]]:
    """The questions that have no answer yet, under the reason that they share."""
    found: dict[str, tuple[str, ...]] = {}
    for rule in assessment.rules:
        value = assessment.entries[CellKey(rule.cell, ())].value
        if not isinstance(value, NoValue | NotYet):
            continue
        if wanted(assessment.findings_of(rule)[0]):
            reason = value.reason if isinstance(value, NoValue) else "it is still to be computed"
            found[reason] = (*found.get(reason, ()), rule.asks)
    return found
