"""Where the points of a donor come to stand, on which side, and how sure they are."""

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.assess.wheels import wheel_centre
from core.document.base import Because, Fact, Ref, Vec3
from core.document.lookup import Lookup
from core.document.project import KINDS, Document
from core.document.rules import check_document
from core.document.running_gear import Axle, Corner, Rack
from core.document.sides import mirror_thing, on_side
from core.document.steel import Point
from core.edits.donor import HubPlace, Station, carry_over
from core.edits.donor_places import turned_round
from core.edits.points import move_point
from core.edits.refusals import HeldError
from core.edits.things import make, mirror, thing_of
from core.edits.values import set_free
from core.engine.address import Address
from core.engine.assess import compute
from tests.core.edits.cars import demo_car, second_car
from tests.core.edits.donors import (
    LOADED,
    Builder,
    by_role,
    corner_at,
    measured,
    offset_of,
    stands,
)

CARS = {"demo": demo_car, "second": second_car}
ENDS = [(car, end) for car in CARS for end in ("front", "rear")]
DATUMS = ("hub_face", "wheel_centre")
NEAR = 1e-9

every_corner = pytest.mark.parametrize(("car", "end"), ENDS)


def carried(builder: Builder, **changes: object) -> tuple[Document, Corner]:
    after, corner = carry_over(builder.document, builder.asks(**changes))
    assert check_document(after) == []
    return after, corner


@every_corner
@pytest.mark.parametrize("datum", DATUMS)
def test_a_corner_carried_over_to_where_it_was_has_its_points_where_they_were(
    car: str, end: str, datum: str
) -> None:
    source = CARS[car]()
    old = corner_at(source, end)
    builder = Builder(measured(source, end, datum=datum))
    face = old.upright.hub_face
    height = face.z - offset_of(source, old) * old.upright.spin_axis.z
    document = set_radius(builder, height)
    fields = {"rim_width_in": 6.0, "rim_in": 15.0, "offset": offset_of(source, old)}
    document, wheel = make(document, KINDS["wheels"], "old wheel", **fields)
    builder.document = document
    at, where = HubPlace(face.x, face.y), {"end": end, "wheel": Ref(wheel.id)}

    after, corner = carried(builder, at=at, **where)

    assert corner.upright.hub_face == pytest.approx(face, abs=1e-6)
    assert corner.upright.spin_axis == pytest.approx(old.upright.spin_axis, abs=1e-6)
    found = by_role(after, corner)
    for role in old.points:
        assert found[role.role] == pytest.approx(stands(source, role.point), abs=1e-6)
    assert [link.name for link in corner.links] == [link.name for link in old.links]
    assert corner.linkage == old.linkage
    if old.damper is not None and old.linkage != "strut":
        assert corner.damper is not None
        assert corner.damper.lower_on == old.damper.lower_on


def set_radius(builder: Builder, radius: float) -> Document:
    old = Lookup(builder.document).by_id[builder.tyre.id]
    tyres = tuple(
        msgspec.structs.replace(t, loaded_radius=radius) if t is old else t
        for t in builder.document.tyres
    )
    return msgspec.structs.replace(builder.document, tyres=tyres)


@every_corner
def test_every_height_shifts_by_the_difference_of_the_hubs(car: str, end: str) -> None:
    """z here = z there + (hub here - hub there): the hubs stand at the loaded radii."""
    source = CARS[car]()
    donor = measured(source, end, camber_deg=None, toe_in_deg=None)
    builder = Builder(donor)
    there = corner_at(source, end).upright.hub_face.z

    after, corner = carried(builder, end=end)

    assert corner.upright.hub_face.z == LOADED
    for role, at in by_role(after, corner).items():
        (point,) = (point for point in donor.points if point.role == role)
        there_z = point.at.z + there
        assert at.z == pytest.approx(there_z + (LOADED - there), abs=NEAR)
        assert (at.x, at.y) == pytest.approx((point.at.x, point.at.y + 700.0), abs=NEAR)


@given(
    radius=st.floats(200.0, 400.0),
    other=st.floats(200.0, 400.0),
    turned=st.booleans(),
    side=st.sampled_from(("both", "left", "right")),
)
def test_another_tyre_moves_the_whole_corner_up_and_nothing_else(
    *, radius: float, other: float, turned: bool, side: str
) -> None:
    builder = Builder(measured(demo_car(), "front"))
    changes = {"turned": turned, "side": side, "wheel": builder.wheel}
    found: list[dict[str, Vec3]] = []
    for each in (radius, other):
        builder.document = set_radius(builder, each)
        found.append(by_role(*carried(builder, **changes)))

    for one, two in zip(found[0].values(), found[1].values(), strict=True):
        assert two.z - one.z == pytest.approx(other - radius, abs=NEAR)
        assert (one.x, one.y) == (two.x, two.y)


