"""A drag step with the curves and figures of its axle shown, against the step by itself."""

from itertools import count
from pathlib import Path

import pytest
from PySide6.QtCore import QSignalBlocker
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.panels.curves import CurvesPanel
from app.panels.links import LinksPanel
from app.selection import Selection
from app.session import Session
from core.document.base import Ref
from core.edits.values import change
from core.engine.address import Address
from core.engine.cells import When
from tests.bench.ratios import Bound, ratio

DEMO = Path(__file__).parents[3] / "assets" / "demo-car.jigplate"

CURVES = Bound(1.4, 1.17)
"""Three plots of both sides told anew, without their painting: 1.4 to 1.8 ms where the step itself
takes some 11. Painting them takes 5 ms more, once a frame however many steps it holds."""

LINKS = Bound(1.4, 1.15)
"""The table of figures and the dampers: 1.2 to 1.5 ms."""


@pytest.mark.parametrize("bound", [CURVES, LINKS], ids=["curves", "links"])
def test_showing_an_axle_costs_little_beside_the_step_that_moves_it(
    qtbot: QtBot, bound: Bound
) -> None:
    session, selection, look = Session(), Selection(), Look("light")
    session.open(DEMO)
    selection.go_to("front")
    make = CurvesPanel if bound is CURVES else LinksPanel
    panel = make(session, selection, look)
    if isinstance(panel, LinksPanel):
        selection.go_to("rear")
    qtbot.addWidget(panel)
    panel.resize(814, 800)
    panel.show()
    qtbot.waitExposed(panel)
    corner = "front_lower_inner_front" if bound is CURVES else "rear_toe_inner"
    point = next(p for p in session.state.document.points if p.name.startswith(corner))
    at, base = Address(Ref(point.id, "left"), "at.z"), session.state.document
    assert point.at is not None
    start, turns = point.at.z, count()

    def step() -> None:
        height = start + 1.0 + 0.01 * next(turns)
        session.apply("Move", lambda _: change(base, at, height), "drag", When.LIVE)

    def step_unseen() -> None:
        with QSignalBlocker(session):
            step()

    taken = ratio(step, step_unseen, bound)

    assert taken.holds, taken
