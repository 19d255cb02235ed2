"""Which cells run again on the first invented car: what a change touched, and nothing else."""

import msgspec
import pytest

from core.assess.places import tube_radius, tube_shape
from core.checks.rules import assess_all
from core.document.base import Fact, Ref, Vec3
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.sides import on_side
from core.edits.points import move_point
from core.edits.things import rename
from core.edits.unit import move_unit, settle_width
from core.edits.values import change, set_fact
from core.engine.address import Address, parse_address
from core.engine.assess import Assessment
from core.engine.cells import When
from core.engine.finding import Finding
from tests.core.edits.cars import demo_car, demo_meshes


@pytest.fixture(scope="module")
def first() -> Assessment:
    return assessed(demo_car(), None)


def assessed(document: Document, last: Assessment | None, upto: When = When.ASKED) -> Assessment:
    return assess_all(document, demo_meshes(), last, upto)


def ref_of(name: str) -> Ref:
    return parse_address(Lookup(demo_car()), name).ref


def ran(assessment: Assessment, cell: str) -> set[tuple[object, ...]]:
    """The arguments for which a cell was run."""
    return {key.args for key in assessment.ran if key.cell.name == cell}


def cells(assessment: Assessment) -> set[str]:
    return {key.cell.name for key in assessment.ran}


def touching(ref: Ref) -> set[Ref]:
    """The tubes, on either side, that end or bend at a joint, at its mirror image, or at a joint
    that follows such a tube."""
    found: set[Ref] = set()
    joints = {ref, ref.mirrored()}
    while joints:
        tubes = {tube for tube in all_tubes() if joints & set(joints_of(tube))} - found
        found |= tubes
        joints = {point for point in all_points() if leader_of(point) in tubes}
    return found


def all_points() -> list[Ref]:
    return [ref for point in demo_car().points for ref in sides(point)]


def leader_of(ref: Ref) -> Ref | None:
    """The tube that a point follows, if it does."""
    point = next(on_side(point, ref.side) for point in demo_car().points if point.id == ref.id)
    return point.along.tube if point.along else None


def joints_of(ref: Ref) -> list[Ref]:
    tube = next(on_side(tube, ref.side) for tube in demo_car().tubes if tube.id == ref.id)
    return [tube.start, *(bend.point for bend in tube.bends), tube.end]


def test_the_very_same_document_runs_nothing(first: Assessment) -> None:
    assert assessed(first.document, first).ran == ()


def test_the_same_car_read_anew_runs_nothing(first: Assessment) -> None:
    again = msgspec.json.decode(msgspec.json.encode(first.document), type=Document)

    assert assessed(again, first).ran == ()


def test_an_edit_that_changes_nothing_runs_nothing(first: Assessment) -> None:
    joint = ref_of("K:left")
    at = on_side(Lookup(first.document).by_id[joint.id], "left").at  # type: ignore[attr-defined]

    assert assessed(move_point(first.document, joint, Vec3(*at)), first).ran == ()


def moved(document: Document, name: str, by: float) -> Document:
    joint = ref_of(name)
    address = Address(joint, "at.z")
    point = next(point for point in document.points if point.id == joint.id)
    assert point.at is not None
    return change(document, address, point.at.z + by)


@pytest.mark.parametrize("name", ["K:left", "K:right", "J:left", "G_up:left", "E_low:right"])
def test_a_moved_joint_runs_the_shapes_of_the_tubes_at_it_and_no_other(
    first: Assessment, name: str
) -> None:
    joint = ref_of(name)

    second = assessed(moved(first.document, name, 1.0), first)

    tubes = {(ref,) for ref in touching(joint)}
    assert len(tubes) >= 4
    assert ran(second, "tube_shape") == tubes
    assert ran(second, "tube_line") == tubes
    led = {(ref,) for ref in all_points() if (leader_of(ref),) in tubes}
    assert ran(second, "place") == {(joint,), (joint.mirrored(),)} | led


def test_a_moved_joint_builds_anew_only_the_groups_of_its_tubes_radii(first: Assessment) -> None:
    second = assessed(moved(first.document, "K:left", 1.0), first)

    radii = {first.value(tube_radius, ref) for ref in touching(ref_of("K:left"))}
    assert {args[0] for args in ran(second, "tubes_of_radius")} == radii
    assert len(radii) < len({first.value(tube_radius, ref) for ref in all_tubes()})


def all_tubes() -> list[Ref]:
    return [ref for tube in demo_car().tubes for ref in sides(tube)]


def test_a_moved_joint_runs_nothing_of_the_shafts_the_limits_and_the_engines_shape(
    first: Assessment,
) -> None:
    second = assessed(moved(first.document, "K:left", 1.0), first)

    quiet = {"drive_side", "shaft_at_design", "axle_width", "wheel_planes", "shaft_plunge"}
    assert not cells(second) & (quiet | {"limit", "unit_body", "unit_frame", "visits"})


