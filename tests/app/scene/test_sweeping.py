"""Bars swept all at once, against the closed forms of cylinder, ball and torus."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.scene.creases import shaded
from app.scene.mesh_loading import gathered, light_mesh
from app.scene.picking import first_triangle
from app.scene.projection import Ray
from app.scene.sweeping import SIDES, Ends, Rings, faces_of, rings_for, swept, thinned
from core.geometry.meshes import box_mesh, ply_bytes
from core.geometry.types import Array
from core.scene.shapes import ball_mesh


def skin_of(
    lines: list[Array], radii: list[float], ends: Ends = "round"
) -> tuple[Rings, Array, Array]:
    rings = rings_for([len(line) for line in lines], ends)
    return rings, *swept(rings, np.concatenate(lines), np.array(radii))


@given(seed=st.integers(0, 500), radius=st.floats(5, 40))
def test_every_point_of_a_straight_bar_is_a_radius_from_its_line(seed: int, radius: float) -> None:
    ends = np.random.default_rng(seed).normal(scale=400.0, size=(2, 3))

    _, points, normals = skin_of([ends], [radius])

    step = ends[1] - ends[0]
    share = np.clip((points - ends[0]) @ step / (step @ step), 0.0, 1.0)
    feet = ends[0] + share[:, None] * step  # round ends: a ball of that radius at each end
    assert np.allclose(np.linalg.norm(points - feet, axis=1), radius, rtol=1e-6)
    assert np.allclose(np.sum((points - feet) * normals, axis=1), radius, rtol=1e-6)


def test_a_bent_bar_lies_on_the_torus_of_its_bend() -> None:
    turns = np.radians(np.arange(0.0, 91.0, 1.0))
    line = np.column_stack([200.0 * np.cos(turns), 200.0 * np.sin(turns), np.zeros(91)])

    _, points, _ = skin_of([thinned(line)], [20.0])

    inner = points[3 * SIDES : -3 * SIDES]  # without the ends, where the last chord is half a step
    round_ = np.hypot(inner[:, 0], inner[:, 1]) - 200.0
    assert np.allclose(np.hypot(round_, inner[:, 2]), 20.0, atol=0.05)


def test_flat_ends_end_where_the_line_ends() -> None:
    line = np.array([[0.0, 0.0, 0.0], [100.0, 0.0, 0.0]])

    _, points, _ = skin_of([line], [10.0], "flat")

    assert points[:, 0].min() == 0.0
    assert points[:, 0].max() == 100.0


def test_faces_join_rings_of_one_bar_only() -> None:
    lines = [np.eye(3)[:2] * 100.0, np.eye(3) * 300.0]

    rings, points, _ = skin_of(lines, [10.0, 10.0])
    faces = faces_of(rings)[:, 1:]

    bars = rings.points_of_bar()
    assert (bars[faces] == bars[faces][:, :1]).all()
    assert faces.max() == len(points) - 1


def test_thinning_keeps_the_ends_of_legs_and_stays_near_the_arc() -> None:
    turns = np.radians(np.arange(0.0, 61.0, 1.0))
    arc = np.column_stack([150.0 * np.sin(turns), 150.0 * np.cos(turns), 0.0 * turns])
    leg = arc[-1] + 400.0 * np.array([np.cos(turns[-1]), -np.sin(turns[-1]), 0.0])
    line = np.vstack([[-500.0, 150.0, 0.0], arc, leg])

    fewer = thinned(line)

    assert len(fewer) < len(line) / 3
    for kept in (line[0], line[1], line[-2], line[-1]):
        assert (np.linalg.norm(fewer - kept, axis=1) < 1e-9).any()
    middles = (fewer[1:-2] + fewer[2:-1]) / 2.0
    sag = 150.0 - np.hypot(middles[:, 0], middles[:, 1])
    assert sag.max() < 150.0 * (1.0 - np.cos(np.radians(3.0)))  # chords of at most six degrees


# --- solids ----------------------------------------------------------------------------------


def test_a_box_has_flat_faces_and_twelve_edges() -> None:
    box = box_mesh((0, 0, 0), (10, 20, 30))

    points, normals, edges = shaded(box.vertices, box.triangles)

    assert len(points) == 36
    assert set(np.abs(normals).round(9).sum(axis=1)) == {1.0}
    lengths = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1)
    assert sorted(lengths.round(9)) == [10.0] * 4 + [20.0] * 4 + [30.0] * 4


def test_a_ball_is_smooth() -> None:
    ball = ball_mesh(np.zeros(3), 50.0)

    points, normals, _ = shaded(ball.vertices, ball.triangles)

    skin = np.hypot(points[:, 0], points[:, 1]) > 5.0  # it is turned on an axis, closed round it
    cosines = np.sum(points * normals, axis=1)[skin] / np.linalg.norm(points, axis=1)[skin]
    assert np.degrees(np.arccos(cosines.clip(-1, 1))).max() < 10.0  # facets are of nine degrees


def test_a_lighter_mesh_moves_no_place_farther_than_it_says() -> None:
    ball = ball_mesh(np.zeros(3), 50.0)
    grid = 8.0

    vertices, triangles = gathered(ball.vertices, ball.triangles, grid)

    assert len(triangles) < len(ball.triangles)
    gaps = np.linalg.norm(ball.vertices[:, None] - vertices[None], axis=2).min(axis=1)
    assert gaps.max() <= grid * np.sqrt(3.0)


def test_a_small_mesh_is_drawn_whole() -> None:
    ball = ball_mesh(np.zeros(3), 50.0)

    light = light_mesh(ply_bytes(ball))

    assert light.deviation == 0.0
    assert len(light.shaded.points) == 3 * len(ball.triangles)


def test_a_ray_meets_a_ball_where_the_closed_form_says() -> None:
    ball = ball_mesh(np.zeros(3), 50.0)
    ray = Ray(np.array([-200.0, 7.0, 11.0]), np.array([1.0, 0.0, 0.0]))

    depth = first_triangle(ball.vertices, ball.triangles, ray)

    assert depth == pytest.approx(200.0 - np.sqrt(50.0**2 - 7.0**2 - 11.0**2), abs=0.5)
    ray = Ray(np.array([-200.0, 49.0, 30.0]), np.array([1.0, 0.0, 0.0]))
    assert first_triangle(ball.vertices, ball.triangles, ray) is None
