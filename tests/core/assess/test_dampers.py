"""How long each damper gets over the travel of its wheel.

Source of both cars' lengths: their own independent check in numpy (`reference_results`), printed to
a tenth of a mm.
"""

import numpy as np
import pytest

from core.assess.dampers import damper_at_design, damper_travel
from core.document.links import Damper
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.cars.stored import demo, expected, ref, second
from tests.core.assess.made_corners import (
    Made,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    swinging_arm,
)

TENTH = 5.1e-2
CORNERS = [
    (car, end, side)
    for car in ("demo-car", "second-car")
    for end in ("front", "rear")
    for side in ("left", "right")
]


@pytest.mark.parametrize(("car", "end", "side"), CORNERS)
def test_the_lengths_of_both_cars_dampers(car: str, end: str, side: str) -> None:
    document = (demo if car == "demo-car" else second)().drawn
    wanted = expected(car)[end]
    heights = dict(zip(wanted["bump"], wanted["damper_length"], strict=True))

    found = compute(document, {}, damper_travel, ref(document, f"{end} corner {side}"))

    assert found.shortest == pytest.approx(min(heights.values()), abs=TENTH)
    assert found.longest == pytest.approx(max(heights.values()), abs=TENTH)
    assert (found.shortest_at, found.longest_at) == (max(heights), min(heights))
    assert found.at_design == pytest.approx(heights[0], abs=TENTH)


def test_its_own_lengths_are_those_entered() -> None:
    document = demo().drawn
    found = compute(document, {}, damper_travel, ref(document, "front corner right"))

    assert (found.closed, found.open) == (342.0, 438.0)
    car = made(made_up_wishbones())
    bare = compute(car.document, {}, damper_travel, car.corner)
    assert (bare.closed, bare.open) == (None, None)


def test_an_eye_on_the_upright_and_one_on_an_arm_go_different_ways() -> None:
    """Of the demo car's front the arm turns and the upright does not: the ratios are not alike."""
    car = made(made_up_wishbones())
    on_arm = compute(car.document, {}, damper_at_design, car.corner)
    other = car.changed(car.corner, "damper.lower_on", "upright")
    on_upright = compute(other.document, {}, damper_at_design, car.corner)

    assert on_arm.arm is not None
    assert on_arm.arm.outer.tolist() == [8.0, 655.0, 175.0]
    assert on_upright.arm is None
    lengths = [
        compute(each.document, {}, damper_travel, car.corner).shortest for each in (car, other)
    ]
    assert abs(lengths[0] - lengths[1]) > 1.0


def test_an_eye_on_a_swinging_upright_is_where_the_circle_puts_it() -> None:
    """An eye 20 above the wheel centre of a 350 arm, the other eye 300 over it, 60 either way."""
    car = made(swinging_arm())

    found = compute(car.document, {}, damper_travel, car.corner.mirrored())

    turn = np.arcsin(np.array([-60.0, 60.0]) / 350.0)
    ahead = 350.0 - 350.0 * np.cos(turn) + 20.0 * np.sin(turn)
    up = 300.0 + 350.0 * np.sin(turn) + 20.0 * np.cos(turn)
    lengths = np.hypot(ahead, 620.0 - up)
    assert (found.longest, found.shortest) == pytest.approx(tuple(lengths), abs=1e-9)
    assert found.at_design == pytest.approx(300.0, abs=1e-9)


def why_not(car: Made) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, damper_travel, car.corner)
    return str(raised.value)


def test_a_damper_on_an_arm_that_is_not_there_is_told() -> None:
    car = made(made_up_trailing_arm())

    words = why_not(car.changed(car.corner, "damper.lower_on", "upper arm"))

    assert words.startswith("corner left has no upper arm")


def test_no_damper_is_told() -> None:
    car = made(swinging_arm())

    assert (
        why_not(car.changed(car.corner, "damper", None)) == "no damper is entered for corner left"
    )


def test_a_travel_that_is_not_reached_has_no_lengths() -> None:
    car = made(swinging_arm())

    words = why_not(car.changed(car.corner, "bump", 400.0))

    assert "of corner left does not reach" in words


def test_an_own_lower_eye_of_the_right_side_is_its_own() -> None:
    car = made(swinging_arm())
    apart = car.right_only(car.points["top"], "at.z", 640.0)

    found = [
        compute(apart.document, {}, damper_travel, each).at_design
        for each in (car.corner, car.corner.mirrored())
    ]

    assert found == pytest.approx([300.0, 320.0], abs=1e-9)
    assert isinstance(car.document.corners[0].damper, Damper)
