"""The rule on the joints of links, pivots and hinges: each must tilt less than it allows."""

from core.assess.limits import Limited, limit
from core.assess.places import place
from core.assess.tilts import EndTilt, NoTilt, tilts
from core.checks.corners import each_corner, unknown
from core.checks.positions import position_words
from core.document.base import Ref
from core.engine.cells import Findings, NotComputedError, Reader, When, cell
from core.engine.finding import Finding
from core.quantities import number


@cell(When.RELEASE)
def link_tilts(read: Reader) -> Findings:
    """How far the joint at each end of each link tilts, against the figure on the part."""
    return each_corner(read, link_tilts_of)


@cell(When.RELEASE)
def link_tilts_of(read: Reader, ref: Ref) -> Findings:
    """The same of one corner."""
    try:
        found = read(tilts, ref)
    except NotComputedError as error:
        return unknown("link_tilt", ref, f"link joints of {read.label(ref)}: {error}.")
    known = tuple(_tilt(read, ref, each) for each in found if isinstance(each, EndTilt))
    rest = [each for each in found if isinstance(each, NoTilt)]
    untold = tuple(_no_tilt(read, ref, each) for each in rest if each.has_joint)
    return (*known, *untold, *_untold(read, ref, [each for each in rest if not each.has_joint]))


def _no_tilt(read: Reader, ref: Ref, found: NoTilt) -> Finding:
    words = f"The joint at {read.label(found.end)} ({found.link}): {found.reason}."
    return Finding("link_tilt", "unknown", (found.end, ref), words, place=read(place, found.end))


def _untold(read: Reader, ref: Ref, found: list[NoTilt]) -> Findings:
    """One finding for all the joints of a corner of which nothing is entered."""
    if not found:
        return ()
    names = ", ".join(dict.fromkeys(read.label(each.end) for each in found))
    words = (
        f"What joint is at {names}, and how its bolt lies, is not known: enter kind, direction "
        "and the tilt it allows."
    )
    return (Finding("link_tilt", "unknown", (ref, *(each.end for each in found)), words),)


def _tilt(read: Reader, ref: Ref, tilt: EndTilt) -> Finding:
    allowed, where = _allowed(read, ref, tilt), position_words(tilt.bump, tilt.rack, tilt.other)
    name = f"{read.label(tilt.end)} ({tilt.link})"
    said = f"The joint at {name} tilts {number(tilt.tilt_deg, 1)} deg"
    if allowed is None:
        words = f"{said}; what it allows is not known: enter the figure of the part."
        return Finding(
            "link_tilt", "unknown", (tilt.end, ref), words, tilt.tilt_deg,
            higher_is_worse=True, unit="deg", place=read(place, tilt.end), governing=where,
        )  # fmt: skip
    verdict = allowed.verdict_at_most(tilt.tilt_deg)
    words = f"{said}, {number(allowed.value, 1)} allowed"
    words += "; turn its bolt, or move an end." if verdict == "no" else "."
    if verdict != "no" and not tilt.is_whole:
        verdict = "unknown"
        words = f"{words[:-1]}; the wheel does not reach all of its travel and steer."
    return Finding(
        "link_tilt",
        verdict,
        (tilt.end, ref),
        words,
        measured=tilt.tilt_deg,
        limit=allowed.value,
        higher_is_worse=True,
        unit="deg",
        place=read(place, tilt.end),
        governing=where,
        limit_source=allowed.source,
    )


def _allowed(read: Reader, ref: Ref, tilt: EndTilt) -> Limited | None:
    """The figure on the part, else this car's own for parts that say nothing; none, not known."""
    if tilt.limit_deg is not None:
        source = tilt.limit_from or "the part's own figure"
        return Limited(tilt.limit_deg, TILT_MARGIN, "deg", source)
    try:
        return read(limit, "link_tilt", tilt.end, ref)
    except NotComputedError:
        return None


TILT_MARGIN = 2.0
"""Within so many degrees of the figure on the part is tight; as for a limit of the car's own."""
