"""`check`: what to look at in a car, worst first."""

from collections.abc import Iterable
from pathlib import Path

from app.cli.car import load
from app.cli.saying import say, warn
from core.checks.rules import assess_all, to_look_at
from core.engine.finding import Finding, Verdict
from core.workshop.figures import figures
from core.workshop.report import answer, check_lines, heading_lines

EXIT: dict[Verdict, int] = {"no": 1, "unknown": 3, "tight": 0, "fine": 0}
"""Exit code for the worst that is not accepted; 2 is kept for what cannot be read."""


def run(file: Path) -> int:
    """Print what is found in a car, and return the exit code for it.

    Raises:
        JigplateError: the file cannot be read.
    """
    car = load(file)
    warn(car.warnings)
    assessment = assess_all(car.drawn, car.meshes, also=(figures,))
    say([*heading_lines(car.drawn, car.version), *check_lines(assessment)])
    return exit_code(to_look_at(assessment))


def exit_code(findings: Iterable[Finding]) -> int:
    """0: nothing fails and all is known; 1: something fails; 3: something is not known."""
    return EXIT[answer(findings)]
