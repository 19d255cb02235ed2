"""Findings: what a rule has to say about a place."""

from dataclasses import dataclass
from typing import Literal

from core.document.base import Ref, Vec3

Verdict = Literal["fine", "tight", "no", "unknown"]

WORDS: dict[Verdict, str] = {"fine": "fine", "tight": "tight", "no": "no", "unknown": "don't know"}
WORST_FIRST: tuple[Verdict, ...] = ("no", "unknown", "tight", "fine")


@dataclass(frozen=True)
class Remedy:
    """An edit that would mend a finding: its name, its arguments, and what it does in words."""

    edit: str
    arguments: tuple[tuple[str, object], ...]
    words: str


@dataclass(frozen=True)
class Finding:
    """One verdict of a rule, with what it was measured against and what to do.

    Attributes:
        rule: the rule's key, such as `unit_gap`.
        verdict: fine, tight, no or unknown.
        subjects: the things it is about, each with its side.
        sentence: what a builder should know or do.
        measured: the figure, in `unit`; none if it could not be measured or is not a figure.
        limit: the figure it is held against.
        higher_is_worse: which way the figure gets worse.
        unit: of both figures.
        place: where in the car, mm, car frame.
        governing: the position or condition that governs.
        limit_source: where the limit comes from.
        remedies: edits that would mend it.
        accepted: the builder's reason, when it was accepted and has not got worse.
        behind: it was found before the last change, and its rule has not been run since.
    """

    rule: str
    verdict: Verdict
    subjects: tuple[Ref, ...]
    sentence: str
    measured: float | None = None
    limit: float | None = None
    higher_is_worse: bool = False
    unit: str = "mm"
    place: Vec3 | None = None
    governing: str = ""
    limit_source: str = ""
    remedies: tuple[Remedy, ...] = ()
    accepted: str = ""
    behind: bool = False

    @property
    def shortfall(self) -> float:
        """By how much it misses its limit; below zero is what is spare, 0 without figures."""
        if self.measured is None or self.limit is None:
            return 0.0
        miss = self.measured - self.limit
        return miss if self.higher_is_worse else -miss

    @property
    def key(self) -> tuple[str, tuple[Ref, ...]]:
        """What it is about, whatever its figures are."""
        return (self.rule, self.subjects)


def is_worse(finding: Finding, measured: float | None) -> bool:
    """Whether a finding is worse than it was at that figure; unlike kinds of answer are."""
    if (finding.measured is None) != (measured is None):
        return True
    if finding.measured is None or measured is None:
        return False
    step = finding.measured - measured
    return (step if finding.higher_is_worse else -step) > WORSE_BY


WORSE_BY = 0.05
"""An accepted finding opens again when its figure worsens by more than this, in its own unit:
half of the last digit shown on screen."""
