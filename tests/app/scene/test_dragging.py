"""The drag without Qt: what the hand asks for, and what it gets."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.scene.cameras import home
from app.scene.dragging import Asked, Drag, Grip, Stop, asked, grip_at, snap_to
from core.document.base import Ref, Vec3
from core.scene.records import Handle
from tests.app.scene.test_projection_and_cameras import parallel

SIDE = home("side")
SIDE_VIEW = parallel(SIDE)
MM = SIDE_VIEW.mm_per_pixel(SIDE.target)


def handle(at: tuple[float, float, float] = (-1200.0, 300.0, 500.0), **more: object) -> Handle:
    return Handle(Ref("point1", "left"), "at", "joint", Vec3(*at), **more)  # type: ignore[arg-type]


def taken(thing: Handle, grab: tuple[float, float] = (3.0, -4.0), **more: object) -> Grip:
    x, y, _ = SIDE_VIEW.to_screen(np.array([thing.at]))[0]
    return grip_at(thing, SIDE_VIEW, (x + grab[0], y + grab[1]), SIDE.back, **more)  # type: ignore[arg-type]


def ask(grip: Grip, dx: float, dy: float, **more: object) -> Asked:
    x, y, _ = SIDE_VIEW.to_screen(grip.start[None])[0]
    return asked(grip, SIDE_VIEW, (x + 3.0 + dx, y - 4.0 + dy), **more)  # type: ignore[arg-type]


def test_it_does_not_jump_at_the_press() -> None:
    assert np.allclose(ask(taken(handle()), 0.0, 0.0).place, handle().at)


@given(dx=st.floats(-200, 200), dy=st.floats(-200, 200))
def test_it_follows_the_pointer_in_the_plane_of_the_view(dx: float, dy: float) -> None:
    got = ask(taken(handle()), dx, dy)

    assert np.allclose(got.place - handle().at, [-dx * MM, 0.0, -dy * MM], atol=1e-6)
    assert not got.is_held


@given(dx=st.floats(-200, 200), dy=st.floats(-200, 200), lock=st.sampled_from([0, 2]))
def test_locked_to_an_axis_it_changes_nothing_else(dx: float, dy: float, lock: int) -> None:
    got = ask(taken(handle()), dx, dy, lock=lock)

    step = got.place - handle().at
    assert np.allclose(np.delete(step, lock), 0.0)
    assert step[lock] == pytest.approx(-(dx, 0.0, dy)[lock] * MM, abs=1e-6)


def test_an_axis_along_the_line_of_sight_cannot_be_dragged_along() -> None:
    assert np.allclose(ask(taken(handle()), 50.0, 20.0, lock=1).place, handle().at)


@given(dx=st.floats(-200, 200), dy=st.floats(-200, 200))
def test_a_held_coordinate_never_changes(dx: float, dy: float) -> None:
    got = ask(taken(handle(held="welded", held_axes=(False, False, True))), dx, dy)

    assert got.place[2] == handle().at.z
    assert got.missed[2] == pytest.approx(-dy * MM, abs=1e-6)
    assert got.missed[0] == 0.0


def test_asking_mostly_for_what_is_held_is_resisted_and_says_by_how_much() -> None:
    grip = taken(handle(held="welded", held_axes=(True, True, True)))

    got = ask(grip, 0.0, -50.0)

    assert got.is_held
    assert np.allclose(got.place, grip.start)
    assert np.linalg.norm(got.missed) == pytest.approx(50.0 * MM)


def test_a_slip_along_what_is_held_is_not_resisted() -> None:
    got = ask(taken(handle(held="x", held_axes=(False, False, True))), 60.0, 5.0)

    assert not got.is_held
    assert got.place[0] == pytest.approx(handle().at.x - 60.0 * MM)


def test_a_free_interval_stops_it_at_its_end_with_words() -> None:
    stop = Stop(2, 450.0, 600.0, "at the low end", "at the high end")
    grip = taken(handle(), stop=stop)

    low, inside, high = (ask(grip, 0.0, dy) for dy in (400.0, -2.0, -400.0))

    assert (low.place[2], low.stopped) == (450.0, "at the low end")
    assert (high.place[2], high.stopped) == (600.0, "at the high end")
    assert inside.stopped == ""


def test_on_a_rail_it_stays_on_the_rail_and_says_where_it_ends() -> None:
    rail = np.array([[-1400.0, 300.0, 500.0], [-1200.0, 300.0, 500.0], [-1000.0, 300.0, 700.0]])
    grip = taken(handle(along=Ref("tube1")), rail=rail)

    along = ask(grip, 30.0 / MM, 77.0)
    beyond = ask(grip, 4000.0, 0.0)

    assert np.allclose(along.place, [-1230.0, 300.0, 500.0])
    assert np.allclose(beyond.place, rail[0])
    assert beyond.stopped == "its tube starts here"


def test_it_snaps_to_a_joint_in_reach_and_says_so_else_to_the_grid() -> None:
    other = Handle(Ref("point9"), "at", "joint", Vec3(-1301.3, 300.0, 502.2))
    grip = taken(handle())
    snap = snap_to(grip, (handle(), other), SIDE_VIEW, 12.0)

    near = ask(grip, 100.0 / MM, 1.0, snap=snap)
    far = ask(grip, -53.0 / MM, 0.0, snap=snap)

    assert np.allclose(near.place, other.at)
    assert near.because[0].ref == other.ref
    assert np.allclose(far.place, [-1145.0, 300.0, 500.0])
    assert far.because == ()


def test_a_snap_leaves_the_depth_of_a_plane_view_alone() -> None:
    grip = taken(handle((-1200.0, 303.0, 500.0)))
    snap = snap_to(grip, (), SIDE_VIEW, 12.0)

    assert ask(grip, 20.0, 0.0, snap=snap).place[1] == 303.0


# --- states ----------------------------------------------------------------------------------


def test_a_press_is_a_click_until_it_moves_three_pixels() -> None:
    drag = Drag().pressed(taken(handle()), (100.0, 100.0))

    assert drag.moved((102.0, 100.0)).phase == "pressed"
    assert drag.moved((100.0, 103.5)).phase == "dragging"
    assert drag.moved((100.0, 103.5)).moved((100.0, 100.0)).phase == "dragging"


def test_one_thing_at_a_time_is_in_the_hand() -> None:
    first = Drag().pressed(taken(handle()), (0.0, 0.0))

    assert first.pressed(taken(handle((0.0, 0.0, 0.0))), (9.0, 9.0)) is first


def test_the_same_key_locks_and_unlocks_and_nothing_is_locked_in_an_empty_hand() -> None:
    drag = Drag().pressed(taken(handle()), (0.0, 0.0))

    assert drag.locked(2).lock == 2
    assert drag.locked(2).locked(0).lock == 0
    assert drag.locked(2).locked(2).lock is None
    assert Drag().locked(1).lock is None


def test_ended_it_is_empty() -> None:
    ended = Drag().pressed(taken(handle()), (0.0, 0.0)).ended()
    assert (ended.phase, ended.grip) == ("idle", None)
