"""The curves between car and strip: what is drawn, read, compared with before, and taken out."""

import csv
import io
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.asks import Asks
from app.look.look import Look
from app.panels.curves import CurvesPanel
from app.panels.curves.before import STAYS_MS
from app.panels.curves.figures import FIGURES, usual
from app.pose import Pose
from app.selection import Selection
from app.session import Session
from app.widgets.asking import ask
from app.widgets.curve_plot import CurvePlot
from core.assess.axle_curves import curves_of_axle
from core.assess.curves import QUANTITIES, travel_curves
from core.assess.travels import corner_at
from core.document.base import Ref
from core.edits.branches import put
from core.edits.limits import set_limit
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import When
from core.suspension.wheel import camber_deg, toe_in_deg
from tests.app.panels.conftest import Show
from tests.app.panels.drawing import one_tube

LEFT = Qt.MouseButton.LeftButton
FRONT, REAR = Ref("corner1", "left"), Ref("corner2", "left")


@pytest.fixture
def panel(session: Session, selection: Selection, look: Look, show: Show) -> CurvesPanel:
    made = CurvesPanel(session, selection, look)
    show(made, 814, 240)
    return made


class Answers(Asks):
    """Answers that were given before."""

    path: Path | None = None

    def curves_file(self, suggested: Path) -> Path | None:
        self.suggested = suggested
        return self.path

    def picture_file(self, suggested: Path) -> Path | None:
        self.suggested = suggested
        return self.path


@pytest.fixture
def answers(panel: CurvesPanel, look: Look) -> Answers:
    made = Answers(look, panel)
    panel.files.asks = made
    return made


def plots(panel: CurvesPanel) -> dict[str, CurvePlot]:
    assert panel.plots.row is not None
    return {plot.accessibleName().split(" over ")[0]: plot for plot in panel.plots.row.plots}


def click(widget: QWidget, at: QPoint | None = None) -> None:
    if at is None:
        QTest.mouseClick(widget, LEFT)
    else:
        QTest.mouseClick(widget, LEFT, pos=at)


def inner(session: Session, name: str) -> Address:
    point = next(p for p in session.state.document.points if p.name.startswith(name))
    return Address(Ref(point.id, "left"), "at.z")


def height(session: Session, at: Address) -> float:
    point = next(p for p in session.state.document.points if p.id == at.ref.id)
    assert point.at is not None
    return point.at.z


# --- what is known -----------------------------------------------------------------------------


def test_an_empty_car_says_what_to_enter_and_opens_the_form_for_it(
    panel: CurvesPanel, selection: Selection, qtbot: QtBot
) -> None:
    assert panel.empty.isVisible()
    assert not panel.plots.isVisible()
    assert panel.empty_words.text().startswith("Don't know, because there is no rear axle. Enter")
    assert not panel.head.table.isVisible()

    with qtbot.waitSignal(selection.make_wanted) as asked:
        click(panel.enter)

    assert asked.args == ["axles"]


def test_a_car_of_tubes_only_says_the_same(panel: CurvesPanel, session: Session) -> None:
    one_tube(session)

    assert panel.empty.isVisible()
    assert "there is no rear axle" in panel.empty_words.text()


def test_the_driven_axle_is_drawn_at_its_step_and_the_other_at_the_next(
    panel: CurvesPanel, demo: Session, selection: Selection
) -> None:
    assert list(plots(panel)) == ["Camber", "Toe-in", "Bump steer"]  # five links: no castor
    assert panel.axle is not None
    assert panel.axle.corners["left"] == REAR

    selection.go_to("front")

    assert panel.axle.corners["left"] == FRONT
    assert list(plots(panel)) == ["Camber", "Toe-in", "Castor"]
    del demo


def test_the_second_car_is_driven_in_front(panel: CurvesPanel, second: Session) -> None:
    del second

    assert panel.end == "front"
    assert list(plots(panel)) == ["Camber", "Toe-in", "Castor"]
    click(panel.head.ends.tabs["rear"])
    assert panel.end == "rear"
    assert list(plots(panel)) == ["Camber", "Toe-in", "Bump steer"]


