"""Gaps at rest against closed forms of solid geometry."""

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.clearance.bodies import Body
from core.clearance.gaps import gaps, least_gap
from core.clearance.lines import Line, LineGroup, grouped, one_by_one
from core.clearance.pieces import OpenRest
from core.geometry.frames import Frame
from core.geometry.meshes import MeshError, TriangleMesh, box_mesh, joined, winding_number
from core.geometry.types import Array
from tests.oracles.gaps import chord_error, least_of_all

EXACT = 1e-9
IN_PLACE = Frame(np.zeros(3), np.eye(3))
HALF = np.array([100.0, 50.0, 30.0])
RADIUS = 16.0


def body_of(*meshes: TriangleMesh) -> Body:
    return Body(*joined(meshes))


BOX = body_of(box_mesh(-HALF, HALF))


def group(*points: tuple[float, float, float], radius: float = RADIUS) -> LineGroup:
    return grouped([Line(np.array(points), radius)])[0]


def turned(seed: int) -> Frame:
    numbers = np.random.default_rng(seed)
    square, _ = np.linalg.qr(numbers.normal(size=(3, 3)))
    square[:, 0] *= np.sign(np.linalg.det(square))
    return Frame(numbers.normal(size=3) * 300.0, square)


def box_to_segment(half: Array, start: Array, end: Array) -> float:
    """Distance of a solid box to a segment: convex along it, so thirds close in on the least."""

    def away(share: float) -> float:
        place = start + share * (end - start)
        return float(np.linalg.norm(np.maximum(np.abs(place) - half, 0.0)))

    low, high = 0.0, 1.0
    for _ in range(200):
        left, right = low + (high - low) / 3.0, high - (high - low) / 3.0
        low, high = (low, right) if away(left) <= away(right) else (left, high)
    return min(away(low), away(high))


def test_tube_parallel_over_a_face() -> None:
    found = least_gap(BOX, IN_PLACE, group((-400.0, 3.0, 80.0), (500.0, 3.0, 80.0)))

    assert found.gap == pytest.approx(80.0 - 30.0 - RADIUS, abs=EXACT)
    assert found.on_body[2] == pytest.approx(30.0, abs=EXACT)


def test_tube_skew_to_an_edge() -> None:
    """Endless skew lines lie |(A2 - A1) . (d1 x d2)| / |d1 x d2| apart."""
    place, direction = np.array([0.0, 90.0, 75.0]), np.array([0.3, 1.0, -1.0])
    ends = (place - 300.0 * direction, place + 300.0 * direction)

    found = least_gap(BOX, IN_PLACE, grouped([Line(np.array(ends), RADIUS)])[0])

    across = np.cross([1.0, 0.0, 0.0], direction)
    apart = abs(float((place - [0.0, 50.0, 30.0]) @ across)) / float(np.linalg.norm(across))
    assert found.gap == pytest.approx(apart - RADIUS, abs=EXACT)


def test_end_of_a_tube_off_a_corner() -> None:
    found = least_gap(BOX, IN_PLACE, group((110.0, 70.0, 50.0), (400.0, 300.0, 300.0)))

    assert found.gap == pytest.approx(math.hypot(10.0, 20.0, 20.0) - RADIUS, abs=EXACT)


@pytest.mark.parametrize("step_deg", [2.0, 5.0, 10.0])
def test_bend_wrapped_round_a_corner_errs_by_no_more_than_its_chords(step_deg: float) -> None:
    """The edge at rho inside the arc's centre: gap Rb - rho - r for a true arc."""
    bend, rho, step = 110.0, 40.0, math.radians(step_deg)
    angles = np.arange(-45.0, 45.01, step_deg)[:, None] / 180.0 * math.pi
    # Arc in the x-z plane about a centre from which the edge (x = 100, z = 30) lies along 45 deg.
    outward = np.hstack([np.cos(angles + math.pi / 4), 0 * angles, np.sin(angles + math.pi / 4)])
    centre = np.array([100.0, 0.0, 30.0]) - rho * np.array([1.0, 0.0, 1.0]) / math.sqrt(2.0)

    found = least_gap(BOX, IN_PLACE, grouped([Line(centre + bend * outward, RADIUS)])[0])

    true = bend - rho - RADIUS
    assert true - chord_error(bend, step) - EXACT <= found.gap <= true + EXACT


