"""How much a finding moves with a number, and how sure its figure is.

A number is shifted up and down on an overlay, past all holds, and the same rules are asked again.

Source:
    Joint Committee for Guides in Metrology, JCGM 100:2008, «Guide to the expression of uncertainty
    in measurement»: 5.1.2, equation (10), for numbers that are not correlated; 5.1.3, note 2, for
    half the difference of the results at plus and minus one uncertainty.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot, radians

from core.document.lookup import Lookup
from core.engine.address import Address, AddressError, piece, said, value_of
from core.engine.assess import Assessment, assess
from core.engine.cells import Rule, When
from core.engine.finding import WORDS, Finding, Verdict
from core.engine.overlay import shifted
from core.study.figures import (
    figure,
    is_direction,
    plural,
    sides_moving,
    source_at,
    stated_doubt,
    unit_of,
    with_unit,
)
from core.study.rests import StudyError, numbers_behind, rests, rules_behind

OWN_STEPS = {"mm": 0.5, "deg": 0.25}
"""Steps of numbers whose doubt is not known, by unit: about what tape and angle finder read."""

OWN_STEP_OF_DIRECTION = radians(0.25)
OWN_STEP_OF_AXES = 4e-4
"""Step of one part of a set of three axes: no farther than a set may be out of square."""

OWN_SHARE = 0.01
"""Step of a number of any other unit, as a share of it; of nought, the step itself."""


IN_PROPORTION = 0.1
"""A figure goes in proportion if its steeper side is not this share above the mean of the two."""

ROUNDING = 1e-6
"""A change of a figure that is no more than this, in its unit, is rounding."""


@dataclass(frozen=True)
class Sensitivity:
    """What a shift of one number does to the figure of a finding.

    Attributes:
        address: the number.
        step: how far it was shifted either way, in its own unit.
        uncertainty: its standard uncertainty; none where it is not known.
        per_unit: change of the figure for each unit of the number, by central difference; by the
            one side that has the figure where the finding is gone on the other; none where it is
            gone on both.
        steepest: the larger change of the two sides for each unit, without sign.
        contribution: `per_unit` times the uncertainty; `steepest` times it where the figure does
            not go in proportion (a least gap that changes tubes, an amount off, whatever its
            sign), for there the two sides cancel; none where either is not known.
        verdict_low: verdict with the number a step lower; none where the finding is not there.
        verdict_high: verdict with it a step higher.
        note: what could not be followed, in words.
    """

    address: Address
    step: float
    uncertainty: float | None
    per_unit: float | None
    steepest: float | None
    contribution: float | None
    verdict_low: Verdict | None
    verdict_high: Verdict | None
    note: str = ""

    @property
    def effect(self) -> float:
        """The change of the figure at one step, without sign; 0 where it is not known."""
        return 0.0 if self.steepest is None else self.steepest * self.step

    def matters(self, verdict: Verdict) -> bool:
        """Whether the step changes the figure, the verdict, or whether there is a finding."""
        same_verdict = self.verdict_low == self.verdict_high == verdict
        return self.effect > ROUNDING or not same_verdict or bool(self.note)


def sensitivity(
    assessment: Assessment, finding: Finding, address: Address, step: float | None = None
) -> Sensitivity:
    """What a shift of one number does to a finding.

    Args:
        assessment: the car as it is.
        finding: one of its findings; known again by rule and main subject.
        address: a single number. A pair's number moves on both sides.
        step: the shift; without one the number's uncertainty, and where that is not known 0.5 mm
            or 0.25 deg, a small turn for a part of a direction, and for all others a hundredth.

    Raises:
        StudyError: the assessment does not say the finding, the address is not a single number,
            or the step is not above zero.
        AddressError: nothing is there.
    """
    lookup = Lookup(assessment.document)
    value = _number(lookup, address)
    doubt_of_it = uncertainty_of(lookup, address)
    by = step if step is not None else doubt_of_it or own_step(lookup, address, value)
    if not by > 0:
        msg = f"the step of {said(lookup, address)} must be above zero, not {by:g}"
        raise StudyError(msg)
    rules = rules_behind(assessment, finding)
    low, high = (_asked_again(assessment, finding, rules, address, s * by) for s in (-1.0, 1.0))
    slopes = _slopes(finding, low.finding, high.finding, by)
    return Sensitivity(
        address=address,
        step=by,
        uncertainty=doubt_of_it,
        per_unit=sum(slopes) / len(slopes) if slopes else None,
        steepest=max(map(abs, slopes), default=None),
        contribution=_contribution(slopes, doubt_of_it),
        verdict_low=low.verdict,
        verdict_high=high.verdict,
        note="; ".join(note for note in (low.note, high.note) if note),
    )


def _contribution(slopes: list[float], uncertainty: float | None) -> float | None:
    if uncertainty is None or not slopes:
        return None
    mean, steepest = sum(slopes) / len(slopes), max(map(abs, slopes))
    in_proportion = steepest <= abs(mean) * (1 + IN_PROPORTION)
    return (mean if in_proportion else steepest) * uncertainty


def _number(lookup: Lookup, address: Address) -> float:
    value = value_of(lookup, address)
    if isinstance(value, bool) or not isinstance(value, int | float):
        msg = f"{said(lookup, address)} is not a single number; name one inside it"
        raise StudyError(msg)
    return float(value)


def uncertainty_of(lookup: Lookup, address: Address) -> float | None:
    """The standard uncertainty of a number, none where it is not known; see `stated_doubt`.

    A pair's number has the larger one of its two sides, and none if a side is a mere guess.
    """
    known: list[float] = []
    for side in _sides(lookup, address):
        stated = stated_doubt(lookup, side)
        if stated is not None:
            known.append(stated)
        elif source_at(lookup, side) == "guessed":
            return None
    return max(known, default=None)


def _sides(lookup: Lookup, address: Address) -> Iterator[Address]:
    return (Address(ref, address.path) for ref in sides_moving(lookup, address))


def own_step(lookup: Lookup, address: Address, value: float) -> float:
    """The step for a number whose doubt is not known; see `OWN_STEPS`."""
    if "axes" in address.path.split("."):
        return OWN_STEP_OF_AXES
    if is_direction(address.path):
        return OWN_STEP_OF_DIRECTION
    unit = unit_of(piece(lookup, address.ref), address.path)
    return OWN_STEPS.get(unit, abs(value) * OWN_SHARE or OWN_SHARE)


@dataclass(frozen=True)
class _Again:
    """A finding on an overlay, if it is there, and what is to be said if not."""

    finding: Finding | None
    note: str = ""

    @property
    def verdict(self) -> Verdict | None:
        return None if self.finding is None else self.finding.verdict


def _asked_again(
    assessment: Assessment, finding: Finding, rules: tuple[Rule, ...], address: Address, by: float
) -> _Again:
    way = f"{figure(abs(by))} {'lower' if by < 0 else 'higher'}"
    try:
        document = shifted(address, by)(assessment.document)
    except AddressError as error:
        return _Again(None, f"{way} is not possible: {error}")
    rooms = {rule.room for rule in rules}
    wider = tuple(rule for rule in assessment.rules if rule.room in rooms)
    for asked in (rules, wider):
        again = assess(document, assessment.meshes, assessment, asked, When.ASKED)
        found = again.findings()
        same = [f for f in found if f.key == finding.key] or _same_subject(found, finding)
        if same:
            return _Again(same[0])
    return _Again(None, f"{way}, {_instead(Lookup(document), found, finding)}")


def _same_subject(found: Iterable[Finding], finding: Finding) -> list[Finding]:
    """The only finding of the same rule and main subject; none if there are several."""
    alike = [f for f in found if f.rule == finding.rule and f.subjects[:1] == finding.subjects[:1]]
    return alike if len(alike) == 1 else []


def _instead(lookup: Lookup, found: list[Finding], finding: Finding) -> str:
    others = [f for f in found if f.rule == finding.rule and f.subjects]
    known = [f for f in others if f.subjects[1:] == finding.subjects[1:]]
    if finding.subjects[1:] and len(known) == 1:
        new = known[0]
        return f"{lookup.label(new.subjects[0])} takes its place ({WORDS[new.verdict]})"
    return "it is gone"


def _slopes(now: Finding, low: Finding | None, high: Finding | None, step: float) -> list[float]:
    """Change of the figure for each unit of the number, below and above, where it has a figure.

    The mean of the two is the central difference.
    """
    found: list[float] = []
    if now.measured is not None:
        if low is not None and low.measured is not None:
            found.append((now.measured - low.measured) / step)
        if high is not None and high.measured is not None:
            found.append((high.measured - now.measured) / step)
    return found


@dataclass(frozen=True)
class Doubt:
    """How sure the figure of a finding is.

    Attributes:
        total: standard uncertainty of the figure in its unit, from all numbers with a known one;
            none where the finding has no figure.
        unit: of `total`.
        parts: numbers with a known uncertainty that move the figure, most first.
        not_bounded: guessed numbers without one that move it, by what one own step does, most
            first; and numbers whose effect could not be followed.
        is_lower_bound: the true doubt is larger than `total`, by an unknown amount.
    """

    total: float | None
    unit: str
    parts: tuple[Sensitivity, ...]
    not_bounded: tuple[Sensitivity, ...]
    is_lower_bound: bool

    @property
    def words(self) -> str:
        """The doubt in one sentence; what is not known is said."""
        if self.total is None:
            return "It has no figure, so no ± can be worked out."
        if self.is_lower_bound and not self.parts:
            count = plural(len(self.not_bounded), "number")
            return f"Its ± is not known: it rests on {count} that nothing bounds."
        figures = f"± {with_unit(round(self.total, 2), self.unit)}"
        if not self.is_lower_bound:
            return f"{figures}, one standard uncertainty."
        count = plural(len(self.not_bounded), "number")
        return f"At least {figures}: nothing bounds {count} it also rests on."


def doubt(assessment: Assessment, finding: Finding) -> Doubt:
    """How sure the figure of a finding is, and which numbers that comes from.

    Each number it rests on (`core.study.rests`) is shifted by its own uncertainty, and the
    contributions are added in quadrature. A pair's number is one number: both sides move together.
    Which ± counts for a number is told in `core.study.figures.stated_doubt`. Numbers that are the ±
    of others are not varied. Chosen numbers and numbers in hand count as exact unless a ± is given
    for them. All are taken for independent: of a drawn length that was itself worked out from the
    bench, the doubt against that bench comes out too large, never too small.

    Raises:
        StudyError: the assessment does not say the finding.
    """
    lookup = Lookup(assessment.document)
    found = rests(assessment, finding)
    numbers = [a for a in numbers_behind(lookup, found.near) if _is_varied(lookup, a)]
    all_parts = [sensitivity(assessment, finding, address) for address in numbers]
    moving = [part for part in all_parts if part.matters(finding.verdict)]
    parts = [part for part in moving if part.contribution is not None]
    open_ones = [part for part in moving if part.contribution is None]
    has_figure = finding.measured is not None
    return Doubt(
        total=hypot(*(p.contribution or 0.0 for p in parts)) if has_figure else None,
        unit=finding.unit,
        parts=tuple(sorted(parts, key=lambda p: -abs(p.contribution or 0.0))),
        not_bounded=tuple(sorted(open_ones, key=lambda p: -p.effect)),
        is_lower_bound=bool(open_ones) or bool(found.not_yet),
    )


def _is_varied(lookup: Lookup, address: Address) -> bool:
    """Whether a number is uncertain: it has a known ± above zero, or one side of it is guessed."""
    if address.path.endswith("_uncertainty"):
        return False
    doubt_of_it = uncertainty_of(lookup, address)
    if doubt_of_it is not None:
        return doubt_of_it > 0
    return any(source_at(lookup, side) == "guessed" for side in _sides(lookup, address))
