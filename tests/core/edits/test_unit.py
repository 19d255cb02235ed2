from collections.abc import Callable

import pytest

from core.assess.places import place
from core.assess.width import axle_width, driven_pairs
from core.document.base import Because, Fact, Ref, Side, Vec3
from core.document.facts import fact_at
from core.document.project import Document, empty_project
from core.document.rules import check_document
from core.document.running_gear import Corner
from core.document.sides import on_side
from core.edits.points import move_point
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import thing_of
from core.edits.unit import (
    HELD_BY_SHAFTS,
    is_held_by_shafts,
    move_unit,
    set_driven_wheels_free,
    settle_driven_wheels,
    settle_width,
)
from core.edits.values import change, held_by, hold, put_value, release, set_fact, set_free
from core.engine.address import Address
from core.engine.assess import compute
from tests.core.edits.cars import demo_car, second_car

FACE = "upright.hub_face.y"


def driven(document: Document, side: Side) -> Ref:
    return on_side(document.drive_shafts[0], side).corner


def face(document: Document, ref: Ref) -> float:
    corner = on_side(thing_of(document, ref.id), ref.side)
    assert isinstance(corner, Corner)
    return corner.upright.hub_face.y


def track(document: Document) -> float:
    (pair,) = compute(document, {}, driven_pairs)
    return compute(document, {}, axle_width, *pair).track


def test_the_engine_moves_with_all_that_is_stored_in_its_frame() -> None:
    car = demo_car()
    unit, mount = Ref(car.power_units[0].id), Ref(car.mounts[0].id)
    before = compute(car, {}, place, mount)

    moved = move_unit(car, unit, Vec3(1.0, -2.0, 3.0))

    after = compute(moved, {}, place, mount)
    assert [b - a for a, b in zip(before, after, strict=True)] == pytest.approx([1.0, -2.0, 3.0])
    assert moved.mounts is car.mounts
    assert move_unit(car, unit, Vec3(0.0, 0.0, 0.0)) is car


def test_an_engine_that_is_held_does_not_move() -> None:
    car = demo_car()
    unit = Ref(car.power_units[0].id)
    held = hold(car, Address(unit, "origin.y"), "the shafts fit")

    with pytest.raises(HeldError, match="the shafts fit"):
        move_unit(held, unit, Vec3(0.0, 1.0, 0.0))
    assert move_unit(held, unit, Vec3(1.0, 0.0, 1.0)) != held, "up and fore and aft it may"
    with pytest.raises(EditRefusedError, match="no engine and gearbox"):
        move_unit(car, Ref(car.tubes[0].id), Vec3(0.0, 1.0, 0.0))


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("car_of", [demo_car, second_car])
def test_the_width_settles_outward_on_both_sides_and_is_held_there(
    car_of: Callable[[], Document], side: Side
) -> None:
    car = car_of()
    corner = driven(car, side)

    settled = settle_width(car, corner, 2.0)

    assert track(settled) == pytest.approx(track(car) + 4.0)
    assert abs(face(settled, corner)) == pytest.approx(abs(face(car, corner)) + 2.0)
    assert held_by(settled, Address(corner, FACE)) == HELD_BY_SHAFTS
    assert check_document(settled) == []


def test_what_decides_the_width_is_kept_with_it() -> None:
    car = demo_car()
    corner = driven(car, "left")
    bare = set_fact(car, Address(corner, FACE), Fact())

    settled = settle_width(bare, corner, 1.0)

    fact = fact_at(thing_of(settled, corner.id), "left", FACE)
    assert fact is not None
    shaft, unit = car.drive_shafts[0].id, car.power_units[0].id
    hub = on_side(car.corners[-1], "left").hub
    assert hub is not None
    assert fact.because == (
        Because(ref=Ref(shaft, "left"), of="length"),
        Because(ref=Ref(unit), of="outputs"),
        Because(ref=Ref(shaft, "right"), of="length"),
        Because(ref=hub, of="joint_to_face"),
    )


def test_reasons_given_go_before_those_found() -> None:
    car = demo_car()
    corner = driven(car, "left")
    because = (Because(ref=Ref(car.tyres[0].id), words="the arch"),)

    settled = settle_width(car, corner, 1.0, because)

    fact = fact_at(thing_of(settled, corner.id), "left", FACE)
    assert fact is not None
    assert fact.because == because


def test_a_width_that_the_shafts_hold_can_be_settled_again() -> None:
    car = demo_car()
    corner = driven(car, "left")

    back = settle_width(settle_width(car, corner, 2.0), corner, -2.0)

    assert face(back, corner) == pytest.approx(face(car, corner))


