"""Points moved to what is wanted: planted drawings, scipy's other minimisers, and no way at all."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from core.geometry.types import Array
from core.suspension.centres import roll_centre_height
from core.suspension.changes import AXES, Change, lengthening, moving, points_of, redrawn
from core.suspension.constraints import Hinge, Rod
from core.suspension.damper import DamperAtDesign, damper_per_wheel_travel
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Linkage
from core.suspension.makers import any_five, semi_trailing_arm
from core.suspension.poses import Poses
from core.suspension.settling import Aim, Bound, Freedom, Settled, settle
from core.suspension.solve import solve
from core.suspension.travel import at
from core.suspension.wheel import camber_deg, camber_slope, toe_in_deg
from tests.core.suspension.corners import of_car, vec
from tests.core.suspension.test_other_methods import WHEEL

BUMPS = np.linspace(-60.0, 60.0, 7)
MIDDLE = 3


def toe_change(poses: Poses) -> Array:
    toe = toe_in_deg(poses)
    return np.asarray(toe - toe[..., MIDDLE : MIDDLE + 1])


def roll_centre(poses: Poses) -> Array:
    return roll_centre_height(poses)[..., MIDDLE : MIDDLE + 1]


def move(linkage: Linkage, constraint: str, end: str, axis: str) -> Change:
    point = next(each for each in points_of(linkage) if (constraint, end) in each.ends)
    return moving(f"{constraint}, {end}, {axis}", (point,), AXES[axis])


def front() -> Linkage:
    return of_car("demo", "front").linkage


def missed(found: Settled, name: str, wanted: Array | float) -> tuple[float, float]:
    before, after = (each[name] - wanted for each in (found.before, found.after))
    return float(np.abs(before).max()), float(np.abs(after).max())


@settings(max_examples=10, deadline=None)
@given(st.floats(-12.0, 12.0), st.floats(-12.0, 12.0))
def test_a_drawing_spoilt_by_known_amounts_is_brought_back(height: float, arm: float) -> None:
    linkage = front()
    changes = (
        move(linkage, "track rod", "inner", "z"),
        move(linkage, "upper arm, front leg", "inner", "z"),
    )
    spoilt = redrawn(linkage, changes, vec(height, arm))
    drawn = solve(linkage, at(BUMPS))
    aims = (
        Aim("toe", toe_change, toe_change(drawn), 0.01),
        Aim("roll centre", roll_centre, float(roll_centre(drawn)[0]), 0.1),
    )

    found = settle(spoilt, tuple(Freedom(c, -15.0, 15.0) for c in changes), aims, at(BUMPS))

    assert found.missed_after < 1e-3 + 1e-3 * found.missed_before
    assert found.amounts == pytest.approx(vec(-height, -arm), abs=0.02)
    assert found.is_reached


def test_bump_steer_goes_and_the_roll_centre_comes_where_it_is_wanted() -> None:
    linkage = front()
    hinge = tuple(
        next(each for each in points_of(linkage) if (f"upper arm, {leg} leg", "inner") in each.ends)
        for leg in ("front", "rear")
    )
    freedoms = (
        Freedom(move(linkage, "track rod", "inner", "z"), -15.0, 15.0),
        Freedom(moving("upper arm, z", hinge, AXES["z"]), -15.0, 15.0),
    )
    aims = (Aim("toe", toe_change, 0.0, 0.005), Aim("roll centre", roll_centre, 35.0, 0.5))

    found = settle(linkage, freedoms, aims, at(BUMPS))

    toe_before, toe_after = missed(found, "toe", 0.0)
    roll_before, roll_after = missed(found, "roll centre", 35.0)
    assert toe_after < 0.3 * toe_before
    assert roll_after < 0.5 * roll_before
    assert found.is_better
    poses = solve(found.linkage, at(BUMPS))
    assert found.after["toe"] == pytest.approx(toe_change(poses), abs=1e-9)
    assert found.after["roll centre"] == pytest.approx(roll_centre(poses), abs=1e-7)


def test_it_comes_as_near_as_another_minimiser() -> None:
    linkage = front()
    changes = (
        move(linkage, "track rod", "inner", "z"),
        move(linkage, "track rod", "outer", "y"),
    )
    aims = (
        Aim("toe", toe_change, 0.0, 0.01),
        Aim("camber", camber_deg, -0.02 * BUMPS, 0.5),
    )

    found = settle(linkage, tuple(Freedom(c, -10.0, 10.0) for c in changes), aims, at(BUMPS))

    def cost(amounts: Array) -> float:
        poses = solve(redrawn(linkage, changes, amounts), at(BUMPS))
        off = toe_change(poses) / 0.01, (camber_deg(poses) + 0.02 * BUMPS) / 0.5
        return float(sum(np.sum(each**2) for each in off))

    other = minimize(cost, np.zeros(2), bounds=[(-10.0, 10.0)] * 2, method="Nelder-Mead")
    assert found.missed_after**2 == pytest.approx(other.fun, rel=1e-4)
    assert found.missed_before**2 == pytest.approx(cost(np.zeros(2)), rel=1e-9)


def test_bounds_are_kept_and_told() -> None:
    linkage = front()
    inner = move(linkage, "track rod", "inner", "z")
    spoilt = redrawn(linkage, (inner,), vec(10.0))
    aim = Aim("toe", toe_change, toe_change(solve(linkage, at(BUMPS))), 0.01)

    found = settle(spoilt, (Freedom(inner, -4.0, 9.0),), (aim,), at(BUMPS))

    assert found.bounds == (Bound(inner.name, "least"),)
    assert found.amounts == pytest.approx([-4.0], abs=1e-2)
    assert found.amounts[0] >= -4.0
    assert found.is_better
    upwards = settle(
        redrawn(linkage, (inner,), vec(-10.0)), (Freedom(inner, -4.0, 9.0),), (aim,), at(BUMPS)
    )
    assert upwards.bounds == (Bound(inner.name, "most"),)


def test_a_drawing_that_is_right_already_is_left_alone() -> None:
    linkage = front()
    aim = Aim("toe", toe_change, toe_change(solve(linkage, at(BUMPS))), 0.01)

    found = settle(
        linkage, (Freedom(move(linkage, "track rod", "inner", "z"), -5.0, 5.0),), (aim,), at(BUMPS)
    )

    assert not found.is_better
    assert found.amounts == pytest.approx([0.0])
    assert found.bounds == ()


def test_what_moves_nothing_makes_nothing_better() -> None:
    linkage = of_car("demo", "rear").linkage
    still = Change("nothing", (), (), vec(1.0, 0.0, 0.0))

    found = settle(
        linkage, (Freedom(still, -5.0, 5.0),), (Aim("toe", toe_in_deg, 1.0, 0.1),), at(BUMPS)
    )

    assert not found.is_better
    assert found.missed_before == found.missed_after > 10.0


@settings(max_examples=12, deadline=None)
@given(st.floats(-1.5, 1.5), st.floats(-100.0, 200.0))
def test_it_is_never_worse_and_never_out_of_bounds(camber: float, height: float) -> None:
    linkage = of_car("demo", "rear").linkage
    freedoms = tuple(
        Freedom(move(linkage, name, "inner", axis), -6.0, 3.0)
        for name in ("upper_lateral_inner", "toe_inner")
        for axis in ("y", "z")
    )
    aims = (
        Aim("camber in bump", lambda poses: camber_deg(poses)[..., -1:], camber, 0.1),
        Aim("roll centre", roll_centre, height, 5.0),
    )

    found = settle(linkage, freedoms, aims, at(BUMPS))

    assert found.missed_after <= found.missed_before
    assert found.is_better == (found.missed_after < found.missed_before)
    assert (found.amounts >= -6.0).all()
    assert (found.amounts <= 3.0).all()


def test_travel_that_no_drawing_reaches_raises_nothing() -> None:
    linkage = front()
    freedom = Freedom(move(linkage, "track rod", "inner", "z"), -5.0, 5.0)

    found = settle(linkage, (freedom,), (Aim("toe", toe_change, 0.0, 0.1),), at(BUMPS * 30.0))

    assert np.isinf([found.missed_before, found.missed_after]).all()
    assert not found.is_reached


def test_a_step_over_a_lock_is_not_taken() -> None:
    """Shortening the arms would bring the camber wanted, past where the travel is reached."""
    linkage = front()
    freedoms = tuple(
        Freedom(move(linkage, f"upper arm, {leg} leg", "inner", "y"), -5.0, 240.0)
        for leg in ("front", "rear")
    )
    aim = Aim("camber in bump", lambda poses: camber_deg(poses)[..., -1:], -60.0, 0.1)

    found = settle(linkage, freedoms, (aim,), at(BUMPS))

    assert found.is_reached
    assert found.is_better
    assert solve(found.linkage, at(BUMPS)).is_reached.all()


def test_all_the_travel_counts_even_where_only_the_middle_is_wanted() -> None:
    """An upper arm a few mm long would lean the wheel as fast as wanted, and lock just after."""
    linkage = front()
    hinge = tuple(
        next(each for each in points_of(linkage) if (f"upper arm, {leg} leg", "inner") in each.ends)
        for leg in ("front", "rear")
    )
    shorter = Freedom(moving("upper arm, y", hinge, AXES["y"]), 0.0, 235.0)
    leans = Aim("slope", lambda poses: camber_slope(poses)[..., 3:4], -0.25, 1e-3)

    found = settle(linkage, (shorter,), (leans,), at(BUMPS))

    alone = settle(linkage, (shorter,), (leans,), at(np.linspace(-0.3, 0.3, 7)))
    assert alone.amounts[0] > found.amounts[0] > 20.0
    assert not solve(alone.linkage, at(BUMPS)).is_reached.all()
    assert found.is_reached


def test_two_points_of_a_hinge_that_meet_raise_nothing() -> None:
    linkage = semi_trailing_arm(vec(350.0, 600.0, 300.0), vec(350.0, 400.0, 300.0), WHEEL)
    hinge = linkage.constraints[0]
    assert isinstance(hinge, Hinge)
    both = Freedom(move(linkage, hinge.name, "first", "y"), -200.0, 10.0)

    found = settle(linkage, (both,), (Aim("toe", toe_in_deg, 5.0, 0.1),), at(BUMPS))

    assert np.isfinite(found.amounts).all()
    assert found.missed_after <= found.missed_before


def test_a_damper_ratio_can_be_wanted() -> None:
    """Its eye on the upright; the arm it hangs from is drawn lower outside."""
    example = of_car("demo", "rear")
    eye = DamperAtDesign(example.damper.lower, example.damper.upper)

    def ratio(poses: Poses) -> Array:
        return damper_per_wheel_travel(poses, eye)[..., MIDDLE : MIDDLE + 1]

    before = float(ratio(solve(example.linkage, at(BUMPS)))[0])
    freedom = Freedom(move(example.linkage, "lower_lateral_inner", "inner", "z"), -30.0, 30.0)

    found = settle(
        example.linkage, (freedom,), (Aim("ratio", ratio, before + 0.01, 1e-3),), at(BUMPS)
    )

    assert found.after["ratio"] == pytest.approx([before + 0.01], abs=1e-5)


def test_what_is_no_task_is_refused() -> None:
    linkage = front()
    freedom = Freedom(move(linkage, "track rod", "inner", "z"), -5.0, 5.0)
    aim = Aim("toe", toe_change, 0.0, 0.1)

    with pytest.raises(ValueError, match="something that may move"):
        settle(linkage, (), (aim,), at(BUMPS))
    with pytest.raises(ValueError, match="on a drawing"):
        settle(
            linkage, (replace(freedom, change=lengthening("a", "track rod")),), (aim,), at(BUMPS)
        )
    with pytest.raises(ValueError, match="stay as drawn"):
        Freedom(freedom.change, 1.0, 2.0)
    with pytest.raises(ValueError, match="accepted"):
        Aim("toe", toe_change, 0.0, 0.0)
    rods = tuple(held for held in linkage.constraints if isinstance(held, Rod))[1:]
    with pytest.raises(NotHeldError):
        settle(any_five(rods, linkage.wheel), (freedom,), (aim,), at(BUMPS))
