"""The converter: nothing of the source files is lost, and what they say twice must agree.

The expected figures are those of the neutral source files, written before this program and
recomputed there by other means.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest

from core.document.base import Entity, Ref
from core.document.codec import decode_project, encode_project
from core.document.lookup import entities, label, sides
from core.document.mesh_store import MeshStore
from core.document.project import Document, Project
from core.document.running_gear import Corner, DriveShaft
from core.document.sides import on_side
from core.document.steel import Point, Tube
from core.geometry.meshes import mesh_from_ply
from core.geometry.tubes import TubeShape, place_along, solve_tube
from core.geometry.types import Array
from tests.cars.convert import (
    DEMO,
    DEMO_PROJECT,
    SECOND,
    SECOND_PROJECT,
    project_of,
    write_demo,
    write_second,
)
from tests.cars.neutral import ENDS, Plain, read_neutral

PLACE = 0.01
"""mm: the source files round places to this."""

CARS = {"demo": DEMO, "second": SECOND}


@pytest.fixture(scope="module", params=list(CARS))
def car(request: pytest.FixtureRequest) -> Plain:
    return read_neutral(CARS[request.param])


@pytest.fixture(scope="module")
def project(car: Plain) -> Project:
    return project_of(car)


@pytest.fixture(scope="module")
def demo() -> Plain:
    return read_neutral(DEMO)


def pieces(things: tuple[Any, ...]) -> Iterator[tuple[str, Any]]:
    """Label and single piece of every side of every thing."""
    for thing in things:
        for ref in sides(thing):
            yield label(thing, ref), on_side(thing, ref.side)


class Placed:
    """Places and tube shapes of a document, worked out here and not by the program's own cells."""

    def __init__(self, document: Document) -> None:
        self.things: dict[str, Entity] = {thing.id: thing for thing in entities(document)}

    def piece(self, ref: Ref) -> Any:  # noqa: ANN401 - of the kind that the caller knows
        return on_side(self.things[ref.id], ref.side)

    def point(self, point: Point) -> Array:
        if point.at is not None:
            return np.array(point.at)
        assert point.along is not None
        shape = self.shape(self.piece(point.along.tube))
        run = point.along.distance
        return place_along(shape, run if point.along.end == "start" else shape.length - run)[0]

    def shape(self, tube: Tube) -> TubeShape:
        refs = [tube.start, *(bend.point for bend in tube.bends), tube.end]
        section = self.piece(tube.section)
        radii = [bend.radius or self.piece(section.die).radius for bend in tube.bends]
        points = np.array([self.point(self.piece(ref)) for ref in refs])
        return solve_tube(points, np.array(radii, dtype=np.float64))


def test_the_stored_demo_and_its_mesh_are_what_the_converter_writes_now(tmp_path: Path) -> None:
    target = tmp_path / DEMO_PROJECT.name
    write_demo(target)
    assert DEMO_PROJECT.read_bytes() == target.read_bytes()
    written = {p.name: p.read_bytes() for p in MeshStore.beside(target).folder.iterdir()}
    stored = {p.name: p.read_bytes() for p in MeshStore.beside(DEMO_PROJECT).folder.iterdir()}
    assert stored == written
    assert len(stored) == 1


def test_the_stored_second_car_is_what_the_converter_writes_now(tmp_path: Path) -> None:
    write_second(tmp_path / "second.jigplate")
    assert SECOND_PROJECT.read_bytes() == (tmp_path / "second.jigplate").read_bytes()


def test_the_stored_mesh_is_found_under_the_name_that_the_power_unit_gives() -> None:
    (unit,) = decode_project(DEMO_PROJECT.read_bytes()).drawn.power_units
    assert unit.mesh is not None
    stored = MeshStore.beside(DEMO_PROJECT).get(unit.mesh.sha256)
    assert mesh_from_ply(stored).is_closed()


def test_converting_twice_gives_the_same_bytes(car: Plain, project: Project) -> None:
    assert encode_project(project_of(car)) == encode_project(project)


def test_a_project_written_and_read_is_the_same_project(project: Project) -> None:
    assert decode_project(encode_project(project)) == project


def test_ids_are_numbered_in_file_order_below_the_next_number(project: Project) -> None:
    for things in msgspec.structs.astuple(project.drawn)[2:]:
        for count, thing in enumerate(things, 1):
            assert thing.id.endswith(str(count))
            assert count < project.drawn.next_number


def test_every_node_and_tube_reappears_under_its_own_name(car: Plain, project: Project) -> None:
    points = {name for name, _ in pieces(project.drawn.points)}
    tubes = [name for name, _ in pieces(project.drawn.tubes)]
    assert set(car["frame"]["nodes"]) <= points
    assert sorted(tubes) == sorted(member["id"] for member in car["frame"]["members"])


def test_every_hardpoint_reappears_with_its_axle_on_both_sides(
    car: Plain, project: Project
) -> None:
    points = {name for name, _ in pieces(project.drawn.points)}
    for end in ENDS:
        axle = car["suspension"][end]
        kept = set(axle["hardpoints_left"]) - {"wheel_centre", *axle.get("rack_ends", ())}
        if axle.get("strut"):
            kept -= {"damper_lower", "damper_upper"}  # the places of the strut itself
        assert {f"{end}_{role}_{side}" for role in kept for side in "LR"} <= points


