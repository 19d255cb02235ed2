import math

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.document.base import Axes, Box, Entity, Own, Ref, Vec3
from core.document.codec import decode_project
from core.document.lookup import entities
from core.document.paths import number_paths, value_at
from core.document.running_gear import Corner, DriveShaft
from core.document.sides import (
    mirror_place,
    mirror_thing,
    mirror_value,
    on_side,
    rejoin_side,
    release_side,
    set_on_side,
)
from core.document.steel import Along, Point
from tests.core.document.small_car import DEMO, SECOND, left, right, small_car, thing

CARS = (small_car(), *(decode_project(path.read_bytes()).drawn for path in (DEMO, SECOND)))
THINGS = [thing for car in CARS for thing in entities(car)]
PAIRS = [thing for thing in THINGS if thing.pair]

numbers = st.floats(-5000.0, 5000.0).map(lambda number: number + 0.0)
places = st.builds(Vec3, numbers, numbers, numbers)


@st.composite
def numbers_of_pairs(draw: st.DrawFn) -> tuple[Entity, str]:
    """A pair and the path of one of its numbers that may be any number."""
    pair = draw(st.sampled_from(PAIRS))
    free = ("at.", "hub_face.", "head_place.", "point.", "box.", "origin.", "outline.", "points.")
    paths = [p for p in number_paths(on_side(pair, "right")) if any(word in p for word in free)]
    assume(paths)
    return pair, draw(st.sampled_from(paths))


def set_or_skip(pair: Entity, side: str, path: str, value: float) -> Entity:
    """The pair with a value set; a box turned inside out is not what these tests are about."""
    try:
        return set_on_side(pair, "right" if side == "right" else "left", path, value)
    except ValueError:
        assume(False)  # noqa: FBT003 - as hypothesis has it
        raise


@pytest.mark.parametrize("entity", THINGS, ids=lambda entity: entity.id)
def test_mirrored_twice_a_thing_is_itself(entity: Entity) -> None:
    assert mirror_thing(mirror_thing(entity)) == entity


@given(places)
def test_a_place_mirrored_twice_is_itself_and_keeps_its_distance_from_the_plane(p: Vec3) -> None:
    mirrored = mirror_place(p)

    assert mirror_place(mirrored) == p
    assert (mirrored.x, mirrored.y, mirrored.z) == (p.x, -p.y, p.z)
    assert math.copysign(1.0, mirror_place(p._replace(y=0.0)).y) == 1.0


@given(st.floats(0.0, 6.2), st.floats(0.0, 6.2))
def test_mirrored_axes_stay_right_handed_and_their_x_and_z_are_mirrored(a: float, b: float) -> None:
    c, s, d, t = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
    x, y, z = Vec3(c * d, s * d, -t), Vec3(-s, c, 0.0), Vec3(c * t, s * t, d)

    mirrored = mirror_value(Axes(x=x, y=y, z=z))  # refuses left-handed ones

    assert isinstance(mirrored, Axes)
    assert (mirrored.x, mirrored.z) == (mirror_place(x), mirror_place(z))


@given(places, places)
def test_a_mirrored_box_holds_the_mirrored_places_of_the_box(a: Vec3, b: Vec3) -> None:
    low, high = Vec3(*map(min, a, b)), Vec3(*map(max, a, b))
    assume(all(one < other for one, other in zip(low, high, strict=True)))

    mirrored = mirror_value(Box(low=low, high=high))

    corners = {mirror_place(low).y, mirror_place(high).y}
    assert isinstance(mirrored, Box)
    assert {mirrored.low.y, mirrored.high.y} == corners
    assert (mirrored.low.x, mirrored.high.z) == (low.x, high.z)


def test_the_right_piece_is_the_mirror_image_but_for_its_own_values() -> None:
    corner = on_side(thing(CARS[0], Corner, "corner1"), "right")

    assert corner.upright.hub_face == Vec3(-1900.0, -720.0, 290.0)
    assert corner.upright.spin_axis == Vec3(0.0, -1.0, 0.0)
    assert [link.outside for link in corner.links] == [25.0, 22.0]
    assert corner.links[0].inner == right("point6")
    assert corner.axle == Ref("axle1")


def test_a_right_piece_may_be_placed_where_the_left_follows_a_tube() -> None:
    point = on_side(thing(CARS[0], Point, "point12"), "right")

    assert (point.at, point.along) == (Vec3(-1400.0, -260.0, 700.0), None)


def test_of_a_single_thing_every_side_is_the_thing() -> None:
    single = thing(CARS[0], Point, "point4")

    assert on_side(single, "right") is single
    assert set_on_side(single, "right", "at.x", 5.0).at == Vec3(5.0, 0.0, 900.0)


@given(numbers_of_pairs(), numbers)
def test_what_is_set_on_the_right_is_read_on_the_right(
    found: tuple[Entity, str], value: float
) -> None:
    pair, path = found

    changed = set_or_skip(pair, "right", path, value)

    assert value_at(on_side(changed, "right"), path) == value


