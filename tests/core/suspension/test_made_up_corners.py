"""Two made-up corners, every sample of every curve.

Expected: two models that share nothing with this one, equations of the links alone and a chain of
bodies and joints in a general multibody library, a re-solve with 40 digits, and for the wishbones
a closed form; they agree to 5e-13 mm. Rounded to nine decimals.
"""

from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from core.geometry.types import Array, unit
from core.suspension.arms import arm_poses
from core.suspension.centres import (
    anti_dive_percent,
    anti_lift_percent,
    anti_squat_percent,
    contact_slope,
    front_view_centre,
    roll_centre_height,
    wheel_centre_slope,
)
from core.suspension.damper import damper_length, damper_per_wheel_travel
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.steering import castor_deg, kingpin_inclination_deg, scrub_radius, trail
from core.suspension.travel import Travel, at, rolled
from core.suspension.wheel import (
    bump_steer_slope,
    camber_deg,
    camber_slope,
    camber_to_road_deg,
    contact,
    projected_camber_deg,
    toe_in_deg,
)
from tests.core.suspension.corners import Example, made_up

WISHBONES, TRAILING = "double_wishbone_front", "trailing_arm_two_lateral_links"
STEERED = ("steer_at_bump_0", "steer_at_bump_+30", "steer_at_bump_-30")
CURVES = [
    *((WISHBONES, curve) for curve in ("bump", "roll", *STEERED)),
    *((TRAILING, curve) for curve in ("bump", "roll")),
]
POSE, SLOPE, RATIO, CENTRE = 1e-6, 1e-8, 1e-7, 1e-5


def travel(curve: dict[str, Any]) -> Travel:
    if "roll_deg" in curve:
        return rolled(np.array(curve["roll_deg"]))
    return at(np.array(curve["bump"]), np.array(curve["rack"]))


def readings(example: Example, poses: Poses) -> dict[str, tuple[Array, float]]:
    """What is read off, by the name it has in the file, with the tolerance it is asked to keep."""
    front = front_view_centre(poses)
    found = {
        "wheel_centre": (poses.centre, POSE),
        "rotation_vector_deg": (rotation_vector_deg(poses), POSE),
        "bump": (poses.centre[..., 2] - example.linkage.centre[2], POSE),
        "spin_axis": (poses.spin, SLOPE),
        "contact_point": (contact(poses), POSE),
        "camber_deg": (camber_deg(poses), POSE),
        "camber_front_view_deg": (projected_camber_deg(poses), POSE),
        "camber_to_road_deg": (camber_to_road_deg(poses), POSE),
        "toe_in_deg": (toe_in_deg(poses), POSE),
        "spring_length": (damper_length(poses, example.damper), POSE),
        "spring_ratio": (damper_per_wheel_travel(poses, example.damper), RATIO),
        "roll_centre_height": (roll_centre_height(poses), CENTRE),
        "front_view_instant_centre_yz": (np.stack([front.first, front.height], -1), CENTRE),
        "side_view_slope_contact": (contact_slope(poses), SLOPE),
        "side_view_slope_wheel_centre": (wheel_centre_slope(poses), SLOPE),
        "camber_rate_deg_per_mm": (camber_slope(poses), SLOPE),
        "toe_in_rate_deg_per_mm": (bump_steer_slope(poses), SLOPE),
    }
    if example.linkage.steering_axis is not None:
        found |= {
            "castor_deg": (castor_deg(poses), POSE),
            "steer_axis_inclination_deg": (kingpin_inclination_deg(poses), POSE),
            "scrub_radius": (scrub_radius(poses), POSE),
            "mechanical_trail": (trail(poses), POSE),
        }
    return found


def rotation_vector_deg(poses: Poses) -> Array:
    return np.asarray(Rotation.from_matrix(poses.rotation).as_rotvec(degrees=True))


@pytest.mark.parametrize(("name", "curve"), CURVES)
def test_every_sample_of_every_curve(name: str, curve: str) -> None:
    example = made_up(name)
    expected = example.data["curves"][curve]

    poses = solve(example.linkage, travel(expected))

    assert poses.is_reached.all()
    checked = {what: found for what, found in readings(example, poses).items() if what in expected}
    assert len(checked) >= 14
    for what, (found, tolerance) in checked.items():
        wanted = np.broadcast_to(np.array(expected[what]), found.shape)
        assert found == pytest.approx(wanted, abs=tolerance), what


@pytest.mark.parametrize("name", [WISHBONES, TRAILING])
def test_points_of_the_upright_are_carried(name: str) -> None:
    example = made_up(name)
    expected = example.data["curves"]["bump"]
    on_upright = example.data["moves_with"]["upright"]

    poses = solve(example.linkage, travel(expected))

    for k, moved in enumerate(expected["moved_points"]):
        carried = set(on_upright) & set(moved)
        assert len(carried) >= 3
        for point in carried:
            assert poses.at(example.points[point])[k] == pytest.approx(moved[point], abs=POSE)


def test_the_foot_of_the_spring_is_carried_by_the_lower_wishbone() -> None:
    example = made_up(WISHBONES)
    expected = example.data["curves"]["bump"]
    assert example.lower is not None

    arm = arm_poses(solve(example.linkage, travel(expected)), example.lower)

    (foot,) = example.data["moves_with"]["lower_wishbone"]
    wanted = np.array([moved[foot] for moved in expected["moved_points"]])
    assert arm.at(example.points[foot]) == pytest.approx(wanted, abs=POSE)


@pytest.mark.parametrize("curve", ["bump", "roll"])
def test_the_shaft_spans_and_bends_as_its_outer_joint_is_carried(curve: str) -> None:
    """Angles to the axis of the gearbox, across the car, and to the spin axis of the wheel."""
    example = made_up(TRAILING)
    expected = example.data["curves"][curve]
    inner, outer = (example.points[f"shaft_{end}_joint"] for end in ("inner", "outer"))

    poses = solve(example.linkage, travel(expected))

    shaft = poses.at(outer) - inner
    span = np.linalg.norm(shaft, axis=-1)
    assert span == pytest.approx(np.array(expected["shaft_span"]), abs=POSE)
    for end, axis in (("inner", np.array([0.0, 1.0, 0.0])), ("outer", poses.spin)):
        bend = np.degrees(np.arccos(np.sum(unit(shaft) * axis, axis=-1)))
        assert bend == pytest.approx(np.array(expected[f"shaft_angle_{end}_deg"]), abs=POSE), end


def test_share_of_dive_taken_away_at_design() -> None:
    example = made_up(WISHBONES)

    found = anti_dive_percent(solve(example.linkage, at()), 0.6, 2300.0, 450.0)

    assert float(found) == pytest.approx(example.data["design"]["anti_dive_percent"], abs=1e-7)


def test_share_of_lift_and_squat_taken_away_at_design() -> None:
    example = made_up(TRAILING)
    poses = solve(example.linkage, at())
    design = example.data["design"]

    lift = anti_lift_percent(poses, 0.4, 2300.0, 450.0)
    squat = anti_squat_percent(poses, 2300.0, 450.0)

    assert float(lift) == pytest.approx(design["anti_lift_percent"], abs=1e-7)
    assert float(squat) == pytest.approx(design["anti_squat_percent"], abs=1e-7)
