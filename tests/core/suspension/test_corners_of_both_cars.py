"""The corners of both invented cars against a separate program of their makers.

Its figures are rounded; each is compared to half its last digit.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from core.geometry.types import Array, unit
from core.suspension.arms import arm_poses
from core.suspension.centres import roll_centre_height
from core.suspension.damper import damper_length, lower_eye
from core.suspension.linkage import mirrored
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.steering import (
    castor_deg,
    kingpin_inclination_deg,
    scrub_radius,
    steer_deg,
    trail,
)
from core.suspension.tilt import (
    LeastTilt,
    least_tilt_from_axis,
    least_tilt_from_square,
    tilt_from_axis_deg,
    tilt_from_square_deg,
)
from core.suspension.travel import at, grid
from core.suspension.wheel import camber_deg, contact, path, toe_in_deg
from tests.core.suspension.corners import LEFT, Example, of_car, read

CORNERS = [(car, end) for car in ("demo", "second") for end in ("front", "rear")]
THOUSANDTH, HUNDREDTH, TENTH = 5.1e-4, 5.1e-3, 5.1e-2


def over_travel(example: Example) -> Poses:
    return solve(example.linkage, at(np.array(example.data["expected"]["bump"], dtype=float)))


@pytest.mark.parametrize(("car", "end"), CORNERS)
def test_curves_over_travel(car: str, end: str) -> None:
    example = of_car(car, end)
    expected = example.data["expected"]

    poses = over_travel(example)

    assert poses.is_reached.all()
    assert toe_in_deg(poses) == pytest.approx(np.array(expected["toe_in_deg"]), abs=THOUSANDTH)
    assert camber_deg(poses) == pytest.approx(np.array(expected["camber_deg"]), abs=THOUSANDTH)
    moved = path(poses)[:, :2]
    assert moved == pytest.approx(np.array(expected["wheel_centre_dx_dy"]), abs=HUNDREDTH)
    lengths = damper_length(poses, example.damper)
    assert lengths == pytest.approx(np.array(expected["damper_length"]), abs=TENTH)


@pytest.mark.parametrize(("car", "end"), CORNERS)
def test_the_right_hand_corner_reads_the_same(car: str, end: str) -> None:
    example = of_car(car, end)
    expected = example.data["expected"]

    poses = solve(mirrored(example.linkage), at(np.array(expected["bump"], dtype=float)))

    assert toe_in_deg(poses) == pytest.approx(np.array(expected["toe_in_deg"]), abs=THOUSANDTH)
    assert camber_deg(poses) == pytest.approx(np.array(expected["camber_deg"]), abs=THOUSANDTH)


@pytest.mark.parametrize(("car", "end"), CORNERS)
def test_damper_per_wheel_and_roll_centre(car: str, end: str) -> None:
    example = of_car(car, end)
    expected = example.data["expected"]

    poses = solve(example.linkage, at(np.array([-10.0, 0.0, 10.0])))
    lengths, touch = damper_length(poses, example.damper), contact(poses)
    way = touch[2] - touch[0]

    ratio = (lengths[0] - lengths[2]) / 20.0
    assert ratio == pytest.approx(expected["motion_ratio_damper_per_wheel"], abs=THOUSANDTH)
    chord = way[1] / way[2] * touch[1, 1]
    assert chord == pytest.approx(expected["roll_centre_height"], abs=TENTH)
    height = roll_centre_height(poses)[1]
    assert height == pytest.approx(expected["roll_centre_height_instantaneous"], abs=TENTH)


@pytest.mark.parametrize("car", ["demo", "second"])
def test_steering_axis_at_design(car: str) -> None:
    example = of_car(car, "front")
    expected = example.data["expected"]

    poses = solve(example.linkage, at())

    found = float(kingpin_inclination_deg(poses))
    assert found == pytest.approx(expected["kingpin_inclination_deg"], abs=HUNDREDTH)
    assert float(castor_deg(poses)) == pytest.approx(expected["caster_deg"], abs=HUNDREDTH)
    assert float(trail(poses)) == pytest.approx(expected["mechanical_trail"], abs=TENTH)
    assert float(scrub_radius(poses)) == pytest.approx(expected["scrub_radius"], abs=TENTH)


@pytest.mark.parametrize("car", ["demo", "second"])
def test_steer_at_the_used_rack_travel_to_the_left(car: str) -> None:
    """A rack behind the axle line steers the other way: the second car's has one."""
    left = of_car(car, "front").linkage
    used = read(f"cars/{car}-car.json")["donor_parts"]["steering_rack"]["used_travel_each_way"]
    expected = of_car(car, "front").data["expected"]["steer_at_used_rack_travel_deg"]

    found = [float(steer_deg(solve(each, at(0.0, used)))) for each in (left, mirrored(left))]

    wheels = [expected["rack_to_left"][f"{side}_wheel"] for side in ("left", "right")]
    assert found == pytest.approx(wheels, abs=HUNDREDTH)


