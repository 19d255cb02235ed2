"""The figures of the width panel, taken from what is worked out; no widgets here."""

from collections.abc import Mapping
from typing import Literal, NamedTuple

from app.session import State
from app.widgets.known_from import Told, told
from app.widgets.stroke_bar import Stroke
from core.assess.width import (
    AxleWidth,
    axle_width,
    bench_shaft,
    chain,
    driven_pairs,
    plunge_limits,
    shaft_at_design,
)
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.running_gear import Corner, DriveShaft
from core.driveline.width import ChainLink
from core.edits.unit import is_held_by_shafts
from core.engine.address import Address, piece
from core.engine.cells import NotComputedError
from core.engine.finding import Finding
from core.quantities import number

WheelSide = Literal["left", "right"]
SIDES: tuple[WheelSide, WheelSide] = ("left", "right")
LEAST_SHOWN = 0.05


class Width(NamedTuple):
    """All that the panel shows of one driven axle.

    Attributes:
        axle: planes, ranges and shifts.
        chains: left and right chain of lengths.
        strokes: left and right stroke, where they are known.
        angles: inner and outer joint angle of each side, degrees.
        finding: what the rule on the wheel planes says, if it says anything.
    """

    axle: AxleWidth
    chains: tuple[tuple[ChainLink, ...], tuple[ChainLink, ...]]
    strokes: tuple[Stroke | None, Stroke | None]
    angles: tuple[tuple[float, float], tuple[float, float]]
    finding: Finding | None


def width_of(state: State) -> Width | None:
    """The width across the first driven axle; nothing where it is not known."""
    value = state.assessment.value
    try:
        pairs = value(driven_pairs)
        if not pairs:
            return None
        left, right = pairs[0]
        axle = value(axle_width, left, right)
        chains = (value(chain, left), value(chain, right))
        at = [value(shaft_at_design, ref) for ref in (left, right)]
    except NotComputedError:
        return None
    angles = [(each.inner_angle_deg, each.outer_angle_deg) for each in at]
    found = (f for f in state.findings if f.rule == "wheel_planes" and f.subjects == (left, right))
    return Width(
        axle,
        chains,
        (_stroke(state, left), _stroke(state, right)),
        (angles[0], angles[1]),
        next(found, None),
    )


def _stroke(state: State, ref: Ref) -> Stroke | None:
    value = state.assessment.value
    try:
        inwards, outwards = value(plunge_limits, ref)
        slide = value(shaft_at_design, ref).plunge
    except NotComputedError:
        return None
    shaft = piece(Lookup(state.document), ref)
    bench = shaft.bench if isinstance(shaft, DriveShaft) else None
    return Stroke(inwards, outwards, slide, None if bench is None else bench.kept_each_end)


def is_settled(state: State, width: Width) -> bool:
    """Whether the drive shafts hold the wheels of an axle where they stand."""
    lookup = Lookup(state.document)
    shafts = (piece(lookup, ref) for ref in width.axle.shafts)
    corners = [shaft.corner for shaft in shafts if isinstance(shaft, DriveShaft)]
    return all(is_held_by_shafts(state.document, corner) for corner in corners)


def why_unknown(state: State) -> str:
    """What to enter for the width to be known, and what follows from it."""
    for finding in state.findings:
        if finding.rule == "wheel_planes" and finding.subjects:
            return finding.sentence
    if not state.document.drive_shafts:
        return (
            "Enter both drive shafts as measured on the bench, the hubs and the wheels. The track, "
            "and how much stroke is left, follow from them."
        )
    return "Enter a left and a right shaft, each with its corner, hub and wheel; the track follows."


class ChainRow(NamedTuple):
    """One row of the chain: what it is, its length, the total so far, where it comes from."""

    name: str
    length: str
    total: str
    source: Told | None


_NAMES = {
    "inner joint": "to the inner joint",
    "plunge as drawn": "slide as drawn",
    "shaft at its slope": "shaft, at its slope",
    "hub depth": "outer joint to hub face",
}


