"""What toe read with a board at several heights tells of a corner: which end or link may be off."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.assess.adjusters import LENGTHENS, CornerAdjusters, Fitted, adjusters_of, ends_at
from core.assess.linkages import linkage
from core.assess.pairs import stands_on
from core.assess.places import array, place
from core.assess.travels import solved
from core.document.base import Ref
from core.document.boards import ToeBoard
from core.document.running_gear import Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.board import BoardReadings, Candidate, Explained, Fit, Verdict, explain
from core.suspension.changes import AXES, Body, End, Point, lengthening, moving
from core.suspension.constraints import Rod
from core.suspension.linkage import Linkage
from core.suspension.travel import at
from core.suspension.wheel import toe_in_deg

LEAST_HEIGHTS = 3
"""Heights at which toe must be read: one number is fitted, and one for the board; one is left to
be borne out."""

LARGEST_OFF = 20.0
"""Most that anything is believed to be off, mm: more is seen without a board. Own choice."""

ALONG = 0.98
"""Cosine above which an adjuster moves a point along an axis of the car. Own choice."""

Way = Literal["ahead", "outboard", "up", "length"]
WAYS: dict[str, Way] = {"x": "ahead", "y": "outboard", "z": "up"}


@dataclass(frozen=True)
class Suspect:
    """One number of a corner that may be off.

    Attributes:
        ref: the point, or the inner end of the link.
        link: whose length it is; empty for a place.
        way: what is off: how far ahead, outboard or up the point is, or how long the link.
        off: by how much, mm, by the readings.
        uncertainty: standard, mm; infinite where the readings say nothing of it.
        chance: that such a corner would give readings as far off as these.
        is_alike: whether the readings do not tell it from the likeliest.
        is_at_limit: whether it would have to be off by more than is believed.
        adjuster: that puts it right, where one does just this; its number in the corner's list.
        steps: of that adjuster, where its step is entered.
    """

    ref: Ref
    link: str
    way: Way
    off: float
    uncertainty: float
    chance: float
    is_alike: bool
    is_at_limit: bool
    adjuster: int | None = None
    steps: float | None = None

    @property
    def correction(self) -> float:
        """What to add, mm the same way."""
        return -self.off


@dataclass(frozen=True, eq=False)
class BoardTold:
    """What a round of readings tells.

    Attributes:
        corner: of which.
        verdict: in a word.
        suspects: the likeliest first; those that the readings say something of.
        heights: (readings,) mm.
        drawn_deg: (readings,) toe as drawn, moved by what the board or the setting is off.
        read_deg: (readings,) as read.
        drawn_chance: that a corner as drawn would give readings as far off as these.
    """

    corner: Ref
    verdict: Verdict
    suspects: tuple[Suspect, ...]
    heights: Array
    drawn_deg: Array
    read_deg: Array
    drawn_chance: float

    @property
    def alike(self) -> tuple[Suspect, ...]:
        """The likeliest, and what the readings do not tell from it."""
        return tuple(each for each in self.suspects if each.is_alike)


@dataclass(frozen=True, eq=False)
class _Asked:
    """A candidate, with what it is in the document."""

    candidate: Candidate
    ref: Ref
    link: str
    way: Way
    outboard: float


@cell(When.RELEASE)
def board_told(read: Reader, board: Ref) -> BoardTold:
    """What may be off on a corner, by the toe that was read there at several heights.

    One constant angle is left to the board, and with it to the setting of the toe.

    Raises:
        NotComputedError: too few readings, or how sure they are is not entered; the linkage does
            not reach a height as drawn.
    """
    thing = read.thing(ToeBoard, board)
    corner, heights = thing.corner, np.array([each.height for each in thing.readings])
    _check(thing.uncertainty_deg, heights)
    held, name = read(linkage, corner), read.label(corner)
    drawn = toe_in_deg(solved(held, at(heights), name))
    if np.isnan(drawn).any():
        height = float(heights[np.isnan(drawn)][0])
        raise NotComputedError(f"{name} as drawn does not reach a height of {height:g}")
    toe = np.array([each.toe_in_deg for each in thing.readings])
    doubt = np.full(len(toe), thing.uncertainty_deg)
    asked = {each.candidate.name: each for each in _asked(read, corner, held)}
    candidates = tuple(each.candidate for each in asked.values())
    found = explain(held, BoardReadings(heights, toe, doubt), candidates, largest=LARGEST_OFF)
    suspects = tuple(_suspects(found, asked, read(adjusters_of, corner)))
    drawn = drawn + found.as_drawn.offset_deg
    chance = found.as_drawn.chance
    return BoardTold(corner, found.verdict, suspects, heights, drawn, toe, chance)


def _check(uncertainty_deg: float | None, heights: Array) -> None:
    different = len(np.unique(heights))
    if different < LEAST_HEIGHTS:
        msg = f"toe must be read at {LEAST_HEIGHTS} heights at least, and is at {different}"
        raise NotComputedError(msg)
    if uncertainty_deg is None:
        raise NotComputedError("how sure one reading is, is not entered")


def _asked(read: Reader, corner: Ref, held: Linkage) -> Iterator[_Asked]:
    """Every coordinate of every point of a corner, then every link's length."""
    outboard = 1.0 if stands_on(read, corner) == "left" else -1.0
    for ref in _places(read, corner):
        point = _point(held, array(read(place, ref)), str(ref))
        for axis, way in WAYS.items() if point.ends else ():
            change = moving(f"{ref} {axis}", (point,), AXES[axis])
            side = outboard if axis == "y" else 1.0
            yield _Asked(Candidate(change.name, (change,)), ref, "", way, side)
    inner = {link.name: link.inner for link in read.thing(Corner, corner).links}
    for each in held.constraints:
        if isinstance(each, Rod) and each.name in inner:
            change = lengthening(f"length of {each.name}", each.name)
            yield _Asked(
                Candidate(change.name, (change,)), inner[each.name], each.name, "length", 1.0
            )


