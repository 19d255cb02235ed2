"""The right column, the tray under the car, and what actions bring into them."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.window import MainWindow
from core.document.base import Ref
from tests.app.shell.plain_parts import (
    PlainDetails,
    PlainThings,
    PlainTravel,
    PlainTubes,
    PlainViews,
)


def page(window: MainWindow) -> str:
    return window.right.page


def asked(part: object) -> list[str]:
    assert isinstance(part, PlainDetails | PlainThings | PlainTubes | PlainViews)
    return part.asked


@pytest.mark.parametrize("name", ["step", "details", "tubes"])
def test_a_word_brings_its_page_to_the_front(window: MainWindow, name: str) -> None:
    word = next(tab for key, tab in window.right.tabs.items() if key == name)

    QTest.mouseClick(word, Qt.MouseButton.LeftButton)

    assert page(window) == name
    assert [tab.isChecked() for tab in window.right.tabs.values()].count(True) == 1
    assert word.isChecked()


def test_tools_stay_in_front_while_they_are_in_use_and_give_way_after(window: MainWindow) -> None:
    window.bound["draw_tube"].trigger()
    assert asked(window.tubes) == ["tube"]
    assert page(window) == "tubes"
    assert isinstance(window.tubes, PlainTubes)

    window.tubes.busy = True
    window.selection.choose(Ref("point1"))
    assert page(window) == "tubes"
    window.tubes.busy = False
    window.selection.choose(Ref("point2"))

    assert page(window) == "details"


def test_a_place_to_look_at_brings_the_step_back(window: MainWindow) -> None:
    window.bound["bought_parts"].trigger()
    assert page(window) == "bought"
    assert window.right.head.text() == "Bought parts"
    assert not any(tab.isVisible() for tab in window.right.tabs.values())

    window.selection.go_to("frame")

    assert page(window) == "step"
    assert all(tab.isVisible() for tab in window.right.tabs.values())


def test_a_list_is_closed_by_its_button(window: MainWindow) -> None:
    window.bound["bought_parts"].trigger()

    QTest.mouseClick(window.right.shut, Qt.MouseButton.LeftButton)

    assert page(window) == "step"


def test_a_list_opens_in_the_tray_and_escape_closes_it(with_demo: MainWindow) -> None:
    with_demo.bound["list_limits"].trigger()

    assert asked(with_demo.things) == ["list limits"]
    assert with_demo.tray.title.text() == "All limits of the car"
    assert with_demo.tray.isVisible()
    assert with_demo.centre.height() - with_demo.tray.height() >= 180, "the car stays in sight"
    QTest.keyClick(with_demo.tray, Qt.Key.Key_Escape)
    assert not with_demo.tray.isVisible()


def test_donors_beside_one_another_open_in_the_tray_and_a_list_takes_their_place(
    with_demo: MainWindow,
) -> None:
    with_demo.bound["compare_donors"].trigger()

    assert with_demo.tray.isVisible()
    assert with_demo.tray.title.text() == "Donor corners beside one another"
    assert with_demo.donors.isVisible()
    assert isinstance(with_demo.things, PlainThings)
    assert not with_demo.things.isVisible()
    assert asked(with_demo.things) == []
    with_demo.bound["list_limits"].trigger()
    assert with_demo.things.isVisible()
    assert not with_demo.donors.isVisible()
    QTest.keyClick(with_demo.tray, Qt.Key.Key_Escape)
    assert not with_demo.tray.isVisible()


def test_every_kind_that_can_be_made_opens_its_form(with_demo: MainWindow) -> None:
    for action in with_demo.bound.records:
        if action.id.startswith("make_") and action.group:
            with_demo.bound[action.id].trigger()

            assert asked(with_demo.things)[-1] == f"make {action.id.removeprefix('make_')}"


def test_another_car_closes_the_tray(with_demo: MainWindow) -> None:
    with_demo.bound["list_everything"].trigger()

    with_demo.files.new()

    assert not with_demo.tray.isVisible()


def test_a_new_thing_can_be_asked_for_while_the_beginning_is_shown(window: MainWindow) -> None:
    window.welcome()

    window.bound["make_notes"].trigger()

    assert not window.first_run.isVisible()
    assert window.tray.isVisible()


def test_taking_out_and_naming_go_to_the_details(with_demo: MainWindow) -> None:
    with_demo.selection.choose(Ref(with_demo.session.state.document.tubes[0].id))

    with_demo.bound["delete"].trigger()
    with_demo.bound["rename"].trigger()

    assert asked(with_demo.details) == ["take out", "rename"]
    assert page(with_demo) == "details"


def test_less_motion_is_remembered(window: MainWindow) -> None:
    window.bound["less_motion"].trigger()
    assert window.settings.values.less_motion
    assert asked(window.views)[-1] == "less motion"
    assert isinstance(window.travel, PlainTravel)
    assert not window.travel.may_move

    window.bound["less_motion"].trigger()

    assert not window.settings.values.less_motion
    assert asked(window.views)[-1] == "motion"


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_the_beginning_asks_for_no_more_width_than_there_is(
    window: MainWindow, scale: float
) -> None:
    window.look.set_scale(scale)
    QTest.qWait(10)

    assert window.centre.minimumSizeHint().width() <= 1280 // 3
    assert window.width() == 1280
