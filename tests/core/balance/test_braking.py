"""Brakes, against the loads of each axle at its own locking and plain hydraulics.

No published set of figures was at hand: what locks is proved by taking moments at that very
deceleration, and both cars are held against their own independent check elsewhere.
"""

from math import atan, inf, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.balance.braking import (
    AxleBrakes,
    Brakes,
    HandLever,
    OnRoad,
    front_load_share,
    grip_where_both_lock,
    locking,
    locks_at,
    slope_held_percent,
)

G = 9.80665
ROADS = st.builds(OnRoad, st.floats(0.3, 0.7), st.floats(0.1, 0.35))


def axle(piston: float = 50.0) -> AxleBrakes:
    return AxleBrakes(
        effective_radius=105.0,
        pistons_one_side=1,
        piston_diameter=piston,
        cylinder_diameter=17.8,
        tyre_radius=280.0,
    )


def foot_brake(share: float = 0.5, friction: float = 0.4, rear: float = 38.0) -> Brakes:
    return Brakes(
        front=axle(54.0),
        rear=axle(rear),
        pedal_ratio=5.0,
        rod_share=share,
        pad_friction=friction,
    )


@given(ROADS, st.floats(0.3, 0.9), st.floats(0.2, 1.2))
def test_the_axle_that_locks_uses_all_its_grip_and_the_other_less(
    road: OnRoad, share: float, grip: float
) -> None:
    """Of a car of weight 1: loads at z are 1 - r + z h and r - z h, forces z share and the rest."""
    found = locking(road, share, grip)

    z = found.deceleration_g
    loads = {
        "front": 1.0 - road.rear_share + z * road.height_by_wheelbase,
        "rear": road.rear_share - z * road.height_by_wheelbase,
    }
    forces = {"front": z * share, "rear": z * (1.0 - share)}
    other = "rear" if found.axle == "front" else "front"
    assert forces[found.axle] == pytest.approx(grip * loads[found.axle])
    assert forces[other] <= grip * loads[other] + 1e-9
    assert z <= grip + 1e-9


@given(ROADS, st.floats(0.3, 0.9), st.floats(0.2, 1.2))
def test_the_rear_locks_first_beyond_the_grip_at_which_both_do(
    road: OnRoad, share: float, grip: float
) -> None:
    both = grip_where_both_lock(road, share)

    if abs(grip - both) > 1e-9:
        assert locking(road, share, grip).axle == ("front" if grip < both else "rear")
    if 0.05 < both < 2.0:
        assert locking(road, share, both).deceleration_g == pytest.approx(both)


@given(st.floats(0.1, 0.9), st.floats(0.2, 0.6), st.floats(100.0, 800.0))
def test_share_of_the_front_is_that_of_area_and_rod_whatever_the_pads(
    share: float, friction: float, foot: float
) -> None:
    found = foot_brake(share, friction)

    areas = share * 54.0**2, (1.0 - share) * 38.0**2
    front, rear = found.forces(foot)
    assert found.front_share == pytest.approx(areas[0] / sum(areas))
    assert front / (front + rear) == pytest.approx(found.front_share)


def test_force_of_one_axle_by_hand() -> None:
    """Pressure 1000 N over 248.8 mm2; clamp by 1963.5 mm2; 4 friction faces at 105 over 280."""
    pressure = 1000.0 / (pi / 4.0 * 17.8**2)

    assert axle().pressure(1000.0) == pytest.approx(pressure)
    wanted = 4.0 * 0.4 * pressure * pi / 4.0 * 50.0**2 * 105.0 / 280.0
    assert axle().force(1000.0, 0.4) == pytest.approx(wanted)


@given(st.floats(300.0, 1500.0), st.floats(0.1, 1.0))
def test_the_foot_force_brakes_the_car_as_asked(mass: float, g: float) -> None:
    found = foot_brake()

    assert sum(found.forces(found.foot_force(mass, g))) == pytest.approx(mass * g * G)


def test_the_hand_brake_holds_what_pulls_the_car_down_its_slope() -> None:
    """Along the slope W sin(angle) = 2 wheels 2 faces friction clamp radius / tyre radius."""
    lever = HandLever(hand_force=300.0, lever_ratio=7.0, cable_efficiency=0.75, caliper_ratio=7.5)
    clamp = 300.0 * 7.0 * 0.75 / 2.0 * 7.5

    slope = slope_held_percent(lever, axle(), 0.3, 900.0)

    assert lever.clamp == pytest.approx(clamp)
    pull = 900.0 * G * sin(atan(slope / 100.0))
    assert pull == pytest.approx(4.0 * 0.3 * clamp * 105.0 / 280.0)
    assert slope_held_percent(lever, axle(), 0.3, 100.0) == inf


def test_all_brakes_on_one_axle_lock_that_one() -> None:
    road = OnRoad(0.5, 0.2)

    assert locking(road, 1.0, 0.8).axle == "front"
    assert locking(road, 0.0, 0.8).axle == "rear"


@given(car=ROADS, g=st.floats(0.1, 1.2))
def test_brakes_shared_as_the_weight_lock_both_axles_together(car: OnRoad, g: float) -> None:
    share = front_load_share(car, g)

    front, rear = locks_at(car, share, g)

    assert front == pytest.approx(g)
    assert rear == pytest.approx(g)
    assert grip_where_both_lock(car, share) == pytest.approx(g)


def test_the_weight_on_the_front_wheels_is_theirs_at_rest_and_grows() -> None:
    car = OnRoad(0.6, 0.25)

    assert front_load_share(car, 0.0) == pytest.approx(0.4)
    assert front_load_share(car, 1.0) == pytest.approx(0.65)
