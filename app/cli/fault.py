"""`fault`: a car with a known fault laid over it, and what became worse by that."""

from collections.abc import Iterator
from pathlib import Path

from app.cli.car import load
from app.cli.check import exit_code
from app.cli.saying import say, warn
from core.checks.rules import assess_all, to_look_at
from core.engine.assess import Assessment
from core.study.faults import FAULTS, Fault
from core.study.faults import fault as fault_called
from core.workshop.report import closing_lines, finding_lines, heading_lines, tally, worsened


def run_list() -> int:
    """Print every fault there is; return 0."""
    say(f"{fault.name}: {fault.what}" for fault in FAULTS)
    return 0


def run(file: Path, name: str) -> int:
    """Print what a fault makes worse, and return the exit code of a check of the faulted car.

    Raises:
        JigplateError: the file cannot be read, there is no such fault, or it does not fit the car.
    """
    fault = fault_called(name)
    car = load(file)
    warn(car.warnings)
    before = assess_all(car.drawn, car.meshes)
    after = assess_all(fault.overlay(car.drawn), car.meshes, before)
    say([*heading_lines(car.drawn, car.version), *_lines(fault, before, after)])
    return exit_code(to_look_at(after))


def _lines(fault: Fault, before: Assessment, after: Assessment) -> Iterator[str]:
    worse = worsened(before, after)
    amiss = [finding for finding in worse if finding.verdict != "fine"]
    fine = [finding for finding in worse if finding.verdict == "fine"]
    yield f"With this fault laid over the car: {fault.what}"
    if fault.unseen:
        yield f"No rule reports this fault yet: {fault.unseen}"
    if fault.not_all:
        yield f"Not all of this fault is reported yet: {fault.not_all}"
    yield "Only what is new or worse than without it is told here."
    yield tally(amiss)
    for finding in amiss:
        yield from finding_lines(finding)
    if fine:
        yield ""
        yield "Worse, though still fine:"
    for finding in fine:
        yield from finding_lines(finding)
    yield ""
    yield from closing_lines()
