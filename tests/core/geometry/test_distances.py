"""Distances against closed forms and two general libraries (shapely in the plane, FCL in space)."""

import itertools
import math

import fcl
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation
from shapely.geometry import LineString, Point

from core.geometry.distances import (
    box_point,
    box_segment,
    point_arc,
    point_segment,
    point_triangle,
    sagitta,
    segment_segment,
    segment_triangle,
    segments_gap,
    skew_lines,
)
from core.geometry.types import Array, unit

NEAR = 1e-9
"""mm: rounding of coordinates of some hundreds of mm."""

LIBRARY = 1e-6
"""mm: FCL between triangles, which is a closed form there. Its capsules and solid boxes iterate and
were met 3e-3 off, so they are no judge here."""

places = st.tuples(*[st.floats(-500.0, 500.0)] * 3).map(lambda place: np.round(place, 6))
"""mm, to a millionth: squares of far smaller numbers vanish, which no library bears."""

grid = st.tuples(*[st.integers(-3, 3)] * 3).map(lambda place: 50.0 * np.array(place))
corners = st.one_of(places, grid)
"""Grid places as well: parallel, crossing, touching and degenerate cases are common among them."""


def flat(place: Array) -> Array:
    return np.array([place[0], place[1], 0.0])


def by_fcl(points: Array, triangles: list[list[int]], start: Array, end: Array) -> float:
    """Ask FCL for the distance from triangles to a segment, given as a triangle without area."""
    meshes = [fcl.BVHModel(), fcl.BVHModel()]
    parts = (points, triangles), (np.array([start, end, end]), [[0, 1, 2]])
    for mesh, (vertices, faces) in zip(meshes, parts, strict=True):
        mesh.beginModel(len(faces), len(vertices))
        mesh.addSubModel(vertices, np.array(faces))
        mesh.endModel()
    one, other = (fcl.CollisionObject(mesh) for mesh in meshes)
    # It gives -1 for whatever meets.
    return max(float(fcl.distance(one, other, fcl.DistanceRequest(), fcl.DistanceResult())), 0.0)


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
    assert skew_lines(start, way, other, 7.0 * other_way) == pytest.approx(gap, abs=1e-8)


@pytest.mark.parametrize("angle", [1e-3, 1e-6, 1e-9, 1e-12, 0.0])
def test_nearly_parallel_segments_that_cross_keep_their_gap(angle: float) -> None:
    # Crossing in plan at the middle, 40 apart in height.
    slope = np.array([0.0, 1000.0 * math.sin(angle), 0.0])
    start, end = np.array([-1000.0, 0.0, 0.0]), np.array([1000.0, 0.0, 0.0])
    up = np.array([0.0, 0.0, 40.0])

    assert segment_segment(start, end, start + up - slope, end + up + slope) == pytest.approx(40.0)


def test_parallel_endless_lines_are_apart_by_the_distance_of_a_point() -> None:
    way = np.array([2.0, 0.0, 0.0])

    found = skew_lines(np.zeros(3), way, np.array([77.0, 3.0, 4.0]), -3.0 * way)

    assert found == pytest.approx(5.0)


@given(
    st.lists(st.tuples(corners, corners), min_size=1, max_size=4),
    st.lists(st.tuples(corners, corners), min_size=1, max_size=4),
)
def test_the_table_of_gaps_holds_every_pair(
    ours: list[tuple[Array, Array]], theirs: list[tuple[Array, Array]]
) -> None:
    table = segments_gap(*np.array(ours).swapaxes(0, 1), *np.array(theirs).swapaxes(0, 1))

    assert table.shape == (len(ours), len(theirs))
    for i, (a, b) in enumerate(ours):
        for j, (c, d) in enumerate(theirs):
            assert table[i, j] == segment_segment(a, b, c, d)
            assert table[i, j] == pytest.approx(segment_segment(c, d, b, a), abs=NEAR)


