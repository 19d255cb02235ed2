from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.look.look import Look
from app.panels.gauges import Gauges
from app.selection import Selection
from app.session import Session
from core.document.base import Ref, Vec3
from core.edits.unit import move_unit
from core.engine.cells import When
from core.study.faults import fault
from tests.app.panels.conftest import Show


def test_an_empty_car_shows_three_times_that_it_is_not_known(
    session: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = Gauges(session, selection, look)
    show(panel, 900, 44)

    told = [button.reading for button in panel.buttons.values()]
    assert [r.verdict for r in told if r] == ["unknown"] * 3
    assert [r.lead for r in told if r] == ["don't know"] * 3


def test_the_demo_car_shows_its_track_its_closest_gap_and_that_every_bend_is_met(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = Gauges(demo, selection, look)
    show(panel, 900, 44)

    lead = {key: button.reading.lead for key, button in panel.buttons.items() if button.reading}
    # The car's own reference figures: track 1400.0, closest 14.5.
    assert lead == {
        "width": "1400.0 rear",
        "gaps": "14.5 standing",
        "load paths": "every bend met",
    }


def test_the_second_car_is_driven_in_front(
    second: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = Gauges(second, selection, look)
    show(panel, 900, 44)

    assert panel.buttons["width"].reading is not None
    assert panel.buttons["width"].reading.lead == "1220.0 front"


def test_a_click_goes_to_the_worst_place_of_that_kind(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    demo.apply("Fault", fault("SF07").overlay)
    panel = Gauges(demo, selection, look)
    show(panel, 900, 44)
    went: list[object] = []
    selection.looked_at.connect(went.append)

    QTest.mouseClick(panel.buttons["load paths"], Qt.MouseButton.LeftButton)

    worst = panel.buttons["load paths"].reading
    assert worst is not None
    assert worst.worst is not None
    assert worst.worst.rule == "mid_tube_tee"
    assert went == [worst.worst]
    assert selection.step == "frame"
    assert selection.refs == worst.worst.subjects


def test_a_gauge_that_has_not_caught_up_never_shows_fine(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = Gauges(demo, selection, look)
    show(panel, 900, 44)

    demo.apply("Up", lambda d: move_unit(d, Ref("power_unit1"), Vec3(0.0, 0.0, -1.0)), "drag",
               When.LIVE)  # fmt: skip

    gaps = panel.buttons["gaps"].reading
    assert gaps is not None
    assert gaps.behind
    assert gaps.verdict != "fine"
    demo.settle()
    assert panel.buttons["gaps"].reading is not None
    assert not panel.buttons["gaps"].reading.behind
