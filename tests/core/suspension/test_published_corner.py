"""A published double wishbone with rack, in all 165 positions.

Source of the points: G. Rill, A. A. Castro, Road Vehicle Dynamics: Fundamentals and Modeling with
MATLAB, 2nd ed., CRC Press 2020, chapter 5 (points read in public copies of its listing; that it is
this book is from memory). The positions follow from its closed-form steps.
"""

import numpy as np
import pytest

from core.suspension.arms import arm_poses
from core.suspension.makers import Arm
from core.suspension.solve import solve
from core.suspension.steering import castor_deg, kingpin_inclination_deg, scrub_radius, trail
from core.suspension.travel import at
from core.suspension.wheel import camber_deg, projected_camber_deg, toe_in_deg
from tests.core.suspension.corners import published, vec

LOWER = Arm(vec(148, 320, -94), vec(-251, 320, -80), vec(13, 737, -145))
HALF_A_DIGIT = 5.1e-7  # the rows are rounded to six decimals


def test_the_wheel_centre_is_where_the_closed_form_puts_it() -> None:
    linkage, rows = published()

    poses = solve(linkage, at(rows["wheel_centre_z"], rows["rack_mm"]))

    # Eleven turns of the lower arm, each with fifteen rack travels.
    assert poses.shape == (165,)
    assert len({*zip(rows["lower_arm_turn_deg"], rows["rack_mm"], strict=True)}) == 11 * 15
    # The wheel height, itself rounded, moves the others by less than its own rounding.
    assert poses.is_reached.all()
    assert poses.centre[:, 0] == pytest.approx(rows["wheel_centre_x"], abs=1e-6)
    assert poses.centre[:, 1] == pytest.approx(rows["wheel_centre_y"], abs=1e-6)


def test_the_design_contact_is_carried_to_where_the_closed_form_puts_it() -> None:
    linkage, rows = published()
    poses = solve(linkage, at(rows["wheel_centre_z"], rows["rack_mm"]))
    drawn = np.argmin(np.abs(rows["lower_arm_turn_deg"]) + np.abs(rows["rack_mm"]))
    names = [f"point_below_wheel_{axis}" for axis in "xyz"]
    design = np.array([rows[name][drawn] for name in names])

    carried = poses.at(design)

    for column, name in enumerate(names):
        assert carried[:, column] == pytest.approx(rows[name], abs=2e-6)


def test_toe_and_camber_are_those_of_the_closed_form() -> None:
    linkage, rows = published()

    poses = solve(linkage, at(rows["wheel_centre_z"], rows["rack_mm"]))

    # The listing turns about +z and +x: for a left wheel minus toe-in and minus camber.
    assert toe_in_deg(poses) == pytest.approx(-rows["spin_axis_turn_about_plus_z_deg"], abs=1e-6)
    projected = projected_camber_deg(poses)
    assert projected == pytest.approx(-rows["spin_axis_turn_about_plus_x_deg"], abs=1e-6)


def test_true_camber_is_not_the_projected_one_once_the_wheel_is_steered() -> None:
    linkage, _ = published()

    poses = solve(linkage, at(0.0, vec(0.0, -74.5)))
    true, projected = camber_deg(poses), projected_camber_deg(poses)

    assert true[0] == pytest.approx(projected[0], abs=1e-9)
    # With t = projected, T = toe and c = true: sin c = tan t cos T / sqrt(1 + (tan t cos T)^2).
    lean = np.tan(np.radians(projected[1])) * np.cos(np.radians(toe_in_deg(poses)[1]))
    assert true[1] == pytest.approx(np.degrees(np.arctan(lean)), abs=1e-9)
    assert projected[1] - true[1] > 1.0


def test_the_lower_arm_turns_as_the_closed_form_was_driven() -> None:
    linkage, rows = published()

    poses = solve(linkage, at(rows["wheel_centre_z"], rows["rack_mm"]))
    turn = np.degrees(arm_poses(poses, LOWER).angle_rad)

    assert turn == pytest.approx(rows["lower_arm_turn_deg"], abs=1e-6)


def test_steering_axis_at_design() -> None:
    linkage, _ = published()

    poses = solve(linkage, at())

    assert float(kingpin_inclination_deg(poses)) == pytest.approx(10.51821, abs=5.1e-6)
    assert float(castor_deg(poses)) == pytest.approx(7.05610, abs=5.1e-6)
    assert float(trail(poses)) == pytest.approx(30.32555, abs=5.1e-6)
    assert float(scrub_radius(poses)) == pytest.approx(1.03271, abs=5.1e-6)