def test_a_hub_face_held_by_something_else_stays() -> None:
    car = demo_car()
    corner = driven(car, "left")
    known = set_fact(car, Address(corner, FACE), Fact(source="measured", how="tape"))

    with pytest.raises(HeldError, match="it is measured"):
        settle_width(known, corner, 1.0)
    assert settle_width(set_free(known, Address(corner, FACE)), corner, 1.0) != known


def test_a_side_set_apart_settles_alone() -> None:
    car = release(demo_car(), driven(demo_car(), "left"), FACE)
    left, right = driven(car, "left"), driven(car, "right")

    settled = settle_width(car, right, 3.0)

    assert face(settled, right) == pytest.approx(face(car, right) - 3.0)
    assert face(settled, left) == face(car, left)


def test_the_links_stay_where_they_are_drawn() -> None:
    car = demo_car()

    settled = settle_width(car, driven(car, "left"), 2.0)

    assert settled.points is car.points
    assert move_point(settled, Ref(car.points[0].id, "left"), Vec3(0.0, 1.0, 2.0)) != settled


def test_what_is_no_corner_is_told() -> None:
    car = demo_car()

    with pytest.raises(EditRefusedError, match="not of the kind meant"):
        settle_width(car, Ref(car.tubes[0].id), 1.0)
    with pytest.raises(EditRefusedError, match="say which side"):
        settle_width(car, Ref(driven(car, "left").id), 1.0)


def test_a_unit_that_moves_counts_as_chosen_no_longer_measured() -> None:
    car = demo_car()
    unit = Ref(car.power_units[0].id)
    known = set_fact(car, Address(unit, "origin"), Fact(source="measured", uncertainty=1.0))

    moved = move_unit(set_free(known, Address(unit, "origin")), unit, Vec3(0.0, 1.0, 0.0))

    fact = fact_at(thing_of(moved, unit.id), "one", "origin.y")
    assert fact is not None
    assert (fact.source, fact.uncertainty) == ("chosen", None)
    assert change(moved, Address(unit, "origin.y"), 0.0) != moved


def test_settling_holds_both_wheels_where_they_stand_within_stroke() -> None:
    car = set_driven_wheels_free(demo_car())
    left, right = driven(car, "left"), driven(car, "right")
    assert held_by(car, Address(left, FACE)) is None

    settled = settle_driven_wheels(car)

    assert track(settled) == pytest.approx(track(car))
    for corner in (left, right):
        assert held_by(settled, Address(corner, FACE)) == HELD_BY_SHAFTS
        assert is_held_by_shafts(settled, corner)
    assert settle_driven_wheels(settled) is settled


def test_settling_brings_wheels_that_stand_too_wide_to_the_end_of_the_strokes() -> None:
    car = set_driven_wheels_free(demo_car())
    corner = driven(car, "left")
    wide = change(car, Address(corner, FACE), face(car, corner) + 60.0)
    (pair,) = compute(wide, {}, driven_pairs)
    allowed = compute(wide, {}, axle_width, *pair).ranges

    settled = compute(settle_driven_wheels(wide), {}, axle_width, *pair)

    assert settled.planes[0] == pytest.approx(min(one.upper for one in allowed))
    assert all(r.lower - 1e-6 <= p <= r.upper + 1e-6
               for p, r in zip(settled.planes, settled.ranges, strict=True))  # fmt: skip


def test_settling_serves_each_wheel_by_itself_where_the_right_has_its_own_place() -> None:
    car = set_driven_wheels_free(demo_car())
    left, right = driven(car, "left"), driven(car, "right")
    apart = release(car, right, FACE)
    wide = change(apart, Address(right, FACE), face(apart, right) - 60.0)

    settled = settle_driven_wheels(wide)

    assert face(settled, left) == face(car, left)
    assert abs(face(settled, right)) < abs(face(wide, right))


def test_settling_is_refused_in_words_where_nothing_decides_the_width() -> None:
    with pytest.raises(EditRefusedError, match="no left and right drive shaft"):
        settle_driven_wheels(empty_project().drawn)
    car = demo_car()
    corner = on_side(thing_of(car, driven(car, "left").id), "left")
    assert isinstance(corner, Corner)
    assert corner.hub is not None
    hub = corner.hub
    unknown = put_value(car, Address(hub, "joint_to_face"), None)
    with pytest.raises(EditRefusedError, match="the width is not known"):
        settle_driven_wheels(unknown)


@pytest.mark.parametrize("wide", [0.0, 60.0])
def test_settling_is_refused_where_something_else_holds_a_wheel(wide: float) -> None:
    car = set_driven_wheels_free(demo_car())
    corner = driven(car, "left")
    held = hold(change(car, Address(corner, FACE), face(car, corner) + wide),
                Address(corner, FACE), "the wheel arch is cut")  # fmt: skip

    with pytest.raises(HeldError, match="the wheel arch is cut"):
        settle_driven_wheels(held)