@pytest.mark.parametrize(("step_deg", "error"), [(2.0, 0.017), (5.0, 0.10), (10.0, 0.42)])
def test_chord_error_of_a_bend_of_110(step_deg: float, error: float) -> None:
    """Height of a circular segment, worked by hand to the places shown."""
    assert chord_error(110.0, math.radians(step_deg)) == pytest.approx(error, abs=0.005)


def test_ball_on_a_point_is_told_by_a_sphere_of_flat_facets_within_their_depth() -> None:
    """Sphere to tube: |C - nearest place on the axis| - R - r."""
    angles = np.linspace(0.0, math.pi, 61), np.linspace(0.0, 2 * math.pi, 121)[:-1]
    polar, around = np.meshgrid(*angles, indexing="ij")
    ball = 80.0 * np.stack(
        [np.sin(polar) * np.cos(around), np.sin(polar) * np.sin(around), np.cos(polar)], axis=-1
    )
    number = np.arange(61 * 120, dtype=np.int32).reshape(61, 120)
    right, below = np.roll(number, -1, axis=1)[:-1], number[1:]
    low_right = np.roll(number, -1, axis=1)[1:]
    triangles = [np.stack([number[:-1], below, right], -1), np.stack([right, below, low_right], -1)]
    mesh = TriangleMesh(ball.reshape(-1, 3), np.concatenate(triangles).reshape(-1, 3))

    found = least_gap(body_of(mesh), IN_PLACE, group((-200.0, 90.0, 70.0), (300.0, 90.0, 70.0)))

    true = math.hypot(90.0, 70.0) - 80.0 - RADIUS
    # Facets of 3 degrees lie at most this far inside the sphere, both ways together.
    assert true - EXACT <= found.gap <= true + 2 * 80.0 * (1 - math.cos(math.radians(1.5)))


coordinate = st.floats(-300.0, 300.0)
place_in_space = st.tuples(coordinate, coordinate, coordinate)


@settings(max_examples=200)
@given(st.tuples(*[st.floats(5.0, 150.0)] * 3), place_in_space, place_in_space, st.integers(0, 99))
def test_any_box_to_any_straight_tube(
    half: tuple[float, ...], start: tuple[float, ...], end: tuple[float, ...], seed: int
) -> None:
    """Against the convex distance of a box along a segment, in a turned and shifted place."""
    own, place = np.array([start, end]), turned(seed)
    expected = box_to_segment(np.array(half), own[0], own[1])
    body = body_of(box_mesh(-np.array(half), np.array(half)))

    found = least_gap(body, place, grouped([Line(place.to_car(own), RADIUS)])[0])

    if expected > 1e-6:
        assert found.gap == pytest.approx(expected - RADIUS, abs=1e-7)
        apart = np.linalg.norm(np.subtract(found.on_body, found.on_line))
        assert apart == pytest.approx(expected, abs=1e-7)
    else:
        assert found.gap <= -RADIUS + 1e-6


@pytest.mark.parametrize("seed", range(8))
def test_places_of_a_gap_lie_on_the_skin_and_on_the_centre_line_in_the_car(seed: int) -> None:
    place = turned(seed)
    own = np.random.default_rng(seed + 50).normal(size=(2, 3)) * 40.0 + [0.0, 0.0, 160.0]
    line = Line(place.to_car(own), RADIUS)

    found = least_gap(BOX, place, grouped([line])[0])

    on_skin = np.abs(place.from_car(np.array(found.on_body)))
    assert np.all(on_skin <= HALF + 1e-9)
    assert np.min(HALF - on_skin) == pytest.approx(0.0, abs=1e-9)
    along = line.points[1] - line.points[0]
    offset = np.array(found.on_line) - line.points[0]
    share = float(offset @ along / (along @ along))
    assert -1e-12 <= share <= 1.0 + 1e-12
    assert offset == pytest.approx(share * along, abs=1e-9)


