"""Distances against closed forms and, in the plane, a general library (shapely)."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from shapely.geometry import LineString, Point

from core.geometry.distances import point_segment, segment_segment
from core.geometry.types import Array, unit

NEAR = 1e-9
"""mm: rounding of coordinates of some hundreds of mm."""

places = st.tuples(*[st.floats(-500.0, 500.0)] * 3).map(lambda place: np.round(place, 6))
"""mm, to a millionth: squares of far smaller numbers vanish, which no library bears."""

grid = st.tuples(*[st.integers(-3, 3)] * 3).map(lambda place: 50.0 * np.array(place))
corners = st.one_of(places, grid)
"""Grid places as well: parallel, crossing, touching and degenerate cases are common among them."""


def flat(place: Array) -> Array:
    return np.array([place[0], place[1], 0.0])


@given(corners, corners, corners)
def test_point_to_segment_agrees_with_shapely_in_the_plane(p: Array, a: Array, b: Array) -> None:
    expected = LineString([a[:2], b[:2]]).distance(Point(p[:2]))

    assert point_segment(flat(p), flat(a), flat(b)) == pytest.approx(expected, abs=NEAR)


@pytest.mark.parametrize(
    ("point", "gap"),
    [((30.0, 40.0, 0.0), 40.0), ((-3.0, 4.0, 0.0), 5.0), ((103.0, 0.0, -4.0), 5.0)],
)
def test_point_to_segment_beside_before_and_beyond(
    point: tuple[float, float, float], gap: float
) -> None:
    # Own values: 3-4-5 triangles about a segment of 100 along x.
    found = point_segment(np.array(point), np.zeros(3), np.array([100.0, 0.0, 0.0]))

    assert found == pytest.approx(gap)


@given(corners, corners, corners, corners)
def test_segments_agree_with_shapely_in_the_plane(a: Array, b: Array, c: Array, d: Array) -> None:
    expected = LineString([a[:2], b[:2]]).distance(LineString([c[:2], d[:2]]))

    found = segment_segment(flat(a), flat(b), flat(c), flat(d))

    assert found == pytest.approx(expected, abs=NEAR)


@given(
    *[st.floats(0.0, 1.0)] * 2,
    st.floats(10.0, 400.0),
    *[st.floats(0.1, 3.0)] * 3,
    places,
)
def test_segments_that_pass_each_other_are_apart_by_their_common_perpendicular(
    share: float, other_share: float, gap: float, lean: float, turn: float, roll: float, at: Array
) -> None:
    # Built outwards from a perpendicular of known length, so the least distance is known.
    axes = Rotation.from_euler("xyz", [lean, turn, roll]).as_matrix()
    way, up = axes[:, 0], axes[:, 2]
    other_way = math.cos(lean) * axes[:, 0] + math.sin(lean) * axes[:, 1]
    start, end = at - share * 300.0 * way, at + (1.0 - share) * 300.0 * way
    other = at + gap * up - other_share * 500.0 * other_way
    other_end = other + 500.0 * other_way

    assert segment_segment(start, end, other, other_end) == pytest.approx(gap, abs=1e-8)


@pytest.mark.parametrize("angle", [1e-3, 1e-6, 1e-9, 1e-12, 0.0])
def test_nearly_parallel_segments_that_cross_keep_their_gap(angle: float) -> None:
    # Crossing in plan at the middle, 40 apart in height.
    slope = np.array([0.0, 1000.0 * math.sin(angle), 0.0])
    start, end = np.array([-1000.0, 0.0, 0.0]), np.array([1000.0, 0.0, 0.0])
    up = np.array([0.0, 0.0, 40.0])

    assert segment_segment(start, end, start + up - slope, end + up + slope) == pytest.approx(40.0)


@given(places, st.floats(1e-3, 400.0))
def test_a_ball_touches_a_tube_where_gap_and_radii_say(direction: Array, gap: float) -> None:
    # Ball of radius 30 beside a tube of radius 16: centre to centre line less both radii.
    if not np.any(np.abs(direction[1:]) > 1e-3):
        direction = np.array([0.0, 1.0, 0.0])
    aside = unit(np.array([0.0, direction[1], direction[2]]))
    centre = np.array([200.0, 0.0, 0.0]) + (gap + 30.0 + 16.0) * aside

    found = point_segment(centre, np.zeros(3), np.array([600.0, 0.0, 0.0])) - 30.0 - 16.0

    assert found == pytest.approx(gap, abs=NEAR)
