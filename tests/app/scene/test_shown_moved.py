"""The car shown moved in a real view: what moves is drawn there, and nothing else is touched."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from app.pose import Pose
from app.scene.moved import road_under
from app.scene.picking import thing_at
from core.document.base import Ref
from core.geometry.types import Array
from tests.app.scene.conftest import Bench

SECOND = Path(__file__).parents[2] / "cars" / "second-car.jigplate"


@pytest.fixture
def second(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench(qtbot)
    made.session.open(SECOND)
    yield made
    made.window.close()


def pose_of(bench: Bench) -> Pose:
    return Pose.of(bench.selection)


def picture(bench: Bench) -> QImage:
    bench.settle()
    return bench.view.grab().toImage()


def drawn_points(bench: Bench) -> Array:
    """The places of all solids on the screen that are seen in full, as they are drawn."""
    return bench.view.drawn_things.solids[1.0].skin.points


def tyre_of(bench: Bench, label: str) -> Ref:
    name, side = label.rsplit(" ", 1)
    corners = bench.document.corners
    axles = {axle.id: axle.end for axle in bench.document.axles}
    return next(Ref(c.id, side) for c in corners if axles[c.axle.id] == name)  # type: ignore[arg-type]


def test_the_wheels_are_drawn_where_they_stand_and_return(bench: Bench) -> None:
    at_first, before = drawn_points(bench), picture(bench)

    pose_of(bench).set_wheels(bump=50.0, roll_deg=1.0, rack=30.0)

    moved = drawn_points(bench)
    assert moved.shape == at_first.shape
    steps = np.linalg.norm(moved - at_first, axis=1)
    assert 20.0 < steps.max() < 400.0
    assert (steps == 0.0).any()  # the exhaust box and others stand still
    assert picture(bench) != before
    pose_of(bench).to_design()
    np.testing.assert_array_equal(drawn_points(bench), at_first)


def test_a_tyre_is_turned_and_not_made_anew(bench: Bench) -> None:
    """Its drawn places are those of its record, and its normals stay square to its skin."""
    pose_of(bench).set_wheels(bump=40.0, rack=40.0)

    skin = bench.view.drawn_things.solids[1.0].skin
    points, normals, at, seen = skin.points, skin.normals, 0, 0
    for solid in bench.view.shown_scene().solids:
        if solid.look == "soft" or not bench.view.is_shown(solid.ref):
            continue
        corners = solid.vertices[solid.triangles].reshape(-1, 3)
        drawn, square = (part[at : at + len(corners)] for part in (points, normals))
        at += len(corners)
        if solid.part == "tyre":
            seen += 1
            np.testing.assert_allclose(drawn.min(axis=0), corners.min(axis=0), atol=1e-2)
            np.testing.assert_allclose(drawn.max(axis=0), corners.max(axis=0), atol=1e-2)
            faces = drawn.reshape(-1, 3, 3)
            edges = faces[:, 1] - faces[:, 0]
            across = np.abs(np.sum(square.reshape(-1, 3, 3)[:, 0] * edges, axis=1))
            assert np.median(across / np.linalg.norm(edges, axis=1)) < 0.3
    assert seen == 4


def test_no_mesh_is_built_anew_while_a_slider_is_drawn_along(bench: Bench) -> None:
    things = bench.view.drawn_things
    before = things.tubes[1.0].rebuilt, things.rods[1.0].rebuilt

    for step in range(10):
        pose_of(bench).set_wheels(bump=float(step), rack=float(step))
        bench.settle()

    assert (things.tubes[1.0].rebuilt, things.rods[1.0].rebuilt) == before


def test_the_body_stands_still_and_the_table_goes_with_the_wheels(bench: Bench) -> None:
    """Up 50 and rolled 2 degrees left side up: the road is 50 up on the centre line, lower left."""
    pose_of(bench).set_wheels(bump=50.0, roll_deg=2.0)

    road = bench.view.drawn_things.ground.road
    middle, left = (road @ np.array([0.0, y, 0.0, 1.0]) for y in (0.0, 1000.0))
    np.testing.assert_allclose(middle[:3], [0.0, 0.0, 50.0], atol=1e-9)
    assert left[2] == pytest.approx(50.0 - 1000.0 * np.sin(np.radians(2.0)))
    assert bench.view.scene is bench.session.state.scene
    pose_of(bench).to_design()
    np.testing.assert_array_equal(bench.view.drawn_things.ground.road, np.eye(4))
    np.testing.assert_array_equal(road_under(0.0, 0.0), np.eye(4))


def test_handles_stay_at_design_and_it_is_said(bench: Bench) -> None:
    handles = bench.view.scene.handles
    pose_of(bench).set_wheels(bump=50.0)

    frame = bench.view.moment()

    assert frame is not None
    assert not frame.is_design
    assert frame.scene.handles is handles


def test_a_wheel_is_pointed_at_where_it_is_shown(bench: Bench) -> None:
    wheel = tyre_of(bench, "rear left")
    pose_of(bench).set_wheels(bump=70.0)
    shown = bench.view.shown_scene()
    tyre = next(s for s in shown.solids if s.ref == wheel and s.part == "tyre")
    design = next(s for s in bench.view.scene.solids if s.ref == wheel and s.part == "tyre")
    # Just below where the tyre is at design, and well inside it where it is shown: its top.
    top = tyre.vertices[tyre.vertices[:, 2].argmax()] - [0.0, 0.0, 15.0]
    assert top[2] > design.vertices[:, 2].max() + 20.0
    x, y = bench.view.projection().to_screen(top[None])[0, :2]

    at_shown = thing_at(shown, bench.view.projection(), x, y, bench.view.is_shown, [])

    assert at_shown == wheel
    bench.view.pointing.hover_at(float(x), float(y))
    assert bench.selection.hover == wheel


def test_an_edit_while_the_wheels_are_moved_shows_at_once(bench: Bench) -> None:
    pose_of(bench).set_wheels(bump=30.0)
    before = bench.view.shown_scene()

    bench.session.apply("Move", lambda d: d)  # nothing changes, nothing is worked out again
    assert bench.view.shown_scene() is before
    bench.session.open(SECOND)

    after = bench.view.shown_scene()
    assert after is not before
    assert {solid.ref for solid in after.solids} == {s.ref for s in bench.view.scene.solids}


def test_the_second_car_is_shown_moved_too(second: Bench) -> None:
    at_first = drawn_points(second)

    pose_of(second).set_wheels(bump=40.0, roll_deg=-1.0, rack=-20.0)

    assert np.abs(drawn_points(second) - at_first).max() > 20.0
