import pytest

from core.document.base import Because, Box, Fact, Own, Ref, Vec3
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.document.paths import value_at
from core.document.project import Document
from core.document.rules import check_document
from core.document.sides import on_side
from core.document.steel import Point
from core.document.surroundings import KeepOut
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import make, thing_of
from core.edits.values import (
    change,
    held_by,
    hold,
    put_value,
    refuse_if_held,
    rejoin,
    release,
    set_fact,
    set_free,
)
from core.engine.address import Address

MEASURED = Fact(source="measured", uncertainty=0.5, how="tape", when="Monday", tolerance=1.0)
IN_HAND = Fact(source="in_hand", how="read off the part")


def car() -> tuple[Document, Ref, Ref]:
    """A single point C and a pair K."""
    document, c = make(Document(), Point, "C", at=Vec3(1.0, 2.0, 3.0))
    document, k = make(document, Point, "K", at=Vec3(10.0, 20.0, 30.0), pair=True)
    return document, Ref(c.id), Ref(k.id, "left")


def at(document: Document, ref: Ref) -> Vec3:
    point = on_side(thing_of(document, ref.id), ref.side)
    assert isinstance(point, Point)
    assert point.at is not None
    return point.at


def fact(document: Document, address: Address) -> Fact | None:
    return fact_at(thing_of(document, address.ref.id), address.ref.side, address.path)


@pytest.mark.parametrize("side", ["left", "right"])
def test_both_sides_of_a_pair_move_together(side: str) -> None:
    document, _, k = car()
    ref = k if side == "left" else k.mirrored()
    y = 25.0 if side == "left" else -25.0

    moved = change(document, Address(ref, "at.y"), y)

    assert at(moved, k) == Vec3(10.0, 25.0, 30.0)
    assert at(moved, k.mirrored()) == Vec3(10.0, -25.0, 30.0)


@pytest.mark.parametrize("what", [MEASURED, IN_HAND, Fact(held="the jig stands")])
@pytest.mark.parametrize("of", ["", "at", "at.y"])
def test_what_is_measured_in_hand_or_held_is_not_changed(what: Fact, of: str) -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, of), what)

    with pytest.raises(HeldError) as refused:
        change(known, Address(c, "at.y"), 5.0)

    reason = what.held or what.how
    assert "C.at.y is held" in str(refused.value)
    assert reason in str(refused.value)
    assert "Set it free" in str(refused.value)
    assert reason in (held_by(known, Address(c, "at.y")) or "")
    assert reason in (held_by(known, Address(c, "at")) or "")
    with pytest.raises(HeldError):
        refuse_if_held(known, Address(c, "at"))


@pytest.mark.parametrize("source", ["guessed", "chosen"])
def test_what_is_guessed_or_chosen_may_move(source: str) -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at"), Fact(source=source))  # type: ignore[arg-type]

    assert held_by(known, Address(c, "at")) is None
    assert at(change(known, Address(c, "at.y"), 5.0), c).y == 5.0


def test_a_held_number_beside_the_one_that_changes_does_not_matter() -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at.y"), MEASURED)

    moved = change(known, Address(c, "at"), Vec3(9.0, 2.0, 9.0))

    assert at(moved, c) == Vec3(9.0, 2.0, 9.0)
    with pytest.raises(HeldError, match=r"C.at.y is held"):
        change(known, Address(c, "at"), Vec3(9.0, 2.1, 9.0))


def test_the_nearest_fact_counts() -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at"), MEASURED)
    known = set_fact(known, Address(c, "at.z"), Fact(source="chosen"))

    assert at(change(known, Address(c, "at.z"), 9.0), c).z == 9.0
    with pytest.raises(HeldError):
        change(known, Address(c, "at.x"), 9.0)


def test_what_is_set_free_moves_and_is_no_longer_measured() -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at"), MEASURED)

    free = set_free(known, Address(c, "at"))
    moved = change(free, Address(c, "at.y"), 5.0)

    kept = fact(free, Address(c, "at.y"))
    assert kept is not None
    assert (kept.source, kept.uncertainty, kept.free) == ("measured", 0.5, True)
    now = fact(moved, Address(c, "at.y"))
    assert now == Fact(of="at.y", source="chosen", tolerance=1.0, free=True)
    assert fact(moved, Address(c, "at.x")) == kept, "the numbers that stay are as measured"
    assert check_document(moved) == []


