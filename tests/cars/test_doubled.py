"""Entries of the source files that say one thing twice must agree."""

import json
from typing import Any

import pytest

from tests.cars.convert import (
    DEMO,
    project_of,
)
from tests.cars.convert_frame import frame_points
from tests.cars.convert_names import names_of
from tests.cars.neutral import ConversionError, Plain, read_neutral


@pytest.fixture(scope="module")
def demo() -> Plain:
    return read_neutral(DEMO)


OFF = {
    "frame.members.0.vertices.1.2": 0.2,
    "frame.members.0.bends.0.angle_deg": 0.05,
    "frame.members.0.centreline_length": 0.2,
    "frame.members.0.mass_kg": 0.01,
    "suspension.front.hardpoints_left.wheel_centre.1": 0.2,
    "suspension.front.hardpoints_left.tie_inner.2": 0.2,
    "tyres.front.unloaded_radius": 0.25,
    "vehicle.wheelbase": 0.2,
    "vehicle.ride_height_sill_underside": 0.2,
    "power_unit.cg.0": 0.05,
    "power_unit.boxes.0.min.0": 0.05,
    "power_unit.offset_from_design.1": -20.0,
    "power_unit.drive_shafts.left.length_joint_centres": 1.0,
    "power_unit.drive_shafts.left.outer_joint_centre.1": 0.2,
    "power_unit.drive_shafts.right.gearbox_seat_y": 0.2,
    "power_unit.mounts.2.axes_in_unit.x.2": 0.01,
    "masses.1.mass_kg": 0.5,
    "body.engine_cover_opening.z": 1.0,
    "body.wheel_arches.rear.centre.0": 0.2,
}
"""Doubled entries and an error of each that is more than is allowed."""

WITHIN = {
    "frame.members.0.bends.0.angle_deg": 0.005,
    "frame.members.0.centreline_length": 0.01,
    "suspension.front.hardpoints_left.wheel_centre.1": 0.01,
    "power_unit.drive_shafts.left.outer_joint_centre.1": 0.03,
    "power_unit.mounts.0.bush_centre.0": 0.005,
}
"""Doubled entries and an error of each that is rounding."""


def off_by(car: Plain, path: str, error: float) -> Plain:
    copied: Plain = json.loads(json.dumps(car))
    *steps, last = path.split(".")
    holder: Any = copied
    for step in steps:
        holder = holder[int(step) if isinstance(holder, list) else step]
    holder[int(last) if isinstance(holder, list) else last] += error
    return copied


@pytest.mark.parametrize(("path", "error"), OFF.items())
def test_two_entries_that_do_not_agree_are_refused(demo: Plain, path: str, error: float) -> None:
    with pytest.raises(ConversionError, match="two entries disagree"):
        project_of(off_by(demo, path, error))


@pytest.mark.parametrize(("path", "error"), WITHIN.items())
def test_two_entries_that_agree_but_for_rounding_give_the_same_project(
    demo: Plain, path: str, error: float
) -> None:
    assert project_of(off_by(demo, path, error)) == project_of(demo)


def test_a_node_that_misses_the_tube_it_lies_on_is_refused(demo: Plain) -> None:
    moved = off_by(demo, "frame.nodes.D_mid_L.xyz.1", 0.1)
    with pytest.raises(ConversionError, match="misses it by 0.100 mm"):
        frame_points(moved, names_of(moved))


def test_a_source_of_an_unknown_figure_is_refused(demo: Plain) -> None:
    listed = [*demo["sources"]["list"], {"path": "nobody.knows", "state": "chosen", "how": ""}]
    with pytest.raises(ConversionError, match="not known where"):
        project_of({**demo, "sources": {**demo["sources"], "list": listed}})
