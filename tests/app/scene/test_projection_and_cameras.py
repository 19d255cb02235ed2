"""From car to screen and back, against closed forms; cameras against what they must keep."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.scene.cameras import (
    CameraKind,
    Pose,
    between,
    fitted,
    home,
    looking_at,
    orbited,
    panned,
    zoomed,
)
from app.scene.projection import Projection, Ray, on_axis, on_line, on_plane

KINDS: tuple[CameraKind, ...] = ("free", "plan", "side", "front", "rear")


def parallel(pose: Pose, width: float = 800.0, height: float = 600.0) -> Projection:
    """The parallel projection by its definition: turn into the view's axes, then scale."""
    axes = np.stack([pose.right, pose.up, pose.back])
    half = np.array([pose.half_height * width / height, pose.half_height, -10_000.0])
    matrix = np.eye(4)
    matrix[:3, :3] = axes / half[:, None]
    matrix[:3, 3] = -(axes @ pose.target) / half
    return Projection(matrix, width, height)


def test_the_target_is_in_the_middle_and_the_top_edge_half_a_height_above() -> None:
    pose = home("side")
    shown = parallel(pose).to_screen(
        np.array([pose.target, pose.target + pose.half_height * pose.up])
    )

    assert np.allclose(shown[:, :2], [[400.0, 300.0], [400.0, 0.0]])


@given(
    x=st.floats(0, 800), y=st.floats(0, 600), kind=st.sampled_from(KINDS), deep=st.floats(10, 5000)
)
def test_a_ray_through_a_pixel_is_seen_at_that_pixel(
    x: float, y: float, kind: CameraKind, deep: float
) -> None:
    projection = parallel(home(kind))

    ray = projection.ray(x, y)
    shown = projection.to_screen((ray.origin + deep * ray.direction)[None])[0]

    assert np.allclose(shown[:2], [x, y], atol=1e-6)


def test_a_pixel_is_as_many_millimetres_as_the_height_says() -> None:
    pose = home("front")

    assert parallel(pose).mm_per_pixel(pose.target) == pytest.approx(2 * pose.half_height / 600.0)


def test_plan_and_side_have_the_nose_to_the_left_and_rear_has_left_on_the_left() -> None:
    """Plan and side lie nose left under one another; from behind, left is left."""
    assert np.allclose(home("plan").right, [-1, 0, 0])
    assert np.allclose(home("side").right, [-1, 0, 0])
    assert np.allclose(home("rear").right, [0, -1, 0])
    assert np.allclose(home("front").right, [0, 1, 0])
    assert np.allclose(home("plan").up, [0, -1, 0])


@given(turn=st.floats(-400, 400), tilt=st.floats(-200, 200))
def test_an_orbit_keeps_target_size_and_upright(turn: float, tilt: float) -> None:
    start = home("free")

    pose = orbited(start, turn, tilt)

    assert pose.target is start.target
    assert pose.half_height == start.half_height
    assert np.linalg.norm(pose.back) == pytest.approx(1.0)
    assert pose.up @ pose.back == pytest.approx(0.0, abs=1e-9)
    assert pose.up[2] > 0.0  # never upside down
    assert abs(pose.right[2]) < 1e-9  # the horizon stays level


@given(factor=st.floats(0.2, 5.0), x=st.floats(-900, 900), y=st.floats(-900, 900))
def test_zooming_keeps_the_place_under_the_pointer(factor: float, x: float, y: float) -> None:
    pose = home("side")
    anchor = pose.target + x * pose.right + y * pose.up
    before = parallel(pose).to_screen(anchor[None])[0, :2]

    after = parallel(zoomed(pose, factor, anchor)).to_screen(anchor[None])[0, :2]

    assert np.allclose(before, after, atol=1e-6)


def test_panning_moves_what_is_seen_with_the_hand() -> None:
    pose = home("plan")
    place = pose.target + np.array([10.0, 20.0, 0.0])
    before = parallel(pose).to_screen(place[None])[0]

    after = parallel(panned(pose, 100.0, 50.0)).to_screen(place[None])[0]

    scale = 300.0 / pose.half_height
    assert np.allclose(after[:2] - before[:2], [100.0 * scale, -50.0 * scale])


@given(seed=st.integers(0, 1000), kind=st.sampled_from(KINDS))
def test_what_is_fitted_is_in_view(seed: int, kind: CameraKind) -> None:
    points = np.random.default_rng(seed).normal(scale=900.0, size=(30, 3))

    pose = fitted(home(kind), points, 4 / 3)

    if pose.parallel:
        shown = parallel(pose).to_screen(points)
        assert shown[:, 0].min() >= 0
        assert shown[:, 0].max() <= 800
        assert shown[:, 1].min() >= 0
        assert shown[:, 1].max() <= 600
    else:
        _assert_within_the_cone(pose, points)


def _assert_within_the_cone(pose: Pose, points: np.ndarray) -> None:
    away = points - pose.eye
    depth = -(away @ pose.back)
    slope = np.tan(np.radians(15.0))
    assert (depth > 0).all()
    assert (np.abs(away @ pose.up) <= depth * slope + 1e-6).all()
    assert (np.abs(away @ pose.right) <= depth * slope * 4 / 3 + 1e-6).all()


def test_easing_begins_where_it_was_and_ends_where_it_goes() -> None:
    start, end = home("free"), looking_at(orbited(home("free"), 120, 20), np.ones(3))

    assert np.allclose(between(start, end, 0.0).back, start.back)
    assert between(start, end, 1.0) is end
    middle = between(start, end, 0.4)
    assert np.linalg.norm(middle.back) == pytest.approx(1.0)
    assert middle.up @ middle.back == pytest.approx(0.0, abs=1e-9)


# --- rays ------------------------------------------------------------------------------------

RAY = Ray(np.array([0.0, 0.0, 100.0]), np.array([0.6, 0.0, -0.8]))


def test_a_ray_meets_a_plane_where_the_closed_form_says() -> None:
    met = on_plane(RAY, np.zeros(3), np.array([0.0, 0.0, 1.0]))

    assert met is not None
    assert np.allclose(met, [75.0, 0.0, 0.0])  # 100 down at a slope of 3 in 4


def test_a_plane_seen_edge_on_is_no_guide() -> None:
    assert on_plane(RAY, np.zeros(3), np.array([0.8, 0.0, 0.6])) is None


def test_the_nearest_place_of_an_axis_to_a_crossing_ray_is_the_crossing() -> None:
    met = on_axis(RAY, np.array([75.0, -40.0, 0.0]), np.array([0.0, 1.0, 0.0]))

    assert met is not None
    assert np.allclose(met, [75.0, 0.0, 0.0])


def test_an_axis_along_the_line_of_sight_is_no_guide() -> None:
    assert on_axis(RAY, np.zeros(3), np.array([0.6, 0.0, -0.8])) is None


@given(share=st.floats(0, 1))
def test_the_nearest_place_of_a_line_to_a_ray_through_it_is_that_place(share: float) -> None:
    line = np.array([[-50.0, 5.0, 0.0], [20.0, 0.0, 10.0], [90.0, 0.0, 60.0]])
    place = line[0] + share * (line[1] - line[0])
    ray = Ray(place - 300.0 * RAY.direction, RAY.direction)

    assert np.allclose(on_line(ray, line), place, atol=1e-6)
