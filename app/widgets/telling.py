"""What a finding is told as: its figure against its limit, in words, and on a scale."""

from typing import NamedTuple

from core.assess.limits import DEFAULTS
from core.document.lookup import Lookup
from core.engine.finding import WORDS, Finding
from core.quantities import number
from core.workshop.report import measure

_LIMIT_OF: dict[str, str] = {
    "unit_gap": "unit_gap",
    "way_out": "drop_gap",
    "bracket_reach": "bracket_reach",
    "shaft_plunge": "plunge_reserve",
    "wheel_planes": "plunge_reserve",
    "shaft_inner_angle": "joint_angle",
    "shaft_outer_angle": "joint_angle",
}
"""The limit whose margin says where tight begins, for each rule that has such a margin."""

BEFORE = "before this change"
ACCEPTED = "accepted"


class Scale(NamedTuple):
    """A figure on a scale.

    Attributes:
        measured: the figure.
        limit: the figure it is held against.
        margin: how far on the good side of the limit still counts as tight; 0 where nothing does.
        high_is_bad: on which side of the limit no begins.
        unit: of all three.
    """

    measured: float
    limit: float
    margin: float
    high_is_bad: bool
    unit: str

    @property
    def fine_from(self) -> float:
        """Where fine begins."""
        return self.limit - self.margin if self.high_is_bad else self.limit + self.margin


def scale_of(finding: Finding) -> Scale | None:
    """A finding's figure on a scale; none where it is not a figure against a limit.

    A slide of a shaft's joint is told without its direction, for the sentence names that.
    """
    if finding.measured is None or finding.limit is None:
        return None
    key = _LIMIT_OF.get(finding.rule)
    margin = 0.0 if key is None else DEFAULTS[key].margin
    if finding.rule == "shaft_plunge":
        return Scale(
            abs(finding.measured), abs(finding.limit), margin, high_is_bad=True, unit=finding.unit
        )
    worse = finding.higher_is_worse
    return Scale(finding.measured, finding.limit, margin, worse, finding.unit)


def verdict_word(finding: Finding) -> str:
    """The word for a finding: its verdict, or that it was accepted or is of before."""
    if finding.behind:
        return BEFORE
    return ACCEPTED if finding.accepted else WORDS[finding.verdict]


def figure_words(finding: Finding) -> str:
    """A finding's figure and its limit, with no minus where a word says the side."""
    if finding.measured is None:
        return ""
    scale = scale_of(finding)
    unit = "°" if finding.unit == "deg" else f" {finding.unit}"
    if finding.rule in ("unit_gap", "way_out") and scale is not None:
        wanted = f"{number(scale.limit, 1)} wanted"
        if finding.measured < 0:
            return f"overlap {number(-finding.measured, 1)}{unit}, {wanted}"
        return f"{number(finding.measured, 1)}{unit}, {wanted}"
    if finding.rule == "wheel_planes":
        return _over(finding.measured)
    if scale is None:
        return _bare(finding, unit)
    words = measure(scale.measured, scale.limit, "", most=scale.high_is_bad)
    told = words.replace("  ", " ").replace(" ,", ",").replace(" wanted", "").strip()
    return told if finding.unit == "mm" else told.replace(",", f"{unit},", 1)


def _over(spare: float) -> str:
    if spare < 0:
        return f"short of stroke by {number(-spare, 1)} mm"
    return f"{number(spare, 1)} mm of stroke left over"


def _bare(finding: Finding, unit: str) -> str:
    assert finding.measured is not None
    if finding.measured < 0:
        return f"overlap {number(-finding.measured, 1)}{unit}"
    return f"{number(finding.measured, 1)}{unit}"


def detail_words(finding: Finding) -> str:
    """The second line of a finding: its figure, and the position that governs."""
    return " · ".join(part for part in (figure_words(finding), finding.governing) if part)


def names_of(lookup: Lookup, finding: Finding) -> str:
    """What a finding is about, by name."""
    return ", ".join(lookup.label(ref) for ref in finding.subjects)
