"""Edits that mend or accept what is found, as the session takes them."""

from functools import partial

from app.session import Edit
from core.edits.acceptances import accept, withdraw
from core.edits.remedies import apply_remedy
from core.engine.finding import Finding, Remedy


def mending(remedy: Remedy) -> Edit:
    """The edit that a remedy names."""
    return lambda document: apply_remedy(document, remedy)


def accepting(finding: Finding, reason: str, when: str) -> Edit:
    """The edit that accepts a finding with a reason."""
    return partial(accept, finding=finding, reason=reason, when=when)


def reopening(finding: Finding) -> Edit:
    """The edit that takes an acceptance back."""
    return partial(withdraw, rule=finding.rule, subjects=finding.subjects)
