"""Doubled entries of wheels, uprights and steering: hub faces, wheels and the rack are kept."""

import math
from collections.abc import Iterator

import numpy as np

from core.geometry.types import Array, unit
from tests.cars.convert_names import same_place
from tests.cars.doubled import Doubled, far, same
from tests.cars.doubled_frame import lowest_sill
from tests.cars.neutral import ENDS, Plain, array, matched

RIM = r"([\d.]+)Jx([\d.]+)"
TYRE = r"(\d+)/(\d+)R(\d+)"


def doubled_gear(car: Plain) -> Iterator[Doubled]:
    """Every doubled entry of the running gear and of the layout."""
    for end in ENDS:
        yield from _wheel_centre(car, end)
        yield from _wheel_and_tyre(car, end)
        yield from _strut(car["suspension"][end], end)
    yield from _layout(car)
    yield from _rack(car)


def wheel_centre(car: Plain, end: str) -> Array:
    """Centre of the left wheel: hub face + (spacer - offset) along the spin axis."""
    upright = car["suspension"][end]["upright"]
    offset = upright["spacer"] - car["wheels"][end]["et"]
    return np.asarray(
        array(upright["hub_face_centre"]) + unit(array(upright["spin_axis"])) * offset
    )


def _wheel_centre(car: Plain, end: str) -> Iterator[Doubled]:
    """Hub face, axis and wheel = wheel centre, track, wheel arch."""
    centre = wheel_centre(car, end)
    listed = car["suspension"][end]["hardpoints_left"]["wheel_centre"]
    yield Doubled(f"{end} wheel centre = hub face, spacer and offset", far(centre, listed), 0.05)
    track = abs(car["vehicle"][f"track_{end}"] - 2.0 * listed[1])
    yield Doubled(f"{end} track = twice the wheel centre", track, 0.05)
    arches = car.get("body", {}).get("wheel_arches", {})
    if end in arches:
        side_view = [listed[0], listed[2]]
        yield Doubled(f"{end} arch = wheel centre", far(arches[end]["centre"], side_view), 0.05)


def _wheel_and_tyre(car: Plain, end: str) -> Iterator[Doubled]:
    """Offset and size of the wheel, size of the tyre = the figures of the tyre's entry."""
    wheel, tyre = car["wheels"][end], car["tyres"][end]
    yield same(f"{end} offset of tyre and wheel", float(wheel["et"]), float(tyre["et"]))
    width, rim = matched(RIM, wheel["size"], "rim")
    rim_figures = (float(tyre["rim_width_in"]), float(tyre["rim_in"]))
    yield same(f"{end} rim of tyre and wheel", (float(width), float(rim)), rim_figures)
    section, aspect, tyre_rim = (float(text) for text in matched(TYRE, tyre["size"], "tyre"))
    figures = [tyre["section"], tyre["aspect"], tyre["rim_in"]]
    yield Doubled(f"{end} tyre text", far(figures, [section, aspect / 100, tyre_rim]), 1e-9)
    if tyre["unloaded_radius_by"] == "rule":
        radius = abs(tyre["unloaded_radius"] - rule_radius(tyre))
        yield Doubled(f"{end} unloaded radius by the rule", radius, 1e-9)


def rule_radius(tyre: Plain) -> float:
    """Unloaded radius, mm: half the rim and the section height rounded to 1 mm, a half up."""
    return float(tyre["rim_in"] * 12.7 + math.floor(tyre["section"] * tyre["aspect"] + 0.5))


def _strut(axle: Plain, end: str) -> Iterator[Doubled]:
    """Places of the strut = places of its damper's eyes."""
    points = axle["hardpoints_left"]
    for twice, kept in same_place(axle).items():
        yield Doubled(f"{end} {kept} = {twice}", far(points[kept], points[twice]), 1e-9)


def _layout(car: Plain) -> Iterator[Doubled]:
    """Wheel centres = wheelbase; x = 0 at the front axle line; sill tubes = height of the sill."""
    front, rear = (wheel_centre(car, end) for end in ENDS)
    vehicle = car["vehicle"]
    wheelbase = abs(front[0] - rear[0] - vehicle["wheelbase"])
    yield Doubled("wheelbase = wheel centres", float(wheelbase), 0.05)
    yield Doubled("front axle line = x 0", abs(float(front[0])), 0.01)
    if "ride_height_sill_underside" in vehicle:
        height = abs(vehicle["ride_height_sill_underside"] - lowest_sill(car))
        yield Doubled("height of the sill = sill tubes", height, 0.05)


def _rack(car: Plain) -> Iterator[Doubled]:
    """Place and spacing of the rack = its ends."""
    rack = car["donor_parts"]["steering_rack"]
    left = array(rack["centre"]) + array([0, rack["inner_ball_spacing"] / 2, 0])
    for end in ENDS:
        axle = car["suspension"][end]
        for role in axle.get("rack_ends", ()):
            there = axle["hardpoints_left"][role]
            yield Doubled("rack ends = rack place and spacing", far(left, there), 0.05)
