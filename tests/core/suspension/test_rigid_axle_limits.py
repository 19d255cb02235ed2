"""Where a rigid axle ends, locks, is held too little or too much, or cannot be drawn."""

import numpy as np
import pytest

from core.suspension.constraints import Held, Rod
from core.suspension.holding import NotHeldError
from core.suspension.linkage import WheelAtDesign
from core.suspension.rigid_axle import RigidAxle, axle_holding
from core.suspension.rigid_axle_read import (
    forward_shift,
    lateral_shift,
    roll_centre,
    roll_steer_slope,
    stretch,
)
from core.suspension.rigid_axle_solve import heave_ends, one_wheel_ends, roll_ends, solve_axle
from core.suspension.rigid_axle_travel import (
    AxleTravel,
    heave_and_roll,
    wheels_at,
)
from tests.core.suspension.axles import (
    AXLE_X,
    BALL,
    HEAVES,
    LEFT,
    LINK,
    PANHARD,
    PIVOT,
    RADIUS,
    RIGHT,
    X,
    Y,
    Z,
    axle,
    endless,
    plain,
    three_parallel,
    trailing,
    triangulated,
    watt_linkage,
)
from tests.core.suspension.corners import vec


def test_four_parallel_links_and_a_panhard_rod_hold_one_thing_twice() -> None:
    four = (*three_parallel()[:2], trailing("upper left", 300.0, 430.0))
    five = axle(*four, trailing("upper right", -300.0, 430.0), PANHARD)

    found = axle_holding(five)

    assert (found.needed, found.conditions, found.rank) == (4, 5, 4)
    assert found.fighting == (("lower left", "lower right", "upper left", "upper right"),)
    assert "upper left and upper right hold the same thing twice." in found.sentence
    with pytest.raises(NotHeldError, match="hold the same thing twice"):
        solve_axle(five, wheels_at())


def test_what_the_bushes_of_one_link_too_many_must_give() -> None:
    """Nothing in heave where it is equal and parallel; in roll by a general solver's axle."""
    equal, short = (trailing("upper right", -300.0, 430.0, long) for long in (LINK, 200.0))
    drawn = axle(*three_parallel()[:2], trailing("upper left", 300.0, 430.0), PANHARD)

    in_heave = solve_axle(drawn, heave_and_roll(drawn, HEAVES))
    travel = heave_and_roll(drawn, 0.0, 6.0)
    in_roll = solve_axle(drawn, travel)

    assert stretch(in_heave, equal) == pytest.approx(np.zeros(9), abs=1e-9)
    gone = np.stack([forward_shift(in_heave) - 200.0, lateral_shift(in_heave), HEAVES])
    assert stretch(in_heave, short) == pytest.approx(np.linalg.norm(gone, axis=0) - 200.0, abs=1e-9)
    assert stretch(in_heave, short)[0] > 5.0
    other = plain(drawn)
    end = other.placed(other.solved(float(travel.left), float(travel.right)), short.outer)
    give = float(np.linalg.norm(end - short.inner)) - 200.0
    assert float(stretch(in_roll, short)) == pytest.approx(give, abs=1e-7)
    assert abs(give) > 0.5


def test_without_a_panhard_rod_the_axle_slides_sideways() -> None:
    found = axle_holding(axle(*three_parallel()))

    assert (found.conditions, found.rank, len(found.free)) == (3, 3, 1)
    assert np.abs(found.free[0].direction) == pytest.approx(Y, abs=1e-9)
    assert found.sentence.startswith("3 conditions hold the axle and 4 are needed.")
    assert "the axle can slide along (0.00, 1.00, 0.00)" in found.sentence


def test_a_second_panhard_rod_at_another_height_stops_the_roll() -> None:
    second = Rod("second rod", PANHARD.inner + 150.0 * Z, PANHARD.outer + 150.0 * Z)
    found = axle_holding(axle(*three_parallel(), PANHARD, second))

    assert (found.conditions, found.rank) == (5, 5)
    assert "5 conditions hold the axle, 4 are needed: it can rise and fall but not roll." in (
        found.sentence
    )
    assert {"Panhard rod", "second rod"} <= set(found.fighting[0])
    assert "hold the same thing twice" not in found.sentence