def _places(read: Reader, corner: Ref) -> tuple[Ref, ...]:
    """Points that may hold the upright, each once."""
    thing = read.thing(Corner, corner)
    links = (ref for link in thing.links for ref in (link.inner, link.outer))
    roles = (each.point for each in thing.points)
    holders = (ref for each in thing.holders for ref in each.points)
    return tuple(dict.fromkeys((*links, *roles, *holders)))


def _point(held: Linkage, there: Array, name: str) -> Point:
    """The ends at a place that one body has; those of a stiff arm are no point that is set."""
    found: list[tuple[str, str, Body]] = [
        (each.name, field, body) for each, field, body in ends_at(held, there)
    ]
    body: Body = found[0][2] if found else "arm"
    ends: tuple[End, ...] = tuple((c, field) for c, field, on in found if on == body != "arm")
    return Point(name, ends, body)


def _suspects(
    found: Explained, asked: dict[str, _Asked], adjusters: CornerAdjusters
) -> Iterator[Suspect]:
    alike = {fit.candidate.name for fit in found.not_told_apart}
    for fit in found.fits:
        if np.isfinite(fit.uncertainty).all():
            yield _suspect(fit, asked[fit.candidate.name], adjusters, fit.candidate.name in alike)


def _suspect(fit: Fit, of: _Asked, adjusters: CornerAdjusters, is_alike: bool) -> Suspect:  # noqa: FBT001 - one caller
    off = float(fit.amounts[0])
    fitted, per_mm = _that_mends(of, adjusters)
    steps = None
    if fitted is not None and fitted.has_step:
        steps = fitted.room.units(-off * per_mm)
    return Suspect(
        of.ref,
        of.link,
        of.way,
        of.outboard * off,
        float(fit.uncertainty[0]),
        fit.chance,
        is_alike,
        fit.is_at_limit,
        None if fitted is None else fitted.number,
        steps,
    )


def _that_mends(of: _Asked, adjusters: CornerAdjusters) -> tuple[Fitted | None, float]:
    """An adjuster that does just what the candidate is, and its amount for 1 mm of it."""
    change = of.candidate.changes[0]
    for each in adjusters.known:
        other = each.room.change
        if each.how in LENGTHENS:
            if change.longer and other.longer == change.longer:
                return each, 1.0
        elif change.moves and set(other.moves) == set(change.moves):
            along = float(other.direction @ change.direction)
            if abs(along) > ALONG:
                return each, 1.0 / along
    return None, 1.0
