"""The width panel settles the width, and lets the wheels go again."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.look.look import Look
from app.panels.width import WidthPanel
from app.panels.width.panel import LET_GO, SETTLE
from app.selection import Selection
from app.session import Session
from core.edits.unit import HELD_BY_SHAFTS
from core.edits.values import change, held_by, hold, set_free
from core.engine.address import Address
from tests.app.panels.conftest import Show


def face(session: Session) -> Address:
    return Address(session.state.document.drive_shafts[0].corner, "upright.hub_face.y")


def press(panel: WidthPanel) -> None:
    QTest.mouseClick(panel.settle, Qt.MouseButton.LeftButton)


def test_wheels_that_the_shafts_hold_are_let_go_and_held_again(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = WidthPanel(demo, selection, look)
    show(panel, 316, 1200)
    assert panel.settle.text() == LET_GO

    press(panel)
    assert held_by(demo.state.document, face(demo)) is None
    assert panel.settle.text() == SETTLE
    press(panel)

    assert held_by(demo.state.document, face(demo)) == HELD_BY_SHAFTS
    assert panel.settle.text() == LET_GO
    assert demo.history.done[-1].words == "Settle the width"


def test_a_wheel_that_something_else_holds_is_not_settled_and_it_says_which(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = WidthPanel(demo, selection, look)
    show(panel, 316, 1200)
    address = face(demo)
    demo.apply("Hold", lambda d: hold(set_free(d, address), address, "the arch is cut"))

    press(panel)

    assert panel.refusal.isVisible()
    assert "the arch is cut" in panel.refusal.text()
    assert panel.refusal.text().startswith("Sideways place of the hub face of rear corner")


def test_wheels_that_stand_too_wide_are_brought_within_stroke(
    demo: Session, selection: Selection, look: Look, show: Show
) -> None:
    panel = WidthPanel(demo, selection, look)
    show(panel, 316, 1200)
    press(panel)
    address = face(demo)
    at = demo.state.document.corners[-1].upright.hub_face.y
    demo.apply("Move", lambda d: change(d, address, at + 60.0))
    assert panel.shown is not None
    assert panel.shown.finding is not None
    assert panel.shown.finding.verdict == "no"

    press(panel)

    assert panel.shown.finding.verdict != "no"
    assert panel.settle.text() == LET_GO