def test_a_leaning_link_too_many_stops_the_heave() -> None:
    leaning = Rod("strut", vec(AXLE_X, 0.0, 800.0), vec(AXLE_X, 0.0, 260.0))

    found = axle_holding(axle(*three_parallel(), PANHARD, leaning))

    assert "it can roll but not rise and fall." in found.sentence
    assert {"Panhard rod", "strut"} & set(found.fighting[0])


def test_six_conditions_fix_the_axle() -> None:
    more = Held("ball", BALL), Rod("strut", vec(AXLE_X, 0.0, 800.0), vec(AXLE_X, 0.0, 260.0))
    lateral = Rod("upper rod", PANHARD.inner + 150.0 * Z, PANHARD.outer + 150.0 * Z)

    found = axle_holding(axle(*more, lateral, PANHARD))

    assert (found.conditions, found.rank) == (6, 6)
    assert "6 conditions hold the axle, 4 are needed: it is fixed." in found.sentence


def test_an_upright_panhard_rod_locks_and_is_told() -> None:
    upright = Rod("Panhard rod", vec(AXLE_X, -400.0, 700.0), vec(AXLE_X, -400.0, 260.0))

    found = axle_holding(axle(*endless(), upright))

    assert found.rank == found.conditions == 4
    assert "but not both up and down and in roll: at the design position it is locked." in (
        found.sentence
    )
    assert "slide along (0.00, 1.00, 0.00)" in found.sentence


def test_the_travel_ends_where_the_panhard_rod_stands_upright() -> None:
    end = vec(AXLE_X, -400.0, 280.0)
    drawn = axle(*endless(), Rod("Panhard rod", end + 250.0 * Y, end))

    low, high = heave_ends(drawn, 400.0)

    assert (low.is_lock, high.is_lock) == (True, True)
    assert (low.travel, high.travel) == pytest.approx((-250.0, 250.0), abs=2e-3)
    poses = solve_axle(drawn, heave_and_roll(drawn, vec(-251.0, -249.0, 0.0, 249.9, 260.0)))
    assert poses.is_reached.tolist() == [False, True, True, True, False]
    assert np.isnan(poses.wheel("left").centre[~poses.is_reached]).all()
    assert np.isnan(roll_centre(poses)[~poses.is_reached]).all()
    assert heave_ends(drawn, 100.0)[1].is_lock is False


def test_one_wheel_and_roll_have_ends_past_which_no_pose_is_near() -> None:
    short = Rod("Panhard rod", vec(AXLE_X, -330.0, 260.0), vec(AXLE_X, -420.0, 260.0))
    drawn = axle(*endless(), short)

    left_low, left_high = one_wheel_ends(drawn, "left", 600.0)
    right_up, left_up = roll_ends(drawn, 60.0)

    assert all(end.is_lock for end in (left_low, left_high, right_up, left_up))
    assert right_up.travel < 0.0 < left_up.travel
    for roll, is_reached in ((left_up.travel - 0.01, True), (left_up.travel + 0.01, False)):
        assert bool(solve_axle(drawn, heave_and_roll(drawn, 0.0, roll)).is_reached) == is_reached
    for rise, is_reached in ((left_high.travel - 0.01, True), (left_high.travel + 0.01, False)):
        assert bool(solve_axle(drawn, wheels_at(left=rise)).is_reached) == is_reached


