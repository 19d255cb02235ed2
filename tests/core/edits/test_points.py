import pytest

from core.assess.places import place, tube_shape
from core.document.base import Fact, Ref, SteelState, Vec3
from core.document.project import Document
from core.document.rules import check_document
from core.document.sides import on_side
from core.document.steel import Along, Bracket, Point, Tube
from core.edits.points import (
    measure_point,
    merge_points,
    move_point,
    set_loose,
    slide_point,
    tie_to_tube,
)
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import make, thing_of
from core.edits.tube_places import place_on_tube
from core.edits.tubes import set_state
from core.edits.values import change, held_by, release, set_fact, set_free
from core.engine.address import Address
from core.engine.assess import compute
from tests.core.edits.cars import TubeCar


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def stands(document: Document, ref: Ref) -> Vec3:
    return compute(document, {}, place, ref)


def near(a: Vec3, b: Vec3) -> bool:
    return all(abs(x - y) < 1e-6 for x, y in zip(a, b, strict=True))


def piece(document: Document, ref: Ref) -> Point:
    found = on_side(thing_of(document, ref.id), ref.side)
    assert isinstance(found, Point)
    return found


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_moved_point_of_a_pair_takes_its_twin_along(car: TubeCar, side: str) -> None:
    y = 310.0 if side == "left" else -310.0
    ref = car.a if side == "left" else car.a.mirrored()

    moved = move_point(car.document, ref, Vec3(5.0, y, 90.0))

    assert stands(moved, car.a) == Vec3(5.0, 310.0, 90.0)
    assert stands(moved, car.a.mirrored()) == Vec3(5.0, -310.0, 90.0)


def test_a_moved_single_point_moves_alone(car: TubeCar) -> None:
    moved = move_point(car.document, car.c, Vec3(-600.0, 5.0, 650.0))

    assert stands(moved, car.c) == Vec3(-600.0, 5.0, 650.0)
    assert moved.tubes is car.document.tubes


def test_a_point_on_a_tube_slides_and_is_not_moved(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="F_L follows rail left; slide it, or set it loose"):
        move_point(car.document, car.f, Vec3(0.0, 0.0, 0.0))

    slid = slide_point(car.document, car.f, 400.0)

    assert near(stands(slid, car.f), Vec3(-400.0, 300.0, 100.0))
    assert near(stands(slid, car.f.mirrored()), Vec3(-400.0, -300.0, 100.0))


def test_a_point_measured_from_the_other_end_slides_from_there(car: TubeCar) -> None:
    slid = slide_point(car.document, car.g, 100.0)

    assert near(stands(slid, car.g), Vec3(0.0, -200.0, 100.0))


def test_a_point_cannot_slide_off_its_tube(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match=r"cannot stand 600.1 along rail left.*600.0 long"):
        slide_point(car.document, car.f, 600.1)
    with pytest.raises(EditRefusedError, match="below zero"):
        slide_point(car.document, car.f, -1.0)
    assert near(stands(slide_point(car.document, car.f, 600.0), car.f), stands(car.document, car.b))


def test_a_loose_point_does_not_slide(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="C does not follow a tube; move it instead"):
        slide_point(car.document, car.c, 10.0)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_point_tied_to_a_tube_follows_it_on_both_sides(car: TubeCar, side: str) -> None:
    document, mark = make(car.document, Point, "M", at=Vec3(-100.0, 280.0, 110.0), pair=True)
    ref = Ref(mark.id, side)  # type: ignore[arg-type]
    rail = Ref(car.rail.id, side)  # type: ignore[arg-type]

    tied = tie_to_tube(document, ref, place_on_tube(document, rail, stands(document, ref)))
    moved = move_point(tied, car.a, Vec3(0.0, 350.0, 100.0))

    left = Ref(mark.id, "left")
    assert near(stands(tied, left), Vec3(-100.0, 300.0, 100.0))
    assert near(stands(tied, left.mirrored()), Vec3(-100.0, -300.0, 100.0))
    assert abs(stands(moved, left).y - (350.0 - 50.0 * 100.0 / 601.04)) < 0.5
    assert piece(tied, left).along == Along(tube=car.rail, distance=100.0)
    assert check_document(tied) == []


def test_a_point_that_was_merely_passed_is_passed_no_more_once_it_follows(car: TubeCar) -> None:
    document, mark = make(car.document, Point, "M", at=Vec3(-100.0, 300.0, 100.0), pair=True)
    left = Ref(mark.id, "left")
    passed = change(document, Address(car.rail, "through"), (left,))

    tied = tie_to_tube(passed, left, Along(tube=car.rail, distance=100.0))

    assert thing_of(tied, car.rail.id) == thing_of(document, car.rail.id)


@pytest.mark.parametrize("which", ["a", "b"])
def test_a_joint_at_which_a_tube_ends_cannot_follow_it(car: TubeCar, which: str) -> None:
    joint: Ref = getattr(car, which)
    along = Along(tube=car.rail, distance=10.0)

    with pytest.raises(EditRefusedError, match="rail left ends or bends at"):
        tie_to_tube(car.document, joint, along)