TRIANGLE = np.array([[0.0, 0.0, 0.0], [100.0, 0.0, 0.0], [0.0, 100.0, 0.0]])


@pytest.mark.parametrize(
    ("point", "gap"),
    [
        ((20.0, 30.0, -7.0), 7.0),  # over the inside
        ((50.0, -3.0, 4.0), 5.0),  # beside an edge
        ((100.0 + 3.0, 0.0 - 4.0, 12.0), 13.0),  # off a corner: 3-4-12-13
        ((100.0, 100.0, 0.0), 50.0 * math.sqrt(2.0)),  # beside the long edge
    ],
)
def test_point_to_triangle_over_it_beside_it_and_off_its_corner(
    point: tuple[float, float, float], gap: float
) -> None:
    # Own values by Pythagoras; turned over, the triangle is the same.
    assert point_triangle(np.array(point), TRIANGLE) == pytest.approx(gap)
    assert point_triangle(np.array(point), TRIANGLE[::-1]) == pytest.approx(gap)


def test_a_triangle_without_area_is_its_edges() -> None:
    line = np.array([[0.0, 0.0, 0.0], [100.0, 0.0, 0.0], [60.0, 0.0, 0.0]])

    assert point_triangle(np.array([103.0, 4.0, 0.0]), line) == pytest.approx(5.0)


@given(corners, corners, st.tuples(corners, corners, corners).map(np.array))
def test_segment_to_triangle_agrees_with_fcl(start: Array, end: Array, triangle: Array) -> None:
    expected = by_fcl(triangle, [[0, 1, 2]], start, end)

    assert segment_triangle(start, end, triangle) == pytest.approx(expected, abs=LIBRARY)


@pytest.mark.parametrize(
    ("start", "end", "gap"),
    [
        ((20.0, 20.0, 5.0), (20.0, 20.0, -9.0), 0.0),  # through it
        ((20.0, 20.0, 5.0), (20.0, 20.0, 1.5), 1.5),  # points at it but stops short
        ((80.0, 80.0, 5.0), (80.0, 80.0, -9.0), 30.0 * math.sqrt(2.0)),  # past its long edge
        ((-20.0, 20.0, 0.0), (90.0, 20.0, 0.0), 0.0),  # within its plane, across it
        ((-20.0, 20.0, 3.0), (90.0, 20.0, 3.0), 3.0),  # level above it
        ((20.0, 20.0, 0.0), (20.0, 20.0, 9.0), 0.0),  # stands on it
    ],
)
def test_segment_to_triangle_in_its_special_cases(
    start: tuple[float, ...], end: tuple[float, ...], gap: float
) -> None:
    for triangle in (TRIANGLE, TRIANGLE[::-1]):
        found = segment_triangle(np.array(start), np.array(end), triangle)

        assert found == pytest.approx(gap, abs=NEAR)


@given(places, st.floats(0.05, 6.2), st.floats(20.0, 300.0), places)
def test_point_to_arc_is_what_a_plain_search_finds(
    point: Array, turn: float, radius: float, angles: Array
) -> None:
    axes = Rotation.from_euler("xyz", angles / 100.0).as_matrix()
    centre, outward, forward = np.array([10.0, 20.0, 30.0]), axes[:, 0], axes[:, 1]

    def gap(angle: float) -> float:
        spoke = math.cos(angle) * outward + math.sin(angle) * forward
        return math.dist(point, centre + radius * spoke)

    tries = np.linspace(0.0, turn, 60)
    best, step = min(tries, key=gap), turn / 59
    search = minimize_scalar(
        gap, bounds=(max(0.0, best - step), min(turn, best + step)), method="bounded"
    )
    expected = min(float(search.fun), gap(0.0), gap(turn), gap(best))

    found = point_arc(point, centre, outward, forward, radius, turn)

    assert found == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize(
    ("rho", "height", "gap"), [(70.0, 0.0, 40.0), (140.0, 40.0, 50.0), (0.0, 0.0, 110.0)]
)
def test_a_point_in_the_sector_of_a_bend_sees_its_radius(
    rho: float, height: float, gap: float
) -> None:
    # Closed form: hypot(height, rho - R), R = 110, halfway round a square bend.
    point = np.array([rho / math.sqrt(2.0), rho / math.sqrt(2.0), height])

    found = point_arc(point, np.zeros(3), np.eye(3)[0], np.eye(3)[1], 110.0, math.pi / 2)

    assert found == pytest.approx(gap)


