"""Hardpoints: where each stands, how far it is trusted, and what is said where it is not known."""

import math

import msgspec
import pytest

from core.document.base import Axes, Fact, Own, Ref, Vec3
from core.document.links import Adjuster, Upright
from core.document.power import Mount, Outputs, PowerUnit
from core.document.project import Document
from core.document.running_gear import Axle, Corner, DriveShaft, Rack, Wheel
from core.document.steel import Along, Point
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.workshop.hardpoints import Hardpoint, datum_frame, hardpoints
from tests.app.cars import tubes_only


def named(document: Document) -> dict[str, Hardpoint]:
    """Hardpoints of a car by name."""
    found = compute(document, {}, hardpoints)
    assert len({point.name for point in found}) == len(found)
    return {point.name: point for point in found}


def with_points(*points: Point, document: Document | None = None) -> Document:
    document = document or Document()
    return msgspec.structs.replace(document, points=(*document.points, *points))


def corner(**more: object) -> Corner:
    upright = Upright(hub_face=Vec3(0.0, 700.0, 280.0), spin_axis=Vec3(0.0, 2.0, 0.0), spacer=5.0)
    fields = {"id": "corner1", "name": "corner", "pair": True, "axle": Ref("axle1"), **more}
    return Corner(upright=upright, **fields)  # type: ignore[arg-type]


def test_each_side_of_a_pair_has_its_own_line() -> None:
    own = (Own(of="at.x", value=12.0),)
    found = named(
        with_points(Point(id="point1", name="P", pair=True, right=own, at=Vec3(10.0, 20.0, 30.0)))
    )
    assert found["P_L"].place == (10.0, 20.0, 30.0)
    assert found["P_R"].place == (12.0, -20.0, 30.0)


def test_a_place_without_facts_is_guessed_and_its_doubt_unknown() -> None:
    trust = named(with_points(Point(id="point1", name="P", at=Vec3(0.0, 0.0, 0.0))))["P"].trust
    assert (trust.source, trust.uncertainty, trust.tolerance) == ("guessed", None, None)


def test_the_worst_coordinate_tells_the_doubt_and_the_strictest_the_tolerance() -> None:
    facts = (
        Fact(of="at", source="measured", uncertainty=0.5, tolerance=2.0, how="tape"),
        Fact(of="at.z", source="measured", uncertainty=1.5, tolerance=1.0, how="level"),
    )
    point = Point(id="point1", name="P", at=Vec3(0.0, 0.0, 0.0), facts=facts)
    trust = named(with_points(point))["P"].trust
    assert (trust.source, trust.uncertainty, trust.tolerance) == ("measured", 1.5, 1.0)
    assert trust.notes == ("tape", "level")


def test_one_coordinate_without_a_doubt_leaves_the_doubt_of_the_place_unknown() -> None:
    facts = (Fact(of="at.y", source="in_hand", uncertainty=0.5),)
    point = Point(id="point1", name="P", at=Vec3(0.0, 0.0, 0.0), facts=facts)
    trust = named(with_points(point))["P"].trust
    assert trust.source == "x guessed, y in hand, z guessed"
    assert trust.uncertainty is None


def test_a_fact_of_one_side_counts_for_that_side() -> None:
    facts = (Fact(of="at", side="right", source="measured", uncertainty=0.2),)
    found = named(
        with_points(Point(id="point1", name="P", pair=True, at=Vec3(0.0, 9.0, 0.0), facts=facts))
    )
    assert found["P_R"].trust.source == "measured"
    assert found["P_L"].trust.source == "guessed"


def test_a_place_along_a_tube_is_worked_out_and_says_from_what() -> None:
    # T1 runs 400 along x from A to B at y 0 and z 100.
    mark = Point(id="point9", name="M", along=Along(tube=Ref("tube1"), distance=150.0, end="end"))
    found = named(with_points(mark, document=tubes_only()))["M"]
    assert found.place == pytest.approx((250.0, 0.0, 100.0))
    assert found.trust.source == "worked out"
    assert found.trust.notes == ("from its distance along T1 from the tube's end (guessed)",)


def test_a_place_that_is_not_known_says_why() -> None:
    mark = Point(id="point9", name="M", along=Along(tube=Ref("tube1"), distance=401.0))
    found = named(with_points(mark, document=tubes_only()))["M"]
    assert found.place is None
    assert "which is only 400.0 long" in found.why_not


def test_what_hangs_on_the_engine_stands_where_the_engine_stands() -> None:
    # Turned a quarter about z: its x points left, its y points back.
    turned = Axes(x=Vec3(0.0, 1.0, 0.0), y=Vec3(-1.0, 0.0, 0.0))
    unit = PowerUnit(id="power_unit1", name="PU", origin=Vec3(-2000.0, 10.0, 300.0), axes=turned)
    mount = Mount(
        id="mount1",
        name="stay",
        unit=Ref("power_unit1"),
        form="stay",
        place=Vec3(100.0, 20.0, -30.0),
        chassis_end=Vec3(-1800.0, 30.0, 200.0),
    )
    lug = Point(id="point1", name="lug", at=Vec3(1.0, 2.0, 3.0), carrier="unit")
    found = named(Document(power_units=(unit,), mounts=(mount,), points=(lug,)))
    assert found["stay end on the engine and gearbox"].place == (-2020.0, 110.0, 270.0)
    assert found["stay end on the chassis"].place == (-1800.0, 30.0, 200.0)
    assert found["lug"].place == (-2002.0, 11.0, 303.0)
    assert found["lug"].trust.source == "worked out"


