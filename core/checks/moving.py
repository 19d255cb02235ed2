"""The rule on gaps of what moves with the wheels, to tubes and to one another."""

from collections.abc import Iterator

from core.assess.limits import Limited, limit
from core.assess.moving import MovingGap, MovingGaps, moving_gaps
from core.assess.pairs import is_on_rigid_axle, links_of
from core.checks.positions import SHOWN, position_words
from core.document.base import Ref
from core.document.running_gear import Corner
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding
from core.quantities import number

KEY = "moving_gap"

NAMED = ("damper", "spring", "tyre", "drive shaft", "outer boot", "rod")
"""What is called by what it is; a link has a name of its own."""


@cell(When.RELEASE)
def gaps(read: Reader) -> Findings:
    """Whether what moves with each wheel stays clear, through travel and steer."""
    corners = read.all(Corner)
    if not corners:
        msg = "no corner is entered"
        raise NotComputedError(msg)
    return tuple(finding for ref in corners for finding in read(gaps_of, ref))


@cell(When.RELEASE)
def gaps_of(read: Reader, ref: Ref) -> Findings:
    """Every pair of one corner that is not fine, else the closest; and what is unknown."""
    try:
        found = read(moving_gaps, ref)
    except NotComputedError as error:
        return (_unknown(read, ref, (str(error),)),)
    known = [_finding(read, ref, gap) for gap in found.gaps]
    amiss = [finding for finding in known if finding.verdict != "fine"]
    amiss.sort(key=lambda finding: -finding.shortfall)
    told = [_unknown(read, ref, found.unknown)] if found.unknown else []
    return (*(amiss or known[:1] or _far(read, ref, found)), *told)


def _unknown(read: Reader, ref: Ref, reasons: tuple[str, ...]) -> Finding:
    words = (
        f"Whether all that moves with {read.label(ref)} stays clear is not known: "
        f"{'; '.join(reasons)}."
    )
    return Finding(KEY, "unknown", (ref,), words)


def _far(read: Reader, ref: Ref, found: MovingGaps) -> Iterator[Finding]:
    """That nothing comes near, where there was something to look at."""
    if found.parts:
        words = (
            f"Nothing that moves with {read.label(ref)} comes within {number(found.reach, 0)} of "
            "a tube, or of anything else that moves with it."
        )
        yield Finding(KEY, "fine", (ref,), words)


def _finding(read: Reader, ref: Ref, gap: MovingGap) -> Finding:
    held = read(limit, KEY, ref, *gap.about)
    return Finding(
        KEY,
        held.verdict_at_least(gap.gap),
        (ref, *gap.about),
        _sentence(read, ref, gap, held),
        measured=gap.gap,
        limit=held.value,
        place=gap.place,
        governing=_where(gap),
        limit_source=held.source,
    )


def _sentence(read: Reader, ref: Ref, gap: MovingGap, held: Limited) -> str:
    other = _named(gap.other_piece) if gap.other is None else read.label(gap.other)
    what = f"{_named(gap.piece, 'The')} of {read.label(_owner(read, ref, gap.part))}"
    where = _where(gap)
    if gap.gap < -SHOWN:
        return (
            f"{what} meets {other} at {where}: they overlap by {number(-gap.gap, 1)} or "
            "more. Move one of them, or stop the wheel earlier."
        )
    words = f"{what} comes within {number(gap.gap, 1)} of {other} at {where}."
    if held.verdict_at_least(gap.gap) == "no":
        words += f" {number(held.value, 1)} is wanted: move one of them, or stop the wheel earlier."
    return words


def _where(gap: MovingGap) -> str:
    return position_words(gap.bump, gap.rack, gap.others_height)


def _owner(read: Reader, ref: Ref, part: str) -> Ref:
    """The corner, or the axle whose link it is."""
    names = {link.name for link in links_of(read, ref)}
    is_axles = part in names and read(is_on_rigid_axle, ref)
    return read.thing(Corner, ref).axle if is_axles else ref


def _named(piece: str, article: str = "the") -> str:
    """With an article, unless it has a name."""
    return f"{article} {piece}" if piece in NAMED else piece


RULES = (
    Rule(
        KEY, "Does what moves with each wheel stay clear, through travel and steer?", gaps,
        "suspension",
    ),
)  # fmt: skip
