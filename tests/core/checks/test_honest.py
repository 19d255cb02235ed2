"""What is not known is never shown as fine; what is told is told once and of the right thing."""

from hashlib import sha256 as digest
from typing import Any

import msgspec
import numpy as np
import pytest

from core.checks.rules import assess_all, to_look_at
from core.document.base import Box, Entity, Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.power import MeshRef, Solid
from core.document.project import Document
from core.document.records import Limit, WayOut
from core.document.steel import Die, Tube
from core.edits.acceptances import accept
from core.edits.things import make
from core.engine.finding import Finding
from core.geometry.meshes import TriangleMesh, box_mesh, ply_bytes
from tests.cars.stored import demo, only_tubes, ref


def thing(document: Document, label: str) -> Entity:
    return Lookup(document).by_id[ref_of(document, label).id]


def ref_of(document: Document, label: str) -> Ref:
    return Lookup(document).find(label)[0]


def changed(document: Document, label: str, **values: Any) -> Document:  # noqa: ANN401
    return replace_thing(document, msgspec.structs.replace(thing(document, label), **values))


def said(document: Document, rule: str, meshes: dict[str, bytes] | None = None) -> list[Finding]:
    return [f for f in to_look_at(assess_all(document, meshes or {})) if f.rule == rule]


def without_dies(document: Document) -> Document:
    for section in document.sections:
        document = changed(document, section.name, die=None)
    return document


def test_a_tube_without_a_shape_makes_gap_way_out_and_lift_unknown() -> None:
    rail = thing(demo().drawn, "M13_rear_lower_rail_R")
    assert isinstance(rail, Tube)
    other = make(
        demo().drawn,
        type(demo().drawn.sections[0]),
        "no die",
        outside=38.0,
        wall=2.5,
        material=demo().drawn.sections[0].material,
    )
    document = changed(other[0], rail.name, section=Ref(other[1].id))

    for rule in ("unit_gap", "way_out", "body_lift"):
        assert "unknown" in {f.verdict for f in said(document, rule)}, rule
    (lift,) = said(document, "body_lift")
    assert "no shape" in lift.sentence


def test_joints_of_a_tube_without_a_shape_are_not_called_loose() -> None:
    verdicts = {f.verdict for f in said(without_dies(demo().drawn), "loose_joint")}

    assert "no" not in verdicts


def test_two_tubes_equally_near_are_each_told_of_once() -> None:
    document, unit = make(
        only_tubes(),
        type(demo().drawn.power_units[0]),
        "unit",
        origin=(0.0, 0.0, 0.0),
        solids=(
            Solid(
                name="block", box=Box(low=Vec3(50.0, -100.0, 117.5), high=Vec3(450.0, -17.5, 200.0))
            ),
        ),
    )
    near = said(document, "unit_gap")

    assert unit.name == "unit"
    assert len({f.subjects for f in near}) == len(near)


def test_a_limit_for_one_thing_counts_for_that_thing_alone() -> None:
    mount = ref_of(demo().drawn, "M2_left_gearbox")
    document, _ = make(
        demo().drawn, Limit, "short one", rule="bracket_reach", value=50.0, only_for=mount
    )

    reaches = {f.subjects[0]: f for f in said(document, "bracket_reach")}

    assert reaches[mount].verdict == "no"
    assert reaches[ref_of(demo().drawn, "M1_right_engine")].limit == 80.0


def test_an_angle_kept_back_counts() -> None:
    document, _ = make(demo().drawn, Limit, "angle", rule="joint_angle", value=19.0, unit="deg")

    assert {f.verdict for f in said(document, "shaft_inner_angle")} == {"no"}


def test_a_limit_in_inches_is_that_many_inches() -> None:
    document = demo().drawn
    gap = next(limit for limit in document.limits if limit.rule == "unit_gap")

    inches = changed(document, gap.name, unit="in", value=0.6)
    nonsense = changed(document, gap.name, unit="kg", value=0.6)

    (closest, *_) = [f for f in said(inches, "unit_gap") if "M59" in f.sentence]
    assert closest.limit == pytest.approx(0.6 * 25.4)  # international inch, 25.4 mm exactly
    assert closest.verdict == "no"
    assert {f.verdict for f in said(nonsense, "unit_gap")} == {"unknown"}