def test_a_wheel_centre_is_hub_face_and_spacer_less_offset() -> None:
    # 700 + 5 - 30 = 675, by the meaning of spacer and offset.
    wheel = Wheel(id="wheel1", name="W", rim_width_in=6.0, rim_in=15.0, offset=30.0)
    axle = Axle(id="axle1", name="front", end="front")
    car = Document(axles=(axle,), wheels=(wheel,), corners=(corner(wheel=Ref("wheel1")),))
    found = named(car)
    assert found["corner left wheel centre"].place == pytest.approx((0.0, 675.0, 280.0))
    assert found["corner right wheel centre"].place == pytest.approx((0.0, -675.0, 280.0))
    assert found["corner right hub face"].place == (0.0, -700.0, 280.0)


def test_a_corner_without_wheel_or_hub_keeps_its_lines_and_says_what_is_missing() -> None:
    unit = PowerUnit(id="power_unit1", name="PU", origin=Vec3(0.0, 0.0, 0.0))
    shaft = DriveShaft(
        id="drive_shaft1",
        name="shaft",
        pair=True,
        corner=Ref("corner1", "left"),
        unit=Ref("power_unit1"),
    )
    axle = Axle(id="axle1", name="rear", end="rear", driven=True)
    car = Document(axles=(axle,), corners=(corner(),), power_units=(unit,), drive_shafts=(shaft,))
    found = named(car)
    reasons = {name: point.why_not for name, point in found.items() if point.place is None}
    assert reasons == {
        "corner left wheel centre": "no wheel is named for corner left",
        "corner right wheel centre": "no wheel is named for corner right",
        "shaft left inner joint": "where the shafts meet PU is not known",
        "shaft right inner joint": "where the shafts meet PU is not known",
        "shaft left outer joint": "no hub is named for corner left",
        "shaft right outer joint": "no hub is named for corner right",
    }


def test_inner_joints_stand_on_the_outputs_of_their_sides_each_with_its_own_source() -> None:
    unit = PowerUnit(
        id="power_unit1",
        name="PU",
        origin=Vec3(-2000.0, 10.0, 300.0),
        outputs=Outputs(left=Vec3(5.0, 150.0, 0.0), right=Vec3(6.0, -270.0, 0.0)),
        facts=(Fact(of="outputs.right", source="measured"),),
    )
    shaft = DriveShaft(
        id="drive_shaft1",
        name="shaft",
        pair=True,
        corner=Ref("corner1", "left"),
        unit=Ref("power_unit1"),
    )
    found = named(Document(corners=(corner(),), power_units=(unit,), drive_shafts=(shaft,)))
    left, right = (found[f"shaft {side} inner joint"] for side in ("left", "right"))
    assert left.place == (-1995.0, 160.0, 300.0)
    assert right.place == (-1994.0, -260.0, 300.0)
    assert left.trust.notes == ("from its place on PU (guessed) and where that stands (guessed)",)
    assert right.trust.notes == ("from its place on PU (measured) and where that stands (guessed)",)


def test_rack_balls_stand_half_their_spacing_to_each_side_and_may_be_adjusted() -> None:
    rack = Rack(id="rack1", name="rack", centre=Vec3(100.0, 5.0, 200.0), ball_spacing=600.0)
    adjuster = Adjuster(point=Ref("rack1", "left"), least=-3.0, most=4.0, sets="toe")
    axle = Axle(id="axle1", name="front", end="front", rack=Ref("rack1"))
    car = Document(racks=(rack,), axles=(axle,), corners=(corner(adjusters=(adjuster,)),))
    found = named(car)
    assert found["rack left"].place == (100.0, 305.0, 200.0)
    assert found["rack right"].place == (100.0, -295.0, 200.0)
    for ball in (found["rack left"], found["rack right"]):
        assert [(a.least, a.most, a.sets) for a in ball.adjusters] == [(-3.0, 4.0, "toe")]


def test_the_frame_of_a_datum_is_square_and_right_handed() -> None:
    frame = compute(tubes_only(), {}, datum_frame, Ref("datum1"))
    x, y, z = frame.axes.T
    # B to C of the 300, 400, 500 triangle; A lies on the side of +y.
    assert x == pytest.approx([-0.8, 0.6, 0.0])
    assert y == pytest.approx([-0.6, -0.8, 0.0])
    assert z == pytest.approx([0.0, 0.0, 1.0])
    assert math.isclose(float(x @ y), 0.0, abs_tol=1e-12)


def test_a_datum_of_three_points_in_a_line_gives_no_axes() -> None:
    drawn = tubes_only()
    flat = msgspec.structs.replace(drawn.points[0], at=Vec3(200.0, 150.0, 100.0))
    document = msgspec.structs.replace(drawn, points=(flat, *drawn.points[1:]))
    with pytest.raises(NotComputedError, match="nearly in a line"):
        compute(document, {}, datum_frame, Ref("datum1"))
