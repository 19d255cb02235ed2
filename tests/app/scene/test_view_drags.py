"""Real mouse and keys on a real view; what they did is read from the session."""

import numpy as np
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QFocusEvent, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from core.scene.records import Handle
from tests.app.scene.conftest import Bench, MakeBench

REACHED_PX = 2.0
"""Whole pixels of the mouse, and 0.1 mm to which a drag rounds: two pixels leave room for both."""


def test_a_drag_moves_that_point_and_no_other_and_the_camera_stays(bench: Bench) -> None:
    handle = bench.handle("joint")
    before = {(h.ref, h.path): h for h in bench.view.scene.handles}
    pose = bench.view.pose

    end = bench.drag(handle, (40, -25))
    bench.release(end)

    assert np.hypot(*(bench.pixel(bench.now(handle)) - [end.x(), end.y()])) < REACHED_PX
    moved = {h.ref.id for h in bench.view.scene.handles if h.at != before[(h.ref, h.path)].at}
    followers = {h.ref.id for h in bench.view.scene.handles if h.along is not None}
    assert moved - followers == {handle.ref.id}
    assert bench.view.pose is pose


def test_both_sides_of_a_pair_move_as_mirror_images(bench: Bench) -> None:
    handle = bench.handle("joint")

    bench.release(bench.drag(handle, (30, 20)))

    left = bench.now(handle).at
    right = next(h for h in bench.view.scene.handles if h.ref == handle.ref.mirrored()).at
    assert right == (left.x, -left.y, left.z)


def test_an_orbit_on_empty_space_moves_the_camera_and_no_point(bench: Bench) -> None:
    back, document = bench.view.pose.back, bench.document
    start = QPoint(20, 20)

    bench.press(start)
    bench.move(start + QPoint(60, 10))
    bench.release(start + QPoint(60, 10))

    assert not np.allclose(bench.view.pose.back, back)
    assert bench.document is document


def test_escape_puts_it_back_and_leaves_no_step(bench: Bench) -> None:
    handle, document = bench.handle("joint"), bench.document
    steps = len(bench.session.history.done)

    end = bench.drag(handle, (40, -25))
    assert bench.document != document
    QTest.keyClick(bench.view, Qt.Key.Key_Escape)
    bench.move(end + QPoint(5, 5))
    bench.release(end + QPoint(5, 5))

    assert bench.document == document
    assert len(bench.session.history.done) == steps


def test_one_drag_is_one_undo_step(bench: Bench) -> None:
    handle, document = bench.handle("pickup"), bench.document
    steps = len(bench.session.history.done)

    bench.release(bench.drag(handle, (30, 30), steps=12))

    assert len(bench.session.history.done) == steps + 1
    bench.session.undo()
    assert bench.document == document


def test_what_is_held_stays_and_says_what_holds_it(bench_of: MakeBench) -> None:
    bench = bench_of("rear")
    handle, document = bench.handle("wheel_centre", held=True), bench.document

    end = bench.drag(handle, (-80, 0))

    assert bench.document == document
    assert bench.view.card.isVisible()
    assert handle.held in bench.view.card.words
    assert "would miss by" in bench.view.card.words
    bench.release(end)
    QTest.keyClick(bench.view, Qt.Key.Key_Escape)
    assert not bench.view.card.isVisible()


def test_what_is_not_held_of_a_held_thing_still_moves(bench_of: MakeBench) -> None:
    bench = bench_of("rear")
    handle = bench.handle("wheel_centre", held=True)

    bench.release(bench.drag(handle, (0, -40)))

    assert bench.now(handle).at.z > handle.at.z + 1.0
    assert bench.now(handle).at.y == handle.at.y


def test_set_free_it_moves_to_the_end_of_its_shaft_and_no_farther(bench_of: MakeBench) -> None:
    bench = bench_of("rear")
    held = bench.handle("wheel_centre", held=True)
    bench.release(bench.drag(held, (-80, 0)))
    QTest.mouseClick(bench.view.card.free_button, Qt.MouseButton.LeftButton)
    handle = bench.now(held)
    assert not any(handle.held_axes)

    end = bench.drag(handle, (-260, 0))
    asked = bench.view.hand.asked
    assert asked is not None
    assert "pulled to its stop" in asked.stopped
    bench.release(end)

    plane = [d.text for d in bench.view.scene.dimensions if d.level == 1]
    assert bench.now(handle).at.y < handle.at.y + 50.0, plane


