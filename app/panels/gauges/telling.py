"""What the three gauges say: the worst of their room, its leading figure, and one beside it."""

from collections import Counter
from collections.abc import Sequence
from typing import Literal, NamedTuple

from app.session import State
from core.assess.clearance import closest_at_rest, gaps_on_way_out
from core.assess.width import AxleWidth, axle_width, driven_pairs
from core.document.base import Ref
from core.document.lookup import Lookup
from core.engine.cells import NotComputedError
from core.engine.finding import WORDS, Finding, Verdict
from core.quantities import number
from core.study.order import Order
from core.study.steps import worst_of

GaugeKey = Literal["width", "gaps", "load paths"]
KEYS: tuple[GaugeKey, ...] = ("width", "gaps", "load paths")
TITLES: dict[GaugeKey, str] = {"width": "Width", "gaps": "Gaps", "load paths": "Load paths"}
_ROOMS: dict[GaugeKey, str] = {"width": "width", "gaps": "clearance", "load paths": "load paths"}

TOLD = {
    "unmet_bend": ("bend unmet", "bends unmet"),
    "mid_tube_tee": ("tube bent in mid-tube", "tubes bent in mid-tube"),
    "loose_joint": ("loose end", "loose ends"),
    "touching": ("touch without a joint", "touches without a joint"),
    "touch_again": ("touch beside a joint", "touches beside a joint"),
    "doubled_joint": ("doubled joint", "doubled joints"),
    "open_bay": ("open bay", "open bays"),
    "joint_apart": ("joint off its tube", "joints off their tubes"),
    "short_straight": ("straight too short", "straights too short"),
    "tube_shape": ("tube that cannot be bent", "tubes that cannot be bent"),
    "bracket_reach": ("long bracket", "long brackets"),
    "off_joint": ("bracket off a joint", "brackets off a joint"),
    "stacked_bracket": ("bracket on a bracket", "brackets on brackets"),
    "not_carried": ("thing not carried", "things not carried"),
    "stay_fit": ("stay does not fit", "stays do not fit"),
}
"""What one, and several, of a rule's findings are called in a gauge."""


class Reading(NamedTuple):
    """What a gauge shows.

    Attributes:
        verdict: the worst that is not accepted; one that has not caught up never counts as fine.
        lead: the leading figure or words.
        beside: what stands beside it.
        behind: whether some of it is of before the last change.
        worst: the finding that a click goes to, if there is one.
    """

    verdict: Verdict
    lead: str
    beside: str
    behind: bool
    worst: Finding | None


def reading(key: GaugeKey, state: State) -> Reading:
    """What one gauge shows of a car."""
    found = _of_room(key, state)
    behind = any(finding.behind for finding in found)
    verdict = _worst_verdict(found)
    worst = next((f for f in found if f.subjects), None)
    lead, beside = _WORDS[key](state, found)
    return Reading(verdict, lead, beside, behind, worst)


def _of_room(key: GaugeKey, state: State) -> list[Finding]:
    """The findings of a room, worst first."""
    assessment = state.assessment
    rules = [rule for rule in assessment.rules if rule.room == _ROOMS[key]]
    keys = {finding.key for rule in rules for finding in assessment.findings_of(rule)}
    return [finding for finding in state.findings if finding.key in keys]


def _worst_verdict(found: Sequence[Finding]) -> Verdict:
    """The worst that counts; nothing found is not known, and neither is what has not caught up."""
    verdicts: set[Verdict] = {"unknown" if f.behind else f.verdict for f in found if not f.accepted}
    if not found:
        return "unknown"
    return worst_of(verdicts)


def _width_words(state: State, _found: Sequence[Finding]) -> tuple[str, str]:
    widths = width_of(state)
    if widths is None:
        return WORDS["unknown"], _why_no_width(state)
    end = Order(state.document).driven_end
    spare, side = min(
        (left, name)
        for i, name in enumerate(("left", "right"))
        for left in (
            widths.planes[i] - widths.ranges[i].lower,
            widths.ranges[i].upper - widths.planes[i],
        )
    )
    lead = f"{number(widths.track, 1)} {end}"
    if spare < 0:
        return lead, f"{side} shaft {number(-spare, 1)} over its stroke"
    return lead, f"{number(spare, 1)} left in the {side} shaft, at design"


def width_of(state: State) -> AxleWidth | None:
    """The width across the first driven axle, if it is known."""
    try:
        pairs = state.assessment.value(driven_pairs)
        return state.assessment.value(axle_width, *pairs[0]) if pairs else None
    except NotComputedError:
        return None


def _why_no_width(state: State) -> str:
    if not state.document.drive_shafts:
        return "no drive shafts yet"
    return "wheels or shafts not complete"


def _gap_words(state: State, _found: Sequence[Finding]) -> tuple[str, str]:
    try:
        gap = state.assessment.value(closest_at_rest)
    except NotComputedError as error:
        return WORDS["unknown"], str(error)
    lookup = Lookup(state.document)
    figure = f"overlap {number(-gap.gap, 1)}" if gap.gap < 0 else number(gap.gap, 1)
    return f"{figure} standing", f"{_plain(gap.part)} to {lookup.label(gap.tube)}{_out(state)}"


def _out(state: State) -> str:
    gaps: list[float] = []
    for way in state.document.ways_out:
        try:
            gaps.append(state.assessment.value(gaps_on_way_out, Ref(way.id))[0].gap)
        except (NotComputedError, IndexError):
            return ""
    if not gaps:
        return ""
    least = min(gaps)
    return f" · way out {f'overlap {number(-least, 1)}' if least < 0 else number(least, 1)}"


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _path_words(state: State, found: Sequence[Finding]) -> tuple[str, str]:
    if not state.document.tubes:
        return WORDS["unknown"], "no tubes yet"
    amiss = Counter(f.rule for f in found if not f.accepted and f.verdict in ("no", "unknown"))
    accepted = sum(bool(f.accepted) for f in found)
    tight = Counter(f.rule for f in found if not f.accepted and f.verdict == "tight")
    beside = [*(_told(rule, n) for rule, n in amiss.most_common()[1:])]
    beside += [f"{_told(rule, n)}, tight" for rule, n in tight.items()]
    beside += [f"{accepted} accepted"] if accepted else []
    if amiss:
        return _told(*amiss.most_common()[0]), ", ".join(beside)
    return "every bend met", ", ".join(beside)


def _told(rule: str, count: int) -> str:
    one, several = TOLD.get(rule, (rule.replace("_", " "), rule.replace("_", " ")))
    return f"{count} {one if count == 1 else several}"


_WORDS = {"width": _width_words, "gaps": _gap_words, "load paths": _path_words}