@pytest.mark.parametrize(
    ("point", "gap"),
    [
        ((13.0, 0.0, 0.0), 3.0),  # off a face
        ((13.0, 24.0, 0.0), 5.0),  # off an edge
        ((13.0, -24.0, 42.0), 13.0),  # off a corner: 3-4-12-13
        ((9.0, 0.0, 0.0), -1.0),  # inside, under the nearest face
        ((0.0, 0.0, 0.0), -10.0),  # in the middle
        ((10.0, 5.0, 5.0), 0.0),  # on a face
    ],
)
def test_box_to_point_outside_inside_and_on_it(point: tuple[float, ...], gap: float) -> None:
    # Own values by Pythagoras.
    assert box_point(np.array([10.0, 20.0, 30.0]), np.array(point)) == pytest.approx(gap)


@given(corners, corners, st.tuples(*[st.floats(5.0, 200.0)] * 3).map(np.array))
def test_box_to_segment_agrees_with_fcl(start: Array, end: Array, half_sizes: Array) -> None:
    signs = np.array(list(itertools.product((-1.0, 1.0), repeat=3)))
    expected = by_fcl(signs * half_sizes, ConvexHull(signs).simplices.tolist(), start, end)

    found = box_segment(half_sizes, start, end)

    # FCL sees the skin of the box alone: what lies within it is judged by where it starts.
    if expected <= LIBRARY or bool(np.all(np.abs(start) < half_sizes)):
        assert found <= LIBRARY
    else:
        assert found == pytest.approx(expected, abs=LIBRARY)


def test_a_segment_into_a_box_is_as_deep_as_its_deepest_point() -> None:
    half_sizes, ends = np.array([10.0, 20.0, 30.0]), np.array([[60.0, 0.0, 0.0], [0.0, 50.0, 0.0]])

    found = box_segment(half_sizes, np.array([[7.0, 0.0, 0.0], [0.0, 11.0, 0.0]]), ends)

    assert found == pytest.approx([-3.0, -9.0], abs=NEAR)


@given(places, st.floats(1e-3, 400.0))
def test_a_ball_touches_a_tube_where_gap_and_radii_say(direction: Array, gap: float) -> None:
    # Ball of radius 30 beside a tube of radius 16: centre to centre line less both radii.
    if not np.any(np.abs(direction[1:]) > 1e-3):
        direction = np.array([0.0, 1.0, 0.0])
    aside = unit(np.array([0.0, direction[1], direction[2]]))
    centre = np.array([200.0, 0.0, 0.0]) + (gap + 30.0 + 16.0) * aside

    found = point_segment(centre, np.zeros(3), np.array([600.0, 0.0, 0.0])) - 30.0 - 16.0

    assert found == pytest.approx(gap, abs=NEAR)


@pytest.mark.parametrize(("step_deg", "listed"), [(2.0, 0.017), (5.0, 0.10), (10.0, 0.42)])
def test_the_sagitta_is_the_listed_one(step_deg: float, listed: float) -> None:
    # R (1 - cos(step / 2)) at R = 110, listed rounded.
    assert sagitta(110.0, math.radians(step_deg)) == pytest.approx(listed, abs=0.005)
    exact = 110.0 * (1.0 - math.cos(math.radians(step_deg) / 2))
    assert sagitta(110.0, math.radians(step_deg)) == pytest.approx(exact, rel=1e-9)
