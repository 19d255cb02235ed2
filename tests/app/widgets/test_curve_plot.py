"""A plot of curves: what is drawn where, the cursor under the hand, and what it gives away."""

import time
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.look.tokens import ColourName
from app.widgets.curve_data import Band, Chart, Cursor, Series, Stops
from app.widgets.curve_plot import CurvePlot
from app.widgets.curve_row import CurveRow
from core.document.base import Side
from tests.app.widgets.conftest import Show

TOE = Chart("Toe over travel", "wheel over travel", "mm", "in +")
ALONG = np.linspace(-50.0, 70.0, 41)
NONE = Qt.KeyboardModifier.NoModifier
LEFT_BUTTON = Qt.MouseButton.LeftButton


class Counted(CurvePlot):
    """Counts how often it is drawn."""

    painted = 0

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        self.painted += 1
        super().paintEvent(event)


def toe(side: Side, slope: float = 0.01, lift: float = 0.0, unit: str = "deg") -> Series:
    return Series("toe", side, ALONG, lift + slope * ALONG, unit)


def broken_off(side: Side, why: str = "the rod does not reach") -> Series:
    values = np.full(41, 0.4)
    values[20:30] = np.nan
    return Series("toe", side, ALONG, values, "deg", why)


@pytest.fixture
def plot(look: Look, show: Show) -> CurvePlot:
    made = CurvePlot(look, TOE)
    show(made, 520, 260)
    return made


Pixels = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def seen(plot: CurvePlot) -> Pixels:
    """What is on the screen: height, width, red to blue."""
    return pixels(plot.grab().toImage())


def pixels(image: QImage) -> Pixels:
    flat = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(flat.constBits(), np.uint8).reshape(flat.height(), flat.width(), 4)
    return rows[:, :, 2::-1].astype(np.float64)


def near(
    image: Pixels, place: QPointF, colour: QColor, reach: int = 2, slack: float = 24.0
) -> bool:
    """Whether a colour is on the screen at a place, or within a few pixels of it."""
    x, y = int(place.x()), int(place.y())
    assert reach <= x < image.shape[1] - reach
    assert reach <= y < image.shape[0] - reach
    around = image[y - reach : y + reach + 1, x - reach : x + reach + 1]
    wanted = np.array([colour.red(), colour.green(), colour.blue()])
    return bool(np.any(np.all(np.abs(around - wanted) <= slack, axis=2)))


def share_drawn(
    plot: CurvePlot,
    value: float,
    low: float,
    high: float,
    ink: ColourName,
    look: Look | None = None,
) -> float:
    """How much of the way from one place to another has a colour at a height."""
    image, frame = seen(plot), plot.frame
    colour = (look or Look("light")).colour(ink)
    places = np.linspace(low, high, 120)
    return float(np.mean([near(image, frame.at(x, value), colour, 1) for x in places]))


def across(plot: CurvePlot, along: float) -> QPoint:
    return QPoint(round(plot.frame.x(along)), round(plot.frame.box.center().y()))


def test_points_stand_where_the_scales_say(plot: CurvePlot) -> None:
    plot.show_series([toe("left")])
    frame = plot.frame

    assert frame.along_at(frame.x(12.5)) == pytest.approx(12.5)
    assert frame.x(-50.0) > frame.box.left()
    assert frame.x(70.0) < frame.box.right()
    assert frame.y(0.7) > frame.box.top()
    assert frame.y(0.7) < frame.y(0.0) < frame.y(-0.5)
    place = frame.line(np.array([10.0]), np.array([0.1])).at(0)
    assert (place.x(), place.y()) == pytest.approx((frame.x(10.0), frame.y(0.1)))


def test_left_is_solid_and_right_is_broken(plot: CurvePlot) -> None:
    plot.show_series([toe("left", 0.0, 0.4), toe("right", 0.0, -0.4)])

    assert share_drawn(plot, 0.4, -45, 65, "left") == 1.0
    # A line of 5 on and 2.5 off, its ends blurred by a pixel either way.
    assert 0.5 < share_drawn(plot, -0.4, -45, 65, "right") < 0.98


def test_nothing_is_drawn_across_a_gap_and_it_is_told_why(plot: CurvePlot) -> None:
    plot.show_series([broken_off("left")])
    first, last = ALONG[19], ALONG[30]

    assert share_drawn(plot, 0.4, -45, first - 1, "left") == 1.0
    assert share_drawn(plot, 0.4, first + 2, last - 2, "left") == 0.0
    assert share_drawn(plot, 0.4, last + 1, 65, "left") == 1.0
    plot.set_cursor(20.0)
    assert plot.accessibleDescription().endswith("left the rod does not reach")
    assert not plot.readings()[0].is_known


