import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.assess.places import place, tube_line, tube_shape
from core.document.base import Fact, Own, Ref, Side, SteelState, Vec3
from core.document.facts import fact_at
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.rules import check_document
from core.document.sides import on_side
from core.document.steel import Along, Bend, Die, EndFixing, Point, Section, Tube
from core.edits.points import move_point, set_loose
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import make, thing_of
from core.edits.tube_places import place_on_tube
from core.edits.tubes import (
    draw_tube,
    insert_bend,
    join_tubes,
    point_of,
    remove_bend,
    set_section,
    set_state,
    split_tube,
)
from core.edits.values import change, hold, release, set_fact, set_free
from core.engine.address import Address
from core.engine.assess import compute
from core.geometry.tubes import TubeShape, nearest_on, place_along
from core.geometry.types import Array
from tests.core.edits.cars import TubeCar, demo_car

SAME = 1e-6


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def shape(document: Document, ref: Ref) -> TubeShape:
    return compute(document, {}, tube_shape, ref)


def stands(document: Document, ref: Ref) -> Array:
    return np.array(compute(document, {}, place, ref))


def piece(document: Document, ref: Ref) -> Tube:
    found = on_side(thing_of(document, ref.id), ref.side)
    assert isinstance(found, Tube)
    return found


def mark(document: Document, name: str, along: Along, *, pair: bool) -> tuple[Document, Ref]:
    document, made = make(document, Point, name, along=along, pair=pair)
    return document, Ref(made.id, "left" if pair else "one")


def with_bend(car: TubeCar) -> Document:
    """The rail of both sides bent once, so that the figure has a die's radius in it."""
    document, joint = make(car.document, Point, "N", at=Vec3(-300.0, 380.0, 100.0), pair=True)
    return insert_bend(document, car.rail, Ref(joint.id, "left"), 0)


def test_a_drawn_tube_runs_straight_from_joint_to_joint(car: TubeCar) -> None:
    document, drawn = draw_tube(car.document, "brace", car.section, car.a, car.c, pair=True)

    assert check_document(document) == []
    left = Ref(drawn.id, "left")
    assert shape(document, left).length == pytest.approx(np.sqrt(600**2 + 300**2 + 600**2))
    assert piece(document, left.mirrored()).start == car.a.mirrored()
    assert document.points is car.document.points


def test_a_tube_needs_two_joints_and_a_section(car: TubeCar) -> None:
    for section, start, end in (
        (car.section, car.a, car.a),
        (car.section, car.a, car.rail),
        (car.die, car.a, car.c),
        (car.section, Ref("point99"), car.c),
    ):
        with pytest.raises(EditRefusedError):
            draw_tube(car.document, "brace", section, start, end)


@pytest.mark.parametrize("side", ["left", "right"])
def test_an_inserted_bend_has_its_arcs_middle_at_the_point(car: TubeCar, side: Side) -> None:
    document, joint = make(car.document, Point, "N", at=Vec3(-300.0, 380.0, 100.0), pair=True)

    bent = insert_bend(document, Ref(car.rail.id, side), Ref(joint.id, side), 0)

    for ref in (car.rail, car.rail.mirrored()):
        found = shape(bent, ref)
        assert list(found.radii) == [100.0]
        middle = stands(bent, Ref(joint.id, ref.side))
        assert found.midpoints[0] == pytest.approx(middle, abs=SAME)
    assert check_document(bent) == []


def test_a_bend_may_have_a_radius_of_its_own_and_stands_in_its_order(car: TubeCar) -> None:
    document, joint = make(car.document, Point, "N", at=Vec3(-600.0, 300.0, 400.0))

    bent = insert_bend(document, car.hoop, Ref(joint.id), 0, 60.0)

    bends = piece(bent, car.hoop).bends
    assert [bend.radius for bend in bends] == [60.0, None, None]
    assert bends[1:] == piece(document, car.hoop).bends


@pytest.mark.parametrize("at", [-1, 3])
def test_a_bend_is_inserted_between_the_others(car: TubeCar, at: int) -> None:
    with pytest.raises(EditRefusedError, match="hoop has 2 bends, counted from 0"):
        insert_bend(car.document, car.hoop, car.c, at)


def test_a_tube_bends_at_a_joint_once(car: TubeCar) -> None:
    with pytest.raises(EditRefusedError, match="passes one joint twice"):
        insert_bend(car.document, car.hoop, car.d, 1)
    with pytest.raises(EditRefusedError, match="radius"):
        insert_bend(car.document, car.hoop, car.c, 1, -5.0)