@pytest.mark.parametrize("camber", [-3.0, 0.0, 2.0])
@pytest.mark.parametrize("turned", [False, True])
def test_the_wheel_centre_is_as_high_as_the_loaded_radius(camber: float, *, turned: bool) -> None:
    builder = Builder(measured(demo_car(), "front", camber_deg=camber, toe_in_deg=0.4))

    after, corner = carried(builder, wheel=builder.wheel, turned=turned)

    for side in ("left", "right"):
        centre = compute(after, {}, wheel_centre, Ref(corner.id, side))
        assert centre.z == pytest.approx(LOADED, abs=NEAR)


@pytest.mark.parametrize("camber", [-3.0, 0.0, 2.0])
def test_a_half_track_is_to_the_middle_of_the_tyre_on_the_ground(camber: float) -> None:
    """A disc of the loaded radius that leans by its camber: its lowest place is r sin inboard."""
    builder = Builder(measured(demo_car(), "front", camber_deg=camber, toe_in_deg=0.0))

    after, corner = carried(builder, wheel=builder.wheel, at=Station(-50.0, 710.0))

    centre = compute(after, {}, wheel_centre, Ref(corner.id, "left"))
    contact_y = centre.y - LOADED * float(np.sin(np.radians(camber)))  # top out, bottom in
    assert (centre.x, contact_y) == pytest.approx((-50.0, 710.0), abs=NEAR)


def hand(points: list[Vec3]) -> float:
    """Six times the signed volume of four points: its sign tells a part from its mirror image."""
    a, b, c, d = (np.array(p) for p in points)
    return float(np.dot(np.cross(b - a, c - a), d - a))


SOLID = ("lower_outer", "upper_outer", "tie_outer", "lower_inner_front")


@pytest.mark.parametrize("measured_side", ["left", "right"])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("turned", [False, True])
def test_a_part_is_turned_and_never_mirrored(
    measured_side: str, side: str, *, turned: bool
) -> None:
    """A left part fits left, or right when turned end for end; else it is the donor's other one."""
    donor = measured(demo_car(), "front", side=measured_side)
    builder = Builder(donor)
    outward = 1.0 if measured_side == "left" else -1.0
    there = {p.role: p.at._replace(y=outward * p.at.y) for p in donor.points}

    after, corner = carried(builder, side=side, turned=turned)

    here = by_role(after, corner)
    fits = (side == measured_side) != turned
    volume = hand([there[role] for role in SOLID])
    assert abs(volume) > 1e5
    found = hand([here[role] for role in SOLID])
    assert found == pytest.approx(volume if fits else -volume, rel=NEAR)
    assert all((at.y > 0.0) == (side == "left") for at in here.values())


@given(st.builds(Vec3, *(st.floats(-2000.0, 2000.0),) * 3))
def test_end_for_end_is_half_a_turn_about_the_vertical_and_twice_is_nothing(at: Vec3) -> None:
    """By the rotation matrix: a left part (y outboard) comes to the right (y inboard)."""
    half = np.array([[-1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, 1.0]])
    in_car = half @ np.array(at)

    turned = turned_round(at)

    assert turned == Vec3(*(float(v) for v in in_car * (1.0, -1.0, 1.0)))
    assert turned_round(turned) == at


@pytest.mark.parametrize("turned", [False, True])
def test_a_corner_mirrored_twice_is_itself(*, turned: bool) -> None:
    builder = Builder(measured(demo_car(), "front"))
    after, corner = carried(builder, turned=turned)

    for thing in (corner, *after.points):
        assert mirror_thing(mirror_thing(thing)) == thing
        right = on_side(thing, "right")
        assert mirror_thing(right) == thing


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("turned", [False, True])
def test_one_side_made_a_pair_is_the_same_as_both_sides_carried_over(
    side: str, *, turned: bool
) -> None:
    builder = Builder(measured(demo_car(), "front"))
    pair, corner = carried(builder, turned=turned, wheel=builder.wheel)

    single, alone = carried(builder, turned=turned, wheel=builder.wheel, side=side)
    for point in single.points:
        single = mirror(single, point.id)
    single = mirror(single, alone.id)

    for way in ("left", "right"):
        both = Lookup(pair).by_id[corner.id]
        one = Lookup(single).by_id[alone.id]
        assert isinstance(both, Corner)
        assert isinstance(one, Corner)
        assert by_role(single, on_side(one, way)) == by_role(pair, on_side(both, way))
        assert on_side(one, way).upright == on_side(both, way).upright


