"""Links of a rigid axle by the edits: each is entered by itself, on either side of the car."""

import pytest

from core.assess.beams import rigid_axle
from core.document.base import Fact, Ref, Vec3
from core.document.facts import fact_at
from core.document.links import Holder, Link
from core.document.rules import check_document
from core.document.running_gear import Axle
from core.edits.branches import add_item, put, remove_item
from core.edits.points import move_point
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import delete, thing_of
from core.edits.values import change, hold, put_value, set_fact
from core.engine.address import Address
from core.engine.assess import compute
from core.suspension.constraints import Rod
from tests.core.assess.made_axles import made_axle
from tests.core.assess.made_corners import Made
from tests.core.suspension.axles import kinds, triangulated

FOUR = made_axle(triangulated())


def axle_of(car: Made) -> Axle:
    axle = thing_of(car.document, car.axle.id)
    assert isinstance(axle, Axle)
    return axle


def test_a_link_is_added_and_taken_out_on_one_side_alone() -> None:
    inner, outer = FOUR.points["lower left inner"], FOUR.points["upper left outer"]
    link = Link(name="fifth", inner=inner, outer=outer)

    more = add_item(FOUR.document, Address(FOUR.axle, "links"), link)
    fewer = remove_item(more, Address(FOUR.axle, "links"), 0)

    held = compute(fewer, {}, rigid_axle, FOUR.axle).constraints
    assert [each.name for each in held] == [
        "upper left", "lower right", "upper right", "fifth",
    ]  # fmt: skip
    assert check_document(fewer) == []


def test_two_links_of_one_name_are_refused() -> None:
    link = axle_of(FOUR).links[0]

    with pytest.raises(EditRefusedError, match="two links have the same name"):
        add_item(FOUR.document, Address(FOUR.axle, "links"), link)


def test_what_is_known_of_a_link_follows_it_to_another_name() -> None:
    at = Address(FOUR.axle, "links.lower left.outside")
    document = set_fact(FOUR.document, at, Fact(source="chosen", uncertainty=0.2))

    renamed = put(document, Address(FOUR.axle, "links.lower left.name"), "tube")

    axle = thing_of(renamed, FOUR.axle.id)
    fact = fact_at(axle, "one", "links.tube.outside")
    assert fact is not None
    assert fact.uncertainty == 0.2


def test_a_held_length_of_a_link_is_not_changed() -> None:
    at = Address(FOUR.axle, "links.lower left.outside")

    with pytest.raises(HeldError):
        change(hold(FOUR.document, at, "the tube is cut"), at, 30.0)


def test_a_point_that_a_link_ends_at_is_not_removed_and_the_axle_is_named() -> None:
    with pytest.raises(EditRefusedError, match="lower left inner is used by axle"):
        delete(FOUR.document, FOUR.points["lower left inner"].id)


def test_a_point_taken_out_with_what_hangs_on_it_takes_its_link_and_leaves_a_sound_car() -> None:
    gone = delete(FOUR.document, FOUR.points["lower left inner"].id, with_dependents=True)

    assert check_document(gone) == []
    assert FOUR.points["lower left inner"].id not in {each.id for each in gone.points}


def test_the_mirrored_link_stays_where_it_is_when_one_is_moved() -> None:
    """Nothing ties them: a rigid axle has no pair of links, so that they can be unlike."""
    left = FOUR.points["lower left inner"]
    start = next(each.at for each in FOUR.document.points if each.id == left.id)
    assert start is not None

    document = move_point(FOUR.document, left, Vec3(start.x, start.y, start.z + 15.0))

    held = {each.name: each for each in compute(document, {}, rigid_axle, FOUR.axle).constraints}
    one, other = held["lower left"], held["lower right"]
    assert isinstance(one, Rod)
    assert isinstance(other, Rod)
    assert one.inner[2] - other.inner[2] == pytest.approx(15.0)


def test_an_end_is_put_to_another_point() -> None:
    to = FOUR.points["upper left inner"]

    document = put_value(FOUR.document, Address(FOUR.axle, "links.lower left.inner"), to)

    assert axle_of(Made(document, FOUR.corner, FOUR.axle, FOUR.points)).links[0].inner == to


def test_a_holder_of_an_axle_is_changed_to_another_way() -> None:
    car = made_axle(kinds()["torque tube"])
    ball = car.points["ball"]
    guide = Holder(name="ball", how="guide", points=(ball,), direction=Vec3(1.0, 0.0, 0.0))

    document = put_value(car.document, Address(car.axle, "holders"), (guide,))

    held = compute(document, {}, rigid_axle, car.axle).constraints
    assert [type(each).__name__ for each in held] == ["Rod", "Guide"]
    assert Ref(car.axle.id) == car.axle