def test_a_figure_alone_between_two_gaps_is_drawn(plot: CurvePlot, look: Look) -> None:
    values = np.full(41, np.nan)
    values[:5], values[20] = 0.1, 0.5
    plot.show_series([Series("toe", "left", ALONG, values, "deg")])

    place = plot.frame.at(float(ALONG[20]), 0.5)
    assert near(seen(plot), place, look.colour("left"), 1)


def test_each_side_has_its_mark_at_the_cursor(plot: CurvePlot, look: Look) -> None:
    plot.show_series([toe("left", 0.0, 0.4), toe("right", 0.0, -0.4)])
    plot.set_cursor(30.0)
    image, frame = seen(plot), plot.frame

    left, right = frame.at(30.0, 0.4), frame.at(30.0, -0.4)
    assert near(image, left, look.colour("left"), 0)
    assert near(image, left + QPointF(0, 3), look.colour("left"), 0)
    # Hollow: the ground inside, the line round it, which stands across.
    assert near(image, right + QPointF(2, 2), look.colour("panel"), 0)
    assert near(image, right + QPointF(4, 0), look.colour("right"), 1)


def test_the_forbidden_side_is_hatched_and_the_wanted_one_is_not(
    plot: CurvePlot, look: Look
) -> None:
    plot.show_series([toe("left", 0.0, 0.0)])
    plot.set_band(Band(-0.5, 0.5, ""))
    image, frame = seen(plot), plot.frame
    ground = look.colour("panel")

    def marked(low: float, high: float) -> float:
        box = QRectF(frame.at(20.0, high), frame.at(60.0, low)).toRect().adjusted(0, 2, 0, -2)
        part = image[box.top() : box.bottom(), box.left() : box.right()]
        plain = np.array([ground.red(), ground.green(), ground.blue()])
        return float(np.mean(np.any(np.abs(part - plain) > 6, axis=2)))

    assert marked(0.51, frame.values.high) > 0.15
    assert marked(frame.values.low, -0.51) > 0.15
    assert marked(0.05, 0.15) == 0.0
    assert near(image, frame.at(20.0, 0.5), look.colour("ink"), 1)


def test_stops_are_posts(plot: CurvePlot, look: Look) -> None:
    plot.show_series([toe("left", 0.0, 0.4)])
    plot.set_stops(Stops(-62.0, 81.0))
    image, frame = seen(plot), plot.frame

    for stop in (-62.0, 81.0):
        foot = QPointF(frame.x(stop), frame.box.bottom() - 8)
        assert near(image, foot, look.colour("ink"), 1)
    assert not near(image, QPointF(frame.x(30.0), frame.box.bottom() - 8), look.colour("ink"), 1)


def test_the_shape_before_stays_while_dragging_and_goes_after(plot: CurvePlot) -> None:
    plot.show_series([toe("left", 0.0, 0.25)])
    plot.set_before(plot.shown.series)
    plot.show_series([toe("left", 0.0, 0.5)])

    assert share_drawn(plot, 0.25, 10, 65, "ink2") > 0.9
    assert share_drawn(plot, 0.5, 10, 65, "left") == 1.0

    plot.clear_before()
    assert share_drawn(plot, 0.25, 10, 65, "ink2") < 0.1


def test_scales_only_grow_while_dragging_and_fit_after(plot: CurvePlot) -> None:
    plot.show_series([toe("left", 0.01)])
    plot.set_before(plot.shown.series)
    plot.show_series([toe("left", 0.05)])
    wide = plot.frame.values
    plot.show_series([toe("left", 0.001)])

    assert plot.frame.values == wide
    plot.clear_before()
    assert plot.frame.values.high < 0.2


def test_the_first_figures_of_a_drag_are_not_ranged_with_nothing(look: Look, show: Show) -> None:
    plot = CurvePlot(look, TOE._replace(sense=""))
    show(plot, 520, 260)
    length = Series("length", "left", ALONG, 400 + ALONG / 100, "mm")

    plot.set_before([length])
    plot.show_series([length])

    assert plot.frame.values.low > 399


