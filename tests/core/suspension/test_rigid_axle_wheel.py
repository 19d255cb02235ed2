"""A wheel on a rigid axle as a linkage of its own, against the axle solved as a whole."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.types import Array
from core.suspension.damper import DamperAtDesign, damper_length, damper_per_wheel_travel
from core.suspension.ends import bump_ends
from core.suspension.holding import NotHeldError
from core.suspension.linkage import Side
from core.suspension.poses import Poses
from core.suspension.rigid_axle_poses import Drive
from core.suspension.rigid_axle_solve import heave_ends, solve_axle
from core.suspension.rigid_axle_travel import axle_on_road, wheels_at
from core.suspension.rigid_axle_wheel import AxleWheelPoses, wheel_of
from core.suspension.solve import solve
from core.suspension.springs import ratio_change
from core.suspension.travel import Travel, at, rolled
from tests.core.suspension.axles import AXLE_X, HEAVES, PANHARD, axle, kinds, shaken, three_parallel
from tests.core.suspension.corners import vec

DAMPER = DamperAtDesign(vec(AXLE_X, 430.0, 220.0), vec(AXLE_X + 60.0, 380.0, 610.0))
DRIVES: tuple[tuple[Drive, float], ...] = (("heave", 1.0), ("roll", -1.0), ("alone", 0.0))


def seen(poses: Poses) -> AxleWheelPoses:
    assert isinstance(poses, AxleWheelPoses)
    return poses


@pytest.mark.parametrize(("drive", "share"), DRIVES)
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_other_wheel_does_what_the_drive_says(side: Side, drive: Drive, share: float) -> None:
    drawn = shaken(3, 20.0)
    one, other = HEAVES, share * HEAVES

    poses = seen(solve(wheel_of(drawn, side, drive), at(HEAVES)))

    left, right = (one, other) if side == "left" else (other, one)
    whole = solve_axle(drawn, wheels_at(left, right)).wheel(side, drive)
    assert poses.centre == pytest.approx(whole.centre, abs=1e-12)
    assert poses.inverse == pytest.approx(whole.inverse, abs=1e-12)
    assert poses.others_height == pytest.approx(other, abs=1e-8)


@given(own=st.floats(-60.0, 60.0), other=st.floats(-60.0, 60.0), k=st.integers(0, 2))
def test_apart_puts_the_other_wheel_anywhere(own: float, other: float, k: int) -> None:
    drive, share = DRIVES[k]
    held = wheel_of(kinds()["triangulated"], "right", drive)
    apart = np.asarray(other - share * own)

    poses = seen(solve(held, Travel(np.asarray(own), np.zeros(()), apart=apart)))

    assert float(poses.others_height) == pytest.approx(other, abs=1e-8)
    assert float((poses.centre - held.centre)[2]) == pytest.approx(own, abs=1e-8)


@pytest.mark.parametrize("name", [*kinds()])
def test_on_a_rolled_road_both_wheels_see_the_one_axle(name: str) -> None:
    drawn, rolls = kinds()[name], np.array([-3.0, 2.0])
    whole = solve_axle(drawn, axle_on_road(rolls))

    for side in ("left", "right"):
        poses = seen(solve(wheel_of(drawn, side), rolled(rolls)))
        assert poses.centre == pytest.approx(whole.wheel(side).centre, abs=1e-12)
        again = solve(wheel_of(drawn, side), by_height(poses))
        assert again.centre == pytest.approx(poses.centre, abs=1e-7)


def by_height(poses: AxleWheelPoses) -> Travel:
    """The same positions by heights in place of the road."""
    rise = (poses.centre - poses.linkage.centre)[..., 2]
    return Travel(rise, np.zeros(()), apart=poses.travel.apart)


@pytest.mark.parametrize(("drive", "share"), DRIVES)
def test_the_change_of_a_ratio_is_that_of_lengths_solved_apart(drive: Drive, share: float) -> None:
    """Differences of the damper's length along the way that the drive takes, 2 mm either side."""
    drawn, own, other, step = shaken(5, 15.0), 20.0, -10.0, 2.0

    def length(by: float) -> float:
        whole = solve_axle(drawn, wheels_at(own + by, other + share * by))
        return float(damper_length(whole.wheel("left"), DAMPER))

    def ratio(moved: Poses) -> Array:
        return damper_per_wheel_travel(moved, DAMPER)

    travel = Travel(np.asarray(own), np.zeros(()), apart=np.asarray(other - share * own))
    poses = solve(wheel_of(drawn, "left", drive), travel)
    lengths = [length(by) for by in (-step, 0.0, step)]
    bend = (lengths[0] - 2.0 * lengths[1] + lengths[2]) / step**2

    assert float(ratio(poses)) == pytest.approx((lengths[0] - lengths[2]) / (2 * step), abs=5e-6)
    assert abs(bend) > 2e-5
    assert float(ratio_change(poses, ratio)) == pytest.approx(-bend, abs=1e-6)


def test_the_ends_of_a_wheel_are_those_of_both_alike() -> None:
    drawn = axle(*three_parallel(), PANHARD)

    for one, other in zip(
        bump_ends(wheel_of(drawn, "left"), 600.0), heave_ends(drawn, 600.0), strict=True
    ):
        assert (one.travel, one.is_lock) == (other.travel, other.is_lock)
        assert one.is_lock


def test_a_wheel_of_an_axle_that_is_not_held_says_so() -> None:
    drawn = axle(*three_parallel())

    with pytest.raises(NotHeldError, match="3 conditions hold the axle and 4 are needed"):
        solve(wheel_of(drawn, "left"), at(0.0))
