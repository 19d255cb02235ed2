from collections.abc import Callable, Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Own, Ref, Vec3
from core.document.links import Link, Upright
from core.document.lookup import Lookup, sides
from core.document.paths import number_paths
from core.document.project import Document
from core.document.running_gear import Axle, Corner
from core.document.sides import on_side
from core.document.steel import Point, Tube
from core.engine.address import Address, AddressError, parse_address, piece, said, value_of
from tests.core.edits.cars import TubeCar, demo_car, second_car


def point(number: int, name: str, *, pair: bool = False) -> Point:
    at = Vec3(float(number), 2.0, 3.0)
    return Point(id=f"point{number}", name=name, at=at, pair=pair)


def lookup_of(*points: Point) -> Lookup:
    return Lookup(Document(next_number=100, points=points))


K = Ref("point1", "left")


@pytest.mark.parametrize(
    ("text", "address"),
    [
        ("K:left.at.y", Address(K, "at.y")),
        ("K_L.at.y", Address(K, "at.y")),
        ("K_R.at.y", Address(K.mirrored(), "at.y")),
        ("point1:right.at.y", Address(K.mirrored(), "at.y")),
        ("  K_L.at ", Address(K, "at")),
        ("K_L", Address(K, "")),
        ("front rail.at.x", Address(Ref("point2"), "at.x")),
        ("point2.at.x", Address(Ref("point2"), "at.x")),
        ("No. 4.5 brace.at", Address(Ref("point3"), "at")),
        ("upper joint left.at.z", Address(Ref("point4", "left"), "at.z")),
        ("upper joint:left.at.z", Address(Ref("point4", "left"), "at.z")),
    ],
)
def test_a_typed_address_is_read_as_it_is_meant(text: str, address: Address) -> None:
    lookup = lookup_of(
        point(1, "K", pair=True),
        point(2, "front rail"),
        point(3, "No. 4.5 brace"),
        point(4, "upper joint", pair=True),
    )

    assert parse_address(lookup, text) == address


def test_the_value_at_an_address_is_that_of_its_side() -> None:
    lookup = lookup_of(point(1, "K", pair=True))

    assert value_of(lookup, parse_address(lookup, "K_L.at.y")) == 2.0
    assert value_of(lookup, parse_address(lookup, "K_R.at.y")) == -2.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("K.at.y", "«K» is a pair; say «K:left» or «K:right»"),
        ("rial.at", "nothing in this car is called «rial.at»; did you mean «rail»?"),
        ("k_l.at", "did you mean «K_L»?"),
        ("K_L.at.w", "K_L has no «at.w»"),
        ("K_L.carrir", "did you mean «carrier»"),
        ("rail:left.at", "nothing in this car is called «rail:left.at»; did you mean «rail»?"),
        ("zzz", "names are as in the hardpoint table"),
        ("", "nothing in this car is called «»"),
        (".at", "nothing in this car is called «.at»"),
        ("rail.", "did you mean «rail»?"),
        ("rail..x", "rail has no «.x»"),
    ],
)
def test_what_is_not_there_is_told_with_what_may_have_been_meant(text: str, words: str) -> None:
    lookup = lookup_of(point(1, "K", pair=True), point(2, "rail"))

    with pytest.raises(AddressError) as refused:
        parse_address(lookup, text)

    assert words in str(refused.value)


def test_a_name_that_things_of_two_kinds_have_is_told_with_both() -> None:
    tube = Tube(
        id="tube3", name="K", section=Ref("section1"), start=Ref("point1"), end=Ref("point2")
    )
    lookup = Lookup(Document(next_number=4, points=(point(1, "K"),), tubes=(tube,)))

    with pytest.raises(AddressError, match=r"point1 \(point\) or tube3 \(tube\)"):
        parse_address(lookup, "K.at")
    assert said(lookup, Address(Ref("point1"), "at")) == "point1.at"
    assert parse_address(lookup, "tube3.state") == Address(Ref("tube3"), "state")


