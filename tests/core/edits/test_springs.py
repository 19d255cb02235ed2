"""Taking a spring into the car: as one edit, with what it was chosen by, past no hold."""

import pytest

from core.document.base import Fact, Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.rules import check_document
from core.document.running_gear import Corner
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.springs import relied_on, take_spring
from core.edits.values import change, set_fact
from core.engine.address import Address
from tests.cars.stored import demo, ref, second

FRONT = ref(demo().drawn, "front corner left")
HOW = "for a ride of 1.60 Hz"


def corner(document: Document, of: Ref = FRONT) -> Corner:
    thing = Lookup(document).by_id[of.id]
    assert isinstance(thing, Corner)
    return thing


def taken(document: Document, of: Ref = FRONT, block: float | None = 110.0, **more: bool) -> Corner:
    return corner(take_spring(document, of, 32.5, 275.0, block, how=HOW, **more), of)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_spring_is_on_both_sides_and_all_else_is_shared(side: str) -> None:
    before = demo().drawn
    of = FRONT if side == "left" else FRONT.mirrored()

    after = take_spring(before, of, 32.5, 275.0, 110.0, how=HOW)

    old, damper = corner(before).damper, corner(after).damper
    assert old is not None
    assert damper is not None
    assert (damper.spring_rate, damper.spring_free_length) == (32.5, 275.0)
    assert damper.spring_block_length == 110.0
    assert (damper.spring_seats, damper.closed_length) == (old.spring_seats, old.closed_length)
    assert after.points is before.points
    assert after.corners[1] is before.corners[1]
    assert check_document(after) == []


def test_its_figures_say_what_they_were_chosen_for_and_by() -> None:
    facts = {fact.of: fact for fact in taken(demo().drawn).facts}

    for path in ("spring_rate", "spring_free_length", "spring_block_length"):
        fact = facts[f"damper.{path}"]
        assert (fact.source, fact.how) == ("chosen", HOW)
        assert [(each.ref, each.of) for each in fact.because] == [
            (FRONT, "unsprung_mass_kg"),
            (FRONT, "damper.spring_seats"),
            (ref(demo().drawn, "front tyre"), "vertical_stiffness"),
        ]
    assert facts["damper"].source == "in_hand"


def test_a_weighed_wheel_is_relied_on() -> None:
    weighed = change(demo().drawn, Address(FRONT, "weight_kg"), 180.0)

    assert "weight_kg" in [each.of for each in relied_on(weighed, FRONT)]


def test_a_spring_of_unknown_block_length_does_not_keep_that_of_the_old_one() -> None:
    damper = taken(demo().drawn, block=None).damper

    assert damper is not None
    assert damper.spring_block_length is None


def test_a_spring_in_hand_is_refused_until_it_is_set_free() -> None:
    held = set_fact(
        demo().drawn,
        Address(FRONT, "damper.spring_rate"),
        Fact(source="in_hand", how="on the shelf"),
    )

    with pytest.raises(HeldError, match="spring_rate"):
        taken(held)
    damper = taken(held, free=True).damper

    assert damper is not None
    assert damper.spring_rate == 32.5


def test_the_right_springs_own_rate_is_its_own_no_more_than_it_was() -> None:
    of = ref(second().drawn, "rear corner left")

    after = take_spring(second().drawn, of, 18.0, 300.0)

    assert corner(after, of).right == corner(second().drawn, of).right
    assert check_document(after) == []


@pytest.mark.parametrize(
    ("rate", "free", "block", "words"),
    [
        (0.0, 275.0, None, "spring_rate"),
        (30.0, -1.0, None, "spring_free_length"),
        (30.0, 100.0, 110.0, "cannot be 100 free and 110 with its coils closed"),
    ],
)
def test_figures_that_are_none_of_a_spring_are_refused(
    rate: float, free: float, block: float | None, words: str
) -> None:
    with pytest.raises(EditRefusedError, match=words):
        take_spring(demo().drawn, FRONT, rate, free, block)


def test_a_corner_without_a_damper_is_refused() -> None:
    of = ref(second().drawn, "rear corner left")
    bare = change(second().drawn, Address(of, "damper"), None)

    with pytest.raises(EditRefusedError, match="no damper that a spring could be on"):
        take_spring(bare, of, 30.0, 280.0)
    with pytest.raises(EditRefusedError, match="no damper that a spring could be on"):
        take_spring(demo().drawn, ref(demo().drawn, "front tyre"), 30.0, 280.0)