def test_setting_one_number_free_leaves_the_others_held() -> None:
    document, c, _ = car()
    known = set_free(set_fact(document, Address(c, "at"), MEASURED), Address(c, "at.y"))

    assert at(change(known, Address(c, "at.y"), 5.0), c).y == 5.0
    with pytest.raises(HeldError, match=r"C.at.x"):
        change(known, Address(c, "at.x"), 5.0)
    with pytest.raises(HeldError):
        change(known, Address(c, "at"), Vec3(1.0, 5.0, 4.0))


def test_a_hold_needs_a_reason_and_ends_when_set_free() -> None:
    document, c, _ = car()
    y = Address(c, "at.y")

    with pytest.raises(EditRefusedError, match="needs a reason"):
        hold(document, y, "  ")
    held = hold(document, y, "the jig stands")
    assert held_by(held, y) == "the jig stands"
    assert at(change(set_free(held, y), y, 4.0), c).y == 4.0
    assert held_by(hold(set_free(held, y), y, "again"), y) == "again"


def test_a_hold_keeps_what_was_known() -> None:
    document, c, k = car()
    y = Address(c, "at.y")
    because = (Because(ref=k, of="at"),)

    held = hold(set_fact(document, y, MEASURED), y, "the jig", because)

    now = fact(held, y)
    assert now is not None
    assert (now.source, now.uncertainty, now.because) == ("measured", 0.5, because)


@pytest.mark.parametrize("held", ["left", "right"])
def test_a_pair_of_which_one_side_is_held_does_not_move(held: str) -> None:
    document, _, k = car()
    thing = thing_of(document, k.id)
    side = Fact(of="at.y", side=held, source="measured")  # type: ignore[arg-type]
    document = Document(
        next_number=9,
        points=(
            document.points[0],
            Point(id=thing.id, name="K", pair=True, at=Vec3(10.0, 20.0, 30.0), facts=(side,)),
        ),
    )

    for ref in (k, k.mirrored()):
        assert held_by(document, Address(ref, "at.y")) == "it is measured"
        with pytest.raises(HeldError):
            change(document, Address(ref, "at.y"), 21.0 if ref == k else -21.0)


def test_a_side_that_was_set_apart_is_held_by_its_own_fact_only() -> None:
    document, _, k = car()
    apart = release(document, k, "at.y")
    known = set_fact(apart, Address(k.mirrored(), "at.y"), MEASURED)

    assert held_by(known, Address(k, "at.y")) is None
    assert held_by(known, Address(k.mirrored(), "at.y"))
    moved = change(known, Address(k, "at.y"), 21.0)
    assert at(moved, k).y == 21.0
    assert at(moved, k.mirrored()).y == -20.0
    with pytest.raises(HeldError, match=r"K_R.at.y"):
        change(known, Address(k.mirrored(), "at.y"), -21.0)


def test_moving_a_place_of_which_one_number_is_the_rights_own_moves_the_rest_of_both() -> None:
    document, _, k = car()
    apart = release(document, k, "at.y")

    moved = change(apart, Address(k.mirrored(), "at"), Vec3(11.0, -22.0, 33.0))

    assert at(moved, k) == Vec3(11.0, 20.0, 33.0)
    assert at(moved, k.mirrored()) == Vec3(11.0, -22.0, 33.0)


def test_releasing_moves_nothing_and_happens_once() -> None:
    document, c, k = car()

    apart = release(document, k, "at.y")

    assert [at(apart, ref) for ref in (k, k.mirrored())] == [
        at(document, ref) for ref in (k, k.mirrored())
    ]
    for ref, path in ((k, "at.y"), (c, "at.y"), (k, "no_such")):
        with pytest.raises(EditRefusedError):
            release(apart, ref, path)


def test_rejoining_takes_the_lefts_value_and_the_facts_of_the_right_with_it() -> None:
    document, _, k = car()
    right = k.mirrored()
    apart = change(release(document, k, "at.y"), Address(right, "at.y"), -22.0)
    apart = set_fact(apart, Address(right, "at.y"), Fact(source="chosen", how="room for a pipe"))
    apart = set_fact(apart, Address(k, "at.y"), Fact(source="chosen", how="drawn"))

    joined = rejoin(apart, k, "at.y")

    assert at(joined, right).y == -20.0
    assert thing_of(joined, k.id).facts == (Fact(of="at.y", source="chosen", how="drawn"),)
    assert check_document(joined) == []