def test_an_axis_key_locks_the_drag_to_that_axis(bench_of: MakeBench) -> None:
    bench = bench_of("side")
    handle = bench.handle("joint")

    end = bench.drag(handle, (20, -20))
    QTest.keyClick(bench.view, Qt.Key.Key_Z)
    bench.move(end + QPoint(15, -10))
    bench.release(end + QPoint(15, -10))

    now = bench.now(handle).at
    assert (now.x, now.y) == (handle.at.x, handle.at.y)
    assert now.z > handle.at.z + 1.0


def test_control_rounds_to_the_grid_of_five(bench_of: MakeBench) -> None:
    bench = bench_of("side")
    handle = bench.handle("pickup")
    start = bench.at(handle)
    bench.press(start)

    for step in (QPoint(7, -9), QPoint(23, -31)):
        _move_with(bench, start + step, Qt.KeyboardModifier.ControlModifier)
    _release_with(bench, start + QPoint(23, -31), Qt.KeyboardModifier.ControlModifier)

    now = bench.now(handle).at
    assert now != handle.at
    assert (now.x % 5.0, now.z % 5.0) == (0.0, 0.0)
    assert now.y == handle.at.y


def test_a_point_that_follows_a_tube_slides_along_it(bench: Bench) -> None:
    handle = next(h for h in bench.view.scene.handles if h.along is not None)
    tube = next(t for t in bench.view.scene.tubes if t.ref == handle.along)
    middle = bench.view.projection().to_screen(tube.line.mean(axis=0)[None])[0, :2]
    way = middle - bench.pixel(handle)
    way = way / np.hypot(*way) * 30.0

    bench.release(bench.drag(handle, (round(way[0]), round(way[1]))))

    now = np.array(bench.now(handle).at)
    assert not np.allclose(now, handle.at, atol=1.0)
    assert _gap_to(tube.line, now) < 0.01


def test_losing_the_focus_ends_the_drag_and_keeps_what_was_moved(bench: Bench) -> None:
    handle = bench.handle("joint")
    steps = len(bench.session.history.done)
    end = bench.drag(handle, (40, -25))
    moved = bench.now(handle).at

    QApplication.sendEvent(bench.view, QFocusEvent(QEvent.Type.FocusOut))
    bench.move(end + QPoint(50, 50))

    assert bench.view.hand.is_empty
    assert bench.now(handle).at == moved
    assert len(bench.session.history.done) == steps + 1
    assert bench.session.history.group is None


def test_a_second_button_ends_the_drag(bench: Bench) -> None:
    handle = bench.handle("joint")
    end = bench.drag(handle, (30, 10))
    moved = bench.now(handle).at

    QTest.mousePress(bench.view, Qt.MouseButton.RightButton, pos=end)
    bench.move(end + QPoint(40, 0))
    QTest.mouseRelease(bench.view, Qt.MouseButton.RightButton, pos=end)

    assert bench.view.hand.is_empty
    assert bench.now(handle).at == moved


def test_twenty_queued_moves_cost_at_most_three_draws(bench: Bench) -> None:
    handle = bench.handle("joint")
    start = bench.at(handle)
    bench.press(start)
    bench.settle()
    draws = bench.view.draws

    for i in range(20):
        _post_move(bench, start + QPoint(2 * i, -i))
    end = QPoint(38, -19)
    bench.qtbot.waitUntil(lambda: _reached(bench, handle, start + end))
    QApplication.processEvents()

    assert bench.view.draws - draws <= 3
    bench.release(start + QPoint(38, -19))


def test_twenty_queued_moves_of_an_orbit_cost_at_most_three_draws(bench: Bench) -> None:
    start, pose = QPoint(20, 20), bench.view.pose
    bench.press(start)
    draws = bench.view.draws

    for i in range(20):
        _post_move(bench, start + QPoint(5 * i, i))
    bench.qtbot.waitUntil(lambda: bench.view.pose is not pose)
    QApplication.processEvents()

    assert bench.view.draws - draws <= 3
    bench.release(start + QPoint(95, 19))


def test_pointing_at_a_handle_does_not_draw_the_car_again(bench: Bench) -> None:
    bench.qtbot.wait(300)  # smoothing at rest is one drawing of its own
    handle, draws = bench.handle("joint"), bench.view.draws

    bench.move(bench.at(handle))
    QApplication.processEvents()

    assert bench.selection.hover == handle.ref
    assert bench.view.draws == draws


