"""The curves between car and strip: asked for, put away, given room, remembered."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.divided import curves_height
from app.settings import Settings
from app.window import MainWindow
from core.document.base import Ref
from core.engine.address import Address
from tests.app.shell.conftest import MakeWindow
from tests.app.shell.plain_parts import PlainCurves, PlainDetails


def key(window: MainWindow, key: Qt.Key) -> None:
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    QTest.keyClick(window.focusWidget() or window, key)


def dock(window: MainWindow) -> QWidget:
    assert isinstance(window.curves, PlainCurves)
    return window.curves


def test_the_curves_are_hidden_until_they_are_asked_for(with_demo: MainWindow) -> None:
    assert not dock(with_demo).isVisible()
    assert with_demo.divided.rows.sizes()[1] == 0

    key(with_demo, Qt.Key.Key_C)
    assert dock(with_demo).isVisible()
    assert dock(with_demo).isAncestorOf(with_demo.focusWidget())

    key(with_demo, Qt.Key.Key_C)
    assert not dock(with_demo).isVisible()


def test_their_own_word_puts_them_away_and_the_keyboard_goes_to_the_car(
    with_demo: MainWindow,
) -> None:
    with_demo.selection.curves_wanted.emit()
    assert dock(with_demo).isVisible()

    assert isinstance(with_demo.curves, PlainCurves)
    with_demo.curves.closed.emit()

    assert not dock(with_demo).isVisible()
    focus: object = with_demo.focusWidget()
    assert focus is with_demo.views


@pytest.mark.parametrize(
    ("size", "least", "most"),
    [((1280, 800), 230, 264), ((1600, 900), 240, 264), ((1920, 1080), 240, 264)],
)
def test_they_take_their_room_from_the_car_and_the_strip_keeps_its_own(
    with_demo: MainWindow, qtbot: QtBot, size: tuple[int, int], least: int, most: int
) -> None:
    with_demo.resize(*size)
    qtbot.waitUntil(lambda: with_demo.width() == size[0])
    car, _, strip = with_demo.divided.rows.sizes()

    with_demo.curves_or_not()

    rows = with_demo.divided.rows.sizes()
    assert least <= rows[1] <= most
    assert abs(rows[2] - strip) <= 1
    assert abs(rows[0] + rows[1] - car) <= 2
    with_demo.curves_or_not()
    assert abs(with_demo.divided.rows.sizes()[0] - car) <= 2


def test_in_a_low_window_they_leave_the_car_more_than_they_take() -> None:
    for height in range(400, 816, 20):
        above = height - 122
        assert curves_height(height, 122, 1.0) < above / 2
    assert curves_height(816, 122, 1.0) == 240
    assert curves_height(1036, 156, 1.0) == 264


def test_they_are_remembered_with_their_height(
    make_window: MakeWindow, settings: Settings, qtbot: QtBot
) -> None:
    first = make_window()
    first.files.open_demo()
    first.curves_or_not()
    car, curves, strip = first.divided.rows.sizes()
    first.divided.rows.setSizes([car - 40, curves + 40, strip])
    first.divided.rows.splitterMoved.emit(car - 40, 1)
    wanted = first.divided.rows.sizes()
    first.close()

    second = make_window()
    qtbot.waitUntil(lambda: second.divided.shows_curves)
    qtbot.waitUntil(lambda: second.divided.rows.sizes()[1:] == wanted[1:])
    assert settings.values.layout.shows_curves
    second.bound["usual_layout"].trigger()
    assert second.divided.rows.sizes()[1] < wanted[1]
    second.curves_or_not()
    second.close()
    assert not settings.values.layout.shows_curves


def test_a_layout_of_before_there_were_curves_is_read(settings: Settings) -> None:
    settings.folder.mkdir(parents=True)
    settings.file.write_text('{"layout": {"columns": [150, 800, 330], "rows": [600, 150]}}')

    layout = Settings(settings.folder).values.layout

    assert layout.rows == (600, 150)
    assert not layout.shows_curves


def test_a_figure_that_is_wanted_is_gone_to_in_the_details(with_demo: MainWindow) -> None:
    first = with_demo.session.state.document.points[0]
    ref = Ref(first.id, "left" if first.pair else "one")

    with_demo.selection.figure_wanted.emit(Address(ref, "joint.tilt_limit_deg"))

    assert with_demo.selection.refs == (ref,)
    assert with_demo.right.page == "details"
    assert isinstance(with_demo.details, PlainDetails)
    assert with_demo.details.asked == ["type joint.tilt_limit_deg"]
