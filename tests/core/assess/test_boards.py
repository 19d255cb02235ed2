"""What a board tells: errors planted in rods that scipy solves, never by the program's own fit."""

import json

import numpy as np
import pytest

from core.assess.boards import BoardTold, Suspect, board_told
from core.document.base import Ref, Vec3
from core.document.links import Adjuster
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.edits.boards import begin_board
from core.edits.values import put_value
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.cars.stored import HERE, demo, expected, second
from tests.core.assess.set_up_cars import (
    adjusters,
    board_of,
    corner,
    point,
    rods,
    toe_of,
    with_corner,
)
from tests.oracles.five_rods import Array

UP = np.array([0.0, 0.0, 1.0])


def told(document: Document, board: Ref) -> BoardTold:
    return compute(document, {}, board_told, board)


def noisy(toe_deg: Array, size: float = 0.02) -> Array:
    return np.round(toe_deg + np.random.default_rng(5).normal(0.0, size, len(toe_deg)), 3)


@pytest.mark.parametrize(
    ("end", "link", "ref", "by"),
    [
        ("rear", "toe", "rear_toe_inner_L", 12.0),
        ("rear", "toe", "rear_toe_inner_L", -7.0),
        ("front", "tie", "steering_rack_L", 5.0),
    ],
)
def test_a_bracket_welded_too_high_is_found_and_ranked_first(
    end: str, link: str, ref: str, by: float
) -> None:
    """The link kept its length; the board reads 0.1 deg wrong all over."""
    read = toe_of(rods(end).inner_moved(link, by * UP)) + 0.1

    found = told(*board_of(read, end))

    first = found.suspects[0]
    assert (first.ref, first.way, first.link) == (point(ref), "up", "")
    assert first.off == pytest.approx(by, abs=0.02)
    assert first.correction == pytest.approx(-by, abs=0.02)
    assert found.suspects[0].is_alike
    assert found.drawn_chance < 1e-6


def test_by_noisy_readings_the_planted_error_is_within_what_is_said_of_it() -> None:
    read = noisy(toe_of(rods("rear").inner_moved("toe", 12.0 * UP)))

    found = told(*board_of(read))

    first = found.suspects[0]
    assert (first.ref, first.way) == (point("rear_toe_inner_L"), "up")
    assert abs(first.off - 12.0) < 4.0 * first.uncertainty
    assert found.verdict == "one"


def test_a_bracket_on_the_right_is_told_of_the_right_and_outboard_is_to_the_right() -> None:
    """Both sides of the demo car are mirror images, so the left wheel's toe is the right one's."""
    read = toe_of(rods("rear").inner_moved("lower_lateral", np.array([0.0, 6.0, 0.0])))

    left, right = (told(*board_of(read, "rear", side)) for side in ("left", "right"))

    one, other = (
        next(s for s in found.suspects if s.ref.id == point("rear_lower_lateral_inner_L").id
             and s.way == "outboard")
        for found in (left, right)
    )  # fmt: skip
    assert one.off == pytest.approx(6.0, abs=0.05)
    assert other.off == pytest.approx(one.off, abs=1e-4)
    assert other.ref.side == "right"


def test_the_faulty_demo_car_is_read_as_the_faulty_bracket() -> None:
    """The toe of the independent check for the bracket 12 mm high, at its own heights."""
    data = json.loads((HERE / "demo-car.json").read_text("utf-8"))
    wrong = next(each for each in data["seeded_faults"] if "12 mm high" in each["what"])
    toe = np.array(wrong["expected_results"]["rear/toe_in_deg"])
    heights = tuple(float(h) for h in expected("demo-car")["rear"]["bump"])

    found = told(*board_of(toe, "rear", "left", 0.05, heights))

    first = found.suspects[0]
    assert (first.ref, first.way) == (point("rear_toe_inner_L"), "up")
    assert first.off == pytest.approx(12.0, abs=0.3)


