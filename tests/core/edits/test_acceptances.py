from dataclasses import replace

import pytest

from core.checks.accepted import with_acceptances
from core.checks.rules import RULES, assess_all
from core.document.base import LONGEST_NAME, Ref
from core.document.project import Document
from core.document.rules import check_document
from core.edits.acceptances import accept, withdraw
from core.edits.refusals import EditRefusedError
from core.edits.things import rename
from core.engine.cells import When
from core.engine.finding import WORSE_BY, Finding, Verdict
from tests.core.edits.cars import TubeCar


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def tight(car: TubeCar, measured: float | None = 12.0) -> Finding:
    return Finding("unit_gap", "tight", (car.tie, car.c), "close", measured, 10.0)


def test_an_accepted_finding_is_bound_to_rule_things_and_figure(car: TubeCar) -> None:
    accepted = accept(car.document, tight(car), " it is a stay ", "me", "Monday")

    (found,) = accepted.acceptances
    assert (found.rule, found.subjects) == ("unit_gap", (car.tie, car.c))
    assert (found.measured, found.higher_is_worse) == (12.0, False)
    assert (found.reason, found.who, found.when) == ("it is a stay", "me", "Monday")
    assert found.name == "unit gap of tie, C"
    assert check_document(accepted) == []


@pytest.mark.parametrize("measured", [12.0, 12.0 - WORSE_BY * 0.9, 14.0])
def test_it_counts_while_the_figure_gets_no_worse(car: TubeCar, measured: float) -> None:
    accepted = accept(car.document, tight(car), "seen")

    (found,) = with_acceptances(accepted, [replace(tight(car), measured=measured)])

    assert found.accepted == "seen"


@pytest.mark.parametrize("measured", [12.0 - WORSE_BY * 1.1, 0.0, None])
def test_it_opens_again_when_the_figure_gets_worse(car: TubeCar, measured: float | None) -> None:
    accepted = accept(car.document, tight(car), "seen")

    (found,) = with_acceptances(accepted, [replace(tight(car), measured=measured)])

    assert found.accepted == ""
    assert "Accepted before at 12.0 (seen); it has got worse." in found.sentence


@pytest.mark.parametrize("verdict", ["no", "unknown"])
def test_it_opens_again_when_the_verdict_gets_worse_at_the_same_figure(
    car: TubeCar, verdict: Verdict
) -> None:
    accepted = accept(car.document, tight(car), "seen")

    (found,) = with_acceptances(accepted, [replace(tight(car), verdict=verdict)])

    assert accepted.acceptances[0].verdict == "tight"
    assert found.accepted == ""


def test_it_counts_for_no_other_finding(car: TubeCar) -> None:
    accepted = accept(car.document, tight(car), "seen")
    others = [
        replace(tight(car), rule="way_out"),
        replace(tight(car), subjects=(car.c, car.tie)),
        replace(tight(car), subjects=(car.rail, car.c)),
        replace(tight(car), subjects=(car.tie,)),
    ]

    assert [f.accepted for f in with_acceptances(accepted, others)] == ["", "", "", ""]


def test_accepting_again_renews_the_figure_and_the_reason(car: TubeCar) -> None:
    once = accept(car.document, tight(car), "seen")

    again = accept(once, tight(car, 11.0), "seen again")

    (found,) = again.acceptances
    assert (found.measured, found.reason) == (11.0, "seen again")


@pytest.mark.parametrize("reason", ["", "  \n "])
def test_a_reason_is_needed(car: TubeCar, reason: str) -> None:
    with pytest.raises(EditRefusedError, match="needs a reason"):
        accept(car.document, tight(car), reason)


def test_what_is_fine_of_before_or_about_nothing_is_not_accepted(car: TubeCar) -> None:
    for finding, words in (
        (replace(tight(car), verdict="fine"), "nothing to accept"),
        (replace(tight(car), behind=True), "let it catch up"),
        (replace(tight(car), subjects=()), "names no thing"),
    ):
        with pytest.raises(EditRefusedError, match=words):
            accept(car.document, finding, "seen")


def test_a_finding_about_what_is_gone_is_not_accepted(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="tube99"):
        accept(car.document, replace(tight(car), subjects=(Ref("tube99"),)), "seen")


def test_an_acceptance_can_be_taken_back_once(car: TubeCar) -> None:
    accepted = accept(car.document, tight(car), "seen")

    back = withdraw(accepted, "unit_gap", (car.tie, car.c))

    assert back.acceptances == ()
    with pytest.raises(EditRefusedError, match="not accepted"):
        withdraw(back, "unit_gap", (car.tie, car.c))
    with pytest.raises(EditRefusedError, match="not accepted"):
        withdraw(accepted, "unit_gap", (car.tie,))


def test_long_and_like_names_do_not_get_in_the_way(car: TubeCar) -> None:
    long = rename(car.document, car.tie.id, "t" * LONGEST_NAME)

    once = accept(long, tight(car), "seen")
    twice = accept(once, replace(tight(car), subjects=(car.tie, car.d)), "seen")

    names = [found.name for found in twice.acceptances]
    assert len(set(names)) == 2
    assert all(len(name) <= LONGEST_NAME for name in names)


def worked_out(document: Document) -> list[Finding]:
    return assess_all(document, {}, None, When.ASKED).findings()


def test_every_open_finding_of_a_car_can_be_accepted(car: TubeCar) -> None:
    document = car.document
    open_ones = [f for f in worked_out(document) if f.verdict != "fine" and f.subjects]
    assert open_ones
    for finding in open_ones:
        document = accept(document, finding, "seen")

    marked = with_acceptances(document, worked_out(document))

    assert check_document(document) == []
    assert [f for f in marked if f.verdict != "fine" and f.subjects and not f.accepted] == []
    assert {rule.key for rule in RULES} >= {f.rule for f in open_ones} - {"touch_again"}