def test_each_point_is_as_sure_as_it_was_measured_and_says_why_it_is_there() -> None:
    facts = (
        Fact(of="points.lower_outer", source="measured", uncertainty=0.7, how="calliper"),
        Fact(of="points.upper_outer.at.z", source="measured", uncertainty=2.0, when="May"),
    )
    builder = Builder(measured(demo_car(), "front", facts=facts))

    after, corner = carried(builder)

    points = {role.role: thing_of(after, role.point.id) for role in corner.points}
    tyre = Because(ref=builder.tyre, of="loaded_radius")
    (lower,) = points["lower_outer"].facts
    because = (Because(ref=builder.donor, of="points.lower_outer.at"), tyre)
    assert lower == msgspec.structs.replace(facts[0], of="at", because=because)
    upper = {fact.of: fact for fact in points["upper_outer"].facts}
    assert [upper[f"at.{a}"].source for a in "xyz"] == ["guessed", "guessed", "measured"]
    assert (upper["at.z"].uncertainty, upper["at.z"].when) == (2.0, "May")
    (guessed,) = points["tie_outer"].facts
    assert (guessed.source, guessed.uncertainty) == ("guessed", None)


def test_angles_are_as_sure_as_they_were_measured() -> None:
    facts = (Fact(of="camber_deg", source="measured", uncertainty=0.25),)
    builder = Builder(measured(demo_car(), "front", facts=facts, toe_in_deg=None))

    _, corner = carried(builder)

    found = {fact.of: fact for fact in corner.facts}
    lean = found["upright.spin_axis.z"]
    assert lean.source == "measured"
    assert lean.uncertainty == pytest.approx(np.radians(0.25))
    toe = found["upright.spin_axis.x"]
    assert (toe.source, toe.how) == ("guessed", "not measured on parts car, taken as 0")
    assert found["upright.hub_face"].because[1].ref == builder.tyre


def test_what_was_measured_holds_until_it_is_set_free() -> None:
    after, corner = carried(Builder(measured(demo_car(), "front")))
    (outer,) = (role.point for role in corner.points if role.role == "lower_outer")

    with pytest.raises(HeldError, match=r"it is measured \(plumb line\)"):
        move_point(after, outer, Vec3(0.0, 600.0, 200.0))

    freed = set_free(after, Address(outer, "at"))
    assert stands(move_point(freed, outer, Vec3(0.0, 600.0, 200.0)), outer).y == 600.0


def with_rack(builder: Builder) -> tuple[Ref, Ref]:
    """A rack in the car and the front axle that it steers."""
    place = {"centre": Vec3(120.0, 0.0, 220.0), "ball_spacing": 650.0}
    builder.document, rack = make(builder.document, Rack, "rack", **place)
    steered = {"end": "front", "rack": Ref(rack.id)}
    builder.document, axle = make(builder.document, Axle, "own axle", **steered)
    return Ref(rack.id), Ref(axle.id)


def test_without_a_rack_the_rod_is_held_by_the_chassis_where_the_donors_ball_was() -> None:
    after, corner = carried(Builder(measured(demo_car(), "front")))

    (tie,) = (link for link in corner.links if link.name == "tie")
    point = thing_of(after, tie.inner.id)
    assert isinstance(point, Point)
    assert point.carrier == "chassis"
    assert [axle.name for axle in after.axles] == ["front axle"]


@pytest.mark.parametrize("side", ["both", "left", "right"])
def test_with_a_rack_the_rod_is_on_its_ball_on_the_same_side(side: str) -> None:
    builder = Builder(measured(demo_car(), "front"))
    rack, axle = with_rack(builder)

    after, corner = carried(builder, side=side)

    (tie,) = (link for link in corner.links if link.name == "tie")
    assert tie.inner == Ref(rack.id, "right" if side == "right" else "left")
    assert by_role(after, corner)["tie_inner"].y == (-325.0 if side == "right" else 325.0)
    assert corner.axle == axle
    assert len(after.points) == len(corner.points) - 1


def test_the_eyes_of_the_damper_make_a_damper() -> None:
    _, corner = carried(Builder(measured(demo_car(), "front")))

    assert corner.damper is not None
    assert corner.damper.lower_on == "lower arm"
    refs = {role.role: role.point for role in corner.points}
    assert (corner.damper.lower, corner.damper.upper) == (
        refs["damper_lower"],
        refs["damper_upper"],
    )