def test_what_is_drawn_is_what_a_pose_of_its_own_gives(panel: CurvesPanel, demo: Session) -> None:
    camber = plots(panel)["Camber"]
    left = camber.shown.series[0]

    for along in (-50.0, 0.0, 70.0):
        pose = compute(demo.state.document, {}, corner_at, REAR, along, 0.0, 0.0)
        drawn = np.interp(along, left.along, left.values)
        assert drawn == pytest.approx(float(camber_deg(pose)), abs=1e-6)
    assert [one.side for one in camber.shown.series] == ["left", "right"]
    assert camber.shown.stops == (-50.0, 70.0, "droop stop", "bump stop")


def test_units_and_conventions_are_told(panel: CurvesPanel, demo: Session) -> None:
    del demo

    for key in ("camber", "toe_in", "bump_steer"):
        quantity = QUANTITIES[key]
        plot = plots(panel)[quantity.words[0].upper() + quantity.words[1:]]
        assert plot.toolTip() == quantity.convention
        assert plot.shown.chart.along_unit == "mm"
    assert plots(panel)["Bump steer"].shown.series[0].unit == "°/10 mm"
    assert plots(panel)["Camber"].shown.series[0].unit == "deg"


def test_the_band_is_the_limit_of_toe_change_about_the_toe_at_design(
    panel: CurvesPanel, demo: Session
) -> None:
    band = plots(panel)["Toe-in"].shown.band
    assert band is not None
    assert (band.low, band.high) == pytest.approx((-0.15, 0.15), abs=1e-9)
    assert band.is_hatched

    demo.apply("Limit", lambda d: set_limit(d, "bump_steer", 0.3, "own rule"))

    wider = plots(panel)["Toe-in"].shown.band
    assert wider is not None
    assert wider.high == pytest.approx(0.3, abs=1e-9)
    assert "0.30" in wider.words


def test_the_camber_that_is_wanted_is_a_line_and_rules_nothing_out(
    panel: CurvesPanel, demo: Session
) -> None:
    wanted = demo.state.document.corners[1].wanted_camber_deg

    band = plots(panel)["Camber"].shown.band

    assert band is not None
    assert band.low == band.high == wanted
    assert not band.is_hatched


def test_a_travel_that_is_not_entered_is_told_in_place_of_curves(
    panel: CurvesPanel, demo: Session
) -> None:
    demo.apply("Forget", lambda d: put(d, Address(REAR, "bump"), None, free=True))

    for plot in plots(panel).values():
        assert not plot.shown.is_known
        assert "bumps is not known" in plot.shown.unknown
    assert plots(panel)["Camber"].accessibleDescription().startswith("don't know")


# --- over steer ----------------------------------------------------------------------------------


def test_over_steer_both_wheels_and_their_share_of_the_geometry_are_drawn(
    panel: CurvesPanel, demo: Session, selection: Selection
) -> None:
    selection.go_to("front")

    click(panel.head.along.tabs["steer"])

    assert list(plots(panel)) == ["Steer angle", "Ackermann share", "Camber"]
    share = plots(panel)["Ackermann share"].shown.series
    assert [one.side for one in share] == ["one"]
    assert share[0].unit == "%"
    steer = {one.side: one for one in plots(panel)["Steer angle"].shown.series}
    assert steer["left"].values[-1] > steer["right"].values[-1] > 20.0  # to the left, inner more
    stops = plots(panel)["Camber"].shown.stops
    assert stops is not None
    assert (stops.low, stops.high) == (-60.0, 60.0)
    del demo


def test_an_axle_that_nothing_steers_says_so(panel: CurvesPanel, demo: Session) -> None:
    del demo

    click(panel.head.along.tabs["steer"])

    assert panel.empty_words.text().startswith("Nothing steers the rear wheels")
    assert not panel.enter.isVisible()
    click(panel.head.along.tabs["travel"])
    assert panel.plots.isVisible()


# --- figures -------------------------------------------------------------------------------------


