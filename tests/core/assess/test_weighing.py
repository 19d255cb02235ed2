"""Cars on scales: what replaces the sum of all weights, and the height by tilting.

The readings of the raised car come from plain statics of two points in the turned plane, not from
the formula that turns them back into a height.
"""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.braking import loaded
from core.assess.on_wheels import OnWheels, on_wheels, tilted
from core.assess.weighing import weighed, weighing_of
from core.assess.weights import corner_load, loads_at_design, scales, wheel_order
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.records import LoadCase, Weighing
from core.document.running_gear import Tyre
from core.document.steel import Point
from core.edits.things import make
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.cars.stored import demo, empty, ref
from tests.core.assess.weighed_cars import changed, on_scales, weighed_car

BASE, RADIUS, TRACK = 2000.0, 280.0, 1400.0
READ = {"front_left_kg": 121.0, "front_right_kg": 119.0, "rear_left_kg": 181.0,
        "rear_right_kg": 179.0}  # fmt: skip
MASS, FRONT = 600.0, 240.0
LEFT, RIGHT = "front corner left", "front corner right"


def weighed_on(document: Document, name: str = "scales", /, **readings: Any) -> Document:  # noqa: ANN401
    return make(document, Weighing, name, **readings)[0]


def stands(document: Document, case: Ref | None = None) -> OnWheels:
    return compute(document, {}, on_wheels, case)


def front_reading(height: float, raised: float, rear_radius: float = RADIUS) -> float:
    """What the front wheels carry with the tail raised: moments of a plane turned as a whole."""
    behind = (MASS - FRONT) / MASS * BASE
    front, rear = np.array([0.0, RADIUS]), np.array([-BASE, rear_radius])
    low, high = 0.0, np.pi / 2.2
    for _ in range(200):  # by halving: how far it is turned with the rear wheel so much higher
        middle = (low + high) / 2.0
        lift = (_turned(rear - front, middle) - (rear - front))[1]
        low, high = (middle, high) if lift < raised else (low, middle)
    at = _turned(np.array([-behind, height]) - front, low)
    contact = _turned(rear - front, low)  # wheels roll: forces go straight up through the centres
    return float(MASS * (at[0] - contact[0]) / (0.0 - contact[0]))


def _turned(place: np.ndarray[Any, Any], angle: float) -> np.ndarray[Any, Any]:
    """A place about the front wheel's centre, the tail (at -x) going up."""
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return np.asarray(turn @ place)


def test_a_weighing_replaces_the_sum_of_all_weights() -> None:
    car = weighed_car()
    summed = compute(car, {}, loads_at_design)

    found = stands(weighed_on(car, **READ))

    assert found.is_weighed
    assert found.corners == tuple(READ.values())
    assert (found.front_kg, found.rear_kg, found.mass_kg) == (240.0, 360.0, 600.0)
    assert found.behind_front == pytest.approx(BASE * 360.0 / 600.0)
    assert found.y == pytest.approx((302.0 - 298.0) / 600.0 * TRACK / 2.0)
    assert found.height == pytest.approx(summed.centre.z)  # not tilted: by the sum still
    assert not found.is_height_weighed


def test_without_scales_it_is_the_sum() -> None:
    for document in (weighed_car(), demo().drawn):
        summed, found = compute(document, {}, loads_at_design), stands(document)

        assert not found.is_weighed
        assert found.corners == summed.corners
        assert found.rear_percent == pytest.approx(summed.rear_percent)
        assert found.height == pytest.approx(summed.centre.z, abs=0.03)  # ground at z = 0


def test_a_car_is_as_high_over_the_ground_wherever_it_is_drawn() -> None:
    """The same car with all its places 100 higher, its tyres being the same."""
    car = weighed_car()
    up = car
    for end, x in (("front", 0.0), ("rear", -BASE)):
        upright = next(c for c in car.corners if c.name.startswith(end)).upright
        higher = type(upright)(hub_face=Vec3(x, 720.0, 380.0), spin_axis=upright.spin_axis)
        up = changed(up, f"{end} corner left", upright=higher)
    for part in car.parts:
        at = part.centre_of_gravity
        assert at is not None
        up = changed(up, part.name, centre_of_gravity=at._replace(z=at.z + 100.0))

    assert stands(up).height == pytest.approx(stands(car).height)


def test_wheels_of_a_weighing_go_before_their_own_figures() -> None:
    car = on_scales(weighed_car(), {LEFT: 150.0, RIGHT: 140.0})
    car = weighed_on(car, front_left_kg=121.0)

    left, right = (compute(car, {}, weighed, ref(car, name)) for name in (LEFT, RIGHT))

    assert left is not None
    assert right is not None
    assert (left.kg, left.by) == (121.0, "weighing")
    assert (right.kg, right.by) == (140.0, "wheel")
    assert compute(car, {}, corner_load, ref(car, LEFT)) == 121.0


def test_a_pair_s_weight_goes_for_both_wheels_and_says_so() -> None:
    car = changed(weighed_car(), LEFT, weight_kg=150.0)

    left, right = (compute(car, {}, weighed, ref(car, name)) for name in (LEFT, RIGHT))

    assert left is not None
    assert right is not None
    assert (left.by, right.by) == ("wheel", "other wheel")
    assert right.kg == 150.0


def test_the_last_weighing_in_a_load_counts() -> None:
    car, case = make(weighed_car(), LoadCase, "two up")
    car = weighed_on(car, "first", front_left_kg=100.0)
    car = weighed_on(car, "second", front_left_kg=110.0)
    car = weighed_on(car, "two up", front_left_kg=130.0, load_case=Ref(case.id))

    assert compute(car, {}, weighing_of, None) == ref(car, "second")
    assert compute(car, {}, weighed, ref(car, LEFT), Ref(case.id)) is not None
    assert compute(car, {}, corner_load, ref(car, LEFT)) == 110.0


