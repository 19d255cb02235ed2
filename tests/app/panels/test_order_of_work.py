from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.order_of_work import OrderOfWork
from app.selection import Selection
from app.session import Session
from tests.app.panels.conftest import Show
from tests.app.panels.drawing import one_tube


def words(panel: OrderOfWork) -> dict[str, str]:
    return {key: station.state.words for key, station in panel.stations.items()}


def test_an_empty_car_says_what_each_step_waits_for(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(session, selection, look)
    show(panel, 216, 800)

    assert [s.state.state for s in panel.stations.values()] == ["waiting"] * 5
    assert words(panel)["rear"] == "waits on: engine and gearbox, drive shafts"
    assert words(panel)["frame"] == "waits on: the first tube"
    assert panel.tubes.text() == "no tubes yet"
    assert panel.parts.text() == "none in the list yet"


def test_a_car_of_tubes_only_has_a_frame_to_look_at(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    one_tube(session)
    panel = OrderOfWork(session, selection, look)
    show(panel, 216, 800)

    assert panel.stations["frame"].state.state == "open"
    assert panel.stations["frame"].state.count("no") == 2  # both ends stand alone
    assert panel.stations["rear"].state.state == "waiting"
    assert panel.tubes.text() == "0 of 1 tubes have no guessed joint"


def test_the_demo_car_is_open_at_the_rear_and_never_settled_where_travel_is_not_looked_at(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 216, 800)

    assert panel.stations["rear"].state.state == "open"
    assert "tight" in words(panel)["rear"]
    assert all(s.state.state != "settled" for s in panel.stations.values())
    assert panel.car.text() == "Fennock One"


def test_the_second_car_calls_its_driven_end_by_its_own_name(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(second, selection, look)
    show(panel, 150, 700)

    assert panel.stations["rear"].state.title == "Driven front end"
    assert panel.stations["front"].state.title == "Rear end"


def test_arrows_walk_the_lath_and_enter_chooses(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 216, 800)
    panel.focus_current()

    QTest.keyClick(panel.stations["rear"], Qt.Key.Key_Down)
    QTest.keyClick(panel.stations["front"], Qt.Key.Key_Down)
    QTest.keyClick(panel.stations["frame"], Qt.Key.Key_Return)

    assert selection.step == "frame"
    assert panel.stations["frame"].is_current
    assert not panel.stations["rear"].is_current


def test_a_click_chooses_a_step(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 216, 800)

    QTest.mouseClick(panel.stations["bench"], Qt.MouseButton.LeftButton)

    assert selection.step == "bench"


def test_all_words_of_a_station_have_room_in_a_narrow_lath(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 150, 756)

    for station in panel.stations.values():
        assert station.height() >= station.heightForWidth(station.width())


def test_a_narrow_lath_folds_to_its_marks_and_numbers_and_back(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 60, 700)

    assert not panel.car.isVisible()
    assert panel.stations["rear"].accessibleName().startswith("2 Rear end")
    assert panel.bought.text() == "Parts"
    QTest.mouseClick(panel.stations["frame"], Qt.MouseButton.LeftButton)
    assert selection.step == "frame"
    panel.resize(216, 700)
    QTest.qWait(10)

    assert panel.car.isVisible()
    assert panel.bought.text() == "Bought parts"


def test_no_station_is_cut_off_in_a_low_window(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = OrderOfWork(demo, selection, look)
    look.set_scale(1.5)
    show(panel, 225, 500)

    for station in panel.stations.values():
        assert station.height() >= station.heightForWidth(station.width())


def test_the_bought_parts_open_their_list(
    demo: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot
) -> None:
    panel = OrderOfWork(demo, selection, look)
    show(panel, 216, 800)
    assert panel.parts.text() == "13 of 33 in hand"

    with qtbot.waitSignal(selection.list_wanted) as caught:
        QTest.mouseClick(panel.bought, Qt.MouseButton.LeftButton)

    assert caught.args == ["bought"]