def test_figures_are_ticked_by_mouse_and_by_key_and_the_last_one_stays(
    panel: CurvesPanel, demo: Session, qtbot: QtBot
) -> None:
    del demo
    click(panel.head.figures)
    menu = panel.head.choices
    qtbot.waitUntil(menu.isVisible)

    for key in ("camber", "toe_in", "half_track"):
        click(menu, menu.actionGeometry(menu.ticks[key]).center())
    assert menu.isVisible()
    assert list(plots(panel)) == ["Half-track change", "Bump steer"]

    menu.setActiveAction(menu.ticks["half_track"])
    QTest.keyClick(menu, Qt.Key.Key_Space)
    menu.setActiveAction(menu.ticks["bump_steer"])
    QTest.keyClick(menu, Qt.Key.Key_Space)
    assert list(plots(panel)) == ["Bump steer"]

    QTest.keyClick(menu, Qt.Key.Key_Escape)
    assert not menu.isVisible()
    assert panel.isVisible()


def test_every_figure_that_is_offered_can_be_drawn_or_says_why_not(
    panel: CurvesPanel, demo: Session, selection: Selection
) -> None:
    selection.go_to("front")
    for along in ("travel", "steer"):
        panel.show_along(along)
        keys = tuple(key for key, figure in FIGURES.items() if along in figure.over)
        panel.head.choices.chosen.emit(keys)
        assert len(plots(panel)) == len(keys)
        assert all(plot.shown.is_known or plot.shown.unknown for plot in plots(panel).values())
    panel.show_along("travel")
    panel.show_end("rear")
    assert "no two balls" in plots(panel)["Castor"].shown.unknown
    del demo


def test_the_spring_at_the_wheel_is_drawn_when_it_is_asked_for(
    panel: CurvesPanel, demo: Session
) -> None:
    panel.head.choices.chosen.emit(("damper_ratio", "wheel_rate"))

    rate = plots(panel)["Wheel rate"].shown.series[0]
    corner = next(c for c in demo.state.document.corners if c.id == REAR.id)
    assert corner.damper is not None
    assert corner.damper.spring_rate is not None
    ratio = plots(panel)["Damper for each mm of wheel"].shown.series[0]
    at = int(np.abs(rate.along).argmin())
    # At the wheel a spring's rate is its own times the square of damper to wheel, but for what its
    # force adds as that changes.
    own = corner.damper.spring_rate * ratio.values[at] ** 2
    assert rate.values[at] == pytest.approx(own, rel=0.25)


# --- the cursor ----------------------------------------------------------------------------------


def test_the_cursor_is_the_travel_strip_s_both_ways(panel: CurvesPanel, demo: Session) -> None:
    pose = panel.pose
    camber = plots(panel)["Camber"]

    pose.set_wheels(bump=40.0)
    assert camber.cursor_along is not None
    assert camber.cursor_along == pytest.approx((40.0, 40.0), abs=1e-3)

    frame = camber.frame
    at = QPoint(round(frame.x(-20.0)), round(frame.box.center().y()))
    click(camber, at)
    assert pose.bump == pytest.approx(-20.0, abs=1.0)
    toe = plots(panel)["Toe-in"].cursor_along
    assert toe is not None
    assert toe.left == pytest.approx(pose.bump, abs=1e-3)

    QTest.keyClick(camber, Qt.Key.Key_Home)
    assert pose.is_design
    del demo


def test_in_roll_each_side_is_read_where_its_wheel_stands(
    panel: CurvesPanel, demo: Session
) -> None:
    panel.pose.set_wheels(bump=10.0, roll_deg=1.5)

    cursor = plots(panel)["Camber"].cursor_along
    assert cursor is not None
    # Left side up: its wheel hangs lower. 1.5 deg over half of the track of 1400 is 18.3.
    assert cursor.left == pytest.approx(10.0 - 18.3, abs=0.5)
    assert cursor.right == pytest.approx(10.0 + 18.3, abs=0.5)
    assert "left" in plots(panel)["Camber"].accessibleDescription()
    del demo