def test_joints_cannot_follow_one_another_round(car: TubeCar) -> None:
    """The strut starts at F, which follows the rail; the rail's own end cannot follow the strut."""
    with pytest.raises(EditRefusedError, match="along one another"):
        tie_to_tube(car.document, car.b, Along(tube=car.strut, distance=10.0))


def test_a_pair_on_one_single_tube_would_be_in_one_spot(car: TubeCar) -> None:
    document, mark = make(car.document, Point, "M", at=Vec3(0.0, 100.0, 100.0), pair=True)

    with pytest.raises(EditRefusedError, match="one spot"):
        tie_to_tube(document, Ref(mark.id, "left"), Along(tube=car.cross, distance=100.0))


def test_a_point_of_the_engine_does_not_follow_a_tube(car: TubeCar) -> None:
    document, mark = make(car.document, Point, "M", at=Vec3(0.0, 100.0, 100.0), carrier="unit")

    with pytest.raises(EditRefusedError, match="its carrier is the chassis"):
        tie_to_tube(document, Ref(mark.id), Along(tube=car.cross, distance=100.0))


@pytest.mark.parametrize("which", ["f", "g"])
def test_a_point_set_loose_stays_where_it_was(car: TubeCar, which: str) -> None:
    ref: Ref = getattr(car, which)
    before = stands(car.document, ref)

    loose = set_loose(car.document, ref)

    assert stands(loose, ref) == before
    assert piece(loose, ref).along is None
    assert check_document(loose) == []
    assert thing_of(loose, ref.id).right == ()
    moved = move_point(loose, car.a, Vec3(0.0, 350.0, 100.0))
    assert stands(moved, ref) == before, "it follows nothing any more"


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_point_set_loose_goes_where_it_is_told(car: TubeCar, side: str) -> None:
    y = 290.0 if side == "left" else -290.0

    loose = set_loose(car.document, Ref(car.f.id, side), Vec3(-250.0, y, 120.0))  # type: ignore[arg-type]

    assert stands(loose, car.f) == Vec3(-250.0, 290.0, 120.0)
    assert stands(loose, car.f.mirrored()) == Vec3(-250.0, -290.0, 120.0)


def test_sides_at_unlike_places_along_a_tube_stay_where_they_were_when_set_loose(
    car: TubeCar,
) -> None:
    right = car.f.mirrored()
    apart = release(car.document, car.f, "along.distance")
    apart = change(apart, Address(right, "along.distance"), 300.0)
    places = [stands(apart, ref) for ref in (car.f, right)]

    loose = set_loose(apart, car.f)

    assert all(near(stands(loose, r), p) for r, p in zip((car.f, right), places, strict=True))
    assert piece(loose, right).along is None
    assert check_document(loose) == []


def test_a_point_that_is_loose_cannot_be_set_loose(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="C does not follow a tube"):
        set_loose(car.document, car.c)


def test_a_point_whose_tube_has_no_shape_is_not_set_loose(car: TubeCar) -> None:
    no_die = change(car.document, Address(car.section, "die"), None)
    document, mark = make(no_die, Point, "M", along=Along(tube=car.hoop, distance=10.0))

    with pytest.raises(EditRefusedError, match="no die is named"):
        set_loose(document, Ref(mark.id))


def test_merged_joints_are_one_for_all_that_met_there(car: TubeCar) -> None:
    document, twin = make(car.document, Point, "A2", at=Vec3(1.0, 300.0, 100.0), pair=True)
    left = Ref(twin.id, "left")
    size = {"section": car.section, "start": left, "end": car.c, "pair": True}
    document, brace = make(document, Tube, "brace", **size)
    document, bracket = make(document, Bracket, "plate", carries=car.d, on=left, pair=True)

    merged = merge_points(document, car.a, left)

    assert all(point.id != twin.id for point in merged.points)
    found = thing_of(merged, brace.id)
    assert isinstance(found, Tube)
    assert found.start == car.a
    assert on_side(found, "right").start == car.a.mirrored()
    plate = thing_of(merged, bracket.id)
    assert isinstance(plate, Bracket)
    assert plate.on == car.a
    assert check_document(merged) == []


def test_joints_merge_from_either_side(car: TubeCar) -> None:
    document, twin = make(car.document, Point, "A2", at=Vec3(1.0, 300.0, 100.0), pair=True)
    size = {"section": car.section, "start": Ref(twin.id, "left"), "end": car.c, "pair": True}
    document, brace = make(document, Tube, "brace", **size)

    merged = merge_points(document, car.a.mirrored(), Ref(twin.id, "right"))

    found = thing_of(merged, brace.id)
    assert isinstance(found, Tube)
    assert found.start == car.a


def test_the_sides_of_one_pair_are_not_merged(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="sides of one pair"):
        merge_points(car.document, car.a, car.a.mirrored())


def test_a_pair_is_not_merged_with_a_single_joint(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="not alike in being a pair"):
        merge_points(car.document, car.a, car.c)


def test_the_ends_of_one_tube_are_not_merged(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="rail"):
        merge_points(car.document, car.a, car.b)