def test_a_removed_bend_leaves_the_tube_straight_there(car: TubeCar) -> None:
    bent = with_bend(car)

    assert remove_bend(bent, car.rail, 0).tubes == car.document.tubes
    with pytest.raises(EditRefusedError, match="rail left has 0 bends"):
        remove_bend(car.document, car.rail, 0)
    with pytest.raises(EditRefusedError, match="hoop has 2 bends"):
        remove_bend(car.document, car.hoop, 2)


def test_facts_of_bends_go_with_their_bends(car: TubeCar) -> None:
    second = Address(car.hoop, "bends.1.radius")
    known = change(car.document, second, 90.0)
    known = set_fact(known, second, Fact(source="chosen", how="the tight die"))

    without = remove_bend(known, car.hoop, 0)

    assert fact_at(thing_of(without, car.hoop.id), "one", "bends.0.radius") is not None
    assert thing_of(remove_bend(without, car.hoop, 0), car.hoop.id).facts == ()


def test_a_held_bend_is_not_removed_but_another_one_is(car: TubeCar) -> None:
    first = Address(car.hoop, "bends.0.radius")
    held = hold(change(car.document, first, 90.0), first, "the die is hired")

    with pytest.raises(HeldError, match="the die is hired"):
        remove_bend(held, car.hoop, 0)
    assert len(piece(remove_bend(held, car.hoop, 1), car.hoop).bends) == 1


def test_bends_of_a_right_side_with_figures_of_its_own_are_not_renumbered(car: TubeCar) -> None:
    bent = release(with_bend(car), car.rail, "bends.0.radius")

    with pytest.raises(EditRefusedError, match="figures of its own"):
        remove_bend(bent, car.rail, 0)


@pytest.mark.parametrize("state", ["tacked", "welded"])
def test_fixed_steel_is_not_bent_cut_or_made_of_another_section(
    car: TubeCar, state: SteelState
) -> None:
    document, joint = make(car.document, Point, "N", at=Vec3(-300.0, 380.0, 100.0), pair=True)
    fixed = set_state(document, car.rail, state)
    thin = Ref(fixed.sections[1].id)

    for edit in (
        lambda: insert_bend(fixed, car.rail, Ref(joint.id, "left"), 0),
        lambda: set_section(fixed, [car.rail], thin),
        lambda: split_tube(fixed, car.rail, car.f, "second"),
        lambda: change(fixed, Address(car.rail, "end"), Ref(joint.id, "left")),
    ):
        with pytest.raises(HeldError, match=f"rail is {state}"):
            edit()


def test_a_fixed_bent_tube_does_not_change_with_its_die(car: TubeCar) -> None:
    fixed = set_state(car.document, car.hoop, "welded")

    with pytest.raises(HeldError, match="hoop is welded"):
        change(fixed, Address(car.die, "radius"), 90.0)
    with pytest.raises(HeldError, match="hoop is welded"):
        change(fixed, Address(car.section, "die"), None)
    straight = set_state(car.document, car.cross, "welded")
    assert change(straight, Address(car.die, "radius"), 90.0) != straight


def test_fixed_steel_set_free_can_be_worked_on(car: TubeCar) -> None:
    fixed = set_state(car.document, car.hoop, "welded")

    free = set_free(fixed, Address(car.hoop, "bends"))

    assert len(piece(remove_bend(free, car.hoop, 0), car.hoop).bends) == 1


def test_several_tubes_get_a_section_at_once(car: TubeCar) -> None:
    thin = Ref(car.document.sections[1].id)

    changed = set_section(car.document, [car.rail, car.hoop, car.tie], thin)

    named = {tube.name for tube in changed.tubes if tube.section == thin}
    assert named == {"rail", "hoop", "tie"}
    assert set_section(changed, [car.rail], thin) is changed
    with pytest.raises(EditRefusedError, match="not of the kind meant"):
        set_section(car.document, [car.a], thin)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_state_counts_for_both_sides(car: TubeCar, side: Side) -> None:
    cut = set_state(car.document, Ref(car.rail.id, side), "cut")

    assert [piece(cut, ref).state for ref in (car.rail, car.rail.mirrored())] == ["cut", "cut"]
    assert set_state(cut, car.rail, "cut") is cut
    assert set_state(cut, car.rail, "planned") == car.document


def test_a_state_can_be_said_of_what_is_in_hand(car: TubeCar) -> None:
    known = set_fact(car.document, Address(car.rail, ""), Fact(source="in_hand"))

    assert piece(set_state(known, car.rail, "welded"), car.rail).state == "welded"


