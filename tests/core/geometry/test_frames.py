"""Frames: right-handed, square, and refused in words where they cannot be."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from core.geometry.frames import Frame, NoFrame, frame_from_three_points, mirror
from core.geometry.types import Array, read_only, unit

NEAR = 1e-9
"""mm: rounding of a few multiplications of thousands of mm."""

places = st.tuples(*[st.floats(-3000.0, 3000.0)] * 3).map(np.array)
turns = st.tuples(*[st.floats(-math.pi, math.pi)] * 3)


def rotation(angles: tuple[float, ...]) -> Array:
    """Axes turned by three angles, made by scipy: an outside opinion on right-handedness."""
    return np.asarray(Rotation.from_euler("xyz", angles).as_matrix(), dtype=np.float64)


frames = st.builds(lambda place, angles: Frame(place, rotation(angles)), places, turns)


def test_a_point_of_a_frame_turned_to_the_left_lands_where_a_sketch_puts_it() -> None:
    # x of the frame points left (car y), y of the frame points back (car -x).
    frame = Frame(np.array([-2200.0, 20.0, 320.0]), rotation((0.0, 0.0, math.pi / 2)))

    point = frame.to_car(np.array([10.0, 5.0, 1.0]))

    assert point == pytest.approx([-2205.0, 30.0, 321.0], abs=NEAR)
    assert frame.directions_to_car(np.array([1.0, 0.0, 0.0])) == pytest.approx([0, 1, 0], abs=1e-15)


@given(frames, places)
def test_to_car_and_back_is_the_same_point(frame: Frame, point: Array) -> None:
    there = frame.to_car(point)

    assert frame.from_car(there) == pytest.approx(point, abs=NEAR)
    back = frame.directions_from_car(frame.directions_to_car(point))
    assert back == pytest.approx(point, abs=NEAR)


def test_many_points_go_together_as_they_go_alone() -> None:
    frame = Frame(np.array([1.0, 2.0, 3.0]), rotation((0.3, -0.8, 2.0)))
    points = np.arange(12.0).reshape(4, 3)

    together = frame.to_car(points)

    assert together == pytest.approx(np.array([frame.to_car(point) for point in points]))


@given(turns, st.integers(0, 8), st.floats(-9e-5, 9e-5))
def test_rounded_axes_are_made_square_and_hardly_turned(
    angles: tuple[float, ...], entry: int, error: float
) -> None:
    rounded = rotation(angles)
    rounded.flat[entry] += error

    frame = Frame(np.zeros(3), rounded)

    assert frame.axes.T @ frame.axes == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(frame.axes) == pytest.approx(1.0)
    assert frame.axes == pytest.approx(rounded, abs=2e-4)


def test_exact_axes_are_kept_bit_for_bit() -> None:
    axes = rotation((0.3, -0.8, 2.0))

    assert np.array_equal(Frame(np.zeros(3), axes).axes, axes)


@pytest.mark.parametrize(
    ("axes", "words"),
    [
        (np.diag([1.0, -1.0, 1.0]), "left-handed"),
        (np.diag([1.0, 1.0, 1.01]), "not square"),
        (np.array([[1.0, 0.01, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), "not square"),
        (np.diag([1.0, 1.0, math.nan]), "not a number"),
    ],
)
def test_axes_that_are_no_frame_are_refused_in_words(axes: Array, words: str) -> None:
    with pytest.raises(NoFrame, match=words) as caught:
        Frame(np.zeros(3), axes)

    assert words in caught.value.reason


def test_arrays_of_the_wrong_size_are_a_fault_of_the_caller() -> None:
    with pytest.raises(ValueError, match="needs"):
        Frame(np.zeros(2), np.eye(3))


def test_a_frame_cannot_be_changed_and_shares_no_memory() -> None:
    origin = np.zeros(3)
    frame = Frame(origin, np.eye(3))

    origin[0] = 7.0

    assert frame.origin[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        frame.axes[0, 0] = 2.0


@given(places)
def test_mirroring_changes_y_alone_and_twice_is_nothing(point: Array) -> None:
    once = mirror(point)

    assert once.tolist() == [point[0], -point[1], point[2]]
    assert np.array_equal(mirror(once), point)


def test_three_points_on_a_bench_make_the_frame_a_hand_would() -> None:
    origin = np.array([100.0, 50.0, 20.0])

    frame = frame_from_three_points(
        origin, origin + np.array([0.0, 300.0, 0.0]), origin + np.array([-200.0, 80.0, 0.0])
    )

    assert frame.origin == pytest.approx(origin)
    assert frame.axes == pytest.approx(np.array([[0, -1, 0], [1, 0, 0], [0, 0, 1]]), abs=1e-15)


@given(frames, st.floats(10.0, 500.0), st.floats(-300.0, 300.0), st.floats(10.0, 500.0))
def test_three_points_of_a_known_frame_give_it_back(
    frame: Frame, on_x: float, aside: float, up: float
) -> None:
    corners = np.array([[0.0, 0.0, 0.0], [on_x, 0.0, 0.0], [aside, up, 0.0]])
    longest = max(on_x, math.hypot(aside, up), math.hypot(aside - on_x, up))
    assume(on_x * up / longest > 0.11 * longest)

    found = frame_from_three_points(*frame.to_car(corners))

    assert found.origin == pytest.approx(frame.origin, abs=NEAR)
    assert found.axes == pytest.approx(frame.axes, abs=1e-9)


def test_the_third_point_on_the_other_side_turns_z_over() -> None:
    origin, on_x = np.zeros(3), np.array([100.0, 0.0, 0.0])

    over = frame_from_three_points(origin, on_x, np.array([50.0, -80.0, 0.0]))

    assert over.axes[:, 2].tolist() == pytest.approx([0.0, 0.0, -1.0])


def test_a_triangle_lower_than_a_tenth_of_its_longest_side_is_refused() -> None:
    ends = np.zeros(3), np.array([400.0, 0.0, 0.0])

    taken = frame_from_three_points(ends[0], np.array([200.0, 40.1, 0.0]), ends[1])
    with pytest.raises(NoFrame, match="39.9 mm high over 400.0 mm, and at least 40.0 mm"):
        frame_from_three_points(ends[0], np.array([200.0, 39.9, 0.0]), ends[1])

    assert taken.axes[2, 2] == pytest.approx(-1.0)


@pytest.mark.parametrize(
    ("on_x", "words"), [(0.0, "in one place"), (math.nan, "not a number"), (1.0, "in a line")]
)
def test_three_points_without_a_triangle_are_refused(on_x: float, words: str) -> None:
    point = np.array([on_x, 0.0, 0.0])

    with pytest.raises(NoFrame, match=words):
        frame_from_three_points(np.zeros(3), point, point)


def test_unit_scales_each_vector_and_refuses_none() -> None:
    assert unit(np.array([[3.0, 4.0, 0.0], [0.0, 0.0, -2.0]])).tolist() == [
        [0.6, 0.8, 0.0],
        [0.0, 0.0, -1.0],
    ]
    with pytest.raises(ValueError, match="no direction"):
        unit(np.zeros(3))


def test_read_only_is_a_copy() -> None:
    source = np.ones(3)

    copy = read_only(source)
    source[0] = 5.0

    assert copy.tolist() == [1.0, 1.0, 1.0]
    assert not copy.flags.writeable
