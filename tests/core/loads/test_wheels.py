"""What the road puts on the wheels, against balance of the whole car and published figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.balance.masses import GRAVITY
from core.balance.transfer import most_drive_g
from core.geometry.types import Array
from core.loads.cases import CASES, case
from core.loads.wheels import StandingCar, moved_by_height, road_forces

BASE, HEIGHT = 2400.0, 420.0
TRACKS = np.array([1440.0, 1500.0])


def car(*loads: float, driven: "str | None" = "rear") -> StandingCar:
    at_rest = np.array(loads)
    moved = moved_by_height(at_rest.reshape(2, 2).sum(axis=1), HEIGHT, TRACKS)
    return StandingCar(at_rest, HEIGHT, BASE, moved, driven)  # type: ignore[arg-type]


LEVEL = car(1600.0, 1600.0, 2400.0, 2400.0)


@given(
    ahead=st.floats(-1.0, 0.6),
    left=st.floats(-0.8, 0.8),
    up=st.floats(-0.2, 2.0),
)
def test_the_whole_car_is_in_balance(ahead: float, left: float, up: float) -> None:
    """Forces and moments of wheels, weight and inertia about the centre of gravity."""
    weight = float(LEVEL.loads.sum())

    found = road_forces(LEVEL, np.array([ahead, left, up]))

    assert found.sum(axis=0) == pytest.approx(weight * np.array([ahead, left, 1.0 + up]))
    front = BASE * LEVEL.loads[2:].sum() / weight  # ahead of the centre of gravity
    x = np.array([front, front, front - BASE, front - BASE])
    y = np.array([0.5, -0.5, 0.5, -0.5]) * np.repeat(TRACKS, 2)
    pitch = float(found[:, 2] @ x) + HEIGHT * weight * ahead
    roll = float(found[:, 2] @ y) + HEIGHT * weight * left
    assert pitch == pytest.approx(0.0, abs=1e-6)
    if found[:, 2].min() > 0.0:  # none is lifted
        assert roll == pytest.approx(0.0, abs=1e-6)


def test_load_across_an_axle_as_a_calculator_gives_it() -> None:
    """750 kg, 1 g, 520 mm high, 1580 mm track: 247 kg (printed on a calculator page)."""
    moved = moved_by_height(np.array([750.0, 0.0]), 520.0, np.array([1580.0, 1580.0]))

    assert moved[0] == pytest.approx(246.8, abs=0.05)


def test_axle_loads_as_in_an_exercise() -> None:
    """1765 kg, 1.22 and 1.62 m: 9876.7 and 7438.0 N (R. N. Jazar, Vehicle Dynamics, 2008, p. 90).

    At rest the road gives them back.
    """
    front, rear = (1765.0 * GRAVITY * part / 2.84 for part in (1.62, 1.22))

    found = road_forces(car(front / 2, front / 2, rear / 2, rear / 2), np.zeros(3))

    axles = found[:, 2].reshape(2, 2).sum(axis=1)
    assert axles * (9.81 / GRAVITY) == pytest.approx([9876.7, 7438.0], abs=0.1)


def test_a_left_turn_loads_the_right_wheels() -> None:
    loads = road_forces(LEVEL, np.array([0.0, 0.7, 0.0]))[:, 2]

    assert loads[1] > LEVEL.loads[1]
    assert loads[3] > LEVEL.loads[3]


def test_braking_loads_the_front_and_pulls_every_wheel_back() -> None:
    found = road_forces(LEVEL, np.array([-1.0, 0.0, 0.0]))

    assert found[0, 2] == pytest.approx(1600.0 + 8000.0 * HEIGHT / BASE / 2.0)
    assert (found[:, 0] < 0.0).all()
    assert found[:, 0] / found[:, 2] == pytest.approx([-1.0] * 4)


@pytest.mark.parametrize("driven", ["front", "rear", "all"])
def test_at_the_limit_the_driven_wheels_pull_with_all_their_grip(driven: str) -> None:
    gain = most_drive_g(0.6, HEIGHT / BASE, 0.9, driven)  # type: ignore[arg-type]

    found = road_forces(
        car(1600.0, 1600.0, 2400.0, 2400.0, driven=driven), np.array([gain, 0.0, 0.0])
    )

    pulls = found[:, 0] / found[:, 2]
    which = {"front": [1, 1, 0, 0], "rear": [0, 0, 1, 1], "all": [1, 1, 1, 1]}[driven]
    assert pulls == pytest.approx(0.9 * np.array(which))


def test_a_lifted_wheel_carries_nothing_and_its_axle_the_same() -> None:
    loads = road_forces(LEVEL, np.array([0.0, 2.0, 0.0]))[:, 2]

    assert loads.tolist() == pytest.approx([0.0, 3200.0, 0.0, 4800.0])


@pytest.mark.parametrize(
    ("gained", "words"),
    [
        ((0.0, 0.0, -1.5), "the car leaves the road"),
        ((4.0, 0.0, 0.0), "the front wheels leave the road"),
    ],
)
def test_what_no_car_does_is_refused(gained: tuple[float, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        road_forces(LEVEL, np.array(gained))


def test_without_a_driven_axle_nothing_pulls() -> None:
    with pytest.raises(ValueError, match="no axle is driven"):
        road_forces(car(1600.0, 1600.0, 2400.0, 2400.0, driven=None), np.array([0.1, 0.0, 0.0]))


def test_factors_are_those_of_their_sources() -> None:
    """Barton and Fieldhouse 2018, p. 225: 2 to 3 static; Brown et al. 2002, table 2.4; Ibrahim."""
    assert 2.0 <= 1.0 + case("bump").figures[2] <= 3.0
    assert case("braking").figures[0] == -1.1
    assert 1.4 <= case("kerb").factor <= 1.75
    assert abs(case("outside").figures[1]) <= 1.0
    assert case("combined").source.startswith("common practice, no source")
    assert all(each.source for each in CASES)


def test_every_case_has_its_own_key() -> None:
    keys: Array = np.array([each.key for each in CASES])

    assert len(set(keys.tolist())) == len(CASES)
