"""A spring to order: worked by hand, from the other side, and against the curves at the wheel."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.suspension.damper_over import DamperAt, DamperOver, damper_over
from core.suspension.ride import GRAVITY, in_series, ride_frequency_hz
from core.suspension.solve import solve
from core.suspension.spring_order import (
    SpringWanted,
    rate_for_ride,
    seat_moved_for,
    spring_order,
)
from core.suspension.springs import CoilSpring, at_wheel
from core.suspension.travel import at
from tests.core.suspension.corners import of_car, vec

OVER = DamperOver(DamperAt(350.0, 0.8), DamperAt(390.0, 0.75), DamperAt(435.0, 0.7))
WANTED = SpringWanted(
    sprung_load=1500.0,
    damper=OVER,
    closed=340.0,
    opened=445.0,
    lower_seat=60.0,
    upper_seat=40.0,
    reserve=6.0,
    block_length=240.0,
)


def test_a_spring_worked_by_hand() -> None:
    """1500 N at 0.75 are 2000 N in a spring of 25 N/mm, 80 mm of it; 290 long between its seats.

    Full bump: 250 long, 120 pressed, 3000 N, 2400 N at the wheel. Full droop: 335, 35, 875, 612.5.
    """
    found = spring_order(WANTED, 25.0)

    assert found.free_length == pytest.approx(370.0)
    assert (found.design.length, found.design.force) == pytest.approx((290.0, 2000.0))
    assert found.design.wheel_load == pytest.approx(1500.0)
    assert (found.bump.length, found.bump.force) == pytest.approx((250.0, 3000.0))
    assert found.bump.wheel_load == pytest.approx(2400.0)
    assert (found.droop.length, found.droop.force) == pytest.approx((335.0, 875.0))
    assert found.droop.wheel_load == pytest.approx(612.5)
    assert (found.bump.travel_left, found.droop.travel_left) == pytest.approx((10.0, 10.0))
    assert (found.to_block, found.has_reserve, found.to_block_closed) == (10.0, True, 0.0)
    assert (found.loose_at_droop, found.loose_open) == (0.0, 0.0)
    assert found.wheel_rate == pytest.approx(25.0 * 0.75**2)


def test_a_stiff_spring_lies_loose_at_droop() -> None:
    """2000 N are 20 mm of 100 N/mm: free 310 between seats that are 335 apart, 345 pulled out."""
    found = spring_order(WANTED, 100.0)

    assert (found.droop.force, found.droop.wheel_load) == (0.0, 0.0)
    assert found.loose_at_droop == pytest.approx(25.0)
    assert found.loose_open == pytest.approx(35.0)


def test_too_little_reserve_and_an_unknown_block_length_are_told() -> None:
    long = spring_order(replace(WANTED, block_length=248.0), 25.0)
    unknown = spring_order(replace(WANTED, block_length=None), 25.0)

    assert long.to_block == pytest.approx(2.0)
    assert long.has_reserve is False
    assert long.to_block_closed == pytest.approx(-8.0)
    assert (unknown.to_block, unknown.has_reserve, unknown.to_block_closed) == (None, None, None)


@given(
    frequency=st.floats(0.8, 3.0),
    load=st.floats(800.0, 4000.0),
    tyre=st.floats(150.0, 400.0),
    change=st.floats(-0.001, 0.001),
)
def test_the_ordered_rate_gives_the_wanted_frequency_on_the_tyre(
    frequency: float, load: float, tyre: float, change: float
) -> None:
    wanted = replace(
        WANTED, sprung_load=load, tyre_rate=tyre, damper=replace(OVER, ratio_change=change)
    )

    found = spring_order(wanted, rate_for_ride(wanted, frequency))

    assert found.frequency_hz == pytest.approx(frequency, rel=1e-9)
    both = in_series(np.array(found.wheel_rate), tyre)
    assert float(ride_frequency_hz(both, load / GRAVITY)) == pytest.approx(frequency, rel=1e-9)


@pytest.mark.parametrize(("car", "end"), [("demo", "front"), ("second", "rear")])
def test_loads_and_rate_are_those_of_the_curves_at_the_wheel(car: str, end: str) -> None:
    example = of_car(car, end)
    low, high = example.data["travel"]
    over = damper_over(example.linkage, example.damper, high, -low)
    damper = example.data["damper"]
    wanted = replace(
        WANTED,
        damper=over,
        sprung_load=1450.0,
        tyre_rate=175.0,
        closed=damper["closed_length"],
        opened=damper["open_length"],
    )

    found = spring_order(wanted, rate_for_ride(wanted, 1.5))

    poses = solve(example.linkage, at(vec(high, 0.0, low)))
    curve = at_wheel(poses, example.damper, CoilSpring(found.rate, found.design.force))
    loads = [state.wheel_load for state in (found.bump, found.design, found.droop)]
    assert loads == pytest.approx(curve.load, rel=1e-9)
    assert found.wheel_rate == pytest.approx(float(curve.rate[1]), rel=1e-9)
    assert abs(curve.geometric[1]) > 0.001


def test_a_seat_makes_up_for_a_spring_of_another_length() -> None:
    order = spring_order(WANTED, 25.0)

    moved = seat_moved_for(order, 350.0)

    shorter = spring_order(replace(WANTED, lower_seat=WANTED.lower_seat + moved), 25.0)
    assert shorter.free_length == pytest.approx(350.0)
    assert shorter.bump.force == pytest.approx(order.bump.force)
    with pytest.raises(ValueError, match="pressed to nothing"):
        seat_moved_for(order, 80.0)


def test_what_cannot_be_ordered_is_refused() -> None:
    with pytest.raises(ValueError, match="sprung load"):
        replace(WANTED, sprung_load=0.0)
    with pytest.raises(ValueError, match="450 closed and 445 open"):
        replace(WANTED, closed=450.0)
    with pytest.raises(ValueError, match="reserve to coil bind"):
        replace(WANTED, reserve=-1.0)
    with pytest.raises(ValueError, match="block length"):
        replace(WANTED, block_length=0.0)
    with pytest.raises(ValueError, match="leave no length"):
        replace(WANTED, lower_seat=320.0)
    with pytest.raises(ValueError, match="rate of the spring"):
        spring_order(WANTED, 0.0)
    with pytest.raises(ValueError, match="tyre alone is too soft"):
        rate_for_ride(replace(WANTED, tyre_rate=10.0), 1.5)
    with pytest.raises(ValueError, match="rate of the tyre"):
        rate_for_ride(replace(WANTED, tyre_rate=0.0), 1.5)
    with pytest.raises(ValueError, match="change of the ratio alone"):
        rate_for_ride(replace(WANTED, damper=replace(OVER, ratio_change=0.02)), 1.0)
    with pytest.raises(ValueError, match="must get shorter"):
        rate_for_ride(replace(WANTED, damper=replace(OVER, design=DamperAt(390.0, -0.7))), 1.5)
    with pytest.raises(ValueError, match="ride frequency"):
        rate_for_ride(WANTED, 0.0)
