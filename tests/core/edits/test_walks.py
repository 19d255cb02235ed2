from typing import Any

import pytest

from core.document.base import Because, Box, Fact, Own, Ref, Vec3
from core.document.power import PowerUnit, Solid
from core.document.steel import Along, Bend, Panel, Point, Tube
from core.edits.walks import (
    GONE,
    all_references,
    differences,
    moved_path,
    rewritten,
    with_references,
)

J = tuple(Ref(f"point{n}") for n in range(1, 8))


def tube(*bends: Bend, **fields: Any) -> Tube:  # noqa: ANN401 - any field of a tube
    return Tube(
        id="tube9", name="T", section=Ref("section8"), start=J[0], end=J[1], bends=bends, **fields
    )


def unit(*solids: Solid) -> PowerUnit:
    return PowerUnit(id="power_unit1", name="E", origin=Vec3(0.0, 0.0, 0.0), solids=solids)


def solid(name: str, height: float = 1.0) -> Solid:
    box = Box(low=Vec3(0.0, 0.0, 0.0), high=Vec3(1.0, 1.0, height))
    return Solid(name=name, box=box)


def found(old: object, new: object) -> list[tuple[str, bool]]:
    return [tuple(change) for change in differences(old, new)]  # type: ignore[misc]


def test_equal_things_do_not_differ() -> None:
    assert found(tube(), tube()) == []


def test_identity_facts_and_notes_are_no_differences() -> None:
    other = Tube(
        id="tube9",
        name="other",
        section=Ref("section8"),
        start=J[0],
        end=J[1],
        note="why",
        facts=(Fact(of="state", source="chosen"),),
    )

    assert found(tube(), other) == []


def test_a_place_differs_on_its_axis() -> None:
    one = Point(id="point1", name="K", at=Vec3(1.0, 2.0, 3.0))
    other = Point(id="point1", name="K", at=Vec3(1.0, 2.5, 3.0))

    assert found(one, other) == [("at.y", True)]


def test_a_place_that_gives_way_to_one_along_a_tube_differs_whole() -> None:
    one = Point(id="point1", name="K", at=Vec3(1.0, 2.0, 3.0))
    other = Point(id="point1", name="K", along=Along(tube=Ref("tube9"), distance=2.0))

    assert found(one, other) == [("at", True), ("along", True)]


def test_a_reference_differs_whole() -> None:
    along = Point(id="point1", name="K", along=Along(tube=Ref("tube9"), distance=2.0))
    other = Point(id="point1", name="K", along=Along(tube=Ref("tube9", "left"), distance=2.0))

    assert found(along, other) == [("along.tube", True)]


def test_items_with_names_are_matched_by_them() -> None:
    one = unit(solid("block"), solid("sump"))
    other = unit(solid("box"), solid("block", 2.0))

    assert found(one, other) == [
        ("solids", False),
        ("solids.block.box.high.z", True),
        ("solids.sump", True),
    ]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ((2, 3), (2, 4, 3), [("bends", False)]),
        ((2, 3), (4, 2, 3), [("bends", False)]),
        ((2, 3), (2, 3, 4), [("bends", False)]),
        ((2, 3, 4), (2, 4), [("bends", False), ("bends.1", True)]),
        ((2, 3), (2, 5), [("bends.1.point", True)]),
        ((2, 3, 4), (), [("bends", False)] + [(f"bends.{n}", True) for n in range(3)]),
    ],
)
def test_items_without_names_are_matched_from_either_end(
    old: tuple[int, ...], new: tuple[int, ...], expected: list[tuple[str, bool]]
) -> None:
    one, other = (tube(*(Bend(point=J[n]) for n in numbers)) for numbers in (old, new))

    assert found(one, other) == expected


@pytest.mark.parametrize(
    ("path", "where"),
    [
        ("bends.0.radius", "bends.1.radius"),
        ("bends.1", "bends.2"),
        ("bends", "bends"),
        ("state", "state"),
        ("", ""),
    ],
)
def test_a_path_follows_its_item_through_a_list(path: str, where: str) -> None:
    two = tube(Bend(point=J[2], radius=90.0), Bend(point=J[3]))
    three = tube(Bend(point=J[4]), Bend(point=J[2], radius=90.0), Bend(point=J[3]))

    assert moved_path(two, three, path) == where
    assert moved_path(three, two, where) == path


def test_a_path_to_what_is_gone_leads_nowhere() -> None:
    assert moved_path(tube(Bend(point=J[2])), tube(), "bends.0.radius") is None
    assert moved_path(unit(solid("block")), unit(solid("sump")), "solids.block.box") is None
    along = Point(id="point1", name="K", along=Along(tube=Ref("tube9"), distance=2.0))
    at = Point(id="point1", name="K", at=Vec3(0.0, 0.0, 0.0))
    assert moved_path(along, at, "along.distance") is None
    assert moved_path(along, at, "along") == "along"


def test_rewriting_nothing_shares_everything() -> None:
    thing = tube(Bend(point=J[2]), through=(J[3],))

    assert rewritten(thing, lambda ref: ref) is thing
    assert with_references(thing, lambda ref: ref) is thing


def test_references_are_rewritten_wherever_they_stand() -> None:
    thing = tube(
        Bend(point=J[2]),
        through=(J[3],),
        facts=(Fact(of="section", because=(Because(ref=J[2]),)),),
    )

    turned = with_references(thing, lambda ref: J[6] if ref == J[2] else ref)

    assert turned is not GONE
    assert isinstance(turned, Tube)
    assert turned.bends == (Bend(point=J[6]),)
    assert turned.facts[0].because == (Because(ref=J[6]),)
    assert turned.through is thing.through


def test_two_words_that_look_like_a_reference_are_left_alone() -> None:
    thing = Point(id="point1", name="K", at=Vec3(0.0, 0.0, 0.0), note="point3")

    assert with_references(thing, lambda _: J[6]) is thing


@pytest.mark.parametrize("gone", [J[0], J[1], Ref("section8")])
def test_a_thing_without_what_it_needs_is_gone(gone: Ref) -> None:
    assert with_references(tube(), lambda ref: GONE if ref == gone else ref) is GONE


def test_a_thing_lets_go_of_what_it_can_be_without() -> None:
    thing = tube(Bend(point=J[2]), Bend(point=J[3]), through=(J[4],), die=Ref("die7"))
    going = {J[2], J[4], Ref("die7")}

    freed = with_references(thing, lambda ref: GONE if ref in going else ref)

    assert freed == tube(Bend(point=J[3]))


def test_a_thing_that_is_not_sound_without_it_is_told() -> None:
    sheet = Panel(id="panel1", name="S", outline=J[:3], thickness=1.0, material=Ref("material2"))

    with pytest.raises(ValueError, match="three or more"):
        with_references(sheet, lambda ref: GONE if ref == J[0] else ref)


def test_all_references_are_those_of_both_sides_and_of_facts() -> None:
    side = Ref("tube9", "left")
    thing = Point(
        id="point1",
        name="K",
        pair=True,
        along=Along(tube=side, distance=2.0),
        right=(Own(of="along", value=Along(tube=Ref("tube5", "right"), distance=1.0)),),
        facts=(Fact(of="along", because=(Because(ref=J[2]),)),),
    )

    refs = {(found.path, found.ref) for found in all_references(thing)}

    assert refs == {
        ("along.tube", side),
        ("right.along", Ref("tube5", "right")),
        ("facts.along", J[2]),
    }