def test_a_moved_engine_runs_no_tube_again(first: Assessment) -> None:
    unit = Ref(first.document.power_units[0].id)

    second = assessed(move_unit(first.document, unit, Vec3(0.0, 0.5, 0.0)), first)

    assert not cells(second) & {
        "tube_shape",
        "tube_line",
        "tubes_of_radius",
        "network",
        "unit_body",
    }
    assert {"unit_frame", "drive_side", "closest_at_rest"} <= cells(second)


OF_WIDTH = {
    "outer_joint",
    "drive_side",
    "shaft_at_design",
    "shaft_plunge",
    "shaft_angles",
    "plane_range",
    "axle_width",
    "wheel_planes",
}


def test_a_moved_wheel_plane_runs_only_the_width_and_the_corners_of_its_wheels(
    first: Assessment,
) -> None:
    corner = ref_of("rear corner:left")

    second = assessed(settle_width(first.document, corner, 0.5), first)

    assert cells(second) >= OF_WIDTH
    for name in ("wheel_centre", "linkage", "over_travel", "travel_curves", "tilts"):
        assert ran(second, name) == {(corner,), (corner.mirrored(),)}, name
    assert not cells(second) & {
        "tube_shape",
        "tube_line",
        "network",
        "unit_body",
        "closest_at_rest",
    }


def test_a_renamed_tube_runs_only_what_says_its_name(first: Assessment) -> None:
    rail = ref_of("M13_rear_lower_rail:left")

    second = assessed(rename(first.document, rail.id, "other"), first)

    sayers = {
        key for key, entry in first.entries.items() if says_name(entry.reads, "M13_rear_lower_rail")
    }
    assert set(second.ran) == sayers
    assert sayers
    said = [finding for key in sayers for finding in first.entries[key].value]
    assert all(isinstance(finding, Finding) for finding in said)


def says_name(reads: tuple[tuple[object, object], ...], name: str) -> bool:
    return any(str(value).startswith(name) for _, value in reads if isinstance(value, str))


def test_a_name_that_nothing_says_runs_nothing(first: Assessment) -> None:
    renamed = rename(first.document, first.document.stocks[0].id, "six metres")

    assert assessed(renamed, first).ran == ()


@pytest.mark.parametrize(
    "said", ["K:left.at", "rear corner:left.upright.hub_face", "drive_shaft:left.length"]
)
def test_a_fact_runs_nothing(first: Assessment, said: str) -> None:
    address = parse_address(Lookup(first.document), said)
    fact = Fact(source="measured", uncertainty=0.5)

    assert assessed(set_fact(first.document, address, fact), first).ran == ()


def test_a_note_runs_nothing(first: Assessment) -> None:
    tube = msgspec.structs.replace(first.document.tubes[0], note="why it is so")
    noted = msgspec.structs.replace(first.document, tubes=(tube, *first.document.tubes[1:]))

    assert assessed(noted, first).ran == ()


def test_a_radius_said_outright_that_was_the_dies_runs_that_tube_and_stops(
    first: Assessment,
) -> None:
    rail = ref_of("M14_rear_upper_rail:left")
    radius = float(first.value(tube_shape, rail).radii[0])

    said = change(first.document, Address(rail, "bends.0.radius"), radius)
    second = assessed(said, first)

    assert {key.args for key in second.ran} - {()} == {(rail,), (rail.mirrored(),)}
    assert not cells(second) & {"tube_line", "member", "thick_line", "network"}
    assert second.agrees_with(assessed(said, None))


def test_there_and_back_between_two_looks_runs_nothing(first: Assessment) -> None:
    away = moved(first.document, "K:left", 5.0)

    assert assessed(moved(away, "K:left", -5.0), first).ran == ()


def test_there_and_back_inside_a_drag_leaves_slow_rules_nothing_to_do(first: Assessment) -> None:
    away = assessed(moved(first.document, "K:left", 5.0), first, When.LIVE)
    back = assessed(moved(away.document, "K:left", -5.0), away, When.LIVE)

    settled = assessed(back.document, back)

    assert away.behind
    assert settled.ran == ()
    assert settled.agrees_with(first)


def test_a_drag_step_runs_no_slow_cell(first: Assessment) -> None:
    step = assessed(moved(first.document, "K:left", 1.0), first, When.LIVE)

    assert {key.cell.when for key in step.ran} == {When.LIVE}
    assert {rule.cell.when for rule in step.rules if step.is_behind(rule)} == {When.RELEASE}


@pytest.mark.parametrize("upto", list(When))
def test_every_cell_runs_at_most_once_in_a_pass(first: Assessment, upto: When) -> None:
    second = assessed(moved(first.document, "K:left", 1.0), first, upto)

    assert len(second.ran) == len(set(second.ran))