def test_a_rocker_is_followed_to_where_its_first_rod_comes_in_line_and_no_further() -> None:
    pivot = vec(AXLE_X, 0.0, 330.0)
    watt = watt_linkage(pivot, 60.0, 120.0)
    drawn = axle(*endless(), watt)

    low, high = heave_ends(drawn, 400.0)
    ends = solve_axle(drawn, heave_and_roll(drawn, vec(low.travel + 1e-3, high.travel - 1e-3)))

    # Down, pivot and both ends of the first rod come in line; up, the rocker locks before.
    away = np.linalg.norm(ends.at(pivot) - watt.first_rod.inner, axis=-1)
    assert away[0] == pytest.approx(60.0 + 120.0, abs=1e-4)
    assert away[1] < 60.0 + 120.0 - 10.0
    assert ends.margin[0] > 0.1
    assert ends.margin[1] < 0.05
    assert (ends.error < 1e-10).all()
    past = solve_axle(drawn, heave_and_roll(drawn, vec(low.travel - 0.1, high.travel + 0.1)))
    assert not past.is_reached.any()


def test_no_way_from_design_crosses_a_lock_to_another_branch() -> None:
    """On an unbroken way the determinant of the slopes keeps its sign."""
    numbers, count = np.random.default_rng(2), 1500
    rods = [rod for rod in triangulated().constraints if isinstance(rod, Rod)]
    moved = tuple(
        Rod(
            rod.name,
            rod.inner + numbers.uniform(-80.0, 80.0, (count, 3)),
            rod.outer + numbers.uniform(-50.0, 50.0, (count, 3)),
        )
        for rod in rods
    )
    drawn = RigidAxle(moved, LEFT, RIGHT)

    poses = solve_axle(drawn, wheels_at(*numbers.uniform(-350.0, 350.0, (2, count))))

    reached = poses.is_reached
    assert 0.4 * count < np.sum(reached) < 0.99 * count
    now = np.sign(np.linalg.det(poses.inverse[reached]))
    assert (now == np.sign(np.linalg.det(drawn.design.slopes[reached]))).all()


def test_many_axles_at_once_are_many_axles_alone() -> None:
    ends = np.linspace(200.0, 320.0, 4)[:, None, None] * Z + vec(AXLE_X, 480.0, 0.0)
    pivots = PIVOT + np.linspace(0.0, 20.0, 4)[:, None, None] * Z
    travel = wheels_at(np.linspace(-40.0, 60.0, 5), 10.0)

    for lateral in (
        lambda k: Rod("Panhard rod", ends if k is None else ends[k, 0], PANHARD.outer),
        lambda k: watt_linkage(pivots if k is None else pivots[k, 0]),
    ):
        together = solve_axle(axle(*three_parallel(), lateral(None)), travel)
        assert together.shape == (4, 5)
        for k in range(4):
            alone = solve_axle(axle(*three_parallel(), lateral(k)), travel)
            assert together.centre[k] == pytest.approx(alone.centre, abs=1e-9)
            assert roll_steer_slope(together)[k] == pytest.approx(roll_steer_slope(alone), abs=1e-9)


def test_a_rod_set_longer_moves_the_axle_over() -> None:
    drawn = axle(*endless(), Rod("Panhard rod", PANHARD.inner, PANHARD.outer))
    nought = np.zeros(())

    longer = solve_axle(drawn, AxleTravel(nought, nought, lengthened=vec(5.0)))
    moved = solve_axle(drawn, AxleTravel(nought, nought, ends_moved=vec(0.0, 3.0, 0.0)[None]))

    assert float(lateral_shift(longer)) == pytest.approx(-5.0, abs=1e-9)
    assert float(lateral_shift(moved)) == pytest.approx(3.0, abs=1e-9)


def test_wheels_on_the_wrong_side_and_rods_on_the_rack_are_refused() -> None:
    with pytest.raises(ValueError, match="a left and a right wheel, not right and left"):
        RigidAxle(three_parallel(), RIGHT, LEFT)
    swapped = WheelAtDesign(RIGHT.centre, LEFT.spin_axis, RADIUS)
    with pytest.raises(ValueError, match="to the left of the right one"):
        RigidAxle(three_parallel(), swapped, RIGHT)
    steers = Rod("drag link", vec(0.0, 0.0, 0.0), X, on_rack=True)
    with pytest.raises(ValueError, match="drag link: no rod"):
        axle(steers)
    with pytest.raises(ValueError, match="a right angle"):
        heave_and_roll(axle(*three_parallel()), 0.0, 90.0)
