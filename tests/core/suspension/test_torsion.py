"""Torsion bars: section and trailing arm in closed form, and the balance of energy."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from core.suspension.solve import solve
from core.suspension.torsion import (
    TorsionBar,
    torque_from_load_nm,
    torsion_at_wheel,
    turn_per_bump_rad,
    turn_rad,
    twisting_rate_nm_per_deg,
)
from core.suspension.travel import at
from tests.core.suspension.corners import made_up, vec
from tests.core.suspension.spring_corners import LONG, pushed, trailing, trailing_arm, turn_at

BUMPS = np.linspace(-80.0, 80.0, 17)


@given(outside=st.floats(8.0, 60.0), share=st.floats(0.0, 0.95), length=st.floats(200.0, 1500.0))
def test_a_round_bar_twists_as_its_rings_do(outside: float, share: float, length: float) -> None:
    """Each ring of radius r carries G r (turn / length) over 2 pi r dr, at the lever r."""
    inside = share * outside
    one_degree = math.radians(1.0)

    found = twisting_rate_nm_per_deg(outside, length, inside, 79_000.0)

    def ring(r: float) -> float:
        return 79_000.0 * r * one_degree / length * 2.0 * math.pi * r * r

    torque, _ = quad(ring, 0.5 * inside, 0.5 * outside, epsrel=1e-12)
    assert found == pytest.approx(torque / 1000.0, rel=1e-9)


def test_a_bar_worked_by_hand() -> None:
    """20 mm solid, 1 m long, 80 GPa: J = 15,708 mm4, 1256.6 N m a radian, 21.93 a degree."""
    assert twisting_rate_nm_per_deg(20.0, 1000.0) == pytest.approx(21.93, abs=5.1e-3)


def test_a_trailing_arm_on_a_torsion_bar() -> None:
    """Closed form: sin t = z / L gives t' = 1 / (L cos t) and t'' = sin t / (L^2 cos^3 t)."""
    poses = solve(trailing(), at(BUMPS))
    bar = TorsionBar(25.0, trailing_arm(), 900.0)
    turn = turn_at(BUMPS)
    torque = 1000.0 * (900.0 + 25.0 * np.degrees(turn))
    rate = 25_000.0 * 180.0 / math.pi

    found = torsion_at_wheel(poses, bar)

    assert turn_rad(poses, bar.turns_with) == pytest.approx(turn, abs=1e-12)
    assert found.load == pytest.approx(torque / (LONG * np.cos(turn)), rel=1e-10)
    geometric = torque * np.sin(turn) / (LONG**2 * np.cos(turn) ** 3)
    assert found.geometric == pytest.approx(geometric, abs=1e-7)
    assert found.rate == pytest.approx(rate / (LONG * np.cos(turn)) ** 2 + geometric, rel=1e-8)
    assert np.abs(geometric).max() > 0.5


@pytest.mark.parametrize("on", ["arm", "rocker"])
def test_work_at_the_wheel_is_the_energy_in_the_bar(on: str) -> None:
    example = made_up("double_wishbone_front")
    assert example.lower is not None
    rocker = pushed(example).rocker
    assert rocker is not None
    bar = TorsionBar(18.0, example.lower if on == "arm" else rocker, -350.0)
    nodes, weights = np.polynomial.legendre.leggauss(24)

    between = torsion_at_wheel(solve(example.linkage, at(50.0 * nodes)), bar)
    ends = torsion_at_wheel(solve(example.linkage, at(vec(-50.0, 50.0))), bar)

    work = 50.0 * float(weights @ between.load)
    assert work == pytest.approx(float(ends.energy[1] - ends.energy[0]), rel=1e-8)


@pytest.mark.parametrize("on", ["arm", "rocker"])
def test_the_rate_is_the_slope_of_the_load(on: str) -> None:
    example = made_up("double_wishbone_front")
    assert example.lower is not None
    rocker = pushed(example).rocker
    assert rocker is not None
    bar = TorsionBar(18.0, example.lower if on == "arm" else rocker, 400.0)

    found = torsion_at_wheel(
        solve(example.linkage, at(BUMPS[4:13, None] + 1e-3 * vec(-1.0, 0.0, 1.0))), bar
    )

    slope = (found.load[:, 2] - found.load[:, 0]) / 2e-3
    assert found.rate[:, 1] == pytest.approx(slope, rel=1e-6)


def test_the_torque_that_carries_a_load_gives_it_back() -> None:
    poses = solve(trailing(), at(30.0))
    per_bump = float(turn_per_bump_rad(solve(trailing(), at()), trailing_arm()))
    torque = torque_from_load_nm(2000.0, per_bump)

    found = torsion_at_wheel(solve(trailing(), at()), TorsionBar(20.0, trailing_arm(), torque))

    assert torque == pytest.approx(2000.0 * LONG / 1000.0)
    assert float(found.load) == pytest.approx(2000.0)
    # A bar that winds the other way, by a mirrored sense of its turn, carries it too.
    assert torque_from_load_nm(2000.0, -per_bump) == pytest.approx(-torque)
    assert float(turn_rad(poses, trailing_arm())) > 0.0


def test_bars_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="rate of the torsion bar"):
        TorsionBar(0.0, trailing_arm())
    with pytest.raises(ValueError, match="length of the bar"):
        twisting_rate_nm_per_deg(20.0, 0.0)
    with pytest.raises(ValueError, match="20 outside cannot be 20 inside"):
        twisting_rate_nm_per_deg(20.0, 500.0, 20.0)
    with pytest.raises(ValueError, match="does not turn"):
        torque_from_load_nm(2000.0, 0.0)
    with pytest.raises(ValueError, match="sprung load"):
        torque_from_load_nm(0.0, 0.002)