def test_a_click_and_a_drag_move_the_cursor_and_tell(plot: CurvePlot, qtbot: QtBot) -> None:
    plot.show_series([toe("left")])
    told: list[float] = []
    plot.cursor_moved.connect(told.append)

    QTest.mousePress(plot, LEFT_BUTTON, NONE, across(plot, -20.0))
    QTest.mouseMove(plot, across(plot, 10.0))
    qtbot.waitUntil(lambda: len(told) == 2)
    QTest.mouseRelease(plot, LEFT_BUTTON, NONE, across(plot, 10.0))

    assert told == pytest.approx([-20.0, 10.0], abs=0.5)
    assert plot.cursor_along == Cursor(told[-1], told[-1])
    assert plot.readings()[0].value == pytest.approx(0.01 * told[-1])
    assert plot.window().focusWidget() is plot


def test_beyond_the_ends_the_cursor_stays_at_the_end(plot: CurvePlot) -> None:
    plot.show_series([toe("left")])

    QTest.mouseClick(plot, LEFT_BUTTON, NONE, QPoint(plot.width() - 2, across(plot, 0).y()))

    assert plot.cursor_along == Cursor(70.0, 70.0)


def test_keys_move_the_cursor_by_steps_and_home_returns(plot: CurvePlot) -> None:
    plot.show_series([toe("left")])
    plot.set_stops(Stops(-60.0, 75.0))
    told: list[float] = []
    plot.cursor_moved.connect(told.append)

    QTest.keyClick(plot, Qt.Key.Key_Right)
    QTest.keyClick(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(plot, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    QTest.keyClick(plot, Qt.Key.Key_PageUp)
    QTest.keyClick(plot, Qt.Key.Key_PageDown)
    QTest.keyClick(plot, Qt.Key.Key_Home)

    assert told == pytest.approx([1.0, 11.0, 10.9, 75.0, -60.0, 0.0])


def test_being_told_a_cursor_tells_nobody(plot: CurvePlot) -> None:
    plot.show_series([toe("left"), toe("right")])
    told: list[float] = []
    plot.cursor_moved.connect(told.append)

    plot.set_cursor(40.0, 20.0)

    assert told == []
    assert [one.value for one in plot.readings()] == pytest.approx([0.4, 0.2])


def test_a_double_click_brings_back_to_design(plot: CurvePlot) -> None:
    plot.show_series([toe("left")])

    QTest.mouseDClick(plot, LEFT_BUTTON, NONE, across(plot, 40.0))

    assert plot.cursor_along == Cursor(0.0, 0.0)


def test_the_wheel_and_the_right_button_change_nothing(plot: CurvePlot) -> None:
    plot.show_series([toe("left")])
    plot.set_cursor(10.0)
    shown, frame = plot.shown, plot.frame
    place = QPointF(across(plot, 30.0))
    turn = QWheelEvent(
        place,
        plot.mapToGlobal(place),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        NONE,
        Qt.ScrollPhase.NoScrollPhase,
        False,  # noqa: FBT003 - Qt takes it by its place
    )

    QApplication.sendEvent(plot, turn)
    QTest.mouseClick(plot, Qt.MouseButton.RightButton, NONE, across(plot, 30.0))

    assert not turn.isAccepted()  # what holds the plot may scroll
    assert (plot.shown, plot.frame) == (shown, frame)
    assert QApplication.activePopupWidget() is None


def test_it_is_read_aloud_with_the_figures_at_the_cursor(plot: CurvePlot) -> None:
    plot.show_series([toe("left"), toe("right", 0.02)])

    plot.set_cursor(40.0)
    assert plot.accessibleName() == "Toe over travel"
    assert plot.accessibleDescription() == "wheel over travel at 40.0 mm: left +0.40°, right +0.80°"

    plot.set_cursor(58.3, 21.7)
    assert (
        plot.accessibleDescription()
        == "wheel over travel: left +0.58° at 58.3 mm, right +0.43° at 21.7 mm"
    )


def test_without_figures_it_says_so_and_stands_still(plot: CurvePlot) -> None:
    plot.show_series([], "the toe link is not entered")
    told: list[float] = []
    plot.cursor_moved.connect(told.append)

    QTest.mouseClick(plot, LEFT_BUTTON, NONE, across(plot, 0.5))
    QTest.keyClick(plot, Qt.Key.Key_Right)

    assert plot.accessibleDescription() == "don't know: the toe link is not entered"
    assert told == []
    assert plot.readings() == ()
    box = plot.frame.box
    row = seen(plot)[int(box.top()) + 20, int(box.left()) + 5 : int(box.right()) - 5]
    assert len(np.unique(row, axis=0)) > 1  # hatched, not empty


def test_curves_of_two_units_are_refused(plot: CurvePlot) -> None:
    with pytest.raises(ValueError, match="one unit"):
        plot.show_series([toe("left"), toe("right", unit="mm")])


def test_the_keyboard_has_a_frame(plot: CurvePlot, look: Look, qtbot: QtBot) -> None:
    plot.show_series([toe("left")])
    plot.clearFocus()
    assert not near(seen(plot), QPointF(1, 60), look.colour("sel"), 0)

    plot.activateWindow()
    plot.setFocus()
    qtbot.waitUntil(plot.hasFocus)

    assert near(seen(plot), QPointF(1, 60), look.colour("sel"), 0)


def test_theme_and_scale_are_followed(plot: CurvePlot, look: Look) -> None:
    plot.show_series([toe("left", 0.0, 0.4)])
    before = plot.sizeHint()

    look.set_theme("dark")
    assert near(seen(plot), QPointF(8, plot.height() - 8), look.colour("panel"), 0, 2)
    assert share_drawn(plot, 0.4, -45, 65, "left", look) == 1.0

    look.set_scale(1.5)
    assert plot.sizeHint().width() == pytest.approx(1.5 * before.width(), abs=1)
    assert share_drawn(plot, 0.4, -45, 65, "left", look) == 1.0


def test_a_picture_is_twice_as_large_and_the_drawing_shows_the_same(
    plot: CurvePlot, tmp_path: Path
) -> None:
    plot.show_series([toe("left"), broken_off("right")])
    plot.set_before([toe("left", 0.008)])
    plot.set_band(Band(-0.2, 0.6, "wanted"))
    plot.set_cursor(30.0)
    plot.picture(tmp_path / "toe.png")
    plot.picture(tmp_path / "toe.svg")

    dots = QImage(str(tmp_path / "toe.png"))
    assert (dots.width(), dots.height()) == (2 * plot.width(), 2 * plot.height())
    assert dots.text("Description") == plot.accessibleDescription()
    drawing = QSvgRenderer(str(tmp_path / "toe.svg"))
    assert drawing.isValid()
    lines = QImage(dots.size(), QImage.Format.Format_RGB32)
    painter = QPainter(lines)
    drawing.render(painter)
    painter.end()
    # Qt's own reader of drawings is the second witness: only edges are blurred otherwise.
    assert np.mean(np.abs(pixels(dots) - pixels(lines)) > 60) < 0.01
    assert "<text" not in (tmp_path / "toe.svg").read_text("utf-8")  # needs no typeface


def test_a_picture_that_cannot_be_written_is_refused(plot: CurvePlot, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"\.png or \.svg"):
        plot.picture(tmp_path / "toe.gif")
    with pytest.raises(OSError, match="nowhere"):
        plot.picture(tmp_path / "nowhere" / "toe.svg")


def test_the_table_is_of_the_curves_shown(plot: CurvePlot) -> None:
    plot.show_series([toe("left"), toe("right")])

    lines = plot.csv_text().splitlines()

    assert lines[0] == '"wheel over travel, mm","toe left, deg","toe right, deg"'
    assert len(lines) == 42
    assert lines[1] == "-50,-0.5,-0.5"


def test_an_update_is_quick_and_draws_nothing_by_itself(
    look: Look, show: Show, qtbot: QtBot
) -> None:
    plot = Counted(look, TOE._replace(sense=""))
    show(plot, 520, 260)
    names: list[tuple[str, Side]] = [(f"toe {n}", s) for n in range(4) for s in ("left", "right")]
    eight = [Series(name, side, ALONG, np.sin(ALONG / 30), "deg") for name, side in names]
    plot.set_cursor(10.0)
    plot.show_series(eight)
    qtbot.waitUntil(lambda: plot.painted > 0)
    QApplication.processEvents()
    plot.painted, took = 0, []

    for _ in range(50):
        start = time.process_time_ns()
        plot.show_series(eight)
        took.append(time.process_time_ns() - start)

    assert plot.painted == 0
    qtbot.waitUntil(lambda: plot.painted > 0)
    assert plot.painted == 1
    # A drag shows sixteen frames in 260 ms; measured 0.12 ms, and a busy machine is no fault.
    assert np.median(took) < 2e6


def test_one_cursor_reads_all_plots_of_a_row(look: Look, show: Show) -> None:
    plots = [CurvePlot(look, TOE), CurvePlot(look, TOE._replace(title="Camber over travel"))]
    row = CurveRow(look, plots)
    show(row, 900, 260)
    for plot in plots:
        plot.show_series([toe("left")])
    told: list[float] = []
    row.cursor_moved.connect(told.append)

    plots[0].setFocus()
    QTest.keyClick(plots[0], Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert told == [10.0]
    assert plots[1].cursor_along == Cursor(10.0, 10.0)