def test_over_steer_the_cursor_is_the_rack(
    panel: CurvesPanel, demo: Session, selection: Selection
) -> None:
    selection.go_to("front")
    panel.show_along("steer")
    camber = plots(panel)["Camber"]
    camber.setFocus()

    QTest.keyClick(camber, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert Pose.of(selection).rack == 10.0
    Pose.of(selection).set_wheels(rack=-30.0)
    assert camber.cursor_along == (-30.0, -30.0)
    del demo


# --- the shape before ----------------------------------------------------------------------------


def test_a_drag_shows_the_shape_before_it_until_a_while_after_release(
    panel: CurvesPanel, demo: Session, qtbot: QtBot
) -> None:
    at = inner(demo, "rear_toe_inner")
    before = ask(demo.state, travel_curves, REAR).of("toe_in")
    start, group = height(demo, at), object()

    for step in (1.0, 2.0, 3.0):
        moved = partial(change, address=at, value=start + step)
        demo.apply("Move", moved, group, When.LIVE)
        shown = plots(panel)["Toe-in"].shown
        assert np.array_equal(shown.before[0].values, before)
        assert shown.series[0].values[-1] != pytest.approx(before[-1], abs=0.02)

    demo.settle()
    assert plots(panel)["Toe-in"].shown.before
    qtbot.waitUntil(lambda: not plots(panel)["Toe-in"].shown.before, timeout=2 * STAYS_MS)
    after = ask(demo.state, travel_curves, REAR).of("toe_in")
    assert np.array_equal(plots(panel)["Toe-in"].shown.series[0].values, after)


def test_a_second_drag_compares_with_what_it_began_with(panel: CurvesPanel, demo: Session) -> None:
    at = inner(demo, "rear_toe_inner")
    start = height(demo, at)
    demo.apply("Move", lambda d: change(d, at, start + 2.0), "first", When.LIVE)
    demo.settle()
    between = ask(demo.state, travel_curves, REAR).of("toe_in")

    demo.apply("Move", lambda d: change(d, at, start + 4.0), "second", When.LIVE)

    assert np.array_equal(plots(panel)["Toe-in"].shown.before[0].values, between)


def test_a_drag_taken_back_leaves_no_shape_before(panel: CurvesPanel, demo: Session) -> None:
    at = inner(demo, "rear_toe_inner")
    start = height(demo, at)
    demo.apply("Move", lambda d: change(d, at, start + 2.0), "drag", When.LIVE)
    assert plots(panel)["Toe-in"].shown.before

    demo.cancel("drag")

    assert not plots(panel)["Toe-in"].shown.before


def test_a_typed_value_has_no_shape_before(panel: CurvesPanel, demo: Session) -> None:
    at = inner(demo, "rear_toe_inner")

    demo.apply("Type", lambda d: change(d, at, height(demo, at) + 2.0))

    assert not plots(panel)["Toe-in"].shown.before


# --- out -----------------------------------------------------------------------------------------


def read_back(path: Path) -> tuple[list[str], list[list[str]]]:
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"))))
    return rows[0], rows[1:]


def test_the_table_read_back_holds_both_sides_all_figures_and_both_sheets(
    panel: CurvesPanel, demo: Session, selection: Selection, answers: Answers, tmp_path: Path
) -> None:
    selection.go_to("front")
    answers.path = tmp_path / "front.csv"

    click(panel.head.table)

    heads, rows = read_back(answers.path)
    assert answers.suggested.name == "front-curves.csv"
    assert heads[:4] == ["over", "at, mm", "camber left, deg", "camber right, deg"]
    for key, quantity in QUANTITIES.items():
        assert any(head.startswith(quantity.words) for head in heads), key
    assert "Ackermann share, %" in heads
    assert "damper, eye to eye left, mm" in heads
    assert {row[0] for row in rows} == {"travel", "steer"}
    right = heads.index("toe-in right, deg")
    written = {(row[0], float(row[1])): row for row in rows}
    # Against a pose of its own, solved apart from the curves.
    corner = Ref("corner1", "right")
    for over, at, bump, rack in (("travel", 60.0, 60.0, 0.0), ("steer", -60.0, 0.0, -60.0)):
        pose = compute(demo.state.document, {}, corner_at, corner, bump, 0.0, rack)
        told = float(written[over, at][right])
        assert told == pytest.approx(float(toe_in_deg(pose)), abs=1e-6)
    assert written["travel", 0.0][heads.index("Ackermann share, %")] == ""
    assert "written to front.csv" in panel.said.text()


def test_what_cannot_be_written_is_said_in_place(
    panel: CurvesPanel, demo: Session, answers: Answers, tmp_path: Path
) -> None:
    del demo
    answers.path = tmp_path / "no such folder" / "rear.csv"

    click(panel.head.table)

    assert panel.said.isVisible()
    assert panel.said.text().startswith("rear.csv was not written: No such file")

    answers.path = tmp_path / "rear.gif"
    click(panel.head.picture)
    assert panel.said.text() == "rear.gif was not written: A picture's name ends in .png or .svg."
    assert not answers.path.exists()


def test_a_question_turned_down_writes_nothing(
    panel: CurvesPanel, demo: Session, answers: Answers
) -> None:
    del demo
    click(panel.head.table)
    click(panel.head.picture)

    assert answers.suggested.name == "rear-curves.png"  # both were asked
    assert not panel.said.isVisible()


@pytest.mark.parametrize("ending", [".png", ".svg"])
def test_the_picture_holds_every_plot(
    panel: CurvesPanel, demo: Session, answers: Answers, tmp_path: Path, ending: str
) -> None:
    del demo
    answers.path = tmp_path / f"rear{ending}"

    click(panel.head.picture)

    assert panel.plots.row is not None
    wide, high = 2 * panel.plots.row.width(), 2 * panel.plots.row.height()
    image = drawn(answers.path, wide, high)
    ground = image.pixel(2, 2)
    for third in range(3):
        at = range(third * wide // 3, (third + 1) * wide // 3, 5)
        colours = {image.pixel(x, y) for x in at for y in range(80, high - 60, 3)}
        assert len(colours - {ground}) > 3
    heading = {image.pixel(x, y) for x in range(10, 300) for y in range(8, 44)}
    assert len(heading) > 3


def drawn(path: Path, wide: int, high: int) -> QImage:
    """The picture in a file, in dots."""
    if path.suffix == ".png":
        assert QImage(str(path)).width() == wide
        return QImage(str(path))
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    QSvgRenderer(str(path)).render(painter)
    painter.end()
    return image


# --- room ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("scale", [1.0, 1.5])
@pytest.mark.parametrize("width", [580, 814, 1264])
def test_nothing_of_the_head_is_cut_and_whole_plots_can_be_reached(
    demo: Session, selection: Selection, look: Look, show: Show, scale: float, width: int
) -> None:
    look.set_scale(scale)
    panel = CurvesPanel(demo, selection, look)
    show(panel, width, 10)
    panel.resize(width, panel.heightForWidth(width))
    QTest.qWait(20)

    head = panel.head
    words = (head.ends, head.along, head.figures, head.table, head.picture, head.shut)
    for word in words:
        assert word.width() >= word.sizeHint().width()
        assert head.rect().contains(word.geometry())
    for plot in plots(panel).values():
        assert plot.width() >= plot.minimumSizeHint().width()
        assert plot.height() >= plot.minimumSizeHint().height()
    assert panel.plots.verticalScrollBar().maximum() == 0


def test_it_closes_by_its_word_and_by_escape(
    panel: CurvesPanel, demo: Session, qtbot: QtBot
) -> None:
    del demo
    with qtbot.waitSignal(panel.closed):
        click(panel.head.shut)
    camber = plots(panel)["Camber"]
    camber.setFocus()
    with qtbot.waitSignal(panel.closed):
        QTest.keyClick(camber, Qt.Key.Key_Escape)


def test_hidden_it_asks_for_nothing_and_catches_up_when_shown(
    panel: CurvesPanel, demo: Session
) -> None:
    panel.hide()
    shown = plots(panel)["Toe-in"].shown.series
    at = inner(demo, "rear_toe_inner")

    demo.apply("Move", lambda d: change(d, at, height(demo, at) + 5.0))
    assert plots(panel)["Toe-in"].shown.series is shown

    panel.show()
    now = ask(demo.state, curves_of_axle, "rear", "travel")
    assert np.array_equal(
        plots(panel)["Toe-in"].shown.series[0].values, now.curves["left"].of("toe_in")
    )
    assert usual(now, "travel") == ("camber", "toe_in", "bump_steer")
