"""What a finding rests on: nothing that moves its figure is left out, and most of the car is."""

import random

import pytest

from core.checks.rules import assess_all
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import Limit
from core.document.steel import Bracket
from core.edits.things import make
from core.engine.address import Address, value_of
from core.engine.assess import Assessment, reads_of
from core.engine.cells import CellKey, When
from core.engine.finding import Finding
from core.engine.overlay import with_numbers
from core.engine.view import FieldKey
from core.study.faults import fault
from core.study.figures import is_direction
from core.study.rests import Rests, StudyError, numbers_behind, rests, rules_behind
from tests.core.study.demo import asked, asked_of, found, second

TINY = 1e-3
"""mm; far below any gap between the things of the cars."""

FAULTED = ("SF01", "SF02", "SF05", "SF06", "SF07", "SF10", "SF17")


def car_called(name: str) -> Assessment:
    if name == "second":
        return assess_all(second(), {})
    return asked() if name == "demo" else asked_of(fault(name).overlay)


def to_try(name: str, assessment: Assessment) -> list[Finding]:
    """Some findings of each rule of the whole cars; of a faulted one some that are not fine."""
    every = assessment.findings()
    if name not in ("demo", "second"):
        every = [f for f in every if f.verdict != "fine"]
    return some_of_each(every)


def some_of_each(findings: list[Finding]) -> list[Finding]:
    """The first and the last finding of each rule: every one would take minutes."""
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.rule, []).append(finding)
    return [f for found in by_rule.values() for f in (found[0], *found[1:][-1:])]


def jittered(document: Document, numbers: list[Address], seed: int) -> Document:
    """The document with each number a tiny bit other, by its own amount; nought never below it."""
    lookup, chance = Lookup(document), random.Random(seed)  # noqa: S311 - no secret
    return with_numbers(
        (address, _beside(value_of(lookup, address), chance.uniform(-TINY, TINY)))
        for address in numbers
    )(document)


def _beside(value: object, by: float) -> float:
    assert isinstance(value, int | float)
    return value + (by if value else abs(by))


def around_alone(lookup: Lookup, found_on: Rests) -> list[Address]:
    """Numbers that are around and not near; directions are left, they must stay square."""
    near = set(numbers_behind(lookup, found_on.near))
    return [
        address
        for address in numbers_behind(lookup, found_on.around)
        if address not in near
        and not is_direction(address.path)
        and isinstance(value_of(lookup, address), float)
    ]


def same_figure(a: Finding, b: Finding) -> bool:
    if a.measured is None or b.measured is None:
        return a.measured == b.measured
    return a.measured == pytest.approx(b.measured, abs=1e-9)


@pytest.mark.parametrize("car", ["demo", "second", *FAULTED])
def test_no_number_left_out_moves_the_figure_of_a_finding(car: str) -> None:
    assessment = car_called(car)
    lookup = Lookup(assessment.document)
    moved = 0
    for seed, finding in enumerate(to_try(car, assessment)):
        others = around_alone(lookup, rests(assessment, finding))
        moved += len(others)
        changed = jittered(assessment.document, others, seed)
        again = assess_all(changed, {}, assessment)
        (now,) = [f for f in again.findings() if f.key == finding.key]
        assert same_figure(now, finding), finding.sentence
    assert moved > 100  # else this has tried nothing


def test_the_numbers_that_are_near_do_move_it() -> None:
    # The other half: were near empty, or the jitter of no effect, the test above would show it.
    assessment = asked()
    lookup = Lookup(assessment.document)
    for finding in some_of_each(assessment.findings()):
        if finding.measured is None or finding.rule == "hub_seats":
            continue
        near = [
            address
            for address in numbers_behind(lookup, rests(assessment, finding).near)
            if not is_direction(address.path) and isinstance(value_of(lookup, address), float)
        ]
        again = assess_all(jittered(assessment.document, near, 1), {}, assessment)
        (now,) = [f for f in again.findings() if f.key == finding.key]
        assert not same_figure(now, finding), finding.sentence


def test_near_and_around_are_all_that_the_rule_read() -> None:
    assessment = asked()
    for finding in assessment.findings():
        read = {
            key
            for rule in rules_behind(assessment, finding)
            for key in reads_of(assessment, CellKey(rule.cell, ()))
            if isinstance(key, FieldKey)
        }
        found_on = rests(assessment, finding)
        assert set(found_on.near) | set(found_on.around) == read
        assert not set(found_on.near) & set(found_on.around)


def names_near(assessment: Assessment, finding: Finding) -> set[str]:
    lookup = Lookup(assessment.document)
    return {
        lookup.label(key.ref)
        for key in rests(assessment, finding).near
        if not isinstance(lookup.by_id[key.ref.id], Limit)
    }


def test_the_closest_tube_rests_on_the_unit_and_that_tube() -> None:
    finding = found(asked(), "unit_gap", "M59_backstay_R")
    unit = asked().document.power_units[0].name
    assert names_near(asked(), finding) == {"M59_backstay_R", "D_top_R", "H_R", "T38", unit}


def test_the_plunge_of_a_shaft_rests_on_its_own_side() -> None:
    finding = found(asked(), "shaft_plunge", "drive_shaft_L")
    unit = asked().document.power_units[0].name
    wanted = {"drive_shaft_L", "rear corner left", "rear_hub", "rear wheel", unit}
    assert names_near(asked(), finding) == wanted


def test_a_reach_rests_on_its_two_places_and_on_no_tube() -> None:
    names = names_near(asked(), found(asked(), "bracket_reach", "M2_left_gearbox", "K_L"))
    assert {"M2_left_gearbox", "K_L"} <= names
    assert not names & {"A_low_L", "M37_A_low_cross", "M57_J_to_K_L", "M57_J_to_K_R", "K_R", "W_L"}


def test_the_limit_that_counts_is_near_beside_one_for_a_single_thing() -> None:
    def with_own_limit(document: Document) -> Document:
        tube = Lookup(document).find("M59_backstay_R")[0]
        own = {"rule": "unit_gap", "value": 12.0, "only_for": tube}
        return make(document, Limit, "backstay gap", **own)[0]

    assessment = asked_of(with_own_limit)
    lookup = Lookup(assessment.document)
    finding = found(assessment, "unit_gap", "M59_backstay_R")
    near = {(lookup.label(k.ref), k.path) for k in rests(assessment, finding).near}
    assert {("unit gap", "value"), ("backstay gap", "value")} <= near


def test_what_carries_the_rack_rests_on_the_place_of_the_rack() -> None:
    def with_bracket(document: Document) -> Document:
        on = Lookup(document).find("A_low_L")[0]
        rack = Ref(document.racks[0].id)
        return make(document, Bracket, "rack_bracket", carries=rack, on=on)[0]

    assessment = asked_of(with_bracket)
    finding = found(assessment, "bracket_reach", "steering_rack")
    keys = rests(assessment, finding).near
    assert FieldKey(Ref(assessment.document.racks[0].id), "centre") in keys


def test_a_finding_that_is_not_there_has_nothing_it_rests_on() -> None:
    with pytest.raises(StudyError, match="does not say"):
        rests(asked(), Finding("unit_gap", "no", (), "made up"))


def test_a_rule_not_run_yet_is_named() -> None:
    early = assess_all(asked().document, {}, upto=When.LIVE)
    waiting = [f for f in early.findings() if "Not computed yet" in f.sentence]
    assert waiting
    assert all(rests(early, f).not_yet for f in waiting)
