"""Places along a bent tube, against closed forms and fine rows of places."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.tubes import (
    Arc,
    TubeShape,
    centre_line,
    centre_line_with_distances,
    nearest_on,
    pieces,
    place_along,
    reverse,
    shape_from_vertices,
)
from core.geometry.types import Array

SPACE = shape_from_vertices(
    np.array(
        [[1250, 480, 250], [1050, 520, 620], [450, 430, 1060], [-140, 400, 1090], [-420, 380, 640]],
        dtype=np.float64,
    ),
    np.array([133.35, 114.3, 152.4]),
)
SHARP = shape_from_vertices(
    np.array([[0.0, 0.0, 0.0], [900.0, 0.0, 0.0], [300.0, 350.0, 20.0]]), np.array([90.0])
)
NODED = shape_from_vertices(
    np.array([[0.0, 0.0, 0.0], [200.0, 0.0, 0.0], [500.0, 0.0, 0.0], [500.0, 0.0, 300.0]]),
    np.array([80.0, 110.0]),
)
STRAIGHT = shape_from_vertices(np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 700.0]]), np.array([]))
TUBES = [SPACE, SHARP, NODED, STRAIGHT]

tubes = st.sampled_from(TUBES)
shares = st.floats(0.0, 1.0)
points = st.tuples(*[st.floats(-1500.0, 1500.0)] * 3).map(np.array)


def polyline_length(line: Array) -> float:
    return float(np.sum(np.linalg.norm(np.diff(line, axis=0), axis=1)))


@pytest.mark.parametrize("tube", TUBES)
def test_the_cut_length_is_the_length_of_a_fine_polyline(tube: TubeShape) -> None:
    # Chords of 0.01 deg: short by a 1e-9 part of the arcs, below 1e-6 mm.
    line = centre_line(tube, math.radians(0.01))

    assert polyline_length(line) == pytest.approx(tube.length, abs=2e-6)


@pytest.mark.parametrize("tube", TUBES)
def test_the_polyline_runs_from_end_to_end_and_knows_how_far_along_it_is(tube: TubeShape) -> None:
    line, distances = centre_line_with_distances(tube, math.radians(5.0))

    assert line[[0, -1]] == pytest.approx(tube.vertices[[0, -1]], abs=1e-9)
    assert (distances[0], distances[-1]) == (0.0, pytest.approx(tube.length))
    assert np.all(np.diff(distances) > 0.0)
    places = np.array([place_along(tube, float(distance))[0] for distance in distances])
    assert line == pytest.approx(places, abs=1e-9)


@pytest.mark.parametrize(("step_deg", "sagitta"), [(2.0, 0.017), (5.0, 0.10), (10.0, 0.42)])
def test_chords_lie_inside_the_arc_by_no_more_than_the_sagitta(
    step_deg: float, sagitta: float
) -> None:
    # Closed form R (1 - cos(step / 2)) at R = 110; the listed figures are it, rounded.
    corner = np.array([[500.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 400.0]])
    centre = np.array([110.0, 0.0, 110.0])

    line = centre_line(shape_from_vertices(corner, np.array([110.0])), math.radians(step_deg))

    assert np.linalg.norm(line[1:-1] - centre, axis=1) == pytest.approx(110.0, abs=1e-9)
    assert len(line) == 2 + 90 / step_deg + 1
    middles = 0.5 * (line[1:-2] + line[2:-1])
    inside = 110.0 - np.linalg.norm(middles - centre, axis=1)
    exact = 110.0 * (1.0 - math.cos(math.radians(step_deg) / 2))
    assert exact == pytest.approx(sagitta, abs=0.005)
    assert inside == pytest.approx(exact, abs=1e-9)


@given(tubes, st.floats(0.01, 2.0))
def test_no_chord_spans_more_than_was_asked(tube: TubeShape, step: float) -> None:
    _, distances = centre_line_with_distances(tube, step)

    for arc in (piece for piece in pieces(tube) if isinstance(piece, Arc)):
        ends = distances[
            (distances > arc.begin - 1e-6) & (distances < arc.begin + arc.length + 1e-6)
        ]
        assert np.max(np.diff(ends)) / arc.radius <= step + 1e-9


@pytest.mark.parametrize("step", [0.0, -0.1, math.nan])
def test_a_step_that_is_no_step_is_refused(step: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        centre_line(SPACE, step)


@pytest.mark.parametrize("tube", TUBES)
def test_halfway_round_each_arc_lies_its_midpoint(tube: TubeShape) -> None:
    begin = 0.0
    for i in range(len(tube.arcs)):
        begin += float(tube.straights[i])
        place, _ = place_along(tube, begin + 0.5 * float(tube.arcs[i]))
        begin += float(tube.arcs[i])

        assert place == pytest.approx(tube.midpoints[i], abs=1e-9)


@given(tubes, shares)
def test_the_direction_is_that_of_a_small_step_ahead(tube: TubeShape, share: float) -> None:
    distance, step = share * (tube.length - 1e-3), 1e-3

    here, direction = place_along(tube, distance)
    ahead, _ = place_along(tube, distance + step)

    assert np.linalg.norm(direction) == pytest.approx(1.0)
    assert (ahead - here) / step == pytest.approx(direction, abs=2e-5)


@given(tubes, shares)
def test_the_reversed_tube_has_the_same_places_from_its_other_end(
    tube: TubeShape, share: float
) -> None:
    distance = share * tube.length

    place, direction = place_along(tube, distance)
    again, backwards = place_along(reverse(tube), tube.length - distance)

    assert again == pytest.approx(place, abs=1e-8)
    assert backwards == pytest.approx(-direction, abs=1e-8)


@pytest.mark.parametrize("tube", TUBES)
def test_both_ends_belong_to_the_tube_and_nothing_beyond(tube: TubeShape) -> None:
    assert place_along(tube, 0.0)[0] == pytest.approx(tube.vertices[0])
    assert place_along(tube, tube.length)[0] == pytest.approx(tube.vertices[-1])
    for outside in (-0.001, tube.length + 0.001, math.nan):
        with pytest.raises(ValueError, match="outside the tube"):
            place_along(tube, outside)


@pytest.mark.parametrize("tube", TUBES)
def test_the_pieces_follow_one_another_without_a_gap(tube: TubeShape) -> None:
    begin, place = 0.0, tube.vertices[0]
    for piece in pieces(tube):
        first, last = piece.at(np.array([0.0, piece.length]))

        assert piece.begin == pytest.approx(begin)
        assert first == pytest.approx(place, abs=1e-9)
        begin, place = begin + piece.length, last

    assert begin == pytest.approx(tube.length)


def test_a_bend_that_goes_straight_through_gives_no_arc() -> None:
    assert sum(isinstance(piece, Arc) for piece in pieces(NODED)) == 1


@given(tubes, points)
def test_the_nearest_place_is_no_farther_than_a_fine_row_of_places(
    tube: TubeShape, point: Array
) -> None:
    # A distance changes by at most 1 mm per mm, so between places 0.1 apart it can fall by 0.05.
    row = [piece.at(np.arange(0.0, piece.length, 0.1)) for piece in pieces(tube)]
    least = float(
        np.min(np.linalg.norm(np.concatenate([*row, tube.vertices[-1:]]) - point, axis=1))
    )

    distance, gap = nearest_on(tube, point)

    assert least - 0.05 <= gap <= least + 1e-9
    assert math.dist(place_along(tube, distance)[0], point) == pytest.approx(gap, abs=1e-9)


@given(tubes, shares, st.floats(0.0, 2.0 * math.pi), st.floats(0.01, 20.0))
def test_a_point_square_to_the_tube_is_nearest_to_where_it_was_put(
    tube: TubeShape, share: float, angle: float, gap: float
) -> None:
    # Within 20 mm no other part of these tubes is nearer: SHARP's legs are apart by more.
    start = share * tube.length
    place, direction = place_along(tube, start)
    aside = np.linalg.svd(direction[None])[2][1:]
    point = place + gap * (math.cos(angle) * aside[0] + math.sin(angle) * aside[1])

    assert nearest_on(tube, point) == pytest.approx((start, gap), abs=1e-8)


def test_the_centre_of_a_bend_is_a_radius_from_all_of_it_and_the_first_place_is_given() -> None:
    corner = np.array([[500.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 400.0]])
    tube = shape_from_vertices(corner, np.array([110.0]))

    distance, gap = nearest_on(tube, np.array([110.0, 30.0, 110.0]))

    assert gap == pytest.approx(math.hypot(110.0, 30.0))
    assert distance == pytest.approx(390.0, abs=1e-6)


def test_a_point_outside_the_sector_is_nearest_to_the_nearer_end_of_the_arc() -> None:
    # Behind the centre of a bend of 60 deg the middle between both ends is at 210 deg.
    tube = shape_from_vertices(
        np.array([[-60.0, 0.0, 0.0], [0.0, 0.0, 0.0], [30.0, 51.961524227, 0.0]]), np.array([100.0])
    )
    arc = pieces(tube)[1]
    assert isinstance(arc, Arc)
    assert math.degrees(arc.turn_rad) == pytest.approx(60.0, abs=1e-6)

    for angle_deg, run in ((209.0, arc.length), (211.0, 0.0), (-10.0, 0.0), (70.0, arc.length)):
        angle = math.radians(angle_deg)
        spoke = math.cos(angle) * arc.outward + math.sin(angle) * arc.forward
        found, _ = arc.nearest(arc.centre + 40.0 * spoke)

        assert found == pytest.approx(run, abs=1e-9)