def link_ends(example: Example, used_rack: float) -> Iterator[tuple[str, str, float, LeastTilt]]:
    """Name, kind, worst tilt as drawn and least possible of every link end over bump and steer."""
    low, high = example.data["travel"]
    bumps = np.arange(low, high + 1, 10.0)
    racks = np.linspace(-used_rack, used_rack, 9)
    poses = solve(example.linkage, grid(bumps, racks))
    assert poses.is_reached.all()
    for name, end in example.data["link_ends"].items():
        bolt = unit(np.array(end["direction"]))
        if end["kind"] == "bush":
            arm = example.lower if name.startswith("lower") else example.upper
            assert arm is not None
            hinge = unit(arm.rear - arm.front)
            worst = min(float(tilt_from_axis_deg(s * hinge, bolt)) for s in (1.0, -1.0))
            yield name, "bush", worst, least_tilt_from_axis(hinge)
            continue
        links = links_of(example, poses, name, end, bolt)
        if end["kind"] in ("ball", "axial_ball"):
            axis = unit(np.array(end.get("cup_direction", end["direction"])))
            worst = float(tilt_from_axis_deg(links, axis).max())
            yield name, end["kind"], worst, least_tilt_from_axis(links)
        else:
            worst = float(tilt_from_square_deg(links, bolt).max())
            yield name, end["kind"], worst, least_tilt_from_square(links, bolt)


def links_of(example: Example, poses: Poses, name: str, end: dict[str, Any], stud: Array) -> Array:
    """Directions of the link, or of the stud, as they lie in what carries the bolt or cup."""
    if end["kind"] == "ball":
        arm = example.lower if name.startswith("lower") else example.upper
        assert arm is not None
        return arm_poses(poses, arm).turned_back(poses.turned(stud))
    along = unit(link_vectors(example, poses, name))
    carrier = end["carried_by"]
    if carrier == "upright":
        return poses.turned_back(along)
    if carrier == "lower arm" and example.lower is not None:
        return arm_poses(poses, example.lower).turned_back(along)
    return along


def link_vectors(example: Example, poses: Poses, name: str) -> Array:
    """From the named end of its link to the other."""
    if name.startswith("damper"):
        away = example.damper.upper - lower_eye(poses, example.damper)
        return away if name == "damper_lower" else -away
    inner, outer = next(pair for pair in example.data["links"] if name in pair)
    from_chassis = poses.at(example.points[outer]) - example.points[inner]
    if inner in example.data.get("rack_ends", []):
        from_chassis = from_chassis - poses.travel.rack[..., None] * LEFT
    return from_chassis if name == inner else -from_chassis


@pytest.mark.parametrize("end", ["front", "rear"])
def test_tilt_of_every_link_end_as_drawn_and_the_least_possible(end: str) -> None:
    example = of_car("demo", end)
    rack = read("cars/demo-car.json")["donor_parts"]["steering_rack"]["used_travel_each_way"]
    rows = example.data["expected"]["link_end_tilt"]["rows"]

    found = list(link_ends(example, rack if end == "front" else 0.0))

    assert {name for name, *_ in found} == set(rows)
    for name, kind, worst, least in found:
        assert kind == rows[name][0]
        assert worst == pytest.approx(rows[name][1], abs=TENTH), name
        # Theirs is a search that may stop a little short of the least; ours is exact.
        assert -TENTH < rows[name][2] - least.tilt_deg < 2.0 * TENTH, name
        assert least.tilt_deg <= worst + 1e-9, name
