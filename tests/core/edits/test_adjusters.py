"""Adjusters fitted, changed and taken off, and rounds of toe readings written down."""

import msgspec
import pytest

from core.document.base import Fact, Ref
from core.document.boards import ToeReading
from core.document.links import Adjuster
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.rules import check_document
from core.document.running_gear import Corner
from core.edits.adjusters import (
    add_adjuster,
    can_be_adjusted,
    change_adjuster,
    remove_adjuster,
)
from core.edits.boards import add_reading, begin_board, remove_reading
from core.edits.refusals import EditRefusedError, HeldError
from core.edits.things import delete
from core.edits.values import hold, set_fact
from core.engine.address import Address
from tests.cars.stored import demo, second
from tests.core.assess.set_up_cars import corner, point


def fitted(document: Document, ref: Ref) -> tuple[Adjuster, ...]:
    thing = Lookup(document).by_id[ref.id]
    assert isinstance(thing, Corner)
    return thing.adjusters


FRONT = corner(demo().drawn, "front")
RIGHT = corner(demo().drawn, "front", "right")


def test_one_fitted_on_the_right_is_there_on_both_sides_and_shares_the_rest() -> None:
    before = demo().drawn
    new = Adjuster(point=point("front_lower_inner_front_R"), least=0.0, most=6.0, how="shims")

    after = add_adjuster(before, RIGHT, new)

    assert fitted(after, FRONT)[-1].point == point("front_lower_inner_front_L")
    assert fitted(after, FRONT)[:-1] == fitted(before, FRONT)
    assert check_document(after) == []
    assert after.points is before.points


def test_a_range_is_changed_at_both_ends_at_once() -> None:
    after = change_adjuster(demo().drawn, FRONT, 0, least=9.0, most=12.0)

    assert (fitted(after, FRONT)[0].least, fitted(after, FRONT)[0].most) == (9.0, 12.0)
    assert fitted(after, FRONT)[1:] == fitted(demo().drawn, FRONT)[1:]


def test_what_is_said_of_an_adjuster_goes_with_it_when_another_is_taken_off() -> None:
    said = Address(FRONT, "adjusters.1.least")
    document = set_fact(demo().drawn, said, Fact(source="chosen", how="the thread left"))

    after = remove_adjuster(document, FRONT, 0)

    thing = Lookup(after).by_id[FRONT.id]
    assert [fact.of for fact in thing.facts if "adjuster" in fact.of] == ["adjusters.0.least"]
    assert fitted(after, FRONT) == fitted(demo().drawn, FRONT)[1:]


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (lambda d: add_adjuster(d, FRONT, Adjuster(point=point("rear_toe_inner_L"), least=0.0,
                                                   most=1.0)), "choose an end of one of its links"),
        (lambda d: change_adjuster(d, FRONT, 0, point=point("rear_toe_inner_L")), "choose an end"),
        (lambda d: change_adjuster(d, FRONT, 0, least=9.0, most=1.0), "cannot run from 9 to 1"),
        (lambda d: change_adjuster(d, FRONT, 0, colour="red"), "colour"),
        (lambda d: change_adjuster(d, FRONT, 3, least=0.0), "has 3 adjusters, and no number 4"),
        (lambda d: remove_adjuster(d, FRONT, -1), "no number 0"),
        (lambda d: remove_adjuster(d, point("rear_toe_inner_L"), 0), "is no corner"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_refused(edit: object, words: str) -> None:
    assert callable(edit)
    with pytest.raises(EditRefusedError, match=words):
        edit(demo().drawn)


def test_what_is_held_is_refused_until_it_is_set_free() -> None:
    document = hold(demo().drawn, Address(FRONT, "adjusters.0"), "it is rusted in")

    with pytest.raises(HeldError, match="rusted in"):
        change_adjuster(document, FRONT, 0, most=9.0)
    with pytest.raises(HeldError, match="rusted in"):
        remove_adjuster(document, FRONT, 0)
    assert fitted(change_adjuster(document, FRONT, 0, most=9.0, free=True), FRONT)[0].most == 9.0


def test_anything_that_holds_the_upright_can_be_set_but_no_damper() -> None:
    front = can_be_adjusted(demo().drawn, FRONT)
    strut = can_be_adjusted(second().drawn, corner(second().drawn, "front"))

    assert point("front_upper_inner_front_L") in front
    assert point("steering_rack_L") in front
    assert point("front_damper_upper_L") not in front
    labels = {Lookup(second().drawn).label(ref) for ref in strut}
    assert any("strut_top" in label for label in labels)


def test_rounds_of_readings_get_names_of_their_own_and_go_with_their_corner() -> None:
    document, first = begin_board(demo().drawn, FRONT)
    document, other = begin_board(document, FRONT, (ToeReading(height=0.0, toe_in_deg=0.1),))

    assert (first.name, other.name) == (
        "toe board at front corner left", "toe board at front corner left 2",
    )  # fmt: skip
    assert check_document(document) == []
    gone = delete(document, FRONT.id, with_dependents=True)
    assert gone.toe_boards == ()


def test_readings_are_added_at_the_end_and_taken_out_by_number() -> None:
    document, board = begin_board(demo().drawn, FRONT)
    for height in (0.0, 10.0, 20.0):
        document = add_reading(document, board.id, ToeReading(height=height, toe_in_deg=0.1))

    after = remove_reading(document, board.id, 1)

    assert [r.height for r in after.toe_boards[0].readings] == [0.0, 20.0]
    for edit, words in (
        (lambda: remove_reading(after, board.id, 2), "has 2 readings, and no number 3"),
        (lambda: add_reading(after, FRONT.id, after.toe_boards[0].readings[0]), "no round of toe"),
        (lambda: begin_board(after, Ref(FRONT.id)), "which side"),
        (lambda: begin_board(after, point("rear_toe_inner_L")), "not a corner"),
    ):
        with pytest.raises(EditRefusedError, match=words):
            edit()


def test_a_reading_without_any_doubt_is_refused() -> None:
    _, board = begin_board(demo().drawn, FRONT)

    with pytest.raises(ValueError, match="must be above zero"):
        msgspec.structs.replace(board, uncertainty_deg=0.0)
