"""Torque of the axle, and which of engine, clutch and tyres gives least."""

import numpy as np
import pytest

from core.powerunit.cases import CASES, case
from core.powerunit.torque import Bounds, axle_torque, reaction, tyre_torque

N_PER_LB, NM_PER_LB_FT, MM_PER_IN = 4.4482216, 1.3558179, 25.4


def test_axle_torque_gives_the_tractive_force_of_the_textbook() -> None:
    """T. D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, chapter 2 (from memory).

    201 lb ft through 4.28 x 2.92, efficiency 0.966 x 0.99, on a radius of 12.59 in: 2290 lb.
    """
    torque = axle_torque(201.0 * NM_PER_LB_FT, 4.28, 2.92) * 0.966 * 0.99

    force = torque / (12.59 * MM_PER_IN / 1000.0) / N_PER_LB
    assert force == pytest.approx(2290.0, abs=1.0)


def test_front_drive_at_its_limit() -> None:
    """The same source: 1950 and 1150 lb, grip 0.62: 1087 lb, 0.35 g; here on a radius of 300."""
    weight = 3100.0 * N_PER_LB

    assert tyre_torque(weight, 0.3507, 300.0) == pytest.approx(1087.0 * N_PER_LB * 0.3, rel=1e-3)


def test_driving_ahead_lifts_the_front_of_the_case() -> None:
    turn = reaction(100.0, np.array([0.0, 1.0, 0.0]))

    assert turn == pytest.approx([0.0, -100.0, 0.0])
    ahead_of_it = np.array([1.0, 0.0, 0.0])
    assert np.cross(turn, ahead_of_it)[2] > 0.0


def test_a_snapped_clutch_gives_the_lesser_of_clutch_and_tyres() -> None:
    assert Bounds(1000.0, 1500.0, 1200.0).snapped == 1200.0
    assert Bounds(1000.0, 1500.0, 2200.0).snapped == 1500.0
    assert Bounds(1000.0, None, 2200.0).snapped == 2200.0
    assert Bounds(1000.0).snapped is None


@pytest.mark.parametrize(
    ("torque", "slips"), [(900.0, ""), (1200.0, ""), (1300.0, "tyres"), (1600.0, "tyres")]
)
def test_what_slips_first_is_named(torque: float, slips: str) -> None:
    assert Bounds(1000.0, 1500.0, 1200.0).first_to_slip(torque) == slips


def test_a_clutch_that_slips_before_the_tyres_is_named() -> None:
    assert Bounds(1000.0, 1100.0, 1200.0).first_to_slip(1300.0) == "clutch"


def test_every_load_has_a_name_of_its_own_words_and_a_source() -> None:
    assert len({each.key for each in CASES}) == len(CASES)
    assert all(each.words and each.source for each in CASES)
    assert case("bump").acceleration_g == (0.0, 0.0, 3.0)
    with pytest.raises(KeyError):
        case("none of them")
