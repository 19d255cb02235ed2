"""The published corner, two made-up ones and those of both invented cars, from their files."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from core.geometry.types import Array
from core.suspension.constraints import Rod
from core.suspension.damper import DamperAtDesign
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.makers import (
    Arm,
    TrackRod,
    double_wishbone,
    five_links,
    strut,
    trailing_arm_two_lateral_links,
)

TESTS = Path(__file__).parents[2]
LEFT = np.array([0.0, 1.0, 0.0])


def vec(*numbers: float) -> Array:
    return np.array(numbers, dtype=np.float64)


def read(path: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((TESTS / path).read_text())
    return found


@dataclass(frozen=True)
class Example:
    """A corner with the curves that are expected of it."""

    linkage: Linkage
    damper: DamperAtDesign
    points: dict[str, Array]
    data: dict[str, Any]
    lower: Arm | None = None
    upper: Arm | None = None


def arms_of(points: dict[str, Array], front: str, rear: str) -> tuple[Arm, Arm]:
    """Lower and upper arm, by how the file names their inner points."""
    lower, upper = (
        Arm(points[front.format(a)], points[rear.format(a)], points[f"{a}_outer"])
        for a in ("lower", "upper")
    )
    return lower, upper


def published() -> tuple[Linkage, dict[str, Array]]:
    """The corner of a textbook, and its rows by the name of their column."""
    data = read("reference/kinematics_textbook_double_wishbone.json")
    points = {name: np.array(place) for name, place in data["points"].items()}
    wheel = WheelAtDesign(
        points["wheel_centre"],
        np.array(data["wheel"]["design_spin_axis"]),
        data["wheel"]["tyre_radius"],
    )
    lower, upper = arms_of(points, "{}_front_inner", "{}_rear_inner")
    rod = TrackRod(points["rack_end"], points["steer_outer"])
    rows = dict(zip(data["columns"], np.array(data["rows"]).T, strict=True))
    return double_wishbone(lower, upper, rod, wheel), rows


def made_up(name: str) -> Example:
    """A made-up corner, whose curves two other methods agree on."""
    data = read(f"reference/kinematics_{name}.json")
    points = {name: np.array(place) for name, place in data["points"].items()}
    # The file rounds the axis; what it was made from is the two angles.
    camber, toe = (np.radians(data["wheel"][f"static_{a}_deg"]) for a in ("camber", "toe_in"))
    flat = np.cos(camber)
    spin = vec(flat * np.sin(toe), flat * np.cos(toe), -np.sin(camber))
    wheel = WheelAtDesign(points["wheel_centre"], spin, data["wheel"]["tyre_radius"])
    if "arm_pivot" in points:
        links = [Rod(a, points[f"{a}_inner"], points[f"{a}_outer"]) for a in ("lower", "upper")]
        linkage = trailing_arm_two_lateral_links(points["arm_pivot"], links[0], links[1], wheel)
        damper = DamperAtDesign(points["spring_on_upright"], points["spring_on_chassis"])
        return Example(linkage, damper, points, data)
    lower, upper = arms_of(points, "{}_front_inner", "{}_rear_inner")
    rod = TrackRod(points["rack_end"], points["steer_outer"])
    damper = DamperAtDesign(points["spring_on_lower_wishbone"], points["spring_on_chassis"], lower)
    return Example(double_wishbone(lower, upper, rod, wheel), damper, points, data, lower, upper)


def of_car(car: str, end: str) -> Example:
    """The left corner of one of the two invented cars."""
    whole = read(f"cars/{car}-car.json")
    data = {**whole["suspension"][end], "expected": whole["reference_results"][end]}
    points = {name: np.array(place) for name, place in data["hardpoints_left"].items()}
    radius = whole["tyres"][end]["loaded_radius"]
    wheel = WheelAtDesign(points["wheel_centre"], np.array(data["upright"]["spin_axis"]), radius)
    linkage, lower, upper = linkage_of(data, points, wheel)
    carrier = lower if data["damper"]["lower_on"] == "lower arm" else None
    damper = DamperAtDesign(points["damper_lower"], points["damper_upper"], carrier)
    return Example(linkage, damper, points, data, lower, upper)


def linkage_of(
    data: dict[str, Any], points: dict[str, Array], wheel: WheelAtDesign
) -> tuple[Linkage, Arm | None, Arm | None]:
    """The linkage of a car's corner with its lower and upper arm, where it has them."""
    kind = data["type"].split()[0]
    rods = [Rod(inner, points[inner], points[outer]) for inner, outer in data["links"]]
    if kind == "five":
        return five_links(tuple(rods), wheel), None, None
    if kind == "trailing":
        pivot = points["arm_pivot"]
        return trailing_arm_two_lateral_links(pivot, rods[0], rods[1], wheel), None, None
    lower = Arm(*(points[f"lower_{a}"] for a in ("inner_front", "inner_rear", "outer")))
    rod = TrackRod(points["tie_inner"], points["tie_outer"])
    if kind == "strut":
        return strut(lower, points["strut_lower"], points["strut_top"], rod, wheel), lower, None
    upper = Arm(*(points[f"upper_{a}"] for a in ("inner_front", "inner_rear", "outer")))
    return double_wishbone(lower, upper, rod, wheel), lower, upper
