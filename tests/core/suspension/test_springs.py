"""Springs and stops at the wheel: closed forms, differences, and the balance of energy."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.geometry.types import Array
from core.suspension.damper import (
    DamperAtDesign,
    damper_length,
    damper_per_wheel_travel,
    mirrored_damper,
)
from core.suspension.linkage import mirrored
from core.suspension.solve import solve
from core.suspension.springs import (
    CoilSpring,
    Stop,
    at_wheel,
    force_from_load,
    pushing,
    ratio_change,
)
from core.suspension.travel import at, rolled
from tests.core.suspension.corners import vec
from tests.core.suspension.spring_corners import LONG, PIVOT, corners, trailing

CORNERS = corners()
BUMPS = np.linspace(-50.0, 50.0, 11)
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)
ALONG, TALL = 300.0, 350.0


def on_the_arm() -> DamperAtDesign:
    """A damper that stands upright on the level trailing arm, at `ALONG` from its pivot."""
    eye = PIVOT - vec(ALONG, 0.0, 0.0)
    return DamperAtDesign(eye, eye + vec(0.0, 0.0, TALL))


def closed_form(bumps: Array) -> tuple[Array, Array, Array]:
    """Length, ratio and its change of that damper, by the law of cosines and the chain rule.

    The arm at turn t with sin t = z / L; from the pivot to the top e = (-a, h) and
    l^2 = 2 a^2 + h^2 - 2 (a^2 cos t + a h sin t).
    """
    sine = bumps / LONG
    cosine = np.sqrt(1.0 - sine**2)
    turn, bend = 1.0 / (LONG * cosine), sine / (LONG**2 * cosine**3)
    length = np.sqrt(2.0 * ALONG**2 + TALL**2 - 2.0 * (ALONG**2 * cosine + ALONG * TALL * sine))
    half = ALONG * TALL * cosine - ALONG**2 * sine  # minus half of d(l^2)/dt
    by_turn = half / length  # how much it shortens for each rad
    again = (-ALONG * TALL * sine - ALONG**2 * cosine) / length + half**2 / length**3
    return length, by_turn * turn, again * turn**2 + by_turn * bend


def test_the_change_of_the_ratio_is_that_of_the_closed_form() -> None:
    bumps = np.linspace(-300.0, 300.0, 25)
    poses = solve(trailing(), at(bumps))
    damper = on_the_arm()
    length, ratio, change = closed_form(bumps)

    found = ratio_change(poses, lambda moved: damper_per_wheel_travel(moved, damper))

    assert damper_length(poses, damper) == pytest.approx(length, abs=1e-9)
    assert damper_per_wheel_travel(poses, damper) == pytest.approx(ratio, abs=1e-12)
    assert np.abs(change).max() > 1e-3
    assert found == pytest.approx(change, abs=1e-12)


def test_near_the_lock_the_change_is_not_told() -> None:
    damper = on_the_arm()
    poses = solve(trailing(), at(vec(0.0, 498.5, 499.5, 520.0)))

    found = ratio_change(poses, lambda moved: damper_per_wheel_travel(moved, damper))

    assert np.isfinite(found).tolist() == [True, True, False, False]


def test_on_a_road_the_change_is_that_at_the_same_wheel_height() -> None:
    linkage, damper = CORNERS[0]
    on_road = solve(linkage, rolled(vec(-2.0, 0.0, 2.0)))
    lifted = solve(linkage, at((on_road.centre - linkage.centre)[:, 2]))

    found = [
        ratio_change(poses, lambda moved: damper_per_wheel_travel(moved, damper))
        for poses in (on_road, lifted)
    ]

    assert found[0] == pytest.approx(found[1], abs=1e-11)


def test_the_geometric_term_of_a_swing_arm() -> None:
    """D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, eq. (3.33): k (c / b)^2.

    To it comes, by the closed form above, force times change of the ratio.
    """
    poses = solve(trailing(), at(vec(0.0, 200.0)))
    length, ratio, change = closed_form(vec(0.0, 200.0))
    force = 4000.0 + 25.0 * (TALL - length)

    found = at_wheel(poses, on_the_arm(), CoilSpring(25.0, 4000.0))

    assert float(ratio[0]) == pytest.approx(ALONG / LONG, rel=1e-12)
    assert found.load == pytest.approx(force * ratio, rel=1e-10)
    assert found.geometric == pytest.approx(force * change, abs=1e-6)
    assert found.rate == pytest.approx(25.0 * ratio**2 + force * change, abs=1e-6)
    assert abs(found.geometric[1]) > 0.1 * found.rate[1]


def stops_for(drawn: float) -> tuple[Stop, ...]:
    return (
        Stop(drawn - 12.0, 40.0),
        Stop(drawn - 20.0, 90.0),
        Stop(drawn + 15.0, 300.0, is_droop=True),
    )


@settings(max_examples=25, deadline=None)
@given(
    which=st.integers(0, len(CORNERS) - 1),
    start=st.floats(-50.0, 50.0),
    end=st.floats(-50.0, 50.0),
    rate=st.floats(5.0, 80.0),
    force=st.floats(0.0, 5000.0),
)
def test_work_done_at_the_wheel_is_the_energy_stored(
    which: int, start: float, end: float, rate: float, force: float
) -> None:
    linkage, damper = CORNERS[which]
    # Pressed far enough never to be loose, and so smooth: Gauss's rule is exact to rounding.
    spring = CoilSpring(rate, force + 60.0 * rate)
    bumps = 0.5 * (start + end) + 0.5 * (end - start) * NODES

    between = at_wheel(solve(linkage, at(bumps)), damper, spring)
    ends = at_wheel(solve(linkage, at(vec(start, end))), damper, spring)

    work = 0.5 * (end - start) * float(WEIGHTS @ between.load)
    assert work == pytest.approx(float(ends.energy[1] - ends.energy[0]), rel=1e-7, abs=1e-4)


@pytest.mark.parametrize("which", range(len(CORNERS)))
def test_energy_balances_through_loose_spring_and_stops_too(which: int) -> None:
    linkage, damper = CORNERS[which]
    spring, stops = CoilSpring(30.0, 450.0), stops_for(float(damper.drawn_length))
    bumps = np.linspace(-45.0, 45.0, 20_001)

    found = at_wheel(solve(linkage, at(bumps)), damper, spring, stops)

    # Kinks only bend the load, which is continuous: the trapezoid errs by some h^2.
    assert (found.load < 0.0).any()
    work = np.trapezoid(found.load, bumps)
    assert work == pytest.approx(float(found.energy[-1] - found.energy[0]), rel=1e-6, abs=0.01)


@pytest.mark.parametrize("which", range(len(CORNERS)))
def test_the_rate_is_the_slope_of_the_load(which: int) -> None:
    linkage, damper = CORNERS[which]
    spring, stops = CoilSpring(30.0, 900.0), stops_for(float(damper.drawn_length))
    near = 1e-3 * vec(-1.0, 0.0, 1.0)

    found = at_wheel(solve(linkage, at(BUMPS[:, None] + near)), damper, spring, stops)

    slope = (found.load[:, 2] - found.load[:, 0]) / 2e-3
    assert found.rate[:, 1] == pytest.approx(slope, rel=1e-6, abs=1e-5)


@pytest.mark.parametrize("which", range(len(CORNERS)))
def test_the_other_side_carries_the_same(which: int) -> None:
    linkage, damper = CORNERS[which]
    spring = CoilSpring(30.0, 2500.0)

    ours = at_wheel(solve(linkage, at(BUMPS)), damper, spring)
    theirs = at_wheel(solve(mirrored(linkage), at(BUMPS)), mirrored_damper(damper), spring)

    assert theirs.load == pytest.approx(ours.load, abs=1e-6)
    assert theirs.rate == pytest.approx(ours.rate, abs=1e-6)


def test_spring_and_stops_piece_by_piece() -> None:
    """By hand: rate 10, 200 N at 300; loose from 320; stops at 280, 270 and in droop at 325."""
    stops = (Stop(280.0, 20.0), Stop(270.0, 50.0), Stop(325.0, 100.0, is_droop=True))
    lengths = vec(330.0, 325.0, 322.0, 320.0, 300.0, 280.0, 275.0, 265.0, math.nan)

    found = pushing(lengths, np.array(300.0), CoilSpring(10.0, 200.0), stops)

    force = vec(-500.0, 0.0, 0.0, 0.0, 200.0, 400.0, 550.0, 1100.0, math.nan)
    assert found.force == pytest.approx(force, nan_ok=True)
    rate = vec(100.0, 0.0, 0.0, 0.0, 10.0, 10.0, 30.0, 80.0, math.nan)
    assert found.rate == pytest.approx(rate, nan_ok=True)
    loose = vec(10.0, 5.0, 2.0, 0.0, 0.0, 0.0, 0.0, 0.0, math.nan)
    assert found.loose == pytest.approx(loose, nan_ok=True)
    # 550^2 / 20 + 20 x 15^2 / 2 + 50 x 5^2 / 2
    assert found.energy[7] == pytest.approx(15_125.0 + 2250.0 + 625.0)


def test_where_there_is_no_pose_nothing_is_told() -> None:
    found = at_wheel(solve(trailing(), at(vec(0.0, 600.0))), on_the_arm(), CoilSpring(20.0, 500.0))

    for each in (found.load, found.rate, found.geometric, found.energy):
        assert np.isfinite(each).tolist() == [True, False]


def test_the_force_that_carries_a_load_gives_it_back_at_the_wheel() -> None:
    linkage, damper = CORNERS[0]
    poses = solve(linkage, at())
    force = force_from_load(1800.0, float(damper_per_wheel_travel(poses, damper)))

    found = at_wheel(poses, damper, CoilSpring(30.0, force))

    assert float(found.load) == pytest.approx(1800.0, rel=1e-12)


def test_springs_stops_and_loads_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="rate of the spring must be more than 0, not 0"):
        CoilSpring(0.0, 100.0)
    with pytest.raises(ValueError, match="cannot pull"):
        CoilSpring(10.0, -1.0)
    with pytest.raises(ValueError, match="rate of the stop"):
        Stop(300.0, 0.0)
    with pytest.raises(ValueError, match="length at which the stop touches"):
        Stop(-1.0, 20.0)
    with pytest.raises(ValueError, match="sprung load"):
        force_from_load(0.0, 0.7)
    for ratio in (0.0, -0.4, math.nan):
        with pytest.raises(ValueError, match="must get shorter as the wheel rises"):
            force_from_load(1500.0, ratio)