@given(numbers_of_pairs(), numbers)
def test_what_is_set_on_the_right_moves_the_left_with_it(
    found: tuple[Entity, str], value: float
) -> None:
    pair, path = found
    joined = msgspec.structs.replace(pair, right=())
    try:
        on_side(joined, "right")
    except ValueError:
        assume(False)  # noqa: FBT003 - as hypothesis has it

    changed = set_or_skip(joined, "right", path, value)

    mirrored = mirror_thing(on_side(changed, "right"))
    assert msgspec.structs.replace(mirrored, right=()) == changed
    assert changed.right == ()


@given(numbers_of_pairs(), numbers)
def test_the_right_follows_the_left_unless_it_is_released(
    found: tuple[Entity, str], value: float
) -> None:
    pair, path = found
    own_there = any(own.of == path or path.startswith(own.of + ".") for own in pair.right)
    before = value_at(on_side(pair, "right"), path)

    changed = set_or_skip(pair, "left", path, value)

    after = value_at(on_side(changed, "right"), path)
    image = value_at(mirror_thing(changed), path)
    assert after == (before if own_there else image)


@given(numbers_of_pairs())
def test_a_side_set_free_is_at_first_what_it_was(found: tuple[Entity, str]) -> None:
    pair, path = found
    assume(all(own.of != path and not path.startswith(own.of + ".") for own in pair.right))

    released = release_side(pair, path)

    assert on_side(released, "right") == msgspec.structs.replace(
        on_side(pair, "right"), right=released.right
    )
    assert on_side(released, "left") == msgspec.structs.replace(pair, right=released.right)


@given(numbers_of_pairs(), numbers)
def test_once_set_free_each_side_keeps_its_own(found: tuple[Entity, str], value: float) -> None:
    pair, path = found
    assume(all(own.of != path and not path.startswith(own.of + ".") for own in pair.right))
    released = release_side(pair, path)
    was = {side: value_at(on_side(released, side), path) for side in ("left", "right")}

    on_the_right = set_or_skip(released, "right", path, value)
    on_the_left = set_or_skip(released, "left", path, value)

    assert value_at(on_the_right, path) == was["left"]
    assert value_at(on_side(on_the_right, "right"), path) == value
    assert value_at(on_side(on_the_left, "right"), path) == was["right"]
    assert value_at(on_the_left, path) == value


@given(numbers_of_pairs(), numbers)
def test_rejoined_the_right_is_the_mirror_image_again(
    found: tuple[Entity, str], value: float
) -> None:
    pair, path = found
    assume(all(own.of != path and not path.startswith(own.of + ".") for own in pair.right))
    released = set_or_skip(release_side(pair, path), "right", path, value)

    rejoined = rejoin_side(released, path)

    assert rejoined == pair


def test_setting_a_whole_keeps_the_left_part_that_the_right_has_set_free() -> None:
    point = thing(CARS[0], Point, "point1")  # of its right side, z is its own

    changed = set_on_side(point, "right", "at", Vec3(-1000.0, -300.0, 111.0))

    assert changed.at == Vec3(-1000.0, 300.0, 300.0)
    assert on_side(changed, "right").at == Vec3(-1000.0, -300.0, 111.0)


def test_setting_a_part_of_what_is_set_free_as_a_whole_leaves_the_left_alone() -> None:
    shaft = thing(CARS[0], DriveShaft, "drive_shaft1")  # its right bench is its own

    changed = set_on_side(shaft, "right", "bench.pushed_home", 401.0)

    assert changed.bench == shaft.bench
    bench = on_side(changed, "right").bench
    assert bench is not None
    assert bench.pushed_home == 401.0


def test_a_whole_set_free_takes_in_the_parts_that_were() -> None:
    point = release_side(thing(CARS[0], Point, "point1"), "at")

    assert point.right == (Own(of="at", value=Vec3(-1500.0, -400.0, 302.5)),)
    with pytest.raises(ValueError, match="the right side of K has its own «at.x» already"):
        release_side(point, "at.x")


def test_items_of_lists_are_set_free_by_their_names() -> None:
    corner = release_side(thing(CARS[0], Corner, "corner1"), "links.0.outside")

    assert [own.of for own in corner.right] == ["links.toe.outside", "links.lower.outside"]
    assert rejoin_side(corner, "links.0").right == corner.right[:1]
    assert rejoin_side(corner, "links.nowhere") == corner


def test_a_single_thing_has_no_side_to_set_free() -> None:
    with pytest.raises(ValueError, match="ridge is a single thing, so it has no side to set free"):
        release_side(thing(CARS[0], Point, "point4"), "at")


def test_a_point_on_a_tube_slides_on_both_sides_alike() -> None:
    point = thing(CARS[0], Point, "point5")

    changed = set_on_side(point, "right", "along.distance", 250.0)

    assert changed.along == Along(tube=left("tube1"), distance=250.0)
    assert on_side(changed, "right").along == Along(tube=right("tube1"), distance=250.0, end="end")
