"""Where a linkage ends, locks, holds too little or holds the same thing twice."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from core.geometry.types import Array
from core.suspension.constraints import Constraint, Rod
from core.suspension.ends import bump_ends, rack_ends
from core.suspension.holding import NotHeldError, holding
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.makers import any_five, semi_trailing_arm
from core.suspension.solve import solve
from core.suspension.travel import at
from core.suspension.wheel import toe_in_deg
from tests.core.suspension.corners import made_up, of_car, published, vec

CENTRE = vec(0.0, 700.0, 300.0)
WHEEL = WheelAtDesign(CENTRE, vec(0.0, 1.0, 0.0), 300.0)
ARM = 350.0


def trailing_arm() -> Linkage:
    pivot = CENTRE + vec(ARM, -100.0, 0.0)
    return semi_trailing_arm(pivot, pivot + vec(0.0, -200.0, 0.0), WHEEL)


def with_constraints(linkage: Linkage, constraints: tuple[Constraint, ...]) -> Linkage:
    return any_five(constraints, linkage.wheel, linkage.steering_axis)


def nearest_miss(linkage: Linkage, bump: float, start: Array) -> float:
    """Least error, mm, any pose near a start can have at a wheel height: a general solver."""
    rods = [rod for rod in linkage.constraints if isinstance(rod, Rod)]
    inner, outer = (np.array([getattr(rod, end) for rod in rods]) for end in ("inner", "outer"))
    lengths = np.linalg.norm(outer - inner, axis=1)
    arms = outer - linkage.centre

    def errors(pose: Array) -> Array:
        turned = arms @ Rotation.from_rotvec(pose[3:] / 400.0).as_matrix().T
        reach = np.linalg.norm(turned + pose[:3] + linkage.centre - inner, axis=1)
        return np.append(reach - lengths, pose[2] - bump)

    found = least_squares(errors, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    return float(np.abs(found.fun).max())


def test_a_trailing_arm_ends_where_it_points_straight_up_and_down() -> None:
    low, high = bump_ends(trailing_arm(), reach=2.0 * ARM)

    assert (low.is_lock, high.is_lock) == (True, True)
    assert low.travel == pytest.approx(-ARM, abs=2e-3)
    assert high.travel == pytest.approx(ARM, abs=2e-3)
    assert high.travel <= ARM


def test_an_end_that_was_not_met_is_said_to_be_none() -> None:
    low, high = bump_ends(trailing_arm(), reach=200.0)

    assert (low.is_lock, high.is_lock) == (False, False)
    assert (low.travel, high.travel) == (-200.0, 200.0)


def test_past_the_end_there_is_no_pose_and_before_it_there_is() -> None:
    poses = solve(trailing_arm(), at(vec(-400.0, -349.0, 0.0, 349.99, 350.01, 500.0)))

    assert poses.is_reached.tolist() == [False, True, True, True, False, False]
    assert np.isnan(poses.centre[~poses.is_reached]).all()
    assert np.isnan(toe_in_deg(poses)[~poses.is_reached]).all()
    assert np.isfinite(poses.centre[poses.is_reached]).all()
    assert poses.share[[0, 5]] == pytest.approx([350.0 / 400.0, 350.0 / 500.0], abs=1e-5)


def test_the_margin_falls_as_the_root_of_the_distance_to_the_lock() -> None:
    away = np.array([4.0, 1.0, 0.25, 0.0625])

    poses = solve(trailing_arm(), at(ARM - away))

    assert poses.margin[:-1] / poses.margin[1:] == pytest.approx([2.0, 2.0, 2.0], rel=0.05)


def test_the_margin_is_the_smallest_singular_value_to_within_root_six() -> None:
    linkage, _ = published()

    poses = solve(linkage, at(np.linspace(-120.0, 120.0, 13)))
    exact = poses.smallest_singular_value()

    assert (poses.margin <= exact * (1.0 + 1e-12)).all()
    assert (exact <= np.sqrt(6.0) * poses.margin).all()


def test_past_the_end_of_two_wishbones_a_general_solver_finds_no_pose_either() -> None:
    linkage, _ = published()
    low, _ = bump_ends(linkage)
    assert low.is_lock

    at_end = solve(linkage, at(low.travel))
    turn = Rotation.from_matrix(at_end.rotation).as_rotvec() * 400.0
    start = np.concatenate([at_end.centre - linkage.centre, turn])

    assert nearest_miss(linkage, low.travel, start) < 1e-9
    assert nearest_miss(linkage, low.travel - 0.5, start) > 1e-5


def test_the_rack_has_ends_too() -> None:
    linkage = made_up("double_wishbone_front").linkage

    right, left = rack_ends(linkage)

    assert right.is_lock
    assert left.is_lock
    inside = np.array([right.travel + 0.01, left.travel - 0.01])
    outside = np.array([right.travel - 0.01, left.travel + 0.01])
    assert solve(linkage, at(0.0, inside)).is_reached.all()
    assert not solve(linkage, at(0.0, outside)).is_reached.any()


def test_near_the_end_no_pose_is_of_another_branch() -> None:
    """The arm never turns past straight up: it stays behind its pivot."""
    poses = solve(trailing_arm(), at(np.linspace(-349.9, 349.9, 101)))

    assert poses.is_reached.all()
    assert (poses.centre[:, 0] < CENTRE[0] + ARM).all()


def test_every_example_is_held() -> None:
    examples = [made_up(n).linkage for n in ("double_wishbone_front",)]
    examples += [of_car(c, e).linkage for c in ("demo", "second") for e in ("front", "rear")]

    for linkage in (*examples, trailing_arm()):
        assert holding(linkage).is_held
        assert holding(linkage).sentence == ""


def test_a_missing_track_rod_leaves_the_turn_about_the_steering_axis() -> None:
    linkage = of_car("demo", "front").linkage
    axis = linkage.steering_axis
    assert axis is not None
    loose = with_constraints(linkage, linkage.constraints[:-1])

    found = holding(loose)

    assert (found.conditions, found.rank, len(found.free)) == (4, 4, 1)
    # Held at its height, the upright turns about a line close to the two balls.
    up = (axis.upper - axis.lower) / np.linalg.norm(axis.upper - axis.lower)
    assert abs(float(found.free[0].direction @ up)) > 0.99
    assert "steers by itself" in found.sentence
    assert "4 conditions" in found.sentence
    with pytest.raises(NotHeldError, match="steers by itself"):
        solve(loose, at())


def test_two_rods_in_one_place_are_told_by_name() -> None:
    linkage = of_car("demo", "rear").linkage
    doubled = replace(linkage.constraints[0], name="spare")
    twice = with_constraints(linkage, (*linkage.constraints[:4], doubled))

    found = holding(twice)

    assert (found.conditions, found.rank) == (5, 4)
    assert found.fighting == (("lower_lateral_inner", "spare"),)
    assert "lower_lateral_inner and spare hold the same thing twice." in found.sentence
    assert len(found.free) == 1


def test_parallel_rods_leave_a_slide_across_them() -> None:
    """Five level rods along x stop nothing sideways or upwards."""
    outer = CENTRE + np.array(
        [[0.0, -60.0, 100.0], [0.0, -60.0, -100.0], [0.0, 40.0, 90.0], [9.0, 70, -80], [5.0, 0, 20]]
    )
    rods = tuple(Rod(f"rod {k}", end + vec(300.0, 0.0, 0.0), end) for k, end in enumerate(outer))

    found = holding(any_five(rods, WHEEL))

    assert (found.conditions, found.rank) == (5, 3)
    assert not found.is_held
    assert len(found.fighting) >= 1
    # The rods stop x, a turn about y and one about z; the height is held: y and a turn about x.
    assert len(found.free) == 2
    assert {"leans", "slide along"} & {w for w in ("leans", "slide along") if w in found.sentence}


def test_a_sixth_link_fixes_the_upright() -> None:
    linkage = of_car("demo", "rear").linkage
    sixth = Rod("sixth", vec(-2300.0, 300.0, 250.0), vec(-2410.0, 580.0, 330.0))
    fixed = with_constraints(linkage, (*linkage.constraints, sixth))

    found = holding(fixed)

    assert (found.conditions, found.rank) == (6, 6)
    assert found.free == ()
    assert "it is fixed" in found.sentence
    with pytest.raises(NotHeldError):
        solve(fixed, at())


def test_a_linkage_locked_at_design_is_told() -> None:
    """A trailing arm drawn straight up has its wheel at the top of its circle."""
    pivot = CENTRE - vec(0.0, 100.0, ARM)
    locked = semi_trailing_arm(pivot, pivot + vec(0.0, -200.0, 0.0), WHEEL)

    found = holding(locked)

    assert (found.conditions, found.rank, len(found.free)) == (5, 5, 1)
    assert "locked" in found.sentence
    assert "winds up" in found.sentence
    with pytest.raises(NotHeldError):
        solve(locked, at())


def test_one_bad_geometry_among_many_reaches_nothing_and_spoils_no_other() -> None:
    pivots = CENTRE + np.array([[ARM, -100.0, 0.0], [0.0, -100.0, -ARM], [ARM, -100.0, 20.0]])
    many = semi_trailing_arm(pivots, pivots + vec(0.0, -200.0, 0.0), WHEEL)

    poses = solve(many, at(vec(30.0)))

    assert poses.is_reached.tolist() == [True, False, True]
    alone = semi_trailing_arm(pivots[2], pivots[2] + [0.0, -200.0, 0.0], WHEEL)
    assert poses.centre[2] == pytest.approx(solve(alone, at(30.0)).centre, abs=1e-9)
