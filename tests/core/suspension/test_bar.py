"""Anti-roll bars and roll stiffness: closed forms, energy, and a general solver."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.geometry.frames import mirror
from core.geometry.types import Array
from core.suspension.bar import (
    AntiRollBar,
    AxleRates,
    DropLink,
    bar_at_wheels,
    front_share,
    rate_in_roll,
    roll_stiffness_nm_per_deg,
)
from core.suspension.linkage import Linkage, mirrored
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.core.suspension.corners import made_up, vec
from tests.core.suspension.spring_corners import ACROSS, LONG, PIVOT, trailing

PER_RAD = 1000.0 * 180.0 / math.pi
TRACK = 1400.0
RATES = st.floats(5.0, 80.0)


def links(left: DropLink) -> tuple[DropLink, DropLink]:
    """A drop link and its mirror image."""
    arm = left.arm and Arm(mirror(left.arm.front), mirror(left.arm.rear), mirror(left.arm.outer))
    return left, DropLink(mirror(left.on_blade), mirror(left.outer), arm)


def parallel_bar(rate: float, along: float = 250.0, blade: float = 250.0) -> AntiRollBar:
    """Level blades under a level trailing arm, upright drop links, 200 long."""
    outer = PIVOT - vec(along, 0.0, 0.0)
    low = outer - vec(0.0, 0.0, 200.0)
    return AntiRollBar(low + vec(blade, -700.0, 0.0), ACROSS, *links(DropLink(low, outer)), rate)


def of_wishbones(rate: float = 15.0) -> tuple[Linkage, AntiRollBar]:
    example = made_up("double_wishbone_front")
    assert example.lower is not None
    outer = 0.7 * example.lower.outer + 0.3 * example.lower.rear
    on_blade = outer + vec(-10.0, -12.0, 160.0)
    pivot = on_blade + vec(-190.0, 0.0, 15.0)
    bar = AntiRollBar(pivot, ACROSS, *links(DropLink(on_blade, outer, example.lower)), rate)
    return example.linkage, bar


def both(linkage: Linkage, left: Array, right: Array) -> tuple[Poses, Poses]:
    return solve(linkage, at(left)), solve(mirrored(linkage), at(right))


def test_a_bar_that_makes_parallelograms_twists_by_what_the_arms_differ() -> None:
    """Closed form: each blade turns as its arm does, sin t = z / L."""
    left, right = vec(-60.0, 0.0, 40.0, 80.0), vec(-80.0, 30.0)
    bar = parallel_bar(20.0)

    found = bar_at_wheels(*both(trailing(), left[:, None], right[None, :]), bar)

    one, other = np.arcsin(left / LONG)[:, None], np.arcsin(right / LONG)[None, :]
    twist = one - other
    sign = float(np.sign(found.twist_deg[0, 1] * twist[0, 1]))
    assert sign * found.twist_deg == pytest.approx(np.degrees(twist), abs=1e-9)
    assert sign * found.torque_nm == pytest.approx(20.0 * np.degrees(twist), abs=1e-8)
    load = 20_000.0 * np.degrees(twist) / (LONG * np.cos(one))
    assert found.left_load == pytest.approx(load, abs=1e-7)
    against = -20_000.0 * np.degrees(twist) / (LONG * np.cos(other))
    assert found.right_load == pytest.approx(against, abs=1e-7)


def test_rate_in_roll_of_a_lever_on_a_lever() -> None:
    """By hand: a blade turns c / (L a) for each mm; in roll both twist it: 2 k (c / (L a))^2."""
    along, blade, rate = 300.0, 180.0, 12.0

    found = bar_at_wheels(*both(trailing(), vec(0.0), vec(0.0)), parallel_bar(rate, along, blade))

    expected = 2.0 * rate * PER_RAD * (along / (LONG * blade)) ** 2
    left, right = rate_in_roll(found.rates)
    assert left == pytest.approx(vec(expected), rel=1e-9)
    assert right == pytest.approx(vec(expected), rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(bump=st.floats(-50.0, 50.0))
def test_wheels_that_rise_together_do_not_twist_it(bump: float) -> None:
    linkage, bar = of_wishbones()

    found = bar_at_wheels(*both(linkage, vec(bump), vec(bump)), bar)

    assert found.twist_deg == pytest.approx(vec(0.0), abs=1e-9)
    assert found.left_load == pytest.approx(vec(0.0), abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(left=st.floats(-50.0, 50.0), right=st.floats(-50.0, 50.0))
def test_changing_sides_changes_signs_and_places(left: float, right: float) -> None:
    linkage, bar = of_wishbones()

    found = bar_at_wheels(*both(linkage, vec(left), vec(right)), bar)
    crossed = bar_at_wheels(*both(linkage, vec(right), vec(left)), bar)

    assert crossed.twist_deg == pytest.approx(-found.twist_deg, abs=1e-9)
    assert crossed.left_load == pytest.approx(found.right_load, abs=1e-6)
    assert crossed.rates == pytest.approx(found.rates[:, ::-1, ::-1], abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(
    start=st.tuples(st.floats(-50.0, 50.0), st.floats(-50.0, 50.0)),
    end=st.tuples(st.floats(-50.0, 50.0), st.floats(-50.0, 50.0)),
)
def test_work_at_both_wheels_is_the_energy_in_the_bar(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    linkage, bar = of_wishbones()
    nodes, weights = np.polynomial.legendre.leggauss(20)
    way = np.array(end) - np.array(start)
    places = np.array(start) + 0.5 * (nodes[:, None] + 1.0) * way

    between = bar_at_wheels(*both(linkage, places[:, 0], places[:, 1]), bar)
    ends = bar_at_wheels(*both(linkage, *np.array([start, end]).T), bar)

    work = 0.5 * float(weights @ (between.left_load * way[0] + between.right_load * way[1]))
    energy = 0.5 * 15.0 * PER_RAD * np.radians(ends.twist_deg) ** 2
    assert work == pytest.approx(float(energy[1] - energy[0]), rel=1e-7, abs=1e-3)


def test_the_rates_are_the_slopes_of_the_loads() -> None:
    linkage, bar = of_wishbones()
    near = 1e-3 * vec(-1.0, 0.0, 1.0)
    left, right = 30.0, -25.0

    found = bar_at_wheels(*both(linkage, left + near[:, None], right + near[None, :]), bar)

    for row, load in enumerate((found.left_load, found.right_load)):
        slopes = (load[2, 1] - load[0, 1]) / 2e-3, (load[1, 2] - load[1, 0]) / 2e-3
        assert found.rates[1, 1, row] == pytest.approx(slopes, rel=1e-6)


def test_where_a_blade_has_no_place_nothing_is_told() -> None:
    linkage, bar = of_wishbones()
    poses = both(linkage, vec(0.0, 900.0), vec(0.0, 0.0))

    found = bar_at_wheels(*poses, bar)

    assert np.isfinite(found.twist_deg).tolist() == [True, False]
    assert np.isfinite(found.right_load).tolist() == [True, False]


def test_roll_of_equal_springs_without_a_bar() -> None:
    """Closed form: t^2 k / 2, and with the tyres the rates in series."""
    axle = AxleRates(20.0, 20.0, TRACK)

    plain = roll_stiffness_nm_per_deg(axle)
    tyres = roll_stiffness_nm_per_deg(replace(axle, left_tyre=180.0, right_tyre=180.0))

    assert float(plain) == pytest.approx(0.5 * TRACK**2 * 20.0 / PER_RAD)
    assert float(tyres) == pytest.approx(0.5 * TRACK**2 * 18.0 / PER_RAD)


@settings(deadline=None)
@given(left=RATES, right=RATES, tyre=st.floats(100.0, 400.0), bar=st.floats(0.0, 60.0))
def test_roll_stiffness_is_that_of_a_body_on_four_springs_and_a_bar(
    left: float, right: float, tyre: float, bar: float
) -> None:
    """Six equations by a general solver: body height and roll, two wheels, under a moment."""
    lever = 0.5 * TRACK
    # Unknowns: body height h and roll p (left side up), wheel heights u, v over the road.
    ways = [(left, [-1.0, -lever, 1.0, 0.0]), (right, [-1.0, lever, 0.0, 1.0])]
    ways += [(tyre, [0.0, 0.0, 1.0, 0.0]), (2.0 * tyre, [0.0, 0.0, 0.0, 1.0])]
    ways += [(bar, [0.0, -TRACK, 1.0, -1.0])]
    stiffness = sum((rate * np.outer(way, way) for rate, way in ways), start=np.zeros((4, 4)))
    roll = np.linalg.solve(stiffness, vec(0.0, 1.0, 0.0, 0.0))[1]
    rates = bar * np.array([[1.0, -1.0], [-1.0, 1.0]])

    found = roll_stiffness_nm_per_deg(AxleRates(left, right, TRACK, tyre, 2.0 * tyre), rates)

    assert float(found) == pytest.approx(1.0 / roll / PER_RAD, rel=1e-8)


def test_roll_stiffness_of_a_bar_from_its_own_rates() -> None:
    """Equal sides: t^2 / 2 times spring and bar rate in roll."""
    found = bar_at_wheels(*both(trailing(), vec(0.0), vec(0.0)), parallel_bar(30.0))
    in_roll = float(rate_in_roll(found.rates)[0][0])

    stiffness = roll_stiffness_nm_per_deg(AxleRates(20.0, 20.0, TRACK), found.rates[0])

    assert float(stiffness) == pytest.approx(0.5 * TRACK**2 * (20.0 + in_roll) / PER_RAD)


def test_front_share() -> None:
    assert front_share(300.0, 100.0) == pytest.approx(0.75)
    with pytest.raises(ValueError, match="rear axle"):
        front_share(300.0, 0.0)


def test_bars_and_axles_of_nothing_are_refused() -> None:
    linkage, bar = of_wishbones()
    left, right = both(linkage, vec(0.0), vec(0.0))

    with pytest.raises(ValueError, match="rate of the anti-roll bar"):
        replace(bar, rate_nm_per_deg=0.0)
    with pytest.raises(ValueError, match="left wheel and then of the right"):
        bar_at_wheels(right, left, bar)
    with pytest.raises(ValueError, match="right spring at the wheel must be more than 0"):
        AxleRates(20.0, 0.0, TRACK)
    with pytest.raises(ValueError, match="left tyre"):
        AxleRates(20.0, 20.0, TRACK, 0.0)
    with pytest.raises(ValueError, match="do not hold the body up"):
        roll_stiffness_nm_per_deg(AxleRates(20.0, 20.0, TRACK), np.diag([-20.0, 0.0]))
