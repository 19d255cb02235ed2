import pytest

from core.document.base import Fact, Ref, Vec3
from core.document.steel import Point
from core.edits.values import set_fact
from core.engine.address import Address, AddressError
from core.engine.overlay import shifted, with_numbers
from tests.core.edits.cars import TubeCar


@pytest.fixture
def car() -> TubeCar:
    return TubeCar()


def at_of(document: object, name: str) -> Vec3 | None:
    points: tuple[Point, ...] = getattr(document, "points")  # noqa: B009 - a plain test helper
    return next(point.at for point in points if point.name == name)


def test_a_shift_adds_to_a_number_and_leaves_the_document_it_was_given(car: TubeCar) -> None:
    before = car.document

    after = shifted(Address(car.c, "at.z"), 5.0)(before)

    assert at_of(after, "C") == Vec3(-600.0, 0.0, 705.0)
    assert at_of(before, "C") == Vec3(-600.0, 0.0, 700.0)
    assert after.tubes is before.tubes


def test_a_shift_of_the_right_side_moves_the_left_the_other_way(car: TubeCar) -> None:
    after = shifted(Address(car.a.mirrored(), "at.y"), -5.0)(car.document)

    assert at_of(after, "A") == Vec3(0.0, 305.0, 100.0)


def test_holds_do_not_count_for_a_what_if(car: TubeCar) -> None:
    held = set_fact(car.document, Address(car.c, "at"), Fact(source="measured"))

    assert at_of(shifted(Address(car.c, "at.x"), 1.0)(held), "C") == Vec3(-599.0, 0.0, 700.0)


def test_several_values_are_set_in_their_order(car: TubeCar) -> None:
    at_c = Address(car.c, "at")
    overlay = with_numbers([(at_c, Vec3(1.0, 2.0, 3.0)), (Address(car.c, "at.y"), 9.0)])

    assert at_of(overlay(car.document), "C") == Vec3(1.0, 9.0, 3.0)


def test_an_overlay_can_be_laid_again_on_what_it_made(car: TubeCar) -> None:
    once = shifted(Address(car.c, "at.z"), 5.0)

    assert at_of(once(once(car.document)), "C") == Vec3(-600.0, 0.0, 710.0)


def test_what_is_no_number_cannot_be_shifted(car: TubeCar) -> None:
    with pytest.raises(AddressError, match="C.carrier is no number"):
        shifted(Address(car.c, "carrier"), 1.0)(car.document)


def test_a_truth_is_no_number(car: TubeCar) -> None:
    with pytest.raises(AddressError, match="rail:left.removable|rail left.removable"):
        shifted(Address(car.rail, "removable"), 1.0)(car.document)


def test_a_value_that_does_not_fit_is_told_with_its_address(car: TubeCar) -> None:
    with pytest.raises(AddressError, match="die.radius"):
        with_numbers([(Address(car.die, "radius"), -5.0)])(car.document)


def test_a_thing_that_is_not_there_is_told(car: TubeCar) -> None:
    with pytest.raises(AddressError, match="there is no tube99"):
        with_numbers([(Address(Ref("tube99"), "state"), "cut")])(car.document)