def test_a_weighing_in_a_load_case_leaves_the_others_alone() -> None:
    car, case = make(weighed_car(), LoadCase, "two up")
    car = weighed_on(car, load_case=Ref(case.id), **READ)

    assert stands(car, Ref(case.id)).is_weighed
    assert not stands(car).is_weighed


def test_scales_alone_do_where_the_sum_is_not_known() -> None:
    car = changed(weighed_car(), "driver", mass_kg=None)

    with pytest.raises(NotComputedError, match="driver"):
        stands(car)
    found = stands(weighed_on(car, **READ))
    assert found.mass_kg == MASS
    assert found.height is None
    assert "driver" in found.why_no_height
    with pytest.raises(NotComputedError, match="how high the centre of gravity"):
        compute(weighed_on(car, **READ), {}, loaded, None)


@settings(max_examples=40, deadline=None)
@given(height=st.floats(250.0, 700.0), raised=st.floats(200.0, 900.0), rear=st.floats(250.0, 330.0))
def test_tilting_gives_back_the_height_that_the_readings_came_from(
    height: float, raised: float, rear: float
) -> None:
    """R. N. Jazar, Vehicle Dynamics, 2008, p. 43, for wheels alike; here they may differ."""
    car = weighed_car()
    car, tyre = make(car, Tyre, "rear tyre", size="185/60R14", loaded_radius=rear)
    upright = next(c for c in car.corners if c.name == "rear corner").upright
    higher = type(upright)(hub_face=Vec3(-BASE, 720.0, rear), spin_axis=upright.spin_axis)
    car = changed(car, "rear corner left", tyre=Ref(tyre.id), upright=higher)
    front = front_reading(height, raised, rear)

    found = compute(
        weighed_on(car, raised_front_kg=front, tail_raised=raised, **READ), {}, tilted, None
    )

    assert found is not None
    assert found.height == pytest.approx(height, abs=1e-6)


def test_its_doubt_is_that_of_four_readings_and_a_tape() -> None:
    """Against readings off by the likely error, one by one, squares added."""
    height, raised = 400.0, 500.0
    front = front_reading(height, raised)
    tilt = {"raised_front_kg": front, "tail_raised": raised}
    told = {"scales_uncertainty_kg": 0.5, "raised_uncertainty": 3.0}

    def height_with(**off: float) -> float:
        found = compute(weighed_on(weighed_car(), **READ | tilt | off), {}, tilted, None)
        assert found is not None
        return found.height

    found = compute(weighed_on(weighed_car(), **READ | tilt | told), {}, tilted, None)
    by_kg = height_with(raised_front_kg=front + 0.5) - height
    by_mm = height_with(tail_raised=raised + 3.0) - height
    assert found is not None
    assert found.per_kg * 0.5 == pytest.approx(by_kg, rel=1e-6)
    assert found.per_mm * 3.0 == pytest.approx(by_mm, rel=0.02)
    assert found.plus_minus == pytest.approx(np.hypot(2.0 * by_kg, by_mm), rel=0.02)


def test_the_tilted_height_replaces_the_sum_s_for_the_brakes_too() -> None:
    tilt = {"raised_front_kg": front_reading(450.0, 400.0), "tail_raised": 400.0}
    car = weighed_on(weighed_car(), **READ, **tilt)

    found = stands(car)

    assert found.is_height_weighed
    assert found.height == pytest.approx(450.0)
    road = compute(car, {}, loaded, None).road
    assert road.height_by_wheelbase == pytest.approx(450.0 / BASE)
    assert road.rear_share == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ({**READ, "tail_raised": 400.0}, "what the front wheels carry"),
        ({**READ, "raised_front_kg": 250.0}, "how far the tail went up"),
        ({**READ, "raised_front_kg": 250.0, "tail_raised": 4000.0}, "never comes so high"),
        ({**READ, "raised_front_kg": 150.0, "tail_raised": 400.0}, "in the ground"),
        (
            {"front_left_kg": 1.0, "raised_front_kg": 250.0, "tail_raised": 400.0},
            "not every wheel",
        ),
    ],
)
def test_readings_that_give_no_height_say_why_and_leave_the_sum(
    readings: dict[str, float], words: str
) -> None:
    car = weighed_on(weighed_car(), **readings)

    with pytest.raises(NotComputedError, match=words):
        compute(car, {}, tilted, None)
    assert stands(car).height == pytest.approx(stands(weighed_car()).height)
    assert not stands(car).is_height_weighed


def test_without_a_weighing_nothing_was_tilted() -> None:
    assert compute(weighed_car(), {}, tilted, None) is None
    assert compute(weighed_on(weighed_car(), **READ), {}, tilted, None) is None


def test_on_no_car_it_is_not_known_on_what_wheels() -> None:
    document, _ = make(empty(), Point, "joint", at=Vec3(0.0, 0.0, 0.0))

    for car in (document, weighed_on(document, **READ)):
        with pytest.raises(NotComputedError, match="there is no front axle"):
            stands(car)


def test_scales_of_a_weighing_tell_the_cross_weight() -> None:
    found = compute(weighed_on(weighed_car(), **READ), {}, scales)

    assert found is not None
    assert found.cross_share == pytest.approx((121.0 + 179.0) / 600.0)
    assert len(compute(weighed_car(), {}, wheel_order)) == len(READ)