def test_a_measured_joint_is_not_dropped(car: TubeCar) -> None:
    document, twin = make(car.document, Point, "A2", at=Vec3(1.0, 300.0, 100.0), pair=True)
    left = Ref(twin.id, "left")
    known = set_fact(document, Address(left, "at"), Fact(source="measured"))

    with pytest.raises(HeldError, match="A2_L.at"):
        merge_points(known, car.a, left)
    assert merge_points(known, left, car.a).points != known.points


def test_a_measured_point_says_how_and_how_well(car: TubeCar) -> None:
    known = measure_point(car.document, car.c, Vec3(-599.0, 1.0, 698.0), 0.5, "tape")

    assert stands(known, car.c) == Vec3(-599.0, 1.0, 698.0)
    (fact,) = thing_of(known, car.c.id).facts
    assert (fact.of, fact.source, fact.uncertainty, fact.how) == ("at", "measured", 0.5, "tape")
    again = measure_point(known, car.c, Vec3(-598.0, 1.0, 698.0), 0.2, "tape")
    assert stands(again, car.c).x == -598.0, "a later measurement goes before an earlier one"
    with pytest.raises(EditRefusedError, match="follows a tube"):
        measure_point(car.document, car.f, Vec3(0.0, 0.0, 0.0), 0.5, "tape")


FIXED: list[SteelState] = ["tacked", "welded"]


@pytest.mark.parametrize("state", FIXED)
@pytest.mark.parametrize("which", ["a", "b"])
def test_a_joint_with_fixed_steel_does_not_move(
    car: TubeCar, state: SteelState, which: str
) -> None:
    joint: Ref = getattr(car, which)
    fixed = set_state(car.document, car.rail, state)
    to = Vec3(5.0, 300.0, 100.0)

    with pytest.raises(HeldError, match=f"rail is {state}"):
        move_point(fixed, joint, to)
    assert held_by(fixed, Address(joint, "at")) == f"rail is {state} to it"


@pytest.mark.parametrize("state", ["planned", "cut", "bent", "spoilt"])
def test_a_joint_with_loose_steel_moves(car: TubeCar, state: SteelState) -> None:
    document = set_state(car.document, car.rail, state)

    assert move_point(document, car.a, Vec3(5.0, 300.0, 100.0)) != document
    assert held_by(document, Address(car.a, "at")) is None


def test_a_joint_that_fixed_steel_rests_on_by_way_of_another_tube_does_not_move(
    car: TubeCar,
) -> None:
    """The strut stands on F, which follows the rail, which starts at A."""
    fixed = set_state(car.document, car.strut, "welded")

    with pytest.raises(HeldError, match="strut is welded"):
        move_point(fixed, car.a, Vec3(0.0, 320.0, 100.0))
    with pytest.raises(HeldError, match="strut is welded"):
        slide_point(fixed, car.f, 260.0)


def test_a_move_that_leaves_the_fixed_steel_where_it_is_is_done(car: TubeCar) -> None:
    """G is a mere mark on the cross tube as far as that tube is concerned."""
    fixed = set_state(car.document, car.cross, "welded")

    assert slide_point(fixed, car.g, 100.0) != fixed


def test_fixed_steel_moves_once_the_joint_is_set_free(car: TubeCar) -> None:
    fixed = set_state(car.document, car.rail, "welded")

    free = set_free(fixed, Address(car.a, "at"))

    assert held_by(free, Address(car.a, "at")) is None
    assert stands(move_point(free, car.a, Vec3(5.0, 300.0, 100.0)), car.a).x == 5.0
    with pytest.raises(HeldError):
        move_point(free, car.b, Vec3(-500.0, 300.0, 100.0))


def test_fixed_steel_moves_once_the_tube_is_set_free(car: TubeCar) -> None:
    fixed = set_state(car.document, car.rail, "welded")

    free = set_free(fixed, Address(car.rail, ""))

    assert stands(move_point(free, car.b, Vec3(-500.0, 300.0, 100.0)), car.b).x == -500.0


def test_a_joint_with_fixed_steel_can_be_set_loose_for_nothing_moves(car: TubeCar) -> None:
    fixed = set_state(car.document, car.strut, "welded")

    loose = set_loose(fixed, car.f)

    before, after = (compute(d, {}, tube_shape, car.strut) for d in (fixed, loose))
    assert abs(before.vertices - after.vertices).max() < 1e-6
    with pytest.raises(HeldError):
        set_loose(fixed, car.f, Vec3(-250.0, 290.0, 120.0))


def test_what_is_no_point_is_told(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="rail is not of the kind meant"):
        move_point(car.document, car.rail, Vec3(0.0, 0.0, 0.0))
    with pytest.raises(EditRefusedError, match="A is a pair; say which side"):
        move_point(car.document, Ref(car.a.id), Vec3(0.0, 0.0, 0.0))
    with pytest.raises(EditRefusedError, match="there is no point99"):
        move_point(car.document, Ref("point99"), Vec3(0.0, 0.0, 0.0))