def test_a_tube_is_no_point(car: TubeCar) -> None:
    assert point_of(car.document, car.c).name == "C"
    with pytest.raises(EditRefusedError, match="not of the kind meant"):
        point_of(car.document, car.rail)


def assert_halves_are_the_whole(before: Document, after: Document, whole: Ref, second: Ref) -> None:
    """Both halves of every side together are the tube that was, and nobody has moved."""
    for side in sides(Lookup(before).by_id[whole.id]):
        was = shape(before, side)
        halves = [shape(after, side), shape(after, Ref(second.id, side.side))]
        assert sum(half.length for half in halves) == pytest.approx(was.length, abs=SAME)
        for half, offset in zip(halves, (0.0, halves[0].length), strict=True):
            for share in np.linspace(0.0, 1.0, 23):
                there = place_along(half, share * half.length)[0]
                along = min(offset + share * half.length, was.length)
                assert there == pytest.approx(place_along(was, along)[0], abs=SAME)
    for point in before.points:
        for ref in sides(point):
            assert stands(after, ref) == pytest.approx(stands(before, ref), abs=SAME)


@pytest.mark.parametrize("side", ["left", "right"])
def test_both_halves_of_a_cut_pair_together_are_the_tube_that_was(car: TubeCar, side: Side) -> None:
    bent = with_bend(car)
    rail, at = Ref(car.rail.id, side), Ref(car.f.id, side)

    cut, second = split_tube(bent, rail, at, "rail behind")

    assert second.pair
    assert check_document(cut) == []
    assert_halves_are_the_whole(bent, cut, car.rail, Ref(second.id))
    assert piece(cut, rail).end == at
    assert piece(cut, Ref(second.id, side)).start == at
    assert point_of(cut, at).along is None


MARKS = st.lists(
    st.tuples(st.floats(1.0, 1500.0), st.sampled_from(["start", "end"])), min_size=1, max_size=5
)


@given(MARKS)
def test_a_cut_anywhere_on_a_straight_leaves_the_line_and_all_that_follow_it(
    marks: list[tuple[float, str]],
) -> None:
    car = TubeCar()
    document = car.document
    length = shape(document, car.hoop).length
    refs: list[Ref] = []
    for number, (distance, end) in enumerate(marks):
        along = Along(tube=car.hoop, distance=min(distance, length), end=end)  # type: ignore[arg-type]
        document, ref = mark(document, f"M{number}", along, pair=False)
        refs.append(ref)
    try:
        cut, second = split_tube(document, car.hoop, refs[0], "second")
    except EditRefusedError as refused:
        assert "in a bend" in str(refused) or "ends at the joint" in str(refused)  # noqa: PT017
        return

    assert check_document(cut) == []
    assert_halves_are_the_whole(document, cut, car.hoop, Ref(second.id))


def test_a_cut_takes_the_bends_beyond_it_along(car: TubeCar) -> None:
    length = shape(car.document, car.hoop).length
    document, top = mark(car.document, "top", Along(tube=car.hoop, distance=length / 2), pair=False)

    cut, second = split_tube(document, car.hoop, top, "hoop right")

    assert piece(cut, car.hoop).bends == (Bend(point=car.d),)
    assert second.bends == (Bend(point=car.d.mirrored()),)
    assert second.end == car.b.mirrored()
    assert_halves_are_the_whole(document, cut, car.hoop, Ref(second.id))


def test_a_bend_is_not_cut_in_two(car: TubeCar) -> None:
    found = shape(car.document, car.hoop)
    along = nearest_on(found, found.midpoints[0])[0]
    document, middle = mark(
        car.document, "middle", Along(tube=car.hoop, distance=along + 5.0), pair=False
    )

    with pytest.raises(EditRefusedError, match="in a bend, which cannot be cut in two"):
        split_tube(document, car.hoop, middle, "second")


def test_a_cut_divides_fixings_and_joints_that_are_merely_passed(car: TubeCar) -> None:
    document = car.document
    names = []
    for x in (-100.0, -400.0):
        document, made = make(document, Point, f"P{x}", at=Vec3(x, 300.0, 100.0), pair=True)
        names.append(Ref(made.id, "left"))
    fixings = (EndFixing(end="start", kind="bolted"), EndFixing(end="end", kind="plate"))
    document = change(document, Address(car.rail, "through"), tuple(names))
    document = change(document, Address(car.rail, "fixings"), fixings)

    cut, second = split_tube(document, car.rail, car.f, "second")

    first = piece(cut, car.rail)
    assert (first.through, first.fixings) == ((names[0],), fixings[:1])
    assert (second.through, second.fixings) == ((names[1],), fixings[1:])


