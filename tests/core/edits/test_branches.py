"""Whole parts and lists: what is said of a part goes with it, or follows it to another name."""

import msgspec
import pytest

from core.document.base import Box, Fact, Own, Ref, Vec3
from core.document.facts import fact_at
from core.document.links import Link, Upright
from core.document.power import PowerUnit, Solid
from core.document.project import Document
from core.document.rules import check_document
from core.document.running_gear import Axle, Corner
from core.document.steel import Point
from core.edits.branches import (
    add_item,
    can_be_freed,
    free_branch,
    items_at,
    put,
    remove_item,
    say_source_of,
    set_note,
    steps_of,
)
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import make, thing_of
from core.edits.values import release, set_fact
from core.engine.address import Address

BOX = Box(low=Vec3(0.0, 0.0, 0.0), high=Vec3(10.0, 10.0, 10.0))


def car() -> tuple[Document, Ref]:
    """A left and right corner with two links."""
    document, axle = make(Document(), Axle, "rear", end="rear")
    document, a = make(document, Point, "A", at=Vec3(0.0, 200.0, 0.0), pair=True)
    document, b = make(document, Point, "B", at=Vec3(0.0, 500.0, 0.0), pair=True)
    document, c = make(document, Point, "C", at=Vec3(100.0, 500.0, 0.0), pair=True)
    inner, outer, other = (Ref(point.id, "left") for point in (a, b, c))
    upright = Upright(hub_face=Vec3(0.0, 700.0, 300.0), spin_axis=Vec3(0.0, 1.0, 0.0))
    links = (
        Link(name="lower", inner=inner, outer=outer, outside=22.0),
        Link(name="toe", inner=inner, outer=other, outside=22.0),
    )
    document, corner = make(
        document, Corner, "rear corner", axle=Ref(axle.id), upright=upright, links=links, pair=True
    )
    return document, Ref(corner.id, "left")


def corner_of(document: Document, ref: Ref) -> Corner:
    corner = thing_of(document, ref.id)
    assert isinstance(corner, Corner)
    return corner


def test_what_is_said_of_an_item_goes_with_it() -> None:
    document, corner = car()
    document = set_fact(document, Address(corner, "links.toe.outside"), Fact(source="chosen"))
    document = release(document, corner, "links.toe.outside")

    after = remove_item(document, Address(corner, "links"), 1)

    assert corner_of(after, corner).facts == ()
    assert corner_of(after, corner).right == ()
    assert check_document(after) == []


def test_what_is_said_of_the_other_items_stays() -> None:
    document, corner = car()
    document = set_fact(document, Address(corner, "links.toe.outside"), Fact(source="chosen"))
    document = release(document, corner, "links.toe.outside")

    after = remove_item(document, Address(corner, "links"), 0)

    assert [fact.of for fact in corner_of(after, corner).facts] == ["links.toe.outside"]
    assert corner_of(after, corner).right == (Own(of="links.toe.outside", value=22.0),)


def test_what_is_said_of_an_item_follows_it_to_another_name() -> None:
    document, corner = car()
    document = set_fact(document, Address(corner, "links.toe.outside"), Fact(source="chosen"))
    document = release(document, corner, "links.toe.outside")

    after = put(document, Address(corner, "links.toe.name"), "toe link")

    assert [fact.of for fact in corner_of(after, corner).facts] == ["links.toe link.outside"]
    assert [own.of for own in corner_of(after, corner).right] == ["links.toe link.outside"]
    assert check_document(after) == []


@pytest.mark.parametrize("side", ["left", "right"])
def test_an_item_put_in_on_either_side_stands_on_both(side: str) -> None:
    document, corner = car()
    ref = Ref(corner.id, side)  # type: ignore[arg-type]
    link = items_at(document, Address(ref, "links"))[0]
    assert isinstance(link, Link)
    arm = msgspec.structs.replace(link, name="arm")

    after = add_item(document, Address(ref, "arms"), arm)

    arms = corner_of(after, corner).arms
    assert arms[0].inner.side == "left"
    assert put(after, Address(ref, "arms"), ()) == document


def test_an_item_that_is_held_is_let_go_only_on_purpose() -> None:
    document, corner = car()
    in_hand = Fact(source="in_hand", how="read off the part")
    document = set_fact(document, Address(corner, "links.toe"), in_hand)

    with pytest.raises(HeldError, match="in hand"):
        remove_item(document, Address(corner, "links"), 1)
    after = remove_item(document, Address(corner, "links"), 1, free=True)

    assert [link.name for link in corner_of(after, corner).links] == ["lower"]


def test_a_branch_is_freed_with_all_that_is_held_inside_it() -> None:
    document, corner = car()
    held = Fact(held="the shafts", source="chosen")
    for path in ("upright.hub_face.y", "upright.spacer"):
        document = set_fact(document, Address(corner, path), held)
    upright = Address(corner, "upright")

    freed = free_branch(document, upright)

    assert can_be_freed(document, upright)
    assert not any(fact.held for fact in corner_of(freed, corner).facts)


def test_a_part_that_is_missing_is_put_in_and_taken_out_with_its_facts() -> None:
    document, unit = make(Document(), PowerUnit, "engine", origin=Vec3(0.0, 0.0, 0.0))
    ref = Ref(unit.id)
    document = put(document, Address(ref, "centre_of_gravity"), Vec3(1.0, 2.0, 3.0))
    document = set_fact(
        document, Address(ref, "centre_of_gravity.x"), Fact(source="chosen", uncertainty=5.0)
    )

    after = put(document, Address(ref, "centre_of_gravity"), None)

    assert thing_of(after, unit.id).facts == ()
    assert check_document(after) == []


def test_a_value_that_does_not_fit_is_refused_in_words() -> None:
    document, corner = car()

    with pytest.raises(EditRefusedError, match="same name"):
        put(document, Address(corner, "links.toe.name"), "lower")
    with pytest.raises(EditRefusedError, match="is no list"):
        items_at(document, Address(corner, "upright"))


def test_steps_tell_items_of_one_name_apart() -> None:
    solids = tuple(Solid(name=name, box=BOX) for name in ("a", "b", "a"))

    assert steps_of(solids) == ("a", "b", "2")
    assert steps_of((1.0, 2.0)) == ("0", "1")


def test_a_guess_inside_what_is_in_hand_is_a_guess() -> None:
    document, corner = car()
    document = set_fact(document, Address(corner, "upright"), Fact(source="in_hand", how="read"))

    after = say_source_of(document, Address(corner, "upright.spacer"), Fact())

    fact = fact_at(thing_of(after, corner.id), "left", "upright.spacer")
    assert fact is not None
    assert fact.source == "guessed"


def test_the_same_note_again_is_no_change() -> None:
    document, corner = car()

    noted = set_note(document, corner.id, "moved for the tank")

    assert thing_of(noted, corner.id).note == "moved for the tank"
    assert set_note(noted, corner.id, "moved for the tank") is noted
