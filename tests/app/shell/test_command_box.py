"""The command box, by key and mouse."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from app.window import MainWindow
from core.document.lookup import Lookup
from tests.app.shell.plain_parts import PlainViews


def typed(window: MainWindow, words: str) -> list[str]:
    window.bound["find"].trigger()
    QTest.keyClicks(window.box.field, words)
    rows = window.box.rows
    return [rows.item(row).text() for row in range(rows.count())]


def enter(window: MainWindow) -> None:
    QTest.keyClick(window.box.field, Qt.Key.Key_Return)


def test_a_thing_is_found_by_its_name_chosen_and_gone_to(with_demo: MainWindow) -> None:
    views = with_demo.views
    assert isinstance(views, PlainViews)

    assert typed(with_demo, "m59 backstay_r")[0] == "M59_backstay_R"
    enter(with_demo)

    (ref,) = with_demo.selection.refs
    assert Lookup(with_demo.session.state.document).label(ref) == "M59_backstay_R"
    assert views.asked[-1] == "chosen"
    assert not with_demo.box.isVisible()


def test_things_are_found_by_words_of_the_other_country(with_demo: MainWindow) -> None:
    assert any("tyre" in name for name in typed(with_demo, "tire"))
    with_demo.box.shut()
    kinds = typed(with_demo, "knuckle")
    assert kinds == [] or all(kinds)


def test_an_action_is_found_by_another_word_and_done(window: MainWindow) -> None:
    assert typed(window, "night")[0] == "Dark"

    enter(window)

    assert window.look.theme == "dark"


def test_what_cannot_be_done_now_is_not_done(window: MainWindow) -> None:
    assert typed(window, "take out")[0] == "Take out"
    before = window.session.state

    enter(window)

    assert window.session.state is before


def test_rows_are_walked_by_keys_and_taken_by_mouse(window: MainWindow) -> None:
    typed(window, "view")
    QTest.keyClick(window.box.field, Qt.Key.Key_Down)
    assert window.box.rows.currentRow() == 1
    QTest.keyClick(window.box.field, Qt.Key.Key_Up)
    window.box.field.clear()
    QTest.keyClicks(window.box.field, "frame")
    rows = window.box.rows
    row = next(n for n in range(rows.count()) if rows.item(n).text() == "4 Frame")

    spot = rows.visualItemRect(rows.item(row)).center()
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=spot)

    assert window.selection.step == "frame"


def test_escape_closes_it_and_gives_the_keyboard_back(window: MainWindow) -> None:
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    window.first_run.hide()
    assert isinstance(window.travel, QWidget)
    before = window.travel.findChild(QPushButton)
    assert before is not None
    before.setFocus()

    typed(window, "anything at all")
    QTest.keyClick(window.box.field, Qt.Key.Key_Escape)

    assert not window.box.isVisible()
    assert window.focusWidget() is before


def test_it_says_so_when_nothing_is_found(window: MainWindow) -> None:
    assert typed(window, "zzzz") == []
    assert "«zzzz»" in window.box.hint.text()


def test_it_opens_by_both_of_its_keys(window: MainWindow, qtbot: QtBot) -> None:
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    for key, held in (
        (Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier),
        (Qt.Key.Key_Slash, Qt.KeyboardModifier.NoModifier),
    ):
        QTest.keyClick(window.focusWidget() or window, key, held)
        qtbot.waitUntil(window.box.isVisible)
        window.box.shut()