def test_a_stroke_beyond_what_the_bench_leaves_is_told_of() -> None:
    (shaft,) = demo().drawn.drive_shafts

    document = changed(demo().drawn, shaft.name, plunge_in=40.0, plunge_out=40.0)

    assert "no" in {f.verdict for f in said(document, "shaft_stroke")}
    assert {f.verdict for f in said(demo().drawn, "shaft_stroke")} == {"fine"}


def test_accepting_that_a_shape_is_unknown_does_not_accept_that_it_cannot_be_bent() -> None:
    document = without_dies(demo().drawn)
    finding = next(f for f in said(document, "tube_shape") if "M13" in f.sentence)
    assert finding.verdict == "unknown"

    accepted = accept(document, finding, "die not bought yet")
    accepted, die = make(accepted, Die, "huge", radius=5000.0)
    huge = accepted
    for section in accepted.sections:
        huge = changed(huge, section.name, die=Ref(die.id))

    now = next(f for f in said(huge, "tube_shape") if f.subjects == finding.subjects)
    assert (now.verdict, now.accepted) == ("no", "")


def test_a_bracket_on_a_mount_is_told_of() -> None:
    document = demo().drawn
    bracket = next(b for b in document.brackets if b.carries == ref_of(document, "M2_left_gearbox"))

    on_mount = changed(document, bracket.name, on=ref_of(document, "M1_right_engine"))

    assert [f.verdict for f in said(on_mount, "off_joint")] == ["no"]


def test_a_stay_of_unknown_length_is_not_known_to_fit() -> None:
    document = changed(demo().drawn, "M3_torque_stay", stay_length=None)

    assert [f.verdict for f in said(document, "stay_fit")] == ["unknown"]


def test_a_way_out_that_ends_between_the_tubes_is_not_known_to_lead_out() -> None:
    way = demo().drawn.ways_out[0]

    short = changed(demo().drawn, way.name, distance=60.0)

    assert [f.verdict for f in said(short, "way_out_end")] == ["unknown"]
    assert said(demo().drawn, "way_out_end") == []


def test_a_way_out_of_no_length_is_refused() -> None:
    with pytest.raises(ValueError, match="distance"):
        WayOut(id="way_out9", name="none", direction=Vec3(0.0, 0.0, -1.0), distance=0.0)


def test_a_welded_tube_cannot_be_taken_out_first() -> None:
    way = demo().drawn.ways_out[0]
    document = changed(demo().drawn, way.name, tubes_out=(ref(demo().drawn, "M59_backstay_R"),))

    assert [f.verdict for f in said(document, "way_out_tube")] == ["no"]


def test_a_mesh_with_holes_says_that_it_cannot_tell_what_lies_inside() -> None:
    solid = box_mesh((-100.0, -100.0, -100.0), (100.0, 100.0, 100.0))
    holed = TriangleMesh(solid.vertices, np.asarray(solid.triangles[:4]))
    whole, part = ply_bytes(solid), ply_bytes(holed)
    unit = demo().drawn.power_units[0]

    def verdicts(data: bytes) -> set[str]:

        sha256 = digest(data).hexdigest()
        document = changed(demo().drawn, unit.name, solids=(), mesh=MeshRef(sha256=sha256))
        return {f.verdict for f in said(document, "unit_mesh", {sha256: data})}

    assert verdicts(part) == {"unknown"}
    assert verdicts(whole) == set()


def test_a_bend_of_another_radius_than_its_die_is_told_of() -> None:
    rail = thing(demo().drawn, "M13_rear_lower_rail_R")
    assert isinstance(rail, Tube)
    bends = (msgspec.structs.replace(rail.bends[0], radius=150.0), *rail.bends[1:])

    document = changed(demo().drawn, rail.name, bends=bends)

    assert {f.verdict for f in said(document, "bend_radius")} == {"no"}
    assert said(demo().drawn, "bend_radius") == []