def test_a_longer_name_counts_where_it_leads_to_a_value() -> None:
    lookup = lookup_of(point(1, "M"), point(2, "M.at"))

    assert parse_address(lookup, "M.at") == Address(Ref("point2"), "")
    assert parse_address(lookup, "M.at.at.x") == Address(Ref("point2"), "at.x")
    assert parse_address(lookup, "M.at.x") == Address(Ref("point1"), "at.x")


def test_an_id_with_its_side_goes_before_a_name_that_looks_like_one() -> None:
    lookup = lookup_of(point(1, "K", pair=True), point(2, "point1:left"), point(3, "K_L"))

    assert parse_address(lookup, "point1:left.at") == Address(K, "at")
    assert parse_address(lookup, "K_L.at") == Address(Ref("point3"), "at")
    assert said(lookup, Address(K, "at")) == "K:left.at"
    assert said(lookup, Address(Ref("point2"), "at")) == "point2.at"


def test_items_of_lists_are_told_by_name_even_if_their_number_was_typed() -> None:
    link = Link(name="upper rod", inner=Ref("point1"), outer=Ref("point2"), outside=20.0)
    face = Upright(hub_face=Vec3(0.0, 600.0, 300.0), spin_axis=Vec3(0.0, 1.0, 0.0))
    corner = Corner(id="corner5", name="rear", axle=Ref("axle4"), upright=face, links=(link,))
    axle = Axle(id="axle4", name="rear axle", end="rear")
    document = Document(
        next_number=6,
        points=(point(1, "P"), point(2, "Q")),
        axles=(axle,),
        corners=(corner,),
    )
    lookup = Lookup(document)

    assert str(parse_address(lookup, "rear.links.0.outside")) == "corner5.links.upper rod.outside"
    assert value_of(lookup, parse_address(lookup, "rear.links.upper rod.outside")) == 20.0


def test_a_thing_that_is_not_there_is_said_by_its_id() -> None:
    lookup = lookup_of()

    assert said(lookup, Address(Ref("tube9"), "state")) == "tube9.state"
    with pytest.raises(AddressError, match="there is no tube9 in this car"):
        piece(lookup, Ref("tube9"))


def every_number(document: Document) -> Iterator[tuple[Lookup, Address]]:
    lookup = Lookup(document)
    for thing in lookup.by_id.values():
        for ref in sides(thing):
            for path in number_paths(on_side(thing, ref.side)):
                yield lookup, Address(ref, path)


@pytest.mark.parametrize("car", [demo_car, second_car, lambda: TubeCar().document])
def test_every_number_of_a_car_is_found_again_by_what_it_is_called(
    car: Callable[[], Document],
) -> None:
    numbers = list(every_number(car()))

    assert len(numbers) > 20
    for lookup, address in numbers:
        assert parse_address(lookup, str(address)) == address
        assert parse_address(lookup, said(lookup, address)) == address


NAMES = st.text("KL_.: 1atxleftrigh", min_size=1, max_size=9).filter(lambda name: name.strip())


@given(st.lists(st.tuples(NAMES, st.booleans()), min_size=1, max_size=5, unique_by=lambda t: t[0]))
def test_whatever_things_are_called_both_ways_of_writing_lead_back(
    called: list[tuple[str, bool]],
) -> None:
    points = [point(n, name, pair=pair) for n, (name, pair) in enumerate(called, 1)]

    for lookup, address in every_number(Document(next_number=100, points=tuple(points))):
        assert parse_address(lookup, str(address)) == address
        assert parse_address(lookup, said(lookup, address)) == address


def test_a_right_hand_value_of_its_own_has_an_address() -> None:
    own = Own(of="at.z", value=9.0)
    lookup = lookup_of(
        Point(id="point1", name="K", pair=True, at=Vec3(1.0, 2.0, 3.0), right=(own,))
    )

    assert value_of(lookup, parse_address(lookup, "K_R.at.z")) == 9.0