def test_centre_line_through_the_skin_overlaps_by_its_radius_at_the_place_named() -> None:
    found = least_gap(BOX, IN_PLACE, group((10.0, -7.0, 200.0), (10.0, -7.0, 0.0)))

    assert found.gap == -RADIUS
    assert not found.inside
    assert found.on_body == pytest.approx((10.0, -7.0, 30.0), abs=EXACT)
    assert found.on_line == found.on_body


def test_tube_wholly_inside_is_an_overlap_by_radius_and_depth() -> None:
    found = least_gap(BOX, IN_PLACE, group((-20.0, 0.0, 10.0), (20.0, 0.0, 10.0)))

    assert found.inside
    assert found.gap == pytest.approx(-(RADIUS + 20.0), abs=EXACT)


def test_tube_inside_is_found_among_others_that_are_nearer_the_skin() -> None:
    lines = [
        Line(np.array([[-300.0, 0.0, 35.0], [300.0, 0.0, 35.0]]), RADIUS),
        Line(np.array([[-20.0, 0.0, 10.0], [20.0, 0.0, 10.0]]), RADIUS),
    ]

    found = least_of_all(BOX, IN_PLACE, grouped(lines))

    assert found is not None
    assert (found.line, found.inside) == (1, True)


def test_tube_within_the_bounds_but_outside_the_body_is_clear() -> None:
    sides = [box_mesh((x, -50.0, -30.0), (x + 40.0, 50.0, 30.0)) for x in (-100.0, 60.0)]

    found = least_gap(body_of(*sides), IN_PLACE, group((-10.0, 0.0, 0.0), (10.0, 0.0, 0.0)))

    assert not found.inside
    assert found.gap == pytest.approx(50.0 - RADIUS, abs=EXACT)


def test_mesh_turned_inside_out_still_holds_a_tube() -> None:
    mesh = BOX.mesh
    body = body_of(TriangleMesh(mesh.vertices, mesh.triangles[:, ::-1]))

    found = least_gap(body, IN_PLACE, group((-20.0, 0.0, 10.0), (20.0, 0.0, 10.0)))

    assert found.inside


def open_box() -> Body:
    mesh = BOX.mesh
    lid = np.all(mesh.corners()[:, :, 2] == 30.0, axis=1)
    return body_of(TriangleMesh(mesh.vertices, mesh.triangles[~lid]))


def test_tube_that_ends_inside_an_open_mesh_is_not_called_clear() -> None:
    """It comes in by the open face and never meets the skin."""
    found = least_gap(open_box(), IN_PLACE, group((0.0, 0.0, 300.0), (0.0, 0.0, -5.0)))

    assert found.inside
    assert found.gap == pytest.approx(-(RADIUS + 25.0), abs=EXACT)


def test_tube_beside_an_open_mesh_is_measured_to_its_skin() -> None:
    found = least_gap(open_box(), IN_PLACE, group((150.0, 0.0, 300.0), (150.0, 0.0, -5.0)))

    assert not found.inside
    assert found.gap == pytest.approx(50.0 - RADIUS, abs=EXACT)


def test_body_tells_closed_pieces_from_an_open_rest() -> None:
    body = body_of(open_box().mesh, box_mesh((200.0, 0.0, 0.0), (300.0, 10.0, 10.0)))

    assert [piece.mesh.volume() for piece in body.closed_pieces] == [pytest.approx(10_000.0)]
    assert body.open_rest is not None
    assert body.open_rest.bounds.tolist() == [(-HALF).tolist(), HALF.tolist()]
    assert len(body.one_of_each_piece) == 2
    assert BOX.open_rest is None


def test_part_and_line_of_the_least_gap_are_named() -> None:
    row = [box_mesh((x, 0.0, 0.0), (x + 10.0, 10.0, 10.0)) for x in (0.0, 100.0, 200.0)]
    lines = [
        Line(np.array([[x, 5.0, z], [x, 5.0, z + 50.0]]), r)
        for x, z, r in ((5.0, 40.0, 6.0), (105.0, 35.0, 8.0), (205.0, 45.0, 6.0), (5.0, 60.0, 8.0))
    ]

    alone = gaps(body_of(*row), IN_PLACE, one_by_one(lines))
    least = least_of_all(body_of(*row), IN_PLACE, grouped(lines))

    assert [(gap.line, gap.part) for gap in alone] == [(0, 0), (1, 1), (2, 2), (3, 0)]
    assert [gap.gap for gap in alone] == pytest.approx([24.0, 17.0, 29.0, 42.0], abs=EXACT)
    assert least == alone[1]


