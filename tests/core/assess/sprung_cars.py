"""Cars of one axle with springs, rockers and bars, made from their places alone."""

from typing import Any

import numpy as np

from core.document.base import Ref, Vec3
from core.document.links import AntiRollBar, Damper, Rocker, TorsionBar
from core.document.steel import Point
from core.edits.things import make
from core.edits.values import put_value
from core.engine.address import Address
from core.geometry.types import Array
from tests.core.assess.made_corners import ARM, Made, Plan, made, made_up_wishbones, reference

RATE = 30.0
KG, UNSPRUNG = 180.0, 30.0
SPRUNG = (KG - UNSPRUNG) * 9.80665
"""N on the spring of each wheel of these cars; standard acceleration of free fall."""


def sprung(plan: Plan, *, kg: float | None = KG, **damper: Any) -> Made:  # noqa: ANN401
    """A car with a spring on its damper and its wheels weighed, and more said of the damper."""
    car = made(plan)
    for path, value in ({"spring_rate": RATE} | damper).items():
        car = car.changed(car.corner, f"damper.{path}", value)
    car = car.changed(car.corner, "unsprung_mass_kg", UNSPRUNG)
    return car.changed(car.corner, "weight_kg", kg)


def swung_length(bump: float) -> float:
    """Length of the swinging arm's damper at a wheel height: a circle of 350 about its hinge."""
    turn = np.arcsin(bump / ARM)
    ahead = ARM - ARM * np.cos(turn) + 20.0 * np.sin(turn)
    up = 300.0 + ARM * np.sin(turn) + 20.0 * np.cos(turn)
    return float(np.hypot(ahead, 620.0 - up))


def with_points(car: Made, places: dict[str, Array]) -> Made:
    """The car with more points, each with its mirror image."""
    document, points = car.document, dict(car.points)
    for name, at in places.items():
        x, y, z = (float(value) for value in at)
        document, point = make(document, Point, name, at=Vec3(x, y, z), pair=True)
        points[name] = Ref(point.id, "left")
    return Made(document, car.corner, car.axle, points)


def arm_of_wishbones() -> tuple[Array, Array, Array]:
    """Front and rear hinge and ball of the lower arm of the made-up front corner."""
    points = reference("double_wishbone_front")["points"]
    names = ("lower_front_inner", "lower_rear_inner", "lower_outer")
    front, rear, ball = (np.array(points[name], dtype=np.float64) for name in names)
    return front, rear, ball


def pushrod_places() -> dict[str, Array]:
    """A rod from the lower arm up to a rocker, and a damper from that across the car."""
    front, _, ball = arm_of_wishbones()
    outer = 0.8 * ball + 0.2 * front
    pivot = outer + np.array([20.0, -260.0, 330.0])
    return {
        "rod outer": outer,
        "pivot": pivot,
        "rod inner": pivot + np.array([5.0, 75.0, 40.0]),
        "rocker eye": pivot + np.array([0.0, -35.0, 85.0]),
        "far eye": pivot + np.array([10.0, -290.0, 60.0]),
    }


PIVOT_AXIS = Vec3(1.0, 0.1, 0.05)


def pushrod(**damper: Any) -> Made:  # noqa: ANN401
    """The made-up wishbones with their damper on a rocker."""
    car = with_points(sprung(made_up_wishbones()), pushrod_places())
    at = car.points
    rocker = Rocker(
        pivot=at["pivot"],
        pivot_axis=PIVOT_AXIS,
        rod_outer=at["rod outer"],
        rod_inner=at["rod inner"],
    )
    on_it = Damper(
        lower=at["rocker eye"], upper=at["far eye"], lower_on="rocker", spring_rate=RATE, **damper
    )
    document = put_value(car.document, Address(car.corner, "rocker"), rocker)
    document = put_value(document, Address(car.corner, "damper"), on_it)
    return Made(document, car.corner, car.axle, at)


def on_torsion_bar(car: Made, rate: float, on: str = "lower arm") -> Made:
    """The car with a torsion bar in place of its coil."""
    bar = TorsionBar(on=on, rate_nm_per_deg=rate)  # type: ignore[arg-type]
    without = car.changed(car.corner, "damper.spring_rate", None)
    return without.changed(without.corner, "torsion_bar", bar)


def barred(car: Made, places: dict[str, Array], on: str, **bar: Any) -> Made:  # noqa: ANN401
    """The car with an anti-roll bar: its places are `bearing`, `on blade` and `link lower`."""
    car = with_points(car, places)
    at = car.points
    fitted = AntiRollBar(
        bearing=at["bearing"],
        arm_end=at["on blade"],
        link_lower=at["link lower"],
        link_on=on,  # type: ignore[arg-type]
        **bar,
    )
    return car.changed(car.axle, "bar", fitted)


def wishbone_bar_places() -> dict[str, Array]:
    """Blades behind the lower arm, with their drop links down to it."""
    _, rear, ball = arm_of_wishbones()
    lower = 0.7 * ball + 0.3 * rear
    blade = lower + np.array([-10.0, -12.0, 160.0])
    return {
        "link lower": lower,
        "on blade": blade,
        "bearing": blade + np.array([-190.0, 0.0, 15.0]),
    }


def level_bar_places() -> dict[str, Array]:
    """Level blades 250 long under the swinging arm, upright drop links 200 long.

    Their ends are as far behind the bar as the links' upper ends are behind the hinge: so the
    blades turn as the arms do, exactly.
    """
    return {
        "link lower": np.array([100.0, 600.0, 300.0]),
        "on blade": np.array([100.0, 600.0, 100.0]),
        "bearing": np.array([350.0, 600.0, 100.0]),
    }