def test_the_second_half_is_of_the_same_steel_on_both_sides(car: TubeCar) -> None:
    document, die = make(car.document, Die, "other", radius=80.0)
    document = change(document, Address(car.rail, "die"), Ref(die.id))
    document = change(document, Address(car.rail, "role"), "sill")
    document = release(document, car.rail, "section")
    thin = Ref(document.sections[1].id)
    document = change(document, Address(car.rail.mirrored(), "section"), thin)

    cut, second = split_tube(document, car.rail, car.f, "second")

    assert (second.die, second.role, second.section) == (Ref(die.id), "sill", car.section)
    assert second.right == (Own(of="section", value=thin),)
    assert piece(cut, Ref(second.id, "right")).section == thin


def test_a_cut_is_at_a_joint_that_follows_the_tube(car: TubeCar) -> None:
    for tube, joint in ((car.rail, car.d), (car.strut, car.f), (car.rail, car.f.mirrored())):
        with pytest.raises(EditRefusedError, match="does not follow that tube"):
            split_tube(car.document, tube, joint, "second")
    with pytest.raises(EditRefusedError, match="both be pairs or both be single"):
        split_tube(car.document, car.rail, car.c, "second")


def test_a_tube_whose_sides_run_differently_is_not_cut(car: TubeCar) -> None:
    apart = release(car.document, car.rail, "end")

    with pytest.raises(EditRefusedError, match="run differently"):
        split_tube(apart, car.rail, car.f, "second")


def test_a_side_with_a_place_of_its_own_keeps_it_through_a_cut(car: TubeCar) -> None:
    document, other = mark(car.document, "M", Along(tube=car.rail, distance=500.0), pair=True)
    document = release(document, other, "along.distance")
    document = change(document, Address(other.mirrored(), "along.distance"), 100.0)

    cut, second = split_tube(document, car.rail, car.f, "second")

    assert_halves_are_the_whole(document, cut, car.rail, Ref(second.id))
    assert point_of(cut, other).along == Along(tube=Ref(second.id, "left"), distance=250.0)
    right = point_of(cut, other.mirrored()).along
    assert right == Along(tube=car.rail.mirrored(), distance=100.0)


def test_a_held_follower_keeps_a_tube_from_being_cut(car: TubeCar) -> None:
    held = hold(car.document, Address(car.f, "along"), "the pedal is there")

    with pytest.raises(HeldError, match="the pedal is there"):
        split_tube(held, car.rail, car.f, "second")


def test_joining_what_was_cut_gives_the_tube_back(car: TubeCar) -> None:
    bent = with_bend(car)
    places = [(500.0, "start"), (560.0, "end"), (100.0, "start"), (90.0, "end")]
    document, marks = bent, list[Ref]()
    for number, (distance, end) in enumerate(places):
        along = Along(tube=car.rail, distance=distance, end=end)  # type: ignore[arg-type]
        document, ref = mark(document, f"M{number}", along, pair=True)
        marks += [ref, ref.mirrored()]
    cut, second = split_tube(document, car.rail, car.f, "second")

    joined = join_tubes(cut, car.rail, Ref(second.id, "left"))

    assert check_document(joined) == []
    assert joined.tubes == document.tubes
    for ref in (car.f, car.f.mirrored(), *marks):
        assert stands(joined, ref) == pytest.approx(stands(document, ref), abs=SAME)
        assert point_of(joined, ref).along is not None


def test_tubes_that_meet_at_an_angle_are_joined_by_a_bend(car: TubeCar) -> None:
    document, d = make(car.document, Point, "X", at=Vec3(0.0, 300.0, 700.0))
    document, e = make(document, Point, "Y", at=Vec3(-500.0, 300.0, 700.0))
    document, z = make(document, Point, "Z", at=Vec3(-1000.0, 300.0, 300.0))
    document, one = draw_tube(document, "one", car.section, Ref(d.id), Ref(e.id))
    document, other = draw_tube(document, "other", car.section, Ref(e.id), Ref(z.id))

    joined = join_tubes(document, Ref(one.id), Ref(other.id))

    tube = piece(joined, Ref(one.id))
    assert (tube.start, tube.bends, tube.end) == (Ref(d.id), (Bend(point=Ref(e.id)),), Ref(z.id))
    assert other.id not in Lookup(joined).by_id
    line = compute(joined, {}, tube_line, Ref(one.id))
    assert line[0] == pytest.approx([0.0, 300.0, 700.0])
    document, _ = mark(document, "M", Along(tube=Ref(other.id), distance=10.0), pair=False)
    with pytest.raises(EditRefusedError, match="M follow other"):
        join_tubes(document, Ref(one.id), Ref(other.id))