def chain_rows(
    state: State, width: Width, side: int, known: Mapping[str, Told | None] | None = None
) -> list[ChainRow]:
    """The chain of one side, from the centre plane outwards; lengths say in or out, not a sign.

    Args:
        state: what is shown.
        width: its width.
        side: 0 for left, 1 for right.
        known: where each row comes from, if that is known: a drag moves figures, not sources.
    """
    lookup = Lookup(state.document)
    shaft = width.axle.shafts[side]
    rows: list[ChainRow] = []
    for at, link in enumerate(width.chains[side]):
        if link.name in ("plunge as drawn", "spacer") and abs(link.y) < LEAST_SHOWN:
            continue
        name = _NAMES.get(link.name, link.name)
        if known and name in known:
            source = known[name]
        else:
            address = _address(lookup, shaft, link.name)
            source = None if address is None else told(lookup, address)
        length = _across(link.y, side) if at == 0 else _along(link.y)
        rows.append(ChainRow(name, length, _across(link.total, side), source))
    rows.append(ChainRow("wheel plane", "", _across(width.chains[side][-1].total, side), None))
    return rows


def _across(outboard: float, side: int) -> str:
    """A place by its distance from the centre plane; on the far side with that side's name."""
    if outboard >= 0:
        return number(outboard, 1)
    return f"{number(-outboard, 1)} {SIDES[1 - side]}"


def _along(outboard: float) -> str:
    """A length outwards; one that leads back inwards says so."""
    return number(outboard, 1) if outboard >= 0 else f"{number(-outboard, 1)} inboard"


def _address(lookup: Lookup, shaft_ref: Ref, link: str) -> Address | None:
    shaft = piece(lookup, shaft_ref)
    assert isinstance(shaft, DriveShaft)
    corner = piece(lookup, shaft.corner)
    assert isinstance(corner, Corner)
    side = "left" if shaft.corner.side == "left" else "right"
    found: dict[str, Address | None] = {
        "bell-housing face": Address(shaft.unit, "origin.y"),
        "inner joint": Address(shaft.unit, f"outputs.{side}.y"),
        "shaft at its slope": Address(shaft_ref, "bench" if shaft.length is None else "length"),
        "hub depth": None if corner.hub is None else Address(corner.hub, "joint_to_face"),
        "spacer": Address(shaft.corner, "upright.spacer"),
        "wheel offset": None if corner.wheel is None else Address(corner.wheel, "offset"),
    }
    return found.get(link)


def doubt_of(state: State, width: Width, side: int) -> float | None:
    """± of the shaft's length from its bench readings, mm, where there are any."""
    try:
        bench = state.assessment.value(bench_shaft, width.axle.shafts[side])
    except NotComputedError:
        return None
    return None if bench is None else bench.length_plus_minus


def stroke_words(width: Width, side: int) -> str:
    """One side's joints in a line: the angles both run at, and what is kept back."""
    inner, outer = width.angles[side]
    stroke = width.strokes[side]
    kept = "" if stroke is None or not stroke.kept else f", {number(stroke.kept, 1)} kept at stops"
    return f"{SIDES[side]}: inner joint {number(inner, 1)}°, outer {number(outer, 1)}°{kept}"


def help_words(width: Width) -> str:
    """What would bring both wheel planes within stroke; or how far the engine may still move."""
    shift = width.axle.shift
    if shift.too_wide:
        return f"The wheel planes stand {number(shift.too_wide, 1)} too far apart for both shafts."
    if shift.too_narrow:
        return f"The wheel planes stand {number(shift.too_narrow, 1)} too close for both shafts."
    if shift.allowed is None:
        return "No place of the engine and gearbox suits both shafts; a bought part must change."
    low, high = shift.allowed
    if low <= 0 <= high:
        return (
            f"The engine and gearbox may hang up to {number(high, 1)} further left or "
            f"{number(-low, 1)} further right with both joints within stroke."
        )
    near, far = sorted(shift.allowed, key=abs)
    side = "left" if near > 0 else "right"
    return (
        f"Both joints are within stroke with the engine and gearbox {number(abs(near), 1)} to "
        f"{number(abs(far), 1)} further {side}."
    )
