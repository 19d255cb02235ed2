import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Axes, Entity, Vec3
from core.document.links import Link
from core.document.lookup import Lookup, entities
from core.document.paths import (
    NoSuchPathError,
    canonical_path,
    covers,
    number_paths,
    value_at,
    with_value,
    with_values,
)
from core.document.power import PowerUnit
from core.document.running_gear import Corner
from core.document.steel import Point
from tests.core.document.small_car import left, small_car, thing

CAR = small_car()
CORNER = thing(CAR, Corner, "corner1")
UNIT = thing(CAR, PowerUnit, "power_unit1")
THINGS = list(entities(CAR))


def test_a_value_is_found_by_fields_names_numbers_and_axes() -> None:
    assert value_at(CORNER, "upright.hub_face.y") == 720.0
    assert value_at(CORNER, "links.toe.outer") == left("point7")
    assert value_at(CORNER, "links.1.outer") == left("point7")
    assert value_at(CORNER, "points.damper_lower.point.id") == "point8"
    assert value_at(UNIT, "gear_ratios.4") == 0.8
    assert value_at(UNIT, "") is UNIT


@pytest.mark.parametrize(
    "path",
    ["nowhere", "links.2", "links.-1", "links.01", "links.\u00b2", "links.\u0660", "links.x.y",
     "upright.y", "upright.hub_face.w", "upright.hub_face.y.x", "droop.x", "wheel.x", "links.", ".",
     "links." + "9" * 5000],
)  # fmt: skip
def test_a_path_that_leads_nowhere_is_told(path: str) -> None:
    with pytest.raises(NoSuchPathError, match=r"there is no «.{0,80}»"):
        value_at(CORNER, path)


def test_what_is_not_known_has_nothing_inside() -> None:
    with pytest.raises(NoSuchPathError, match="there is no «x» here, for this is not known"):
        value_at(thing(CAR, Corner, "corner2"), "damper.x")


def test_an_item_whose_name_is_no_step_of_a_path_goes_by_its_number() -> None:
    links = tuple(
        Link(name=name, inner=left("point1"), outer=left("point2")) for name in ("1", "a.b", "c")
    )
    corner = msgspec.structs.replace(CORNER, links=links, right=(), facts=())

    assert [canonical_path(corner, f"links.{n}") for n in range(3)] == [
        "links.0",
        "links.1",
        "links.c",
    ]
    assert value_at(corner, "links.1.name") == "a.b"


def test_setting_a_value_leaves_all_else_as_it_was() -> None:
    changed = with_value(CORNER, "upright.hub_face.y", 730)

    assert changed.upright.hub_face == CORNER.upright.hub_face._replace(y=730.0)
    assert changed.links is CORNER.links
    assert with_value(changed, "upright.hub_face.y", 720.0) == CORNER


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("upright.hub_face.y", "far", "Expected `float`, got `str`"),
        ("links.nowhere.outside", 5.0, "there is no «nowhere» in this list"),
        ("name", "other", "there is no value «name» in a corner"),
        ("", CORNER, "there is no value «» in a corner|names no single value"),
        ("damper.lower_on", "roof", "Invalid enum value"),
    ],
)
def test_a_value_that_does_not_fit_is_refused(path: str, value: object, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        with_value(CORNER, path, value)


def test_several_values_may_be_unsound_one_by_one() -> None:
    point = thing(CAR, Point, "point1")
    single = msgspec.structs.replace(point, pair=False, right=(), facts=())
    along = {"tube": ["tube3"], "distance": 5.0}

    moved = with_values(single, (("at", None), ("along", along)))

    assert moved.at is None
    assert moved.along is not None
    with pytest.raises(ValueError, match="needs either its coordinates or a place along a tube"):
        with_value(single, "at", None)


def test_of_two_values_for_one_place_the_later_counts_and_parts_are_laid_over_wholes() -> None:
    turned = (("origin.x", 1.0), ("origin", Vec3(5.0, 6.0, 7.0)), ("origin.y", 2.0))

    assert with_values(UNIT, turned).origin == Vec3(5.0, 2.0, 7.0)


def test_axes_are_turned_as_a_whole() -> None:
    axes = Axes(x=Vec3(0.0, 0.0, 1.0), z=Vec3(-1.0, 0.0, 0.0))

    assert with_value(UNIT, "axes", axes).axes is axes


@pytest.mark.parametrize("entity", THINGS, ids=lambda entity: entity.id)
def test_the_path_of_every_number_leads_to_it_and_back(entity: Entity) -> None:
    paths = list(number_paths(entity))
    numbers = [value_at(entity, path) for path in paths]

    assert len(paths) == len(set(paths))
    assert all(isinstance(number, int | float) for number in numbers)
    assert [canonical_path(entity, path) for path in paths] == paths
    for path, number in zip(paths, numbers, strict=True):
        assert with_value(entity, path, number) == entity


def test_no_number_of_a_thing_is_without_a_path() -> None:
    """Against a plain walk through what the thing is in the file."""

    def count(plain: object) -> int:
        if isinstance(plain, dict):
            return sum(count(value) for value in plain.values())
        if isinstance(plain, list):
            return sum(count(value) for value in plain)
        return isinstance(plain, int | float) and not isinstance(plain, bool)

    for entity in THINGS:
        bare = msgspec.structs.replace(entity, right=(), facts=())
        explicit = {field: getattr(bare, field) for field in bare.__struct_fields__}
        assert len(list(number_paths(entity))) == count(_all(explicit)), entity.id


def _all(value: object) -> object:
    """Plain data with nothing left out."""
    if isinstance(value, msgspec.Struct):
        return {field: _all(getattr(value, field)) for field in value.__struct_fields__}
    if isinstance(value, dict):
        return {key: _all(inner) for key, inner in value.items()}
    return [_all(inner) for inner in value] if isinstance(value, tuple) else value


steps = st.lists(st.sampled_from(["at", "a", "at1", "x"]), max_size=4)


@given(steps, steps)
def test_a_path_covers_itself_and_what_begins_with_its_steps(a: list[str], b: list[str]) -> None:
    assert covers(".".join(a), ".".join(b)) == (b[: len(a)] == a)


def test_a_thing_found_by_name_label_or_id_is_the_same() -> None:
    lookup = Lookup(CAR)

    assert lookup.find("side rail right") == lookup.find("tube1")[1:]
    assert lookup.find("K_R") == lookup.find("K")[1:]
    assert [lookup.label(ref) for ref in lookup.find("K")] == ["K_L", "K_R"]
    assert lookup.find("nothing") == []
