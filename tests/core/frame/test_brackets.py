"""Bracket reach on two cars."""

import math

import numpy as np
import pytest

from core.frame.brackets import bracket_reach, footings
from core.frame.network import Network, Visit
from tests.core.frame.two_frames import load, straight


@pytest.mark.parametrize("car", ["demo", "second"])
def test_every_bush_and_pick_up_has_the_reach_a_separate_program_found(car: str) -> None:
    frame = load(car)
    places = np.array([place for _, place, _, _ in frame.carried])
    nodes = [frame.node(node) for _, _, node, _ in frame.carried]

    reach = bracket_reach(places, frame.network.places[nodes])

    printed = [value for _, _, _, value in frame.carried]
    assert len(printed) > 10
    # Printed to 0.1 mm; the joints themselves are rounded to 0.01.
    assert reach == pytest.approx(printed, abs=0.06)


def test_mounts_of_the_demo_car() -> None:
    frame = load("demo")
    mounts = {name: (place, node) for name, place, node, _ in frame.carried if name[0] == "M"}

    reach = {
        name: float(bracket_reach(np.array(place), frame.network.places[frame.node(node)]))
        for name, (place, node) in mounts.items()
    }

    assert reach == pytest.approx(
        {"M1_right_engine": 44.0, "M2_left_gearbox": 73.6, "M3_torque_stay": 36.7}, abs=0.06
    )


def test_a_mount_60_lower_reaches_too_far() -> None:
    frame = load("demo")
    _, place, node, _ = next(row for row in frame.carried if row[0] == "M2_left_gearbox")

    lower = np.array(place) - np.array([0.0, 0.0, 60.0])

    reach = float(bracket_reach(lower, frame.network.places[frame.node(node)]))
    assert reach == pytest.approx(114.5, abs=0.06)


def test_a_place_that_is_not_known_has_no_reach() -> None:
    with pytest.raises(ValueError, match="number"):
        bracket_reach(np.array([0.0, math.nan, 0.0]), np.zeros(3))


def test_what_a_bracket_stands_on_is_a_joint_one_tube_or_nothing() -> None:
    places = np.array([[0.0, 0, 0], [500.0, 0, 0], [1000.0, 0, 0], [0.0, 500, 0], [0.0, 0, 9]])
    network = Network(places, (straight(0, 2, places, 19.0, 1), straight(0, 3, places, 19.0)))

    assert footings(network) == ("joint", "one tube", "one tube", "one tube", "nothing")
    assert Visit(1, "through") in network.members[0].visits


@pytest.mark.parametrize("car", ["demo", "second"])
def test_everything_on_the_cars_stands_on_joints(car: str) -> None:
    frame = load(car)

    on = footings(frame.network)

    assert {on[frame.node(node)] for _, _, node, _ in frame.carried} == {"joint"}
