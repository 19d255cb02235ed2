"""What the menus do with what is chosen: one edit each, refusals in words, the car unharmed."""

import pytest

from app.window import MainWindow
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.project import Document
from core.edits.refusals import HeldError
from core.edits.things import delete
from core.edits.unit import HELD_BY_SHAFTS, set_driven_wheels_free
from core.edits.values import change, held_by, hold
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


def test_a_copy_has_a_name_of_its_own_and_is_chosen(with_demo: MainWindow) -> None:
    choose(with_demo, "M20_screen_header")
    before = with_demo.session.history.present

    with_demo.bound["make_copy"].trigger()
    assert chosen_name(with_demo) == "M20_screen_header 2"
    with_demo.bound["make_copy"].trigger()
    assert chosen_name(with_demo) == "M20_screen_header 3"

    for _ in range(2):
        with_demo.bound["undo"].trigger()
    assert with_demo.session.history.present == before
    assert with_demo.selection.refs == ()


def test_what_is_gone_is_not_chosen_any_more(with_demo: MainWindow) -> None:
    tube, point = choose(with_demo, "M20_screen_header", "K_L")

    with_demo.session.apply("Take out", lambda d: delete(d, tube.id, with_dependents=True))

    assert with_demo.selection.refs == (point,)


def test_the_width_is_settled_once_and_then_it_is_said_so(with_demo: MainWindow) -> None:
    corner = with_demo.session.state.document.drive_shafts[0].corner
    face = Address(corner, "upright.hub_face.y")
    with_demo.session.apply("Let go", set_driven_wheels_free)
    assert held_by(with_demo.session.state.document, face) is None

    with_demo.bound["settle_width"].trigger()
    assert held_by(with_demo.session.state.document, face) == HELD_BY_SHAFTS
    assert "held where the drive shafts let them" in with_demo.notices.words

    before = with_demo.session.state
    with_demo.bound["settle_width"].trigger()
    assert with_demo.session.state is before
    assert "already" in with_demo.notices.words


def test_settling_the_width_of_an_empty_car_is_not_offered(window: MainWindow) -> None:
    assert not window.bound["settle_width"].isEnabled()


def test_a_refusal_speaks_of_heights_and_not_of_dots(with_demo: MainWindow) -> None:
    (ref,) = choose(with_demo, "K_L")
    height = Address(ref, "at.z")
    with_demo.session.apply("Hold", lambda d: hold(d, height, "the jig post stands there"))

    with pytest.raises(HeldError, match="^Height of K_L is held: the jig post stands there"):
        with_demo.session.apply("Move", lambda d: put_at(d, height, 1.0))


def put_at(document: Document, address: Address, value: float) -> Document:
    return change(document, address, value)


def test_without_a_section_no_tube_can_be_made(window: MainWindow) -> None:
    window.selection.choose(Ref("point1"), Ref("point2"))

    window.bound["make_tube"].trigger()

    assert "section" in window.notices.words