def test_tubes_that_do_not_go_together_are_not_joined(car: TubeCar) -> None:
    cut, second = split_tube(car.document, car.rail, car.f, "second")
    behind = Ref(second.id, "left")
    thin = Ref(cut.sections[1].id)
    for document, first, other in (
        (cut, behind, car.rail),
        (cut, car.rail, car.rail),
        (cut, car.rail, car.tie),
        (set_section(cut, [behind], thin), car.rail, behind),
        (set_state(cut, behind, "cut"), car.rail, behind),
        (cut, car.rail, behind.mirrored()),
    ):
        with pytest.raises(EditRefusedError, match="must be alike"):
            join_tubes(document, first, other)


def test_fixed_steel_is_not_joined(car: TubeCar) -> None:
    cut, second = split_tube(car.document, car.rail, car.f, "second")
    fixed = set_state(set_state(cut, car.rail, "welded"), Ref(second.id, "left"), "welded")

    with pytest.raises(HeldError, match="is welded"):
        join_tubes(fixed, car.rail, Ref(second.id, "left"))


def test_a_ring_is_not_closed(car: TubeCar) -> None:
    """Three tubes round a triangle: the last join would end where it starts."""
    document, x = make(car.document, Point, "X", at=Vec3(0.0, 300.0, 700.0))
    document, y = make(document, Point, "Y", at=Vec3(-500.0, 300.0, 700.0))
    document, one = draw_tube(document, "one", car.section, Ref(x.id), Ref(y.id))
    document, back = draw_tube(document, "back", car.section, Ref(y.id), Ref(x.id))

    with pytest.raises(EditRefusedError, match="ends at the joint it starts from"):
        join_tubes(document, Ref(one.id), Ref(back.id))


def test_the_main_hoop_of_the_first_car_can_be_cut_at_its_joint_only_if_single() -> None:
    """Its joint half way up is a pair on one single tube: cutting there would leave the twin."""
    car = demo_car()
    hoop = next(tube for tube in car.tubes if tube.name.endswith("main_hoop"))
    joint = next(point for point in car.points if point.along and point.along.tube.id == hoop.id)

    with pytest.raises(EditRefusedError, match="both be pairs or both be single"):
        split_tube(car, Ref(hoop.id), Ref(joint.id, "left"), "second")


def test_a_post_of_the_first_car_is_cut_and_joined_again() -> None:
    car = demo_car()
    joint = next(point for point in car.points if point.name == "G_mid")
    assert joint.along is not None
    post, at = joint.along.tube, Ref(joint.id, "left")

    cut, second = split_tube(car, post, at, "post above")
    joined = join_tubes(cut, post, Ref(second.id, "left"))

    assert_halves_are_the_whole(car, cut, post, Ref(second.id))
    assert joined.tubes == car.tubes
    assert stands(joined, at) == pytest.approx(stands(car, at), abs=SAME)


def test_the_place_on_a_tube_nearest_to_a_place_is_square_off_it(car: TubeCar) -> None:
    along = place_on_tube(car.document, car.rail, Vec3(-123.0, 350.0, 180.0))

    assert along == Along(tube=car.rail, distance=123.0)


def test_a_tube_without_a_shape_has_no_places(car: TubeCar) -> None:
    no_die = change(car.document, Address(car.section, "die"), None)

    with pytest.raises(EditRefusedError, match="no die is named"):
        place_on_tube(no_die, car.hoop, Vec3(0.0, 0.0, 0.0))


def test_moving_the_middle_of_a_bend_bends_the_tube_there(car: TubeCar) -> None:
    moved = move_point(car.document, car.d, Vec3(-600.0, 250.0, 650.0))

    assert shape(moved, car.hoop).midpoints[0] == pytest.approx([-600.0, 250.0, 650.0], abs=SAME)


def test_a_section_needs_a_die_only_for_bends(car: TubeCar) -> None:
    document, bare = make(
        car.document, Section, "T20", outside=20.0, wall=1.5, material=Ref("material1")
    )

    changed = set_section(document, [car.cross], Ref(bare.id))

    assert shape(changed, car.cross).length == pytest.approx(600.0)
    assert set_loose(changed, car.g) != changed
