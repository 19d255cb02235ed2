"""Figures of both corners of an axle at the position shown, with their range over travel."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from app.panels.curves.figures import FIGURES, SENSES
from app.pose import Pose
from app.session import State
from app.widgets.asking import ask
from core.assess.axle_curves import SIDES, AxleCurves, CornerSide, curves_of_axle
from core.assess.axles import roll_centre, steering, track
from core.assess.curves import QUANTITIES, CornerCurves
from core.assess.dampers import damper_at_design
from core.assess.pairs import axle_at, pair_of
from core.assess.travels import rack_of
from core.document.base import Ref
from core.engine.cells import NotComputedError
from core.quantities import format_signed, number
from core.scene.posed import PosedCorner
from core.suspension.centres import ROLL_CENTRE_HOW
from core.suspension.damper import damper_per_wheel_travel

FIRST = (
    "camber", "toe_in", "castor", "kingpin", "trail", "scrub", "half_track", "wheelbase",
    "damper_length", "damper_ratio",
)  # fmt: skip
"""What stands open."""

FOLDED = (
    "front_centre_y", "front_centre_z", "side_centre_x", "side_centre_z", "roll_centre",
    "contact_slope", "centre_slope",
)  # fmt: skip
"""What is shown when it is asked for."""

SHORT: Mapping[str, str] = MappingProxyType(
    {
        "half_track": "half-track change",
        "wheelbase": "wheelbase change",
        "damper_length": "damper, eye to eye",
        "damper_ratio": "damper to wheel",
        "front_centre_y": "front centre, outboard",
        "front_centre_z": "front centre, height",
        "side_centre_x": "side centre, ahead",
        "side_centre_z": "side centre, height",
        "roll_centre": "roll centre, one wheel",
        "contact_slope": "slope at the contact",
        "centre_slope": "slope at the centre",
    }
)
"""Words where there is little room; told in full on hover."""

ROLL_CENTRE_LINES = ("from the contacts' true motion in space", "with track rods or toe links")
"""The construction in two short lines."""

NOT_KNOWN = "?"
"""In place of the figure of one side that is not known; why stands below the table."""

FAR = 100_000.0
"""mm beyond which a centre counts as out of sight: the links run all but parallel."""


class Line(NamedTuple):
    """One figure of both sides.

    Attributes:
        name: what it is called.
        left: as it is shown.
        right: as it is shown; with `left` empty the figure of both together.
        below: lines under it: its range over travel, and what is wanted.
        convention: what is positive, and how it is read.
    """

    name: str
    left: str
    right: str
    below: tuple[str, ...]
    convention: str


class Read(NamedTuple):
    """What is read of an axle at one position.

    Attributes:
        at: figures by key, of each side that is known.
        why: of each side that is not, the reason.
        rise: how far each wheel stands up, mm; empty at the design position.
        curves: of the axle over travel; None where there is no axle.
    """

    at: Mapping[CornerSide, Mapping[str, float]]
    why: Mapping[CornerSide, str]
    rise: Mapping[CornerSide, float]
    curves: AxleCurves


def read_at(state: State, pose: Pose, end: str) -> Read:
    """Everything of an axle where the travel strip stands.

    Raises:
        NotComputedError: there is no such axle, or it has not one left and one right corner.
    """
    axle = ask(state, curves_of_axle, end, "travel")
    if pose.has_wheels_at_design and len(axle.curves) == len(SIDES):
        return Read({side: _at_design(axle.curves[side]) for side in SIDES}, {}, {}, axle)
    at: dict[CornerSide, Mapping[str, float]] = {}
    why: dict[CornerSide, str] = {}
    rise: dict[CornerSide, float] = {}
    for each in pose.car(state).corners:
        ref = each.standing.corner if isinstance(each, PosedCorner) else each.corner
        side: CornerSide | None = next((s for s in SIDES if axle.corners[s] == ref), None)
        if side is not None and isinstance(each, PosedCorner):
            at[side], rise[side] = _posed(state, ref, each), each.standing.rise
        elif side is not None and not isinstance(each, PosedCorner):
            why[side] = each.why
    return Read(at, why, {} if pose.has_wheels_at_design else rise, axle)


def _at_design(curves: CornerCurves) -> Mapping[str, float]:
    middle = int(np.abs(curves.along).argmin())
    return dict(zip(curves.keys, (float(v) for v in curves.values[:, middle]), strict=True))


def _posed(state: State, corner: Ref, posed: PosedCorner) -> Mapping[str, float]:
    poses = posed.standing.poses
    has_axis = poses.linkage.steering_axis is not None
    found = {
        each.key: float(each.of(poses))
        for each in QUANTITIES.values()
        if each.needs != "axis" or has_axis
    }
    if posed.figures.damper is not None:
        found["damper_length"] = posed.figures.damper
        damper = ask(state, damper_at_design, corner)
        found["damper_ratio"] = float(damper_per_wheel_travel(poses, damper))
    return found


def lines(read: Read, keys: tuple[str, ...]) -> Iterator[Line]:
    """The lines of these figures, left out where neither side has one."""
    for key in keys:
        shown = [_shown(key, read.at.get(side, {}).get(key)) for side in SIDES]
        if any(shown):
            name = SHORT.get(key, FIGURES[key].words)
            told = [text or NOT_KNOWN for text in shown]
            figure = FIGURES[key]
            convention = f"{figure.words}: {figure.convention}"
            yield Line(name, told[0], told[1], _below(read.curves, key), convention)


def _shown(key: str, value: float | None) -> str:
    if value is None:
        return ""
    figure = FIGURES[key]
    if np.isnan(value):
        return "none"
    if figure.unit == "mm" and abs(value) > FAR:
        return "far off"
    text = (format_signed if key in SENSES else number)(value, figure.digits)
    return f"{text}°" if figure.unit == "deg" else text


def _below(axle: AxleCurves, key: str) -> tuple[str, ...]:
    """The range over travel, once where both sides share it; and what is wanted."""
    if key in FOLDED:
        return ()
    ranges = {side: _range(curves, key) for side, curves in axle.curves.items()}
    wanted = axle.wanted_camber_deg if key == "camber" else None
    asked = () if wanted is None else (f"wanted {_shown(key, wanted)} at design",)
    if len(ranges) == len(SIDES) and len(set(ranges.values())) == 1:
        return (f"{ranges['left']} over travel", *asked)
    return (*(f"{side} {words} over travel" for side, words in ranges.items()), *asked)


def _range(curves: CornerCurves, key: str) -> str:
    values = curves.of(key) if key in curves.keys else np.full(1, np.nan)
    if not np.isfinite(values).all():
        return "not all reached"
    return f"{_shown(key, float(values.min()))} to {_shown(key, float(values.max()))}"


class Together(NamedTuple):
    """Figures of both wheels together; of each what it is, or why it is not known."""

    lines: tuple[Line, ...]
    unknown: tuple[str, ...]


def together(state: State, end: str, rack: float) -> Together:
    """What both wheels do together: track, roll centre, and where they steer, how.

    Args:
        state: the car.
        end: front or rear.
        rack: mm to the left, where the share of the steering geometry is read.
    """
    found: list[Line] = []
    unknown: list[str] = []
    for make in (_track, _roll_centre, _steering):
        try:
            found += make(state, ask(state, axle_at, end), rack)
        except NotComputedError as error:
            unknown.append(str(error))
    return Together(tuple(found), tuple(dict.fromkeys(unknown)))


def _track(state: State, axle: Ref, _rack: float) -> list[Line]:
    words = number(ask(state, track, axle), 1)
    return [Line("track at design", "", words, (), "distance of both contacts, sideways")]


def _roll_centre(state: State, axle: Ref, _rack: float) -> list[Line]:
    y, z = ask(state, roll_centre, axle)
    beside = "on the centre plane"
    if abs(y) >= 0.05:  # noqa: PLR2004 - half of the last digit shown
        beside = f"{number(abs(y), 1)} to the {'left' if y > 0 else 'right'}"
    how = f"height over z = 0, {beside}; {ROLL_CENTRE_HOW}"
    return [Line("roll centre at design", "", number(z, 1), ROLL_CENTRE_LINES, how)]


def _steering(state: State, axle: Ref, rack: float) -> list[Line]:
    if all(ask(state, rack_of, corner) is None for corner in ask(state, pair_of, axle)):
        return []
    found = ask(state, steering, axle)
    ends = (float(found.rack[-1]), float(found.rack[0]))
    at = rack if abs(rack) >= 1.0 else ends[0]
    share = 100.0 * float(np.interp(at, found.rack, found.ackermann))
    where = "at full lock" if at in ends else f"with the rack {number(abs(at), 0)} over"
    circle = f"{number(found.smallest_circle / 1000.0, 2)} m"
    told = "none" if np.isnan(share) else f"{number(share, 0)} %"
    return [
        Line("Ackermann share", "", told, (where,), FIGURES["ackermann"].convention),
        Line("turning circle", "", circle, (), FIGURES["circle"].convention),
    ]