def test_no_tube_gives_no_answer_rather_than_a_clear_one() -> None:
    assert least_of_all(BOX, IN_PLACE, grouped([])) is None
    assert gaps(BOX, IN_PLACE, []) == ()


def test_moving_body_and_tubes_together_changes_no_gap() -> None:
    own = np.array([[-400.0, 30.0, 90.0], [100.0, 80.0, 70.0], [300.0, -60.0, 20.0]])
    before = least_gap(BOX, IN_PLACE, grouped([Line(own, RADIUS)])[0])

    for seed in range(5):
        place = turned(seed)
        after = least_gap(BOX, place, grouped([Line(place.to_car(own), RADIUS)])[0])
        assert after.gap == pytest.approx(before.gap, abs=EXACT)


def test_bodies_lines_and_groups_are_equal_by_content() -> None:
    again = Body(BOX.mesh, BOX.part_of_triangle)
    one, other = (group((0.0, 0.0, 80.0), (9.0, 0.0, 80.0)) for _ in range(2))

    assert again == BOX
    assert hash(again) == hash(BOX)
    assert Body(BOX.mesh, BOX.part_of_triangle + 1) != BOX
    assert one == other
    assert hash(one) == hash(other)
    assert one != group((0.0, 0.0, 80.0), (9.0, 0.0, 80.0), radius=17.0)
    assert LineGroup(one.lines, (5,)) != one
    assert LineGroup(one.lines, one.numbers, (0.0, 0.0, 1.0)) != one


def test_bad_figures_are_refused() -> None:
    good = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    for points, radius in product([good[:1], good * math.nan, good[:, :2], good], [0.0, math.inf]):
        with pytest.raises(ValueError, match="needs"):
            Line(points, radius)
    with pytest.raises(ValueError, match="one radius"):
        LineGroup((Line(good, 1.0), Line(good, 2.0)), (0, 1))
    with pytest.raises(ValueError, match="one radius"):
        LineGroup((), ())
    with pytest.raises(ValueError, match="finite"):
        LineGroup((Line(good, 1.0),), (0,), (0.0, 0.0, math.nan))
    with pytest.raises(MeshError):
        Body(BOX.mesh, BOX.part_of_triangle[:-1])


@pytest.mark.parametrize("seed", range(20))
def test_quick_winding_number_of_an_open_mesh_is_near_the_exact_one(seed: int) -> None:
    """Against the exact sum over every triangle (Van Oosterom, Strackee, 1983)."""
    row = [box_mesh((x, y, 0.0), (x + 9.0, y + 9.0, 80.0)) for x in range(9) for y in range(9)]
    whole = joined(row)[0]
    mesh = TriangleMesh(whole.vertices * [11.0, 11.0, 2.0], whole.triangles[5:-30])
    rest = OpenRest(mesh)
    place = np.random.default_rng(seed).uniform(-20.0, 220.0, 3)

    found = rest.winding_number(place)

    assert found == pytest.approx(winding_number(mesh, place[None])[0], abs=0.02)


def test_mesh_that_repeats_every_vertex_is_still_known_as_closed() -> None:
    corners = BOX.mesh.corners().reshape(-1, 3)
    soup = TriangleMesh(corners, np.arange(len(corners), dtype=np.int32).reshape(-1, 3))

    body = body_of(soup)

    assert body.open_rest is None
    assert len(body.closed_pieces) == len(body.one_of_each_piece) == 1
    assert least_gap(body, IN_PLACE, group((-20.0, 0.0, 10.0), (20.0, 0.0, 10.0))).inside


def test_flat_open_mesh_holds_nothing() -> None:
    sheet = TriangleMesh(np.array([[-9.0, -9, 0], [9, -9, 0], [0, 9, 0]]), np.array([[0, 1, 2]]))

    found = least_gap(body_of(sheet), IN_PLACE, group((0.0, 0.0, -30.0), (0.0, 0.0, -20.0)))

    assert not found.inside
    assert found.gap == pytest.approx(20.0 - RADIUS, abs=EXACT)
