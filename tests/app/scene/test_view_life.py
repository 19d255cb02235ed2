"""A view's life: pictures, switches, other views, closing and opening again, large scales."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCloseEvent, QColor, QGuiApplication, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.look.look import Look
from app.scene.groups import GROUPS
from app.scene.paint_names import paint_names
from app.scene.picking import thing_at
from app.scene.view import CarView
from app.scene.views import CarViews
from app.selection import Selection
from app.session import Session
from core.document.base import Ref
from core.scene.records import Handle, TubeRecord
from tests.app.scene.conftest import DEMO, Bench, MakeBench, Window

ROOT = Path(__file__).parents[3]


def test_this_is_a_real_screen(qapp: QApplication) -> None:
    assert qapp.platformName() == "xcb"
    assert QGuiApplication.primaryScreen().size().width() >= 1280


def test_a_picture_shows_the_table_at_its_corner_and_steel_in_it(bench: Bench) -> None:
    picture = bench.view.grab().toImage()

    near = bench.look.colour("table_near")
    corner = picture.pixelColor(4, picture.height() - 5)
    assert _apart(corner, near) < 12
    tube = next(t for t in bench.view.scene.tubes if t.hoop)
    x, y = bench.view.projection().to_screen(tube.line[len(tube.line) // 2][None])[0, :2]
    assert _apart(picture.pixelColor(round(x), round(y)), near) > 60


def test_the_dark_theme_makes_the_table_dark(bench: Bench) -> None:
    bench.look.set_theme("dark")
    bench.settle()

    corner = bench.view.grab().toImage().pixelColor(4, 400)

    assert _apart(corner, bench.look.colour("table_near")) < 24


def test_a_hidden_group_is_not_drawn_and_cannot_be_taken(bench: Bench) -> None:
    handle = bench.handle("joint")
    at = bench.at(handle)
    bench.view.show_group("Frame", "hidden")
    bench.settle()

    assert bench.view.pointing.handle_at(at.x(), at.y()) != handle
    assert not bench.view.drawn_things.tubes[1.0].skin.actor.GetVisibility()
    bench.view.show_group("Frame", "shown")
    assert bench.view.drawn_things.tubes[1.0].skin.actor.GetVisibility()


def test_a_drag_of_a_straight_tubes_joint_makes_no_face_anew(bench: Bench) -> None:
    handle = bench.handle("pickup")
    built = bench.view.drawn_things.tubes[1.0].rebuilt

    bench.release(bench.drag(handle, (20, 10)))

    assert bench.view.drawn_things.tubes[1.0].rebuilt == built


def test_what_is_chosen_is_drawn_otherwise_and_back_again(bench_of: MakeBench) -> None:
    bench = bench_of("side")

    def at_rest() -> QImage:
        bench.qtbot.wait(400)
        return bench.view.grab().toImage()

    def length_on_screen(tube: TubeRecord) -> float:
        ends = bench.view.projection().to_screen(tube.line)
        return float(np.hypot(*(ends[-1] - ends[0])[:2]))

    straight = (t for t in bench.view.scene.tubes if len(t.line) == 2)
    tube = max(straight, key=length_on_screen)  # one seen end on shows nothing of it
    before = at_rest()

    bench.selection.choose(tube.ref)
    assert at_rest() != before
    bench.selection.choose()

    assert at_rest() == before


def test_the_engines_mesh_arrives_by_itself_and_a_click_chooses_it(
    qtbot: QtBot, look: Look
) -> None:
    window, views, session = shown_views(qtbot, look)
    view = views.view("free")
    assert view.placed_meshes() == []

    qtbot.waitUntil(lambda: bool(view.placed_meshes()), timeout=30_000)
    mesh = view.placed_meshes()[0]
    middle = np.array(mesh.record.origin) + mesh.points.mean(axis=0) @ mesh.record.axes.T
    pixels = (
        view.projection().to_screen((middle + np.array([dx, 0.0, dz]))[None])[0]
        for dx in (0.0, 60.0, -60.0, 120.0)
        for dz in (0.0, 80.0, 160.0, 240.0)
    )
    unit = session.state.document.power_units[0].id
    hit = next(
        QPoint(round(x), round(y))
        for x, y, _ in pixels
        if view.pointing.handle_at(round(x), round(y)) is None
        and (
            found := thing_at(
                view.scene,
                view.projection(),
                round(x),
                round(y),
                view.is_shown,
                view.placed_meshes(),
            )
        )
        is not None
        and found.id == unit
    )
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=hit)

    assert [ref.id for ref in views.selection.refs] == [unit]
    window.close()


def test_looking_at_a_place_brings_it_to_the_middle(bench: Bench) -> None:
    bench.view.reduced_motion = True
    place = np.array([-2000.0, 300.0, 400.0])

    bench.view.look_at(place)

    shown = bench.view.projection().to_screen(place[None])[0, :2]
    assert np.allclose(shown, [bench.view.width() / 2, bench.view.height() / 2], atol=0.5)


def test_a_camera_eases_to_a_place_and_arrives(bench: Bench) -> None:
    place = np.array([-2000.0, 300.0, 400.0])

    bench.view.look_at(place)
    assert not np.allclose(bench.view.pose.target, place)

    bench.qtbot.waitUntil(lambda: np.allclose(bench.view.pose.target, place), timeout=3000)


def test_a_view_keeps_the_whole_car_in_it_until_the_builder_looks_elsewhere(bench: Bench) -> None:
    bench.window.resize(1200, 500)
    bench.settle()
    wide = bench.view.pose
    bench.view.take_pose(wide)
    bench.window.resize(900, 700)
    bench.settle()

    assert bench.view.pose is wide


def test_five_times_opened_and_closed_with_real_drags(qtbot: QtBot) -> None:
    for _ in range(5):
        bench = Bench(qtbot)
        handle = bench.handle("joint")
        bench.release(bench.drag(handle, (15, 10)))
        assert bench.now(handle).at != handle.at
        bench.window.close()
        bench.window.deleteLater()
        QApplication.processEvents()


def test_closed_in_the_middle_of_a_drag_it_keeps_what_was_moved(qtbot: QtBot) -> None:
    bench = Bench(qtbot)
    handle = bench.handle("joint")
    bench.drag(handle, (15, 10))

    bench.window.close()

    assert bench.session.history.group is None
    assert bench.now(handle).at != handle.at


def test_a_closed_view_hears_nothing_more(qtbot: QtBot) -> None:
    bench = Bench(qtbot)
    bench.window.close()

    bench.session.new()
    bench.selection.choose(Ref("tube1"))
    bench.look.set_theme("dark")


# --- several views ---------------------------------------------------------------------------


class ViewsWindow(Window):
    """Closes its views."""

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        views = self.centralWidget()
        assert isinstance(views, CarViews)
        views.close_views()
        super().closeEvent(event)


def shown_views(qtbot: QtBot, look: Look) -> tuple[ViewsWindow, CarViews, Session]:
    session = Session()
    session.open(DEMO, as_copy=True)
    views = CarViews(session, Selection(), look)
    window = ViewsWindow()
    window.setCentralWidget(views)
    window.resize(1280, 800)
    qtbot.addWidget(window)
    with qtbot.waitExposed(window):
        window.show()
    return window, views, session


def test_all_four_show_the_same_car_and_follow_a_drag_in_one(qtbot: QtBot, look: Look) -> None:
    window, views, session = shown_views(qtbot, look)
    views.show_view("four")
    qtbot.waitUntil(lambda: all(v.draws for v in views.views()))
    free, side = views.view("free"), views.view("side")
    handle = next(
        h
        for h in free.scene.handles
        if h.kind == "joint" and h.along is None and free.pointing.handle_at(*_pixel(free, h)) == h
    )
    at = QPoint(*_pixel(free, handle))
    before = session.state.document
    QTest.mousePress(free, Qt.MouseButton.LeftButton, pos=at)
    draws = side.draws
    for i in range(1, 9):
        QTest.mouseMove(free, at + QPoint(3 * i, -i))
        qtbot.wait(1)
    assert side.is_deferred
    qtbot.waitUntil(lambda: side.draws > draws)
    QTest.mouseRelease(free, Qt.MouseButton.LeftButton, pos=at + QPoint(24, -8))

    assert session.state.document != before
    assert not side.is_deferred
    qtbot.wait(60)
    window.close()


def test_stations_of_plan_and_side_stay_under_one_another(qtbot: QtBot, look: Look) -> None:
    window, views, _ = shown_views(qtbot, look)
    views.show_view("four")
    qtbot.wait(50)
    plan, side = views.view("plan"), views.view("side")
    place = np.array([[-2400.0, 0.0, 0.0], [0.0, 0.0, 0.0]])

    plan.take_pose(
        type(plan.pose)(
            plan.pose.target + np.array([200.0, 0.0, 0.0]),
            plan.pose.back,
            plan.pose.up,
            plan.pose.half_height * 0.7,
            plan.pose.parallel,
        )
    )

    across = [v.projection().to_screen(place)[:, 0] for v in (plan, side)]
    assert np.allclose(across[0], across[1], atol=0.6)
    window.close()


def test_words_switch_groups_in_every_view(qtbot: QtBot, look: Look) -> None:
    window, views, _ = shown_views(qtbot, look)
    word = views.group_words["Frame"]

    QTest.mouseClick(word, Qt.MouseButton.LeftButton)
    assert views.view("free").shown["Frame"] == "see-through"
    assert word.accessibleName() == "Frame: see-through"
    QTest.mouseClick(word, Qt.MouseButton.RightButton)

    assert views.view("free").shown["Frame"] == "shown"
    assert set(views.view("free").shown) == set(GROUPS)
    window.close()


def test_a_frame_shows_where_the_keyboard_is_when_it_came_by_key(bench: Bench) -> None:
    view = bench.view

    def has_frame() -> bool:
        frame = view.moment()
        return frame is not None and frame.has_focus

    bench.qtbot.waitUntil(view.hasFocus)  # before that its window is not the active one
    for reason, shows in (
        (Qt.FocusReason.TabFocusReason, True),
        (Qt.FocusReason.MouseFocusReason, False),
        (Qt.FocusReason.OtherFocusReason, False),
        (Qt.FocusReason.ShortcutFocusReason, True),
    ):
        view.clearFocus()
        view.setFocus(reason)
        assert view.hasFocus()
        assert has_frame() == shows
    view.clearFocus()

    assert not has_frame()


def test_names_are_written_when_they_are_asked_for(bench: Bench) -> None:
    view = bench.view

    def written() -> int:
        frame = view.moment()
        assert frame is not None
        picture = QImage(view.size(), QImage.Format.Format_ARGB32)
        painter = QPainter(picture)
        paint_names(painter, frame)
        painter.end()
        boxes = frame.taken
        assert not any(a.intersects(b) for a in boxes for b in boxes if a is not b)
        return len(boxes)

    assert written() == 0
    view.show_group("Names", "see-through")
    some = written()
    view.show_group("Names", "shown")

    assert 0 < some < written()


def test_the_words_bring_views_to_the_front(qtbot: QtBot, look: Look) -> None:
    window, views, _ = shown_views(qtbot, look)

    QTest.mouseClick(views.view_words["rear"], Qt.MouseButton.LeftButton)

    assert views.view("rear").isVisible()
    assert not views.view("free").isVisible()
    assert views.front_view() is views.view("rear")
    window.close()


# --- large scales ----------------------------------------------------------------------------


def test_drags_are_as_true_on_a_screen_of_twice_the_pixels() -> None:
    """The same drags in a process of its own, for Qt learns the scale when it starts."""
    if os.environ.get("QT_SCALE_FACTOR"):
        return
    tests = ("test_a_drag_moves_that_point", "test_a_point_that_follows", "test_an_axis_key")
    ran = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-p",
            "no:cacheprovider",
            "tests/app/scene/test_view_drags.py",
            "-k",
            " or ".join(tests),
        ],
        cwd=ROOT,
        env={**os.environ, "QT_SCALE_FACTOR": "2"},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )

    assert ran.returncode == 0, ran.stdout[-3000:]
    assert "3 passed" in ran.stdout


def _pixel(view: CarView, handle: Handle) -> tuple[int, int]:
    x, y = view.projection().to_screen(np.array([handle.at]))[0, :2]
    return round(x), round(y)


def _apart(one: QColor, other: QColor) -> int:
    return max(
        abs(one.red() - other.red()),
        abs(one.green() - other.green()),
        abs(one.blue() - other.blue()),
    )
