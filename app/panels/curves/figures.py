"""What can be drawn as curves of an axle: each figure with its words, its sense and its values."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from app.widgets.curve_data import Band, Chart, Series, Stops
from core.assess.axle_curves import SIDES, AxleCurves, CornerSide
from core.assess.curves import OF_DAMPER, QUANTITIES, Along
from core.quantities import number

NOT_THERE = "the links do not go there"
NO_AXIS = "these links have no two balls that the wheel is steered about"
NO_DAMPER = "no damper is entered whole"
NO_SPRING = "too little of the spring is entered for it"

SENSES: Mapping[str, str] = MappingProxyType(
    {
        "camber": "top out +",
        "toe_in": "in +",
        "bump_steer": "in +",
        "half_track": "out +",
        "wheelbase": "ahead +",
        "outboard": "out +",
        "steer": "left +",
        "contact_slope": "ahead +",
        "centre_slope": "ahead +",
    }
)
"""Which way is plus, where a sign is read with it."""

WIDEST = 50.0
"""Turning circles beyond this, m, are not drawn: near straight ahead they grow without end."""


class Figure(NamedTuple):
    """One figure that can be drawn.

    Attributes:
        key: its short name.
        words: what it is called.
        unit: of its values.
        digits: decimals shown.
        convention: what is positive, and how it is read.
        over: what it can be drawn over.
        why: why there is none where there is none.
    """

    key: str
    words: str
    unit: str
    digits: int
    convention: str
    over: tuple[Along, ...]
    why: str = NOT_THERE

    def chart(self, along: Along) -> Chart:
        """What a plot of it is of."""
        title = f"{self.words[:1].upper()}{self.words[1:]} over {along}"
        words = "wheel travel" if along == "travel" else "rack"
        return Chart(title, words, "mm", SENSES.get(self.key, ""), self.digits)


_BOTH: tuple[Along, ...] = ("travel", "steer")


def _figures() -> Iterator[Figure]:
    for key, each in QUANTITIES.items():
        over: tuple[Along, ...] = ("steer",) if each.needs == "rack" else _BOTH
        unit = each.unit.replace("deg / ", "°/")
        yield Figure(key, each.words, unit, each.digits, each.convention, over)
    for key, (words, unit, digits, convention) in OF_DAMPER.items():
        yield Figure(key, words, unit, digits, convention, ("travel",))
    yield Figure(
        "ackermann", "Ackermann share", "%", 1,
        "100 % where both wheels roll round one centre on the line of the other axle, 0 where "
        "both are turned alike", ("steer",), "straight ahead both are alike",
    )  # fmt: skip
    yield Figure(
        "circle", "turning circle", "m", 2, "diameter that the outer front wheel draws",
        ("steer",), f"wider than {number(WIDEST, 0)} m",
    )  # fmt: skip


FIGURES: Mapping[str, Figure] = MappingProxyType({each.key: each for each in _figures()})
"""Every figure that can be drawn, in the order in which they are offered."""

OF_BOTH = ("ackermann", "circle")
"""Figures of both wheels together."""

OF_SPRING = ("wheel_rate", "wheel_load")
"""Figures that are worked out only where they are asked for."""

NEEDS_AXIS = tuple(key for key, each in QUANTITIES.items() if each.needs == "axis")


def usual(axle: AxleCurves, along: Along) -> tuple[str, ...]:
    """What is drawn until something else is chosen."""
    if along == "steer":
        return ("steer", "ackermann", "camber")
    has_axis = any("castor" in curves.keys for curves in axle.curves.values())
    return ("camber", "toe_in", "castor" if has_axis else "bump_steer")


def offered(along: Along) -> tuple[Figure, ...]:
    """What can be drawn over travel or steer."""
    return tuple(each for each in FIGURES.values() if along in each.over)


def series_of(axle: AxleCurves, figure: Figure) -> tuple[Series, ...]:
    """The curves of a figure, left before right; none of a side that is not known."""
    if figure.key in OF_BOTH:
        return _of_both(axle, figure)
    return tuple(
        Series(
            figure.words, side, curves.along, curves.of(figure.key), figure.unit, figure.why
        )
        for side in SIDES
        if (curves := axle.curves.get(side)) is not None and figure.key in curves.keys
    )  # fmt: skip


def _of_both(axle: AxleCurves, figure: Figure) -> tuple[Series, ...]:
    found = axle.together
    if found is None:
        return ()
    if figure.key == "ackermann":
        values = 100.0 * found.ackermann
    else:
        metres = found.circle / 1000.0
        values = np.where(metres <= WIDEST, metres, np.nan)
    return (Series(figure.words, "one", found.rack, values, figure.unit, figure.why),)


def why_none(axle: AxleCurves, figure: Figure) -> str:
    """Why a figure is not drawn at all; empty where it is."""
    if figure.key in OF_BOTH:
        return axle.no_together
    if axle.curves and figure.key in NEEDS_AXIS:
        return NO_AXIS
    if axle.curves and figure.key in OF_SPRING:
        return NO_SPRING
    if axle.curves and figure.key in OF_DAMPER:
        return NO_DAMPER
    return told(axle)


def told(axle: AxleCurves) -> str:
    """Why sides are not known: once where both share it, else with the side in front."""
    whys = dict(axle.why)
    if len(set(whys.values())) == 1 and len(whys) == len(SIDES):
        return whys["left"]
    return "; ".join(f"{side}: {why}" for side, why in whys.items())


def stops_of(axle: AxleCurves, along: Along) -> Stops | None:
    """The ends of what curves are drawn over, where they are known."""
    low, high = axle.stops
    if low is None and high is None:
        return None
    if along == "travel":
        return Stops(low, high)
    return Stops(low, high, "right lock", "left lock")


def band_of(axle: AxleCurves, figure: Figure, along: Along) -> Band | None:
    """The figures that are wanted: toe as its change is limited, camber as it is asked for."""
    if along != "travel":
        return None
    if figure.key == "toe_in":
        return _toe_band(axle)
    if figure.key == "camber" and axle.wanted_camber_deg is not None:
        wanted = axle.wanted_camber_deg
        words = f"wanted at design {number(wanted, 2)}°"
        return Band(wanted, wanted, words, is_hatched=False)
    return None


def _toe_band(axle: AxleCurves) -> Band | None:
    """Where the toe of both wheels has changed by no more than is wanted."""
    sides: list[CornerSide] = [
        side for side in SIDES if side in axle.curves and side in axle.toe_kept
    ]
    if not sides:
        return None
    low = max(_at_design(axle, side) - axle.toe_kept[side].value for side in sides)
    high = min(_at_design(axle, side) + axle.toe_kept[side].value for side in sides)
    if not low <= high:
        return None
    kept = min(axle.toe_kept[side].value for side in sides)
    return Band(low, high, f"within {number(kept, 2)}° of design")


def _at_design(axle: AxleCurves, side: CornerSide) -> float:
    return axle.curves[side].at("toe_in", 0.0)