def test_a_length_that_is_off_is_told_in_turns_of_the_adjuster_that_sets_it() -> None:
    read = toe_of(rods("rear").longer({"lower_radius": 4.0}))
    document, board = board_of(read)
    document = with_corner("rear", document, adjusters=adjusters("rear", step=1.25))

    found = told(document, board)

    length = next(s for s in found.suspects if s.link == "lower_radius")
    assert length.is_alike
    assert length.off == pytest.approx(4.0, abs=0.05)
    assert length.adjuster == 2
    assert length.steps == pytest.approx(-4.0 / 1.25, abs=0.05)
    assert length.ref == point("rear_lower_radius_inner_L")


def test_a_height_is_told_in_shims_where_shims_move_the_point_up_or_down() -> None:
    read = toe_of(rods("rear").inner_moved("toe", 3.0 * UP))
    document, board = board_of(read)
    shims = Adjuster(
        point=point("rear_toe_inner_L"), least=0.0, most=9.0, how="shims", step=0.5,
        direction=Vec3(0.0, 0.0, -1.0),
    )  # fmt: skip
    document = with_corner("rear", document, adjusters=(shims,))

    first = told(document, board).suspects[0]

    assert (first.way, first.adjuster) == ("up", 0)
    assert first.steps == pytest.approx(6.0, abs=0.1)  # 3 mm down, 0.5 mm each


def test_a_corner_as_drawn_shows_nothing() -> None:
    assert told(*board_of(toe_of(rods("rear")) + 0.2)).verdict == "nothing shown"


def test_small_errors_read_badly_leave_several_that_cannot_be_told_apart() -> None:
    read = noisy(toe_of(rods("rear").inner_moved("toe", 3.0 * UP)), 0.05)

    found = told(*board_of(read, uncertainty_deg=0.05))

    assert found.verdict == "several"
    assert len(found.alike) > 3
    assert point("rear_toe_inner_L") in {each.ref for each in found.alike}
    assert found.suspects[: len(found.alike)] == found.alike


@pytest.mark.parametrize(
    ("heights", "doubt", "reason"),
    [
        ((), 0.02, "at 3 heights at least, and is at 0"),
        ((0.0, 10.0), 0.02, "and is at 2"),
        ((0.0, 10.0, 10.0, 0.0), 0.02, "and is at 2"),
        ((0.0, 10.0, 20.0), None, "how sure one reading is"),
        ((0.0, 10.0, 900.0), 0.02, "does not reach a height of 900"),
    ],
)
def test_too_few_readings_or_none_that_could_be_are_not_told(
    heights: tuple[float, ...], doubt: float | None, reason: str
) -> None:
    document, board = board_of(np.zeros(len(heights)), "rear", "left", doubt, heights)

    with pytest.raises(NotComputedError, match=reason):
        told(document, board)


def test_the_second_car_has_suspects_at_its_strut_and_pivot() -> None:
    for end, role in (("front", "strut_top"), ("rear", "arm_pivot")):
        document = second().drawn
        ref = corner(document, end)
        document, board = begin_board(document, ref)
        address = Address(Ref(board.id), "readings")
        readings = [{"height": h, "toe_in_deg": 0.01 * h} for h in (-40.0, -20.0, 0.0, 20.0, 40.0)]
        document = put_value(document, address, readings)
        document = put_value(document, Address(Ref(board.id), "uncertainty_deg"), 0.02)
        thing = Lookup(document).by_id[ref.id]
        assert isinstance(thing, Corner)

        suspects: tuple[Suspect, ...] = told(document, Ref(board.id)).suspects

        held = next(each.point for each in thing.points if each.role == role)
        assert held in {each.ref for each in suspects}


def test_the_corner_of_a_board_that_nothing_holds_is_not_told() -> None:
    document, board = board_of(np.zeros(7))
    document = with_corner("rear", document, links=(), adjusters=())

    with pytest.raises(NotComputedError, match="nothing is entered that holds"):
        told(document, board)
    assert demo().drawn is not document
