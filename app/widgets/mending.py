"""Edits that mend or accept what is found, as the session takes them."""

from app.session import Edit
from core.document.project import Document
from core.document.records import Acceptance
from core.document.steel import Panel
from core.edits.deletions import delete
from core.edits.points import merge_points
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.edits.unit import move_unit, settle_width
from core.engine.finding import Finding, Remedy


def mending(remedy: Remedy) -> Edit:
    """The edit that a remedy names."""

    def do(document: Document) -> Document:
        arguments = dict(remedy.arguments)
        if remedy.edit == "move_unit":
            return move_unit(document, **arguments)
        if remedy.edit == "settle_width":
            return settle_width(document, **arguments)
        if remedy.edit == "merge_points":
            return merge_points(document, **arguments)
        if remedy.edit == "make_panel":
            return make(document, Panel, "sheet", **arguments)[0]
        raise EditRefusedError(f"«{remedy.words}» must be done by hand in this version")

    return do


def accepting(finding: Finding, reason: str, when: str) -> Edit:
    """The edit that accepts a finding with a reason."""

    def do(document: Document) -> Document:
        if not reason.strip():
            raise EditRefusedError("give a reason: it is what you will want to know later")
        return make(
            document, Acceptance, f"accepted {document.next_number}", rule=finding.rule,
            subjects=finding.subjects, measured=finding.measured,
            higher_is_worse=finding.higher_is_worse, reason=reason.strip(), when=when,
        )[0]

    return do


def reopening(finding: Finding) -> Edit:
    """The edit that takes an acceptance back."""

    def do(document: Document) -> Document:
        for acceptance in document.acceptances:
            if (acceptance.rule, acceptance.subjects) == finding.key:
                return delete(document, acceptance.id)
        raise EditRefusedError("it is not accepted")

    return do
