"""Speed of rockers and springs as a ratio to the poses that they stand on, in the same run."""

import numpy as np
import pytest
from scipy.optimize import brentq

from core.geometry.types import Array
from core.suspension.carried import carried_place
from core.suspension.poses import Poses
from core.suspension.rocker import Rocker, rocker_poses
from core.suspension.solve import solve
from core.suspension.springs import CoilSpring, at_wheel
from core.suspension.travel import at
from tests.bench.ratios import Bound, Turns, ratio
from tests.core.suspension.spring_corners import pushed, wishbones

LOOP = Bound(most=1 / 4, measured=1 / 7)
"""All angles at once against a loop of a general root finder."""

CURVES = Bound(most=7.0, measured=5.1)
"""Load and rate at the wheel, for which four times as many poses are solved, against the poses."""

BUMPS = np.linspace(-50.0, 50.0, 101)


def loop(poses: Poses, rocker: Rocker) -> Array:
    """The angle that keeps the rod's length, one position after another."""
    axis = rocker.axis / np.linalg.norm(rocker.axis)
    drawn = rocker.rod_inner - rocker.pivot
    along, side = (drawn @ axis) * axis, np.cross(axis, drawn)
    ahead = drawn - along
    rod = np.linalg.norm(rocker.rod_outer - rocker.rod_inner)
    outer = carried_place(poses, rocker.rod_outer, rocker.arm) - rocker.pivot - along

    def missed(angle: float, place: Array) -> float:
        away = place - np.cos(angle) * ahead - np.sin(angle) * side
        return float(np.sqrt(away @ away) - rod)

    return np.array([brentq(missed, -0.8, 0.8, args=(place,), xtol=1e-12) for place in outer])


def test_all_angles_at_once_are_many_times_faster_than_a_loop_of_a_root_finder() -> None:
    damper, poses = pushed(wishbones()), solve(wishbones().linkage, at(BUMPS))
    rocker = damper.rocker
    assert rocker is not None

    taken = ratio(
        lambda: rocker_poses(poses, rocker), lambda: loop(poses, rocker), LOOP, Turns(10, 40)
    )

    assert rocker_poses(poses, rocker).angle_rad == pytest.approx(loop(poses, rocker), abs=1e-9)
    assert taken.holds, taken


def test_curves_at_the_wheel_cost_some_times_their_poses() -> None:
    damper, linkage = pushed(wishbones()), wishbones().linkage
    poses, spring = solve(linkage, at(BUMPS)), CoilSpring(30.0, 2500.0)

    taken = ratio(
        lambda: at_wheel(poses, damper, spring), lambda: solve(linkage, at(BUMPS)), CURVES
    )

    assert taken.holds, taken
