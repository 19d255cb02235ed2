"""Which findings to list, in which order, and which of them got worse by the change in hand."""

from collections.abc import Callable
from typing import Any, NamedTuple

from app.session import State
from core.engine.assess import Assessment, NotYet, NoValue
from core.engine.cells import CellKey
from core.engine.finding import WORST_FIRST, Finding
from core.workshop.report import worsened

Key = tuple[Any, int]
Wanted = Callable[[Finding], bool]


class Listed(NamedTuple):
    """One finding in the list.

    Attributes:
        key: what it is about, and which of several about the same; stays as figures change.
        finding: what is found.
        behind: its rule has not caught up: it is of before the last change.
        worse: it is new or worse since the change in hand began.
    """

    key: Key
    finding: Finding
    behind: bool
    worse: bool


def listed(state: State, baseline: State, wanted: Wanted) -> list[Listed]:
    """The findings about things, in the order to look at them: what got worse before all else.

    Args:
        state: what is shown.
        baseline: what things were like when the change in hand began.
        wanted: which findings are meant.
    """
    stale = stale_keys(state.assessment)
    worse = {id(f) for f in _worse(state, baseline)}
    found: list[Listed] = []
    seen: dict[object, int] = {}
    for finding in state.findings:
        if not finding.subjects or not wanted(finding):
            continue
        seen[finding.key] = seen.get(finding.key, -1) + 1
        key = (finding.key, seen[finding.key])
        behind = finding.key in stale
        found.append(Listed(key, finding, behind, id(finding) in worse and not behind))
    return sorted(found, key=lambda each: (not each.worse, *rank(each.finding)))


def rank(finding: Finding) -> tuple[bool, int]:
    """Where a finding comes in the list: fine ones last, accepted ones just before them."""
    if finding.verdict == "fine":
        return True, len(WORST_FIRST)
    return bool(finding.accepted), WORST_FIRST.index(finding.verdict)


def _worse(state: State, baseline: State) -> list[Finding]:
    """Those of the state's own findings that are new or worse than at the baseline."""
    if state.document is baseline.document:
        return []
    keys = {finding.key for finding in worsened(baseline.assessment, state.assessment)}
    return [finding for finding in state.findings if finding.key in keys]


def stale_keys(assessment: Assessment) -> set[object]:
    """What the findings of rules that have not caught up are about."""
    return {
        finding.key
        for rule in assessment.rules
        if assessment.is_behind(rule)
        for finding in assessment.findings_of(rule)
    }


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
