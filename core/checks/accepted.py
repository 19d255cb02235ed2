"""Findings with what the builder has accepted marked on them."""

from collections.abc import Iterable
from dataclasses import replace

from core.document.project import Document
from core.document.records import Acceptance
from core.engine.finding import WORST_FIRST, Finding, is_worse


def with_acceptances(document: Document, findings: Iterable[Finding]) -> list[Finding]:
    """The findings, each with the reason it was accepted for, unless it has got worse since."""
    by_key = {(a.rule, a.subjects): a for a in document.acceptances}
    return [_marked(finding, by_key.get(finding.key)) for finding in findings]


def _marked(finding: Finding, acceptance: Acceptance | None) -> Finding:
    if acceptance is None or finding.verdict == "fine":
        return finding
    if _is_another(finding, acceptance) or is_worse(finding, acceptance.measured):
        was = "" if acceptance.measured is None else f" at {acceptance.measured:.1f}"
        words = f"{finding.sentence} Accepted before{was} ({acceptance.reason}); it has got worse."
        return replace(finding, sentence=words)
    return replace(finding, accepted=acceptance.reason)


def _is_another(finding: Finding, acceptance: Acceptance) -> bool:
    """Whether a finding has a worse verdict than was accepted, or none where there was one."""
    was = acceptance.verdict
    if was is None or finding.verdict == was:
        return False
    return finding.verdict != "tight"


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the order to look at them: open before accepted, worst verdict, most amiss."""
    return sorted(
        findings,
        key=lambda f: (bool(f.accepted), WORST_FIRST.index(f.verdict), -f.shortfall, f.rule),
    )
