"""In the whole window, by real keys alone: things are made, changed, copied and taken out."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.details import Details
from app.panels.things import Things
from app.scene.view import CarView
from app.selection import Selection
from app.session import Session
from app.settings import Settings
from app.widgets.figure_line import FigureLine
from app.widgets.text_field import TextField
from app.window import MainWindow
from core.document.base import Entity, Ref, Vec3
from core.document.lookup import Lookup
from core.document.steel import Point
from tests.app.real_keys import CTRL, Hands
from tests.app.shell.plain_parts import Answers, answer_with


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    made = MainWindow(Session(), Selection(), Look("light"), Settings(tmp_path))
    answer_with(made, Answers(made.look, made))
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    made.files.open_demo()
    yield made
    made.close()


@pytest.fixture
def hands(window: MainWindow) -> Hands:
    return Hands(window)


def newest(window: MainWindow, field: str) -> Any:  # noqa: ANN401 - of whatever kind it is
    return getattr(window.session.state.document, field)[-1]


def ref(window: MainWindow, name: str) -> Ref:
    return Lookup(window.session.state.document).find(name)[0]


def thing(window: MainWindow, name: str) -> Entity | None:
    lookup = Lookup(window.session.state.document)
    return next((t for t in lookup.by_id.values() if t.name == name), None)


def page(window: MainWindow) -> str:
    return window.right.page


MAKINGS: dict[str, tuple[str, dict[str, str]]] = {
    "points": (
        "new point",
        {"name": "p", "place, x ahead": "-900", "place, y left": "30*10", "place, z up": "500"},
    ),
    "tubes": ("draw a tube", {"from": "K_L", "to": "K_R", "name": "t"}),
    "brackets": ("new bracket", {"carries": "A_low_L", "stands on": "K_L", "name": "b"}),
    "mounts": (
        "new mount",
        {
            "place on the engine and gearbox, x ahead": "10",
            "place on the engine and gearbox, y left": "20",
            "place on the engine and gearbox, z up": "30",
            "on tube joint": "K_L",
            "name": "m",
        },
    ),
    "obstacles": (
        "new obstacle",
        {
            "name": "o",
            "rear right bottom corner, x ahead": "0",
            "rear right bottom corner, y left": "0",
            "rear right bottom corner, z up": "0",
            "front left top corner, x ahead": "100",
            "front left top corner, y left": "100",
            "front left top corner, z up": "1 in",
        },
    ),
    "parts": ("new part", {"name": "q"}),
    "limits": ("new limit", {"name": "l", "rule": "angle left", "value": "3.5"}),
    "notes": ("new note", {"name": "n", "text": "because it fits"}),
    "datums": (
        "new datum",
        {"name": "d", "measured from": "K_L", "ahead of it": "J_L", "to its left": "K_R"},
    ),
    "keep_outs": (
        "new keep out",
        {
            "name": "k",
            "rear right bottom corner, x ahead": "0",
            "rear right bottom corner, y left": "0",
            "rear right bottom corner, z up": "0",
            "front left top corner, x ahead": "50",
            "front left top corner, y left": "50",
            "front left top corner, z up": "50",
        },
    ),
}


@pytest.mark.parametrize("field", MAKINGS)
def test_a_new_thing_is_made_by_keys_alone_and_undone(
    window: MainWindow, hands: Hands, field: str
) -> None:
    typed, values = MAKINGS[field]
    before = window.session.state.document
    count = len(getattr(before, field))

    hands.find(typed)
    hands.fill(values)

    made = getattr(window.session.state.document, field)
    assert len(made) == count + 1
    assert made[-1].name == values["name"]
    window.bound["undo"].trigger()
    assert window.session.state.document == before


def test_what_is_made_holds_what_was_typed(window: MainWindow, hands: Hands) -> None:
    for field in ("points", "tubes", "obstacles", "datums", "limits"):
        typed, values = MAKINGS[field]
        hands.find(typed)
        hands.fill(values)
        for _ in range(2):
            hands.press(Qt.Key.Key_Escape)

    assert newest(window, "points").at == Vec3(-900.0, 300.0, 500.0)
    tube = newest(window, "tubes")
    assert (tube.start, tube.end) == (ref(window, "K_L"), ref(window, "K_R"))
    assert newest(window, "obstacles").box.high == Vec3(100.0, 100.0, 25.4)
    limit = newest(window, "limits")
    assert newest(window, "datums").aside == ref(window, "K_R")
    assert limit.value == 3.5
    assert (limit.rule, limit.unit) == ("joint_angle", "deg")


def test_a_tube_is_drawn_between_joints_chosen_while_its_form_is_open(
    window: MainWindow, hands: Hands
) -> None:
    hands.find("draw a tube")

    window.selection.choose(ref(window, "K_L"))
    assert page(window) == "tubes"
    window.selection.choose(ref(window, "J_L"))
    hands.press(Qt.Key.Key_Return)

    tube = newest(window, "tubes")
    assert (tube.start, tube.end, tube.pair) == (ref(window, "K_L"), ref(window, "J_L"), True)
    assert page(window) == "tubes"


def test_escape_leaves_the_form_and_then_the_tools(window: MainWindow, hands: Hands) -> None:
    hands.find("new bracket")
    assert page(window) == "tubes"

    hands.press(Qt.Key.Key_Escape)
    assert page(window) == "tubes"
    hands.press(Qt.Key.Key_Escape)

    assert page(window) == "step"


def test_escape_leaves_the_form_and_then_the_table(window: MainWindow, hands: Hands) -> None:
    hands.find("new limit")
    assert window.tray.isVisible()

    hands.press(Qt.Key.Key_Escape)
    assert isinstance(window.things, Things)
    assert window.things.form is None
    assert window.tray.isVisible()
    hands.press(Qt.Key.Key_Escape)

    assert not window.tray.isVisible()
    assert page(window) == "step"


def test_a_row_found_by_words_is_chosen_and_its_details_open(
    window: MainWindow, hands: Hands
) -> None:
    hands.press(Qt.Key.Key_L, CTRL)
    hands.type("radiator")
    hands.press(Qt.Key.Key_Down)

    (chosen,) = window.selection.refs
    assert "radiator" in Lookup(window.session.state.document).label(chosen)
    assert page(window) == "details"


def test_delete_names_what_hangs_on_a_thing_and_escape_keeps_it(
    window: MainWindow, hands: Hands
) -> None:
    joint = ref(window, "K_L")
    window.selection.choose(joint)
    before = window.session.state

    hands.press(Qt.Key.Key_Delete)

    assert isinstance(window.details, Details)
    card = window.details.card
    assert card is not None
    said = " ".join(label.text() for label in card.findChildren(QLabel))
    assert "M57_J_to_K" in said
    assert window.session.state is before
    hands.press(Qt.Key.Key_Escape)
    QTest.qWait(20)
    assert window.details.card is None
    assert window.session.state is before


def test_delete_and_then_the_button_takes_it_out_with_what_cannot_be_without_it(
    window: MainWindow, hands: Hands
) -> None:
    window.selection.choose(ref(window, "K_L"))
    before = window.session.state.document
    hands.press(Qt.Key.Key_Delete)

    hands.press(Qt.Key.Key_Backtab)
    hands.press(Qt.Key.Key_Space)

    assert thing(window, "K") is None
    assert thing(window, "M57_J_to_K") is None
    assert window.selection.refs == ()
    hands.press(Qt.Key.Key_Z, CTRL)
    assert window.session.state.document == before


def test_delete_takes_out_at_once_what_nothing_hangs_on(window: MainWindow, hands: Hands) -> None:
    window.selection.choose(ref(window, "M60_H_cross"))

    hands.press(Qt.Key.Key_Delete)

    assert thing(window, "M60_H_cross") is None


def test_a_copy_and_a_new_name_by_keys(window: MainWindow, hands: Hands) -> None:
    window.selection.choose(ref(window, "M60_H_cross"))

    hands.press(Qt.Key.Key_D, CTRL)
    hands.press(Qt.Key.Key_F2)
    QTest.keyClicks(hands.at, "second cross")
    hands.press(Qt.Key.Key_Return)

    assert newest(window, "tubes").name == "second cross"
    assert thing(window, "M60_H_cross") is not None


def test_arrows_nudge_the_chosen_joint(window: MainWindow, hands: Hands, qtbot: QtBot) -> None:
    joint = ref(window, "J_L")
    hands.find("J_L")
    assert window.selection.refs == (joint,)
    view = window.centre.findChild(CarView)
    assert view is not None
    qtbot.waitUntil(lambda: view.isVisible() and bool(window.session.state.scene.handles))
    before = window.session.state.document.points
    view.setFocus()

    hands.press(Qt.Key.Key_Up)

    assert window.session.state.document.points != before
    moved = next(p for p in window.session.state.document.points if p.id == joint.id)
    was = next(p for p in before if p.id == joint.id)
    assert moved.at is not None
    assert was.at is not None
    assert sum(abs(a - b) for a, b in zip(moved.at, was.at, strict=True)) == pytest.approx(1.0)


def test_f2_takes_the_keyboard_to_the_name(window: MainWindow, hands: Hands) -> None:
    window.selection.choose(ref(window, "K_L"))

    hands.press(Qt.Key.Key_F2)

    assert isinstance(hands.at.parentWidget(), TextField)
    assert hands.at.property("text") == "K"


def test_the_list_of_bought_parts_opens_and_closes_by_keys(
    window: MainWindow, hands: Hands
) -> None:
    hands.find("bought parts")
    assert page(window) == "bought"

    hands.press(Qt.Key.Key_Tab)
    hands.press(Qt.Key.Key_Escape)

    assert page(window) == "step"


def test_the_window_keeps_its_size_with_tools_and_table_open(
    window: MainWindow, hands: Hands
) -> None:
    hands.find("new mount")
    hands.find("new obstacle")
    QTest.qWait(50)

    assert (window.width(), window.height()) == (1280, 800)
    order, car, panel = window.divided.columns.sizes()
    assert abs(order - 150) <= 2
    assert abs(panel - 316) <= 2
    assert car >= 800


def test_a_double_clicked_handle_is_typed_in_the_details(window: MainWindow, hands: Hands) -> None:
    handle = next(h for h in window.session.state.scene.handles if h.ref == ref(window, "J_L"))

    window.views.type_wanted.emit(handle)
    assert page(window) == "details"
    assert hands.at.accessibleName().startswith("x ahead")
    hands.type("-1905")
    hands.press(Qt.Key.Key_Return)

    moved = thing(window, "J")
    assert isinstance(moved, Point)
    assert moved.at is not None
    assert moved.at.x == -1905.0


def test_every_handle_can_be_typed(window: MainWindow, hands: Hands) -> None:
    seen: set[str] = set()
    for handle in window.session.state.scene.handles:
        if handle.kind not in seen:
            seen.add(handle.kind)
            window.views.type_wanted.emit(handle)
            assert isinstance(window.details, Details)
            assert window.details.isAncestorOf(hands.at), handle.kind
            assert isinstance(hands.at, FigureLine), handle.kind

    assert {"joint", "mount", "unit", "wheel_centre"} <= seen
