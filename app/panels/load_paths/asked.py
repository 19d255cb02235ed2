"""What each question on load paths found, as plain values."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from app.session import State
from core.engine.assess import NotYet, NoValue
from core.engine.cells import CellKey, Rule
from core.engine.finding import WORDS, WORST_FIRST, Finding, Verdict
from core.study.steps import worst_of

ROOM = "load paths"


class Answer(NamedTuple):
    """What one question found.

    Attributes:
        key: the rule.
        asks: the question.
        verdict: the worst of what was found and not accepted; don't know where there is no answer.
        words: the answer in short.
        behind: whether it is of before the last change.
        worst: the finding that a click goes to.
    """

    key: str
    asks: str
    verdict: Verdict
    words: str
    behind: bool
    worst: Finding | None


def answers(state: State) -> list[Answer]:
    """An answer for each question on load paths."""
    by_key: dict[object, Finding] = {finding.key: finding for finding in state.findings}
    return [_answer(state, rule, by_key) for rule in state.assessment.rules if rule.room == ROOM]


def _answer(state: State, rule: Rule, by_key: Mapping[object, Finding]) -> Answer:
    found = [by_key.get(f.key, f) for f in state.assessment.findings_of(rule)]
    behind = state.assessment.is_behind(rule)
    value = state.assessment.entries[CellKey(rule.cell, ())].value
    if isinstance(value, NoValue | NotYet):
        reason = value.reason if isinstance(value, NoValue) else "to be computed"
        return Answer(rule.key, rule.asks, "unknown", reason, behind, None)
    open_ones = [f for f in found if not f.accepted]
    verdict = worst_of({f.verdict for f in open_ones})
    if behind and verdict == "fine":
        verdict = "unknown"
    worst = min(found, key=_rank, default=None)
    return Answer(rule.key, rule.asks, verdict, _words(found), behind, worst)


def _rank(finding: Finding) -> tuple[bool, int]:
    return bool(finding.accepted), WORST_FIRST.index(finding.verdict)


def _words(found: Sequence[Finding]) -> str:
    parts = [
        f"{count} {WORDS[v]}"
        for v in WORST_FIRST
        if (count := sum(f.verdict == v and not f.accepted for f in found))
    ]
    accepted = sum(bool(f.accepted) for f in found)
    if accepted:
        parts.append(f"{accepted} accepted")
    return ", ".join(parts) or "nothing amiss"