def test_a_right_side_that_is_measured_is_not_rejoined() -> None:
    document, _, k = car()
    right = k.mirrored()
    apart = change(release(document, k, "at.y"), Address(right, "at.y"), -22.0)
    known = set_fact(apart, Address(right, "at.y"), MEASURED)

    with pytest.raises(HeldError, match="K_R.at.y"):
        rejoin(known, k, "at.y")
    assert at(rejoin(set_free(known, Address(right, "at.y")), k, "at.y"), right).y == -20.0


def test_rejoining_what_is_joined_leaves_the_very_same_document() -> None:
    document, _, k = car()

    assert rejoin(document, k, "at.y") is document


def test_a_change_keeps_what_it_relied_on() -> None:
    document, c, k = car()
    because = (Because(ref=k, of="at", words="level with it"),)

    moved = change(document, Address(c, "at.z"), 30.0, because=because)

    now = fact(moved, Address(c, "at.z"))
    assert now is not None
    assert (now.source, now.because) == ("chosen", because)


def test_a_reason_that_is_not_there_is_refused() -> None:
    document, c, _ = car()

    with pytest.raises(EditRefusedError, match="point99"):
        change(document, Address(c, "at.z"), 30.0, because=(Because(ref=Ref("point99")),))


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("at.w", 1.0, "C.at.w"),
        ("at.y", "far", "C.at.y"),
        ("name", "D", "C.name"),
        ("carrier", "moon", "C.carrier"),
        ("at", None, "needs either its coordinates or a place along a tube"),
    ],
)
def test_what_does_not_fit_is_refused_in_words(path: str, value: object, words: str) -> None:
    document, c, _ = car()

    with pytest.raises(EditRefusedError) as refused:
        change(document, Address(c, path), value)

    assert words in str(refused.value)


def test_a_thing_that_is_not_there_is_told() -> None:
    document, _, _ = car()

    with pytest.raises(EditRefusedError, match="there is no point99 in this car"):
        change(document, Address(Ref("point99"), "at.x"), 1.0)
    assert held_by(document, Address(Ref("point99"), "at.x")) is None


def test_a_value_can_be_put_past_its_hold() -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at"), MEASURED)

    put = put_value(known, Address(c, "at.y"), 5.0)

    assert at(put, c).y == 5.0
    assert fact(put, Address(c, "at")) == fact(known, Address(c, "at"))


def test_a_fact_that_says_nothing_is_dropped() -> None:
    document, c, _ = car()
    known = set_fact(document, Address(c, "at"), MEASURED)

    assert set_fact(known, Address(c, "at"), Fact()) == document
    assert set_fact(known, Address(c, "at"), MEASURED) is known


def test_a_fact_about_nothing_is_refused() -> None:
    document, c, _ = car()

    with pytest.raises(EditRefusedError):
        set_fact(document, Address(c, "along.distance"), MEASURED)
    with pytest.raises(EditRefusedError):
        set_free(document, Address(c, "no_such"))


def test_what_did_not_change_is_shared() -> None:
    document, c, k = car()

    moved = change(document, Address(c, "at.y"), 5.0)

    assert moved.points[1] is document.points[1]
    assert moved.tubes is document.tubes
    point = Lookup(moved).by_id[c.id]
    assert value_at(point, "facts") is value_at(Lookup(document).by_id[c.id], "facts")
    assert thing_of(moved, k.id) is thing_of(document, k.id)


def test_an_own_value_inside_a_box_leaves_the_left_box_alone() -> None:
    low, high = Vec3(0.0, 10.0, 0.0), Vec3(5.0, 20.0, 5.0)
    document, zone = make(Document(), KeepOut, "Z", box=Box(low=low, high=high), pair=True)
    right = Ref(zone.id, "right")

    apart = release(document, right, "box.low.y")
    moved = change(apart, Address(right, "box.low.y"), -25.0)

    assert value_at(on_side(thing_of(moved, zone.id), "right"), "box.low.y") == -25.0
    assert value_at(thing_of(moved, zone.id), "box") == Box(low=low, high=high)
    assert thing_of(moved, zone.id).right == (Own(of="box.low.y", value=-25.0),)
