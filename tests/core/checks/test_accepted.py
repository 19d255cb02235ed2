"""Accepted findings: marked while they are as they were, open again once they get worse."""

from dataclasses import replace

import pytest

from core.checks.accepted import with_acceptances, worst_first
from core.document.base import Ref
from core.document.project import Document
from core.document.records import Acceptance
from core.engine.finding import WORSE_BY, Finding

TUBE, OTHER = Ref("tube1"), Ref("tube2")
GAP = Finding("unit_gap", "no", (TUBE,), "Too near.", measured=7.0, limit=10.0)


def accepted_at(measured: float | None, *, subjects: tuple[Ref, ...] = (TUBE,)) -> Document:
    acceptance = Acceptance(
        id="acceptance1",
        name="gap",
        rule="unit_gap",
        subjects=subjects,
        measured=measured,
        reason="a heat shield goes there",
    )
    return Document(next_number=2, acceptances=(acceptance,))


def test_a_finding_as_it_was_is_accepted_with_its_reason() -> None:
    (marked,) = with_acceptances(accepted_at(7.0), [GAP])

    assert marked.accepted == "a heat shield goes there"
    assert marked.verdict == "no"


def test_a_finding_that_got_better_stays_accepted() -> None:
    (marked,) = with_acceptances(accepted_at(7.0), [replace(GAP, measured=8.5)])

    assert marked.accepted


def test_a_finding_that_got_worse_is_open_again_and_says_so() -> None:
    (marked,) = with_acceptances(accepted_at(7.0), [replace(GAP, measured=7.0 - 2 * WORSE_BY)])

    assert not marked.accepted
    assert "got worse" in marked.sentence


def test_worse_means_greater_where_greater_is_worse() -> None:
    reach = replace(GAP, higher_is_worse=True)

    (lower,) = with_acceptances(accepted_at(7.0), [replace(reach, measured=6.0)])
    (higher,) = with_acceptances(accepted_at(7.0), [replace(reach, measured=8.0)])

    assert lower.accepted
    assert not higher.accepted


@pytest.mark.parametrize("measured", [None, 7.0])
def test_a_finding_that_lost_or_gained_its_figure_is_open_again(measured: float | None) -> None:
    other = None if measured is not None else 7.0

    (marked,) = with_acceptances(accepted_at(measured), [replace(GAP, measured=other)])

    assert not marked.accepted


def test_an_acceptance_is_bound_to_its_subjects() -> None:
    (marked,) = with_acceptances(accepted_at(7.0, subjects=(OTHER,)), [GAP])

    assert not marked.accepted


def test_what_is_fine_is_never_marked_accepted() -> None:
    (marked,) = with_acceptances(accepted_at(7.0), [replace(GAP, verdict="fine", measured=20.0)])

    assert not marked.accepted


def test_order_is_open_before_accepted_then_worst_verdict_then_most_amiss() -> None:
    fine = replace(GAP, verdict="fine", measured=30.0)
    tight = replace(GAP, verdict="tight", measured=12.0)
    unknown = replace(GAP, verdict="unknown", measured=None)
    worse = replace(GAP, measured=2.0)
    accepted = replace(GAP, measured=-5.0, accepted="yes")

    ordered = worst_first([fine, accepted, tight, GAP, unknown, worse])

    assert ordered == [worse, GAP, unknown, tight, fine, accepted]
