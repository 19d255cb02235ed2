"""Left and right things made pairs."""

import pytest

from core.document.base import Ref, Vec3
from core.document.sides import on_side
from core.document.steel import Point
from tests.cars.neutral import ConversionError
from tests.cars.pairs import Named, Names, as_pair, collapsed


def point(place: Vec3) -> Point:
    return Point(id="point1", name="K", at=place)


def test_a_mirrored_point_has_nothing_of_its_own() -> None:
    pair = as_pair(point(Vec3(1.0, 2.0, 3.0)), point(Vec3(1.0, -2.0, 3.0)))
    assert pair.pair
    assert pair.right == ()


def test_only_what_differs_from_the_mirror_image_is_kept() -> None:
    pair = as_pair(point(Vec3(1.0, 2.0, 3.0)), point(Vec3(1.0, -2.5, 3.0)))
    assert [(own.of, own.value) for own in pair.right] == [("at.y", -2.5)]
    right = on_side(pair, "right")
    assert isinstance(right, Point)
    assert right.at == Vec3(1.0, -2.5, 3.0)


def test_left_and_right_labels_become_one_name_in_their_order() -> None:
    labels = ["A_L", "B", "A_R", "C_R"]
    assert collapsed(labels) == [Named("A", pair=True), Named("B"), Named("C_R")]


def test_names_that_must_stay_single_stay_so() -> None:
    assert collapsed(["A_L", "A_R"], frozenset({"A"})) == [Named("A_L"), Named("A_R")]


def test_names_give_ids_in_order_and_references_by_label() -> None:
    names = Names({"point": [Named("A", pair=True), Named("B")]})
    assert names.ref("point", "A_R") == Ref("point1", "right")
    assert names.ref("point", "B") == Ref("point2")
    with pytest.raises(ConversionError, match="no point of that name"):
        names.ref("point", "A")
