"""A pick-up point dragged by the mouse: the curves follow, with the shape before them."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.look.style import dress
from app.panels.curves import CurvesPanel
from app.panels.curves.before import STAYS_MS
from app.widgets.asking import ask
from app.widgets.curve_plot import CurvePlot
from core.assess.curves import travel_curves
from core.document.base import Ref
from core.geometry.types import Array
from core.scene.records import Handle
from tests.app.scene.conftest import Bench

REAR = Ref("corner2", "left")


@pytest.fixture
def panel(bench: Bench) -> Iterator[CurvesPanel]:
    made = CurvesPanel(bench.session, bench.selection, bench.look)
    dress(made, bench.look)
    made.resize(814, 240)
    made.show()
    bench.qtbot.waitExposed(made)
    bench.view.activateWindow()
    yield made
    made.close()
    made.deleteLater()


def toe(panel: CurvesPanel) -> CurvePlot:
    assert panel.plots.row is not None
    return panel.plots.row.plots[1]


def toe_now(bench: Bench) -> Array:
    return ask(bench.session.state, travel_curves, REAR).of("toe_in")


def pickup(bench: Bench) -> Handle:
    """A pick-up of a rear link that a drag can take."""
    corner = next(c for c in bench.document.corners if c.id == REAR.id)
    inner = {link.inner for link in corner.links}
    return next(
        h for h in bench.view.scene.handles
        if h.ref in inner and not any(h.held_axes) and bench.is_in_front(h)
    )  # fmt: skip


def test_a_drag_by_the_mouse_shows_the_curve_before_it(bench: Bench, panel: CurvesPanel) -> None:
    bench.selection.go_to("rear")
    handle, before = pickup(bench), toe_now(bench)

    end = bench.drag(handle, (10, -30))

    shown = toe(panel).shown
    assert np.array_equal(shown.before[0].values, before)
    assert np.array_equal(shown.series[0].values, toe_now(bench))
    assert not np.allclose(shown.series[0].values, before, atol=1e-3)

    bench.move(end + QPoint(0, -15))
    assert np.array_equal(toe(panel).shown.before[0].values, before)
    bench.release(end + QPoint(0, -15))
    assert toe(panel).shown.before
    bench.qtbot.waitUntil(lambda: not toe(panel).shown.before, timeout=2 * STAYS_MS)


def test_escape_in_a_drag_takes_the_curve_before_away(bench: Bench, panel: CurvesPanel) -> None:
    handle, before = pickup(bench), toe_now(bench)
    end = bench.drag(handle, (10, -30))
    assert toe(panel).shown.before

    QTest.keyClick(bench.view, Qt.Key.Key_Escape)
    bench.release(end)

    assert not toe(panel).shown.before
    assert np.array_equal(toe(panel).shown.series[0].values, before)
