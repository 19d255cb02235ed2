"""The window: its division, its keys, what it remembers, and that it never loses work."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.divided import division
from app.look.tokens import DARK, LIGHT
from app.recovery import left_behind
from app.settings import Settings
from app.window import MainWindow
from app.words import Pages
from core.document.base import Ref
from core.edits.things import rename
from tests.app.shell.conftest import MakeWindow
from tests.app.shell.plain_parts import Answers, PlainViews


def change(window: MainWindow, name: str = "Another") -> None:
    car = window.session.state.document.cars[0].id
    window.session.apply("Call the car otherwise", lambda d: rename(d, car, name))


def answers(window: MainWindow) -> Answers:
    assert isinstance(window.asks, Answers)
    return window.asks


def key(window: MainWindow, key: Qt.Key, *held: Qt.KeyboardModifier) -> None:
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    modifiers = Qt.KeyboardModifier.NoModifier
    for one in held:
        modifiers |= one
    QTest.keyClick(window.focusWidget() or window, key, modifiers)


CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def test_the_tests_have_a_real_screen() -> None:
    assert QGuiApplication.platformName() == "xcb"
    assert QGuiApplication.primaryScreen().size().width() >= 1280


@pytest.mark.parametrize(
    ("size", "order", "panel", "travel"),
    [((1280, 800), 150, 316, 122), ((1600, 900), 216, 392, 140), ((1920, 1080), 232, 424, 156)],
)
def test_the_window_is_divided_as_fits_its_size(
    window: MainWindow, qtbot: QtBot, size: tuple[int, int], order: int, panel: int, travel: int
) -> None:
    window.resize(*size)
    qtbot.waitUntil(lambda: window.width() == size[0])

    columns, rows = window.divided.columns.sizes(), window.divided.rows.sizes()
    assert abs(columns[0] - order) <= 2
    assert abs(columns[2] - panel) <= 2
    assert abs(rows[-1] - travel) <= 2
    assert window.top.height() == 44


@pytest.mark.parametrize("width", [960, 1280, 1920, 3840])
@pytest.mark.parametrize("scale", [0.9, 1.0, 1.5, 2.0])
def test_the_car_keeps_a_third_of_the_window_at_every_scale(width: int, scale: float) -> None:
    usual = division(width, scale)

    assert width - usual.order - usual.panel >= width // 3 - 1


def test_the_menus_fold_when_the_window_is_narrow(window: MainWindow, qtbot: QtBot) -> None:
    assert window.top.folded.isVisible()
    assert not window.top.bar.isVisible()

    window.resize(1600, 900)

    qtbot.waitUntil(window.top.bar.isVisible)
    assert not window.top.folded.isVisible()


def test_undo_and_redo_go_by_keys(window: MainWindow) -> None:
    change(window)
    assert window.bound["undo"].text() == "Undo: Call the car otherwise"

    key(window, Qt.Key.Key_Z, CTRL)
    assert window.session.state.document.cars[0].name == "Unnamed car"

    key(window, Qt.Key.Key_Z, CTRL, SHIFT)
    assert window.session.state.document.cars[0].name == "Another"


def test_unsaved_work_is_marked_until_it_is_undone(window: MainWindow) -> None:
    assert window.windowTitle() == "Unnamed car - Jigplate"

    change(window)
    assert window.windowTitle() == "Another, unsaved - Jigplate"

    window.session.undo()
    assert window.windowTitle() == "Unnamed car - Jigplate"


def test_keys_go_round_the_parts_of_the_window(window: MainWindow) -> None:
    window.centre.setCurrentIndex(0)
    assert isinstance(window.travel, QWidget)
    places = [window.order, window.centre, window.right, window.travel, window.gauges]
    window.order.setFocus()
    seen = []

    for _ in range(6):
        key(window, Qt.Key.Key_F6)
        focus = window.focusWidget()
        seen.append(next(n for n, place in enumerate(places) if place.isAncestorOf(focus)))

    assert seen == [1, 2, 3, 4, 0, 1]
    key(window, Qt.Key.Key_F6, SHIFT)
    assert window.order.isAncestorOf(window.focusWidget())


def test_steps_and_scale_go_by_keys(window: MainWindow) -> None:
    key(window, Qt.Key.Key_4, CTRL)
    assert window.selection.step == "frame"

    key(window, Qt.Key.Key_Equal, CTRL)
    assert window.look.scale == pytest.approx(1.1)
    key(window, Qt.Key.Key_0, CTRL)
    assert window.look.scale == 1.0


def test_a_letter_typed_into_a_field_is_no_shortcut(with_demo: MainWindow) -> None:
    first = with_demo.session.state.document.points[0]
    with_demo.selection.choose(Ref(first.id, "left" if first.pair else "one"))
    key(with_demo, Qt.Key.Key_K, CTRL)

    QTest.keyClicks(with_demo.box.field, "m.t/")

    assert with_demo.box.field.text() == "m.t/"
    assert with_demo.selection.refs == (Ref(first.id, "left" if first.pair else "one"),)
    key(with_demo, Qt.Key.Key_Escape)


def test_views_are_asked_by_actions(window: MainWindow) -> None:
    views = window.views
    assert isinstance(views, PlainViews)
    views.asked.clear()

    window.bound["view_plan"].trigger()
    key(window, Qt.Key.Key_F)

    assert views.asked == ["plan", "fit"]


def test_the_next_place_to_look_at_is_chosen_and_gone_to(
    with_demo: MainWindow, qtbot: QtBot
) -> None:
    found = with_demo.session.state.findings
    open_ones = [f for f in found if f.verdict != "fine" and not f.accepted]
    assert len(open_ones) >= 2

    with qtbot.waitSignal(with_demo.selection.looked_at) as caught:
        key(with_demo, Qt.Key.Key_F4)
    assert caught.args == [open_ones[0]]
    assert with_demo.selection.refs == open_ones[0].subjects

    with qtbot.waitSignal(with_demo.selection.looked_at) as caught:
        key(with_demo, Qt.Key.Key_F4, SHIFT)
    assert caught.args == [open_ones[-1]]


def test_the_theme_changes_the_whole_window(window: MainWindow) -> None:
    def page() -> str:
        return window.grab().toImage().pixelColor(4, 4).name().upper()

    assert page() == LIGHT["page"]

    window.bound["dark"].trigger()

    assert page() == DARK["page"]


def test_look_and_layout_are_remembered(
    make_window: MakeWindow, settings: Settings, qtbot: QtBot
) -> None:
    first = make_window()
    first.resize(1500, 850)
    first.bound["larger"].trigger()
    first.divided.columns.setSizes([300, 700, 500])
    first.divided.columns.splitterMoved.emit(300, 1)
    wanted = first.divided.columns.sizes()
    first.close()

    second = make_window()
    second.resize(1500, 850)
    qtbot.waitUntil(lambda: second.divided.columns.sizes() == wanted)

    assert settings.values.scale == pytest.approx(1.1)
    second.bound["usual_layout"].trigger()
    assert second.divided.columns.sizes() != wanted


def test_closing_asks_about_unsaved_work_and_stays_when_told_to(window: MainWindow) -> None:
    change(window)
    answers(window).unsaved_answer = "keep"

    assert not window.close()

    assert window.isVisible()
    assert answers(window).asked[-1] == "unsaved Another"
    answers(window).unsaved_answer = "drop"


def test_closing_saves_when_told_to(window: MainWindow, tmp_path: Path) -> None:
    change(window)
    answers(window).unsaved_answer = "save"
    answers(window).path = tmp_path / "mine.jigplate"

    assert window.close()

    assert b'"Another"' in (tmp_path / "mine.jigplate").read_bytes()


def test_closing_stays_open_when_saving_fails(window: MainWindow, tmp_path: Path) -> None:
    change(window)
    answers(window).unsaved_answer = "save"
    (tmp_path / "nowhere").write_text("a file where the folder should be")
    answers(window).path = tmp_path / "nowhere" / "mine.jigplate"

    assert not window.close()

    assert "could not be saved" in window.notices.words
    assert window.session.is_changed
    answers(window).unsaved_answer = "drop"


def test_closing_lets_go_of_the_views_and_of_the_worker(window: MainWindow) -> None:
    views = window.views
    assert isinstance(views, PlainViews)

    assert window.close()

    assert views.asked[-1] == "closed"


def test_nothing_is_asked_when_there_is_nothing_to_lose(window: MainWindow) -> None:
    assert window.close()
    assert answers(window).asked == []


def test_words_to_read_open_over_the_window_and_close(window: MainWindow, qtbot: QtBot) -> None:
    for name in ("not_looked_at", "keys", "about"):
        window.bound[name].trigger()
        page = window.findChild(Pages)
        assert page is not None
        qtbot.waitUntil(page.isVisible)
        page.accept()
        qtbot.waitUntil(lambda: window.findChild(Pages) is None)


def test_leaving_at_once_keeps_the_work_for_the_next_start(window: MainWindow) -> None:
    change(window)

    window.leave_at_once()

    assert [kept.name for kept in left_behind(window.settings.recovery)] == ["Another"]
    assert answers(window).asked == []