def test_other_names_reappear(car: Plain, project: Project) -> None:
    unit, drawn = car["power_unit"], project.drawn
    assert [m.name for m in drawn.mounts] == [m["name"] for m in unit["mounts"]]
    solids = [solid.name for solid in drawn.power_units[0].solids]
    assert solids == [solid["name"] for solid in unit["boxes"]]
    assert [p.name for p in drawn.parts] == [mass["id"] for mass in car["masses"]]
    assert [r.name for r in drawn.runs] == [run["id"] for run in car.get("runs", ())]
    bolts = [bolt["id"] for bolt in car.get("fasteners", {}).get("list", ())]
    assert [f.name for f in drawn.fasteners] == bolts
    panels = [panel["id"] for panel in car.get("panels", ())]
    assert [p.name for p in drawn.panels] == panels


@pytest.mark.parametrize(("path", "counts"), [(DEMO, (72, 43, 24)), (SECOND, (49, 41, 18))])
def test_tubes_nodes_and_bends_are_as_many_as_were_drawn(
    path: Path, counts: tuple[int, int, int]
) -> None:
    drawn = project_of(read_neutral(path)).drawn
    tubes = [tube for _, tube in pieces(drawn.tubes)]
    nodes = [point for _, point in pieces(drawn.points) if point.measured_to == "node"]
    assert (len(tubes), len(nodes), sum(len(tube.bends) for tube in tubes)) == counts


def test_every_place_comes_back(car: Plain, project: Project) -> None:
    placed = Placed(project.drawn)
    found = {name: placed.point(piece) for name, piece in pieces(project.drawn.points)}
    for name, node in car["frame"]["nodes"].items():
        assert found[name] == pytest.approx(node["xyz"], abs=PLACE), name
    for end in ENDS:
        for role, place in car["suspension"][end]["hardpoints_left"].items():
            if f"{end}_{role}_L" in found:
                mirrored = [place[0], -place[1], place[2]]
                assert found[f"{end}_{role}_L"].tolist() == place
                assert found[f"{end}_{role}_R"].tolist() == mirrored


def test_every_tube_has_the_vertices_and_the_length_of_the_source(
    car: Plain, project: Project
) -> None:
    placed = Placed(project.drawn)
    members = {member["id"]: member for member in car["frame"]["members"]}
    for name, tube in pieces(project.drawn.tubes):
        shape = placed.shape(tube)
        # Nodes are rounded to 0.01; the vertices that follow from them move a little more.
        assert shape.vertices == pytest.approx(np.array(members[name]["vertices"]), abs=0.05)
        length = members[name].get("centreline_length", shape.length)
        assert shape.length == pytest.approx(length, abs=0.06)


def test_nodes_on_the_way_along_a_tube_follow_it(demo: Plain) -> None:
    drawn = project_of(demo).drawn
    labels = {name: piece for name, piece in pieces(drawn.points) if piece.along is not None}
    passed = {n for member in demo["frame"]["members"] for n in member["through_nodes"]}
    assert set(labels) == passed
    assert (labels["D_mid_L"].along.end, labels["D_mid_L"].along.distance) == ("start", 320.0)
    assert (labels["D_mid_R"].along.end, labels["D_mid_R"].along.distance) == ("end", 320.0)
    assert not any(tube.through for tube in drawn.tubes)


def test_what_is_no_mirror_image_is_the_right_sides_own() -> None:
    drawn = project_of(read_neutral(SECOND)).drawn
    points = {point.name: point for point in drawn.points}
    assert [(own.of, own.value) for own in points["D_low"].right] == [("at.y", -560.0)]
    assert [own.of for own in points["P"].right] == ["along.distance"]
    assert not points["M_low"].right
    (shaft,) = drawn.drive_shafts
    own = {value.of: value.value for value in shaft.right}
    assert own["length"] == 355.31
    assert own["bearing_y"] == -150.0  # y -160 in the car, 10 less in the unit's frame


def test_the_two_halves_of_a_vee_on_one_joint_are_a_pair(demo: Plain) -> None:
    tubes = {tube.name: tube for tube in project_of(demo).drawn.tubes}
    vee = tubes["M67_G_vee"]
    assert vee.pair
    assert (vee.start.side, vee.end.side) == ("one", "left")


def test_the_rack_gives_the_inner_ends_of_the_track_rods(car: Plain, project: Project) -> None:
    (rack,) = project.drawn.racks
    steered = next(end for end in ENDS if car["suspension"][end].get("rack_ends"))
    corner = next(c for c in project.drawn.corners if c.name.startswith(steered))
    (tie,) = (link for link in corner.links if link.name == "tie")
    assert tie.inner == Ref(rack.id, "left")
    right = on_side(corner, "right")
    assert isinstance(right, Corner)
    assert next(link for link in right.links if link.name == "tie").inner == Ref(rack.id, "right")


def test_nothing_that_follows_from_other_values_is_kept(demo: Plain) -> None:
    drawn = project_of(demo).drawn
    roles = {role.role for corner in drawn.corners for role in corner.points}
    assert "wheel_centre" not in roles
    assert not any(tyre.unloaded_radius for tyre in drawn.tyres)
    assert not any(bend.radius for tube in drawn.tubes for bend in tube.bends)
    (unit_part,) = (part for part in drawn.parts if part.name == "power_unit_wet")
    assert unit_part.mass_kg is None
    assert unit_part.stands_for == Ref(drawn.power_units[0].id)


def test_the_right_hand_shaft_has_its_own_length_and_readings(demo: Plain) -> None:
    (pair,) = project_of(demo).drawn.drive_shafts
    shaft = on_side(pair, "right")
    assert isinstance(shaft, DriveShaft)
    source = demo["power_unit"]["drive_shafts"]["right"]
    assert shaft.length == source["length_joint_centres"]
    assert shaft.bench is not None
    assert shaft.bench.pushed_home == source["bench"]["seat_to_seat_pushed_home"]
    assert shaft.corner.side == "right"
