"""What the menus do with what is chosen: one edit each, refusals in words, the car unharmed."""

import pytest

from app.window import MainWindow
from core.document.base import Ref
from core.document.lookup import Lookup
from core.edits.values import held_by
from core.engine.address import Address
from tests.app.shell.plain_parts import Answers


def choose(window: MainWindow, *names: str) -> tuple[Ref, ...]:
    lookup = Lookup(window.session.state.document)
    refs = tuple(lookup.find(name)[0] for name in names)
    window.selection.choose(*refs)
    return refs


def say(window: MainWindow, words: str) -> None:
    assert isinstance(window.asks, Answers)
    window.asks.line = words


def chosen_name(window: MainWindow) -> str:
    (ref,) = window.selection.refs
    return Lookup(window.session.state.document).label(ref)


def test_a_thing_is_called_otherwise_and_keeps_its_id(with_demo: MainWindow) -> None:
    (ref,) = choose(with_demo, "M20_screen_header")
    say(with_demo, "header")

    with_demo.bound["rename"].trigger()

    assert Lookup(with_demo.session.state.document).by_id[ref.id].name == "header"


def test_a_name_that_is_taken_is_refused_in_words(with_demo: MainWindow) -> None:
    choose(with_demo, "M20_screen_header")
    before = with_demo.session.state
    say(with_demo, "M60_H_cross")

    with_demo.bound["rename"].trigger()

    assert with_demo.session.state is before
    assert with_demo.notices.words


def test_a_tube_is_taken_out_and_comes_back_by_undo(with_demo: MainWindow) -> None:
    (ref,) = choose(with_demo, "M20_screen_header")
    before = with_demo.session.history.present

    with_demo.bound["delete"].trigger()

    assert ref.id not in Lookup(with_demo.session.state.document).by_id
    assert with_demo.selection.refs == ()
    with_demo.bound["undo"].trigger()
    assert with_demo.session.history.present == before


def test_what_others_hang_on_is_taken_out_with_them_only_when_that_is_said(
    with_demo: MainWindow,
) -> None:
    (ref,) = choose(with_demo, "K_L")
    before = with_demo.session.state

    with_demo.bound["delete"].trigger()
    assert with_demo.session.state is before
    assert "used by" in with_demo.notices.words

    with_demo.notices.way.click()
    assert ref.id not in Lookup(with_demo.session.state.document).by_id


def test_a_place_is_held_with_a_reason_and_set_free(with_demo: MainWindow) -> None:
    (ref,) = choose(with_demo, "K_L")
    say(with_demo, "the jig post stands there")

    with_demo.bound["hold"].trigger()
    address = Address(ref, "at")
    assert held_by(with_demo.session.state.document, address) == "the jig post stands there"

    with_demo.bound["set_free"].trigger()
    assert held_by(with_demo.session.state.document, address) is None


def test_the_other_side_is_chosen(with_demo: MainWindow) -> None:
    (ref,) = choose(with_demo, "K_L")

    with_demo.bound["other_side"].trigger()

    assert with_demo.selection.refs == (Ref(ref.id, "right"),)


def test_a_tube_is_put_between_two_joints_on_both_sides(with_demo: MainWindow) -> None:
    start, end = choose(with_demo, "K_L", "J_L")
    count = len(with_demo.session.state.document.tubes)

    with_demo.bound["make_tube"].trigger()

    tubes = with_demo.session.state.document.tubes
    assert len(tubes) == count + 1
    assert (tubes[-1].start, tubes[-1].end) == (start, end)
    assert tubes[-1].pair
    assert with_demo.selection.refs == (Ref(tubes[-1].id, "left"),)


def test_a_tube_from_side_to_side_is_a_single_one(with_demo: MainWindow) -> None:
    choose(with_demo, "K_L", "K_R")

    with_demo.bound["make_tube"].trigger()

    assert not with_demo.session.state.document.tubes[-1].pair


def test_a_joint_is_put_half_way_along_a_tube_and_the_tube_parted_there(
    with_demo: MainWindow,
) -> None:
    (ref,) = choose(with_demo, "M26_sill_L")
    count = len(with_demo.session.state.document.tubes)

    with_demo.bound["make_joint"].trigger()
    point = with_demo.session.state.document.points[-1]
    assert point.along is not None
    assert point.along.tube == ref

    with_demo.bound["cut_tube"].trigger()
    assert len(with_demo.session.state.document.tubes) == count + 1
    assert with_demo.notices.words == ""


@pytest.mark.parametrize(
    ("action", "name"),
    [("make_joint", "K_L"), ("cut_tube", "M26_sill_L"), ("hold", "M26_sill_L")],
)
def test_what_does_not_fit_the_thing_is_refused_in_words(
    with_demo: MainWindow, action: str, name: str
) -> None:
    choose(with_demo, name)
    before = with_demo.session.state

    with_demo.bound[action].trigger()

    assert with_demo.session.state is before
    assert with_demo.notices.words


def test_a_pair_is_no_pair_twice(with_demo: MainWindow) -> None:
    choose(with_demo, "K_L")

    with_demo.bound["make_pair"].trigger()

    assert "already" in with_demo.notices.words


def test_a_copy_has_its_own_name(with_demo: MainWindow) -> None:
    choose(with_demo, "M20_screen_header")
    say(with_demo, "second header")

    with_demo.bound["make_copy"].trigger()

    assert chosen_name(with_demo) == "second header"


def test_without_a_section_no_tube_can_be_made(window: MainWindow) -> None:
    window.selection.choose(Ref("point1"), Ref("point2"))

    window.bound["make_tube"].trigger()

    assert "section" in window.notices.words
