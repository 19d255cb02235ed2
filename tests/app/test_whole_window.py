"""The whole program as a person meets it: real parts, a real screen, real mouse and keys."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from app.divided import division
from app.look.look import Look, Theme
from app.look.tokens import DARK, LIGHT
from app.panels.curves import CurvesPanel
from app.panels.links import LinksPanel
from app.panels.step import StepPanel
from app.pose import Pose
from app.scene.views import CarViews
from app.selection import Selection
from app.session import Session
from app.settings import Settings
from app.window import MainWindow
from tests.app.shell.plain_parts import Answers, answer_with

LONG = 20_000
SECOND = Path(__file__).resolve().parents[1] / "cars" / "second-car.jigplate"


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    made = MainWindow(Session(), Selection(), Look("light"), Settings(tmp_path))
    answer_with(made, Answers(made.look, made))
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()


def picture(window: MainWindow) -> QImage:
    return window.grab().toImage()


def colours(image: QImage) -> int:
    """How many colours there are in the middle of the car's area."""
    return len({image.pixel(x, y) for x in range(200, 900, 7) for y in range(120, 640, 7)})


def test_it_begins_with_an_empty_car_without_a_complaint(window: MainWindow) -> None:
    assert QGuiApplication.platformName() == "xcb"  # no other shows three dimensions
    window.begin()
    window.first_run.buttons["empty"].click()
    QTest.qWait(50)

    assert window.isVisible()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_demo_car_is_drawn(window: MainWindow, qtbot: QtBot, theme: Theme) -> None:
    window.begin()
    window.look.set_theme(theme)

    window.first_run.buttons["demo"].click()

    qtbot.waitUntil(lambda: colours(picture(window)) > 200, timeout=LONG)
    corner = picture(window).pixelColor(4, 4).name().upper()
    assert corner == (DARK if theme == "dark" else LIGHT)["page"]


def test_no_part_asks_for_more_than_a_small_window_has(window: MainWindow, qtbot: QtBot) -> None:
    window.files.open_demo()
    qtbot.waitUntil(lambda: window.divided.width() == 1280)

    assert window.width() == 1280
    assert window.height() == 800
    order, car, panel = window.divided.columns.sizes()
    assert abs(order - 150) <= 2
    assert abs(panel - 316) <= 2
    assert car >= 800


def test_every_part_can_be_reached_by_key(window: MainWindow) -> None:
    window.files.open_demo()
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    assert isinstance(window.travel, QWidget)
    places = [window.order, window.centre, window.right, window.travel, window.gauges]
    seen: set[int] = set()

    for _ in places:
        QTest.keyClick(window.focusWidget() or window, Qt.Key.Key_F6)
        seen |= {n for n, place in enumerate(places) if place.isAncestorOf(window.focusWidget())}

    assert seen == {0, 1, 2, 3, 4}


def test_a_gauge_takes_the_window_to_its_worst_place(window: MainWindow, qtbot: QtBot) -> None:
    window.files.open_demo()
    middle = QPoint(window.gauges.width() // 2, window.gauges.height() // 2)
    target = window.gauges.childAt(middle)
    assert target is not None

    with qtbot.waitSignal(window.selection.looked_at, timeout=LONG):
        QTest.mouseClick(target, Qt.MouseButton.LeftButton)

    assert window.selection.refs


def test_choosing_shows_details_and_letting_go_shows_the_step(window: MainWindow) -> None:
    window.files.open_demo()
    tube = window.session.state.scene.tubes[0].ref

    pages: list[str] = []

    for refs in ((tube,), ()):
        window.selection.choose(*refs)
        pages.append(window.right.page)

    assert pages == ["details", "step"]


def test_a_limit_that_is_missing_is_typed_where_the_links_panel_sends_one(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.files.open_path(SECOND)
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    assert isinstance(window.panel, StepPanel)
    window.panel.go_to_part("links")
    links = next(panel for panel in window.findChildren(LinksPanel) if panel.isVisible())
    row = links.joints.rows[0]
    qtbot.waitUntil(row.enter.isVisible)

    QTest.mouseClick(row.enter, Qt.MouseButton.LeftButton)

    assert window.right.page == "details"
    focus = window.focusWidget()
    assert isinstance(focus, QPushButton)
    assert focus.text() == "Enter it"
    assert window.selection.refs == (row.line.end,) if row.line else ()


def test_the_curves_are_read_where_the_strip_stands(window: MainWindow) -> None:
    window.files.open_demo()
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    QTest.keyClick(window.focusWidget() or window, Qt.Key.Key_C)
    assert isinstance(window.curves, CurvesPanel)
    assert window.curves.isVisible()
    row = window.curves.plots.row
    assert row is not None

    QTest.keyClick(row.plots[0], Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert Pose.of(window.selection).bump == 10.0
    cursor = row.plots[2].cursor_along
    assert cursor is not None
    assert cursor.left == pytest.approx(10.0, abs=1e-3)
    assert all(plot.height() >= plot.minimumSizeHint().height() for plot in row.plots)


def test_it_closes_and_opens_again_in_one_process(qtbot: QtBot, tmp_path: Path) -> None:
    for number in range(2):
        window = MainWindow(Session(), Selection(), Look("dark"), Settings(tmp_path / str(number)))
        window.resize(1280, 800)
        window.show()
        window.files.open_demo()
        qtbot.waitExposed(window)
        QTest.mouseClick(window.centre, Qt.MouseButton.LeftButton, pos=QPoint(300, 300))
        QTest.qWait(100)
        assert window.close()
        window.deleteLater()


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_at_every_scale_the_parts_keep_their_share_and_no_words_overlap(
    window: MainWindow, scale: float
) -> None:
    window.files.open_demo()
    window.look.set_scale(scale)
    QTest.qWait(100)

    usual = division(window.divided.width(), scale)
    order, car, panel = window.divided.columns.sizes()
    assert abs(order - usual.order) <= 2
    assert abs(panel - usual.panel) <= 2
    assert car >= window.width() // 3
    views = window.centre.findChild(CarViews)
    assert views is not None
    words = [*views.view_words.values(), *views.group_words.values()]
    boxes = [word.geometry() for word in words]
    assert not any(a.intersects(b) for a in boxes for b in boxes if a is not b)
    assert all(word.width() >= word.sizeHint().width() for word in words)
    assert all(box.left() >= 0 and box.right() < views.width() for box in boxes)