def test_a_click_chooses_a_handle_and_an_empty_click_nothing(bench: Bench) -> None:
    handle = bench.handle("joint")

    QTest.mouseClick(bench.view, Qt.MouseButton.LeftButton, pos=bench.at(handle))
    chosen = bench.selection.refs
    QTest.mouseClick(bench.view, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))

    assert chosen == (handle.ref,)
    assert bench.selection.refs == ()


def test_a_click_chooses_a_tube(bench_of: MakeBench) -> None:
    bench = bench_of("side")
    pixels = (
        bench.view.projection().to_screen((t.line[0] * share + t.line[-1] * (1 - share))[None])[0]
        for t in bench.view.scene.tubes
        if len(t.line) == 2
        for share in (0.3, 0.5, 0.7)
    )
    x, y, _ = next(p for p in pixels if bench.view.pointing.handle_at(p[0], p[1]) is None)

    QTest.mouseClick(bench.view, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))

    assert bench.selection.refs[0].id.startswith("tube")


def test_arrows_nudge_the_chosen_handle_by_one_millimetre(bench_of: MakeBench) -> None:
    bench = bench_of("side")
    handle = bench.handle("joint")
    QTest.mouseClick(bench.view, Qt.MouseButton.LeftButton, pos=bench.at(handle))
    steps = len(bench.session.history.done)

    QTest.keyClick(bench.view, Qt.Key.Key_Up)
    QTest.keyClick(bench.view, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(bench.view, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)

    now = bench.now(handle).at
    assert np.allclose(np.array(now) - handle.at, [10.0, 0.0, 1.1], atol=0.06)
    assert len(bench.session.history.done) == steps + 3


def test_a_double_click_asks_for_typing(bench: Bench) -> None:
    handle = bench.handle("joint")
    wanted: list[Handle] = []
    bench.view.type_wanted.connect(wanted.append)

    QTest.mouseDClick(bench.view, Qt.MouseButton.LeftButton, pos=bench.at(handle))

    assert [w.ref for w in wanted] == [handle.ref]
    assert isinstance(wanted[0], Handle)


def test_the_engine_and_gearbox_move_as_one_body(bench_of: MakeBench) -> None:
    bench = bench_of("side")
    unit = next(h for h in bench.view.scene.handles if h.kind == "unit")
    mount = next(h for h in bench.view.scene.handles if h.kind == "mount" and h.path == "place")

    bench.release(bench.drag(unit, (25, -15)))

    step = np.array(bench.now(unit).at) - unit.at
    assert np.hypot(step[0], step[2]) > 5.0
    assert np.allclose(np.array(bench.now(mount).at) - mount.at, step, atol=1e-6)
    assert step[1] == 0.0


def test_tab_walks_handles_and_says_each(bench: Bench) -> None:
    QTest.keyClick(bench.view, Qt.Key.Key_Tab)
    first = bench.selection.refs
    QTest.keyClick(bench.view, Qt.Key.Key_Tab)

    assert first != bench.selection.refs
    assert bench.view.accessibleDescription()


def _reached(bench: Bench, handle: Handle, at: QPoint) -> bool:
    return bool(np.hypot(*(bench.pixel(bench.now(handle)) - [at.x(), at.y()])) < REACHED_PX)


def _gap_to(line: np.ndarray, place: np.ndarray) -> float:
    steps = np.diff(line, axis=0)
    share = np.sum((place - line[:-1]) * steps, axis=1) / np.sum(steps * steps, axis=1)
    feet = line[:-1] + np.clip(share, 0, 1)[:, None] * steps
    return float(np.linalg.norm(feet - place, axis=1).min())


def _post_move(bench: Bench, at: QPoint) -> None:
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        at.toPointF(),
        bench.view.mapToGlobal(at).toPointF(),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.postEvent(bench.view, event)


def _move_with(bench: Bench, at: QPoint, modifier: Qt.KeyboardModifier) -> None:
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        at.toPointF(),
        bench.view.mapToGlobal(at).toPointF(),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        modifier,
    )
    QApplication.sendEvent(bench.view, event)
    bench.settle()


def _release_with(bench: Bench, at: QPoint, modifier: Qt.KeyboardModifier) -> None:
    QTest.mouseRelease(bench.view, Qt.MouseButton.LeftButton, modifier, at)
    bench.settle()
