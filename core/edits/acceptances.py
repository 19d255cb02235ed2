"""Accepting a finding with a reason, and taking that back."""

from typing import Final

from core.document.base import LONGEST_NAME, Ref
from core.document.layers import without_things
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import Acceptance
from core.edits.holds import kept_to_rules
from core.edits.names import free_name
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.engine.finding import Finding

_NAMED: Final = 3
"""Subjects that stand in the name of an acceptance."""


def accept(
    document: Document, finding: Finding, reason: str, who: str = "", when: str = ""
) -> Document:
    """The document with a finding accepted for a reason, until its figure gets worse.

    It is bound to the rule, the things the finding is about, and the figure. An acceptance of the
    same finding from before is replaced.

    Args:
        document: where it was found.
        finding: what is accepted.
        reason: why.
        who: who accepts it.
        when: the day, as the builder writes it.

    Raises:
        EditRefusedError: no reason was given, there is nothing to accept, or nothing in the car
            to bind it to.
    """
    _refuse(finding, reason)
    values = {
        "rule": finding.rule,
        "subjects": finding.subjects,
        "verdict": finding.verdict,
        "measured": finding.measured,
        "higher_is_worse": finding.higher_is_worse,
        "reason": reason.strip(),
        "who": who.strip(),
        "when": when.strip(),
    }
    fresh = _without(document, finding.rule, finding.subjects)
    made, _ = make(fresh, Acceptance, _name(fresh, finding), **values)
    return made


def _refuse(finding: Finding, reason: str) -> None:
    if not reason.strip():
        msg = "accepting needs a reason, so that you know later whether it still counts"
        raise EditRefusedError(msg)
    if finding.behind:
        msg = "this was found before the last change; let it catch up, then accept it"
        raise EditRefusedError(msg)
    if finding.verdict == "fine":
        msg = "there is nothing to accept: it is fine"
        raise EditRefusedError(msg)
    if not finding.subjects:
        msg = "this names no thing of the car, so that an acceptance would cover whatever comes"
        raise EditRefusedError(msg)


def _name(document: Document, finding: Finding) -> str:
    lookup = Lookup(document)
    about = ", ".join(lookup.label(ref) for ref in finding.subjects[:_NAMED])
    wanted = f"{finding.rule.replace('_', ' ')} of {about}"[:LONGEST_NAME]
    return free_name((a.name for a in document.acceptances), wanted)


def withdraw(document: Document, rule: str, subjects: tuple[Ref, ...]) -> Document:
    """The document with an acceptance taken back.

    Raises:
        EditRefusedError: nothing of the kind is accepted.
    """
    after = _without(document, rule, subjects)
    if after is document:
        msg = "that finding is not accepted, so there is nothing to take back"
        raise EditRefusedError(msg)
    return kept_to_rules(document, after)


def _without(document: Document, rule: str, subjects: tuple[Ref, ...]) -> Document:
    found = frozenset(
        a.id for a in document.acceptances if (a.rule, a.subjects) == (rule, subjects)
    )
    return without_things(document, found) if found else document
