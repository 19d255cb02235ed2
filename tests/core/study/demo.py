"""The demo car, asked once, and what is found about cars made from it."""

from collections.abc import Callable, Iterable
from functools import cache

from core.checks.rules import assess_all, to_look_at
from core.document.lookup import Lookup
from core.document.project import Document
from core.engine.address import Address, parse_address
from core.engine.assess import Assessment
from core.engine.finding import Finding
from tests.cars.convert import DEMO, SECOND, project_of
from tests.cars.neutral import read_neutral


@cache
def demo() -> Document:
    return project_of(read_neutral(DEMO)).drawn


@cache
def second() -> Document:
    return project_of(read_neutral(SECOND)).drawn


@cache
def asked() -> Assessment:
    return assess_all(demo(), {})


def asked_of(change: Callable[[Document], Document]) -> Assessment:
    """The demo car with a change, asked again from the car without it."""
    return assess_all(change(demo()), {}, asked())


def found(assessment: Assessment, rule: str, *labels: str) -> Finding:
    """The only finding of a rule whose first subjects are called so."""
    lookup = Lookup(assessment.document)
    fitting = [
        finding
        for finding in assessment.findings()
        if finding.rule == rule
        and tuple(lookup.label(ref) for ref in finding.subjects[: len(labels)]) == labels
    ]
    assert len(fitting) == 1, f"{len(fitting)} findings of {rule} on {labels}"
    return fitting[0]


def alarms(assessment: Assessment) -> set[tuple[str, tuple[str, ...]]]:
    """Rule and subjects by name of every «no» and «don't know» that is not accepted."""
    lookup = Lookup(assessment.document)
    return {(f.rule, tuple(lookup.label(ref) for ref in f.subjects)) for f in open_ones(assessment)}


def open_ones(assessment: Assessment) -> list[Finding]:
    return [f for f in to_look_at(assessment) if f.verdict in ("no", "unknown") and not f.accepted]


def rules_of(findings: Iterable[tuple[str, tuple[str, ...]]]) -> set[str]:
    return {rule for rule, _ in findings}


def at(document: Document, text: str) -> Address:
    """The address that a person would type."""
    return parse_address(Lookup(document), text)
