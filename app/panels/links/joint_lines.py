"""What is told of each joint at the ends of an axle's links, from the assessment."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from app.session import State
from app.widgets.asking import ask
from core.assess.axle_curves import SIDES, CornerSide
from core.assess.tilts import EndTilt, NoTilt, best_bolt, tilts
from core.checks.positions import position_words
from core.document.base import Ref, Side, Vec3
from core.document.lookup import Lookup
from core.document.running_gear import Axle, Corner, Rack
from core.document.sides import on_side
from core.document.steel import LinkEnd, Point
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.engine.finding import Finding, Verdict
from core.quantities import number

WORTH = 0.5
"""Degrees that turning a bolt must spare before it is offered."""

KINDS = {
    "rod_end": "rod end",
    "bush": "bush",
    "ball": "ball",
    "axial_ball": "axial ball",
    "eye": "eye",
    "hinge": "hinge",
    "fixed": "fixed",
}


class Offer(NamedTuple):
    """A better direction of a bolt or cup: where to, how far it turns, what tilt is left."""

    direction: Vec3
    turn_deg: float
    tilt_deg: float
    what: str


class JointLine(NamedTuple):
    """One joint.

    Attributes:
        corner: whose link it is at the end of.
        end: the point, or the rack's ball.
        side: shown with it; «one» where both sides are alike.
        link: what ends there.
        which: end of it.
        verdict: of its tilt.
        needs: largest tilt; empty where it is not known.
        allows: the figure it is held against; empty where none is given.
        spare: what is left.
        told: what it is, where it is worst, where the limit is from; or why it is not known.
        missing: the figure that is not known, to be entered; None where none is missing.
        tilt: what it is read from; None where it is not known.
    """

    corner: Ref
    end: Ref
    side: Side
    link: str
    which: str
    verdict: Verdict
    needs: str
    allows: str
    spare: str
    told: str
    missing: Address | None
    tilt: EndTilt | None

    @property
    def name(self) -> str:
        """Link and end, and the side where the two differ."""
        side = "" if self.side == "one" else f", {self.side}"
        return f"{self.link}, {self.which}{side}"


def joint_lines(state: State, corners: Mapping[CornerSide, Ref]) -> list[JointLine]:
    """Every joint of both corners; those that are alike on both sides once.

    Raises:
        NotComputedError: they are not known, or not caught up with.
    """
    lookup = Lookup(state.document)
    known = {side: state.assessment.value(tilts, corners[side]) for side in SIDES}
    found = {side: _of_corner(state, lookup, (corners[side], side), known[side]) for side in SIDES}
    if [_alike(line) for line in found["left"]] == [_alike(line) for line in found["right"]]:
        return [line._replace(side="one") for line in found["left"]]
    return [*found["left"], *found["right"]]


def _alike(line: JointLine) -> tuple[str, ...]:
    return line.link, line.which, line.verdict, line.needs, line.allows, line.spare


def _of_corner(
    state: State,
    lookup: Lookup,
    corner: tuple[Ref, CornerSide],
    known: tuple[EndTilt | NoTilt, ...],
) -> list[JointLine]:
    ref, side = corner
    verdicts = {
        f.subjects[0]: f for f in state.findings if f.rule == "link_tilt" and ref in f.subjects
    }
    thing = lookup.by_id[ref.id]
    assert isinstance(thing, Corner)
    piece = on_side(thing, ref.side)
    return [_line(lookup, _Whose(ref, side, piece), each, verdicts.get(each.end)) for each in known]


class _Whose(NamedTuple):
    """A corner."""

    ref: Ref
    side: CornerSide
    piece: Corner


def _line(
    lookup: Lookup, whose: _Whose, tilt: EndTilt | NoTilt, finding: Finding | None
) -> JointLine:
    names = tilt.link.replace("_", " "), _which(lookup, whose.piece, tilt)
    whole = (whose.ref, tilt.end, whose.side, *names)
    if isinstance(tilt, NoTilt):
        is_there = _joint(lookup, tilt.end) is not None
        missing = None if is_there else Address(_stored(lookup, tilt.end), "joint")
        told = f"Don't know: {tilt.reason}."
        return JointLine(*whole, "unknown", "", "", "", told, missing, None)
    allowed = None if finding is None else finding.limit
    needs, told = f"{number(tilt.tilt_deg, 1)}°", _told(lookup, tilt, finding)
    if finding is None or allowed is None:
        missing = Address(_stored(lookup, tilt.end), "joint.tilt_limit_deg")
        return JointLine(*whole, "unknown", needs, "", "", told, missing, tilt)
    spare = f"{number(allowed - tilt.tilt_deg, 1)}°"
    figures = needs, f"{number(allowed, 1)}°", spare
    return JointLine(*whole, finding.verdict, *figures, told, None, tilt)


def _which(lookup: Lookup, corner: Corner, tilt: EndTilt | NoTilt) -> str:
    """Which end of its link a joint is at."""
    if isinstance(lookup.by_id.get(tilt.end.id), Rack):
        return "rack ball"
    if corner.damper is not None and tilt.link == "damper":
        return "upper eye" if tilt.end == corner.damper.upper else "lower eye"
    axle = lookup.by_id.get(corner.axle.id)
    links = (*corner.links, *(axle.links if isinstance(axle, Axle) else ()))
    if tilt.end in {link.outer for link in links}:
        return "outer"
    return "inner" if tilt.end in {link.inner for link in links} else "pivot"


def _stored(lookup: Lookup, end: Ref) -> Ref:
    """A point on its side; a rack, which has none."""
    return Ref(end.id) if isinstance(lookup.by_id.get(end.id), Rack) else end


def _joint(lookup: Lookup, end: Ref) -> LinkEnd | None:
    thing = lookup.by_id.get(end.id)
    return on_side(thing, end.side).joint if isinstance(thing, Point) else (
        thing.joint if isinstance(thing, Rack) else None
    )  # fmt: skip


def _told(lookup: Lookup, tilt: EndTilt, finding: Finding | None) -> str:
    worst = f"worst at {position_words(tilt.bump, tilt.rack, tilt.other)}"
    parts = [f"{KINDS[tilt.kind]} at {lookup.label(tilt.end)}", worst]
    if finding is not None and finding.limit is not None and finding.limit_source:
        parts.append(f"allowed: {finding.limit_source}")
    return " · ".join(parts)


def offer_of(state: State, line: JointLine) -> Offer | None:
    """A better direction of a joint's bolt or cup; none where it is not worth it or not known.

    None for a rack either, whose ball lies in its bar.
    """
    lookup, tilt = Lookup(state.document), line.tilt
    joint = _joint(lookup, line.end)
    if tilt is None or joint is None or isinstance(lookup.by_id.get(line.end.id), Rack):
        return None
    try:
        best = ask(state, best_bolt, line.corner, tilt.end, tilt.link)
    except NotComputedError:
        return None
    if tilt.tilt_deg - best.tilt_deg < WORTH:
        return None
    has_cup = joint.kind in ("ball", "axial_ball")
    now = (joint.cup_direction or joint.direction) if has_cup else joint.direction
    way = 1.0 if _dot(now, best.direction) >= 0.0 else -1.0
    to = Vec3(*(way * value for value in best.direction))
    share = _dot(now, to) / (math.hypot(*now) * math.hypot(*to))
    turn = math.degrees(math.acos(min(1.0, share)))
    return Offer(to, turn, best.tilt_deg, "cup" if has_cup else "bolt")


def _dot(a: Vec3, b: Vec3) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))
