"""Many coordinates moved as one edit: pairs move as pairs, what is held stays, facts say why."""

import pytest

from core.document.base import Because, Fact
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.document.rules import check_change
from core.document.sides import on_side
from core.document.steel import Along, Point
from core.edits.points import tie_to_tube
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.settle import Placed, settle_places
from core.edits.values import change, hold, release, set_fact
from core.engine.address import Address, value_of
from tests.core.study.demo import demo
from tests.core.study.level_car import level

CAR = level()
TOE, UPPER = (CAR.points[name] for name in ("toe_inner", "upper_front_inner"))
WHY = (Because(ref=CAR.corner, words="settled: toe change 2.05 to 0.07 deg"),)


def where(document: object, address: Address) -> float:
    value = value_of(Lookup(document), address)  # type: ignore[arg-type]
    assert isinstance(value, float)
    return value


def test_both_sides_of_a_pair_move_alike() -> None:
    places = (Placed(Address(TOE, "at.z"), 288.0), Placed(Address(UPPER, "at.y"), 345.0))

    after = settle_places(CAR.document, places, WHY)

    assert where(after, Address(TOE, "at.z")) == 288.0
    assert where(after, Address(TOE.mirrored(), "at.z")) == 288.0
    assert where(after, Address(UPPER, "at.y")) == 345.0
    assert where(after, Address(UPPER.mirrored(), "at.y")) == -345.0
    assert not check_change(CAR.document, after)


def test_a_value_of_the_right_side_alone_stays_when_the_left_moves_and_moves_by_itself() -> None:
    right = TOE.mirrored()
    apart = change(release(CAR.document, right, "at.z"), Address(right, "at.z"), 310.0)

    left_moved = settle_places(apart, (Placed(Address(TOE, "at.z"), 288.0),))
    right_moved = settle_places(apart, (Placed(Address(right, "at.z"), 305.0),))

    assert where(left_moved, Address(right, "at.z")) == 310.0
    assert where(left_moved, Address(TOE, "at.z")) == 288.0
    assert where(right_moved, Address(right, "at.z")) == 305.0
    assert where(right_moved, Address(TOE, "at.z")) == 300.0


def test_each_number_keeps_why_it_moved_and_its_tolerance() -> None:
    address = Address(TOE, "at.z")
    before = set_fact(CAR.document, address, Fact(source="guessed", tolerance=0.5))

    after = settle_places(before, (Placed(address, 288.0),), WHY)

    thing = Lookup(after).by_id[TOE.id]
    fact = fact_at(thing, "left", "at.z")
    assert fact is not None
    assert fact.because == WHY
    assert fact.tolerance == 0.5
    other = fact_at(thing, "left", "at.y")
    assert other is None or not other.because


def test_a_number_without_a_fact_counts_as_chosen_once_it_was_settled() -> None:
    after = settle_places(CAR.document, (Placed(Address(TOE, "at.z"), 288.0),), WHY)

    fact = fact_at(Lookup(after).by_id[TOE.id], "left", "at.z")
    assert fact is not None
    assert fact.source == "chosen"


@pytest.mark.parametrize("first", [True, False])
def test_what_is_held_does_not_move_and_nothing_else_does(*, first: bool) -> None:
    held = hold(CAR.document, Address(TOE, "at.z"), "the bracket is welded")
    places = [Placed(Address(TOE, "at.z"), 288.0), Placed(Address(UPPER, "at.y"), 345.0)]

    with pytest.raises(HeldError, match="the bracket is welded"):
        settle_places(held, places if first else places[::-1], WHY)


@pytest.mark.parametrize("source", ["in_hand", "measured"])
def test_what_is_measured_or_in_hand_does_not_move(source: str) -> None:
    fact = Fact(source=source)  # type: ignore[arg-type]
    held = set_fact(CAR.document, Address(TOE, "at"), fact)

    with pytest.raises(HeldError):
        settle_places(held, (Placed(Address(TOE, "at.z"), 288.0),))


def test_a_held_number_that_stays_where_it_is_hinders_nothing() -> None:
    held = hold(CAR.document, Address(TOE, "at.z"), "the bracket is welded")
    places = (Placed(Address(TOE, "at.z"), 300.0), Placed(Address(UPPER, "at.y"), 345.0))

    after = settle_places(held, places, WHY)

    assert where(after, Address(UPPER, "at.y")) == 345.0


def test_nothing_that_moves_is_the_very_same_car() -> None:
    same = settle_places(CAR.document, (Placed(Address(TOE, "at.z"), 300.0),), WHY)

    assert same is CAR.document
    assert settle_places(CAR.document, ()) is CAR.document


def test_a_point_that_follows_a_tube_is_not_settled() -> None:
    document = demo()
    lookup = Lookup(document)
    point = lookup.find("rear_toe_inner")[0]
    tube = next(tube for tube in document.tubes if tube.pair)
    along = Along(tube=lookup.find(tube.name)[0], distance=50.0)
    tied = tie_to_tube(document, point, along)

    with pytest.raises(EditRefusedError, match="follows"):
        settle_places(tied, (Placed(Address(point, "at.z"), 288.0),))


def test_a_rack_moves_as_a_whole() -> None:
    document = demo()
    rack = document.racks[0]
    lookup = Lookup(document)
    address = Address(lookup.find(rack.name)[0], "centre.z")

    after = settle_places(document, (Placed(address, rack.centre.z + 3.0),), ())

    assert after.racks[0].centre == rack.centre._replace(z=rack.centre.z + 3.0)
    assert after.points is document.points


def test_points_that_did_not_move_are_the_very_same_things() -> None:
    after = settle_places(CAR.document, (Placed(Address(TOE, "at.z"), 288.0),), WHY)

    before = {point.id: point for point in CAR.document.points}
    changed = [p for p in after.points if p is not before[p.id]]
    assert [p.id for p in changed] == [TOE.id]
    assert isinstance(on_side(changed[0], "right"), Point)
