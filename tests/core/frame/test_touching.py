"""Touching without a joint, touching again, and the least gap: two cars and small frames."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.frame.network import Member, Network, Visit
from core.frame.touching import (
    CoincidentNodes,
    coincident_nodes,
    least_tube_gap,
    touch_again,
    touching_not_shared,
)
from core.geometry.tubes import centre_line, shape_from_vertices
from core.geometry.types import Array
from tests.core.frame.two_frames import CHORD, CarFrame, load, straight

NONE = Network(np.zeros((0, 3)), ())


def frame_of(places: Array, *tubes: tuple[int, int, float]) -> Network:
    """Straight tubes from joint to joint, each with its radius."""
    return Network(places, tuple(straight(a, b, places, radius) for a, b, radius in tubes))


def crossing(height: float) -> Network:
    """Two tubes of 19 and 12.5 radius crossing square, their centre lines `height` apart."""
    places = np.array([[-500.0, 0, 0], [500, 0, 0], [100, -300, height], [100, 300, height]])
    return frame_of(places, (0, 1, 19.0), (2, 3, 12.5))


def with_end_moved(frame: CarFrame, tube: str, by: tuple[float, float, float]) -> Network:
    """The frame with the first end of a straight tube at a joint of its own."""
    k = frame.member(tube)
    member = frame.network.members[k]
    places = np.vstack([frame.network.places, member.line[0] + np.array(by)])
    ends = (Visit(len(places) - 1, "end"), *member.visits[1:])
    moved = Member(ends, np.vstack([places[-1:], member.line[1:]]), member.radius)
    members = (*frame.network.members[:k], moved, *frame.network.members[k + 1 :])
    return Network(places, members)


@pytest.mark.parametrize("car", ["demo", "second"])
def test_the_cars_touch_nowhere_without_a_joint(car: str) -> None:
    network = load(car).network

    assert coincident_nodes(network) == ()
    assert touching_not_shared(network) == ()
    assert touch_again(network) == ()


@pytest.mark.parametrize("car", ["demo", "second"])
def test_the_least_gap_is_the_one_a_separate_program_found(car: str) -> None:
    frame = load(car)
    printed, *names = frame.expected["tube_tube_min_mm"]

    found = least_tube_gap(frame.network)

    assert found is not None
    assert [frame.names[k] for k in found.members] == names
    # Printed to 0.1; chords of 5 deg here and 1 deg there.
    assert found.gap == pytest.approx(printed, abs=0.15)
    radii = sum(frame.network.members[k].radius for k in found.members)
    assert math.dist(*found.places) - radii == pytest.approx(found.gap, abs=1e-9)


def test_nothing_and_one_tube_touch_nothing() -> None:
    one = frame_of(np.array([[0.0, 0, 0], [100.0, 0, 0]]), (0, 1, 19.0))

    for network in (NONE, one):
        assert touching_not_shared(network) == ()
        assert touch_again(network) == ()
        assert coincident_nodes(network) == ()
        assert least_tube_gap(network) is None


def test_tubes_that_all_share_a_joint_have_no_least_gap() -> None:
    places = np.array([[0.0, 0, 0], [500.0, 0, 0], [0.0, 500, 0]])

    assert least_tube_gap(frame_of(places, (0, 1, 19.0), (0, 2, 19.0))) is None


@pytest.mark.parametrize(("height", "touches"), [(32.49, True), (32.51, False), (0.0, True)])
def test_a_gap_under_a_millimetre_is_a_touch(height: float, touches: bool) -> None:  # noqa: FBT001
    found = touching_not_shared(crossing(height))

    assert len(found) == touches
    if touches:
        assert found[0].gap == pytest.approx(height - 31.5)
        assert (found[0].repair, found[0].nodes, found[0].onto) == ("crossing", (), None)
        assert found[0].places[0] == pytest.approx((100.0, 0.0, 0.0))
        assert found[0].places[1] == pytest.approx((100.0, 0.0, height))


def test_the_seat_tube_laid_on_the_sills_without_joints_ends_on_each() -> None:
    frame = load("demo")
    new = np.array([[-1030.0, 560.0, 130.0], [-1030.0, -560.0, 130.0]])
    places = np.vstack([frame.network.places, new])
    left, right = len(places) - 2, len(places) - 1
    seat = straight(left, right, places, 12.5)
    tubes = len(frame.network.members)

    found = touching_not_shared(Network(places, (*frame.network.members, seat)))

    assert [(touch.repair, touch.nodes, touch.onto) for touch in found] == [
        ("end_on_tube", (left,), frame.member("M26_sill_L")),
        ("end_on_tube", (right,), frame.member("M26_sill_R")),
    ]
    assert {touch.members[1] for touch in found} == {tubes}
    assert [touch.gap for touch in found] == pytest.approx([-31.5, -31.5])


def test_an_end_that_stops_on_the_skin_of_a_tube_is_an_end_on_it() -> None:
    places = np.array([[-500.0, 0, 0], [500.0, 0, 0], [0.0, 25.0, 0], [0.0, 500, 0]])

    (touch,) = touching_not_shared(frame_of(places, (0, 1, 19.0), (2, 3, 12.5)))

    assert (touch.repair, touch.nodes, touch.onto) == ("end_on_tube", (2,), 0)


def test_an_end_that_overshoots_the_centre_line_is_an_end_on_the_tube() -> None:
    places = np.array([[-500.0, 0, 0], [500.0, 0, 0], [0.0, -10.0, 5], [0.0, 500, 5]])

    (touch,) = touching_not_shared(frame_of(places, (0, 1, 19.0), (2, 3, 12.5)))

    assert touch.places[1] == pytest.approx((0.0, 0.0, 5.0))
    assert (touch.repair, touch.nodes, touch.onto) == ("end_on_tube", (2,), 0)


def test_an_end_just_past_the_skin_of_a_tube_it_crosses_is_a_crossing() -> None:
    places = np.array([[-500.0, 0, 0], [500.0, 0, 0], [0.0, -25.0, 5], [0.0, 500, 5]])

    (touch,) = touching_not_shared(frame_of(places, (0, 1, 19.0), (2, 3, 12.5)))

    assert (touch.repair, touch.nodes, touch.onto) == ("crossing", (), None)


def test_two_ends_beside_each_other_want_to_be_one_joint() -> None:
    places = np.array([[0.0, 0, 0], [500.0, 0, 0], [0.0, 10, 0], [0.0, 500, 0]])

    (touch,) = touching_not_shared(frame_of(places, (0, 1, 19.0), (2, 3, 12.5)))

    assert (touch.repair, touch.nodes, touch.onto) == ("ends_together", (0, 2), None)
    assert touch.gap == pytest.approx(10.0 - 31.5)


def test_a_diagonal_ending_12_beside_its_joint_touches_the_tubes_there() -> None:
    frame = load("demo")

    network = with_end_moved(frame, "M23_hoop_diagonal", (0.0, 0.0, -12.0))

    found = touching_not_shared(network)
    diagonal, new = frame.member("M23_hoop_diagonal"), len(network.places) - 1
    assert found
    assert all(diagonal in touch.members for touch in found)
    assert all(new in touch.nodes for touch in found)


def test_joints_in_one_place_are_told_once_and_their_tubes_do_not_touch_besides() -> None:
    frame = load("demo")

    network = with_end_moved(frame, "M23_hoop_diagonal", (0.0, 0.6, 0.0))

    end = frame.network.members[frame.member("M23_hoop_diagonal")].visits[0].node
    (found,) = coincident_nodes(network)
    assert found.nodes == (end, len(network.places) - 1)
    assert found.spread == pytest.approx(0.6, abs=0.02)
    assert touching_not_shared(network) == ()


def test_a_chain_of_near_joints_is_one_group_and_unused_joints_are_not_told() -> None:
    places = np.array(
        [[0.0, 0, 0], [500.0, 0, 0], [0, 0.9, 0], [0, 500, 0], [0, 1.8, 0], [0, 0, 500], [0, 1, 0]]
    )

    found = coincident_nodes(frame_of(places, (0, 1, 9.0), (2, 3, 9.0), (4, 5, 9.0)))

    assert found == (CoincidentNodes((0, 2, 4), 1.8, (0.0, 0.0, 0.0)),)


def bent_tube(vertices: Array, visits: tuple[Visit, ...]) -> Member:
    shape = shape_from_vertices(vertices, np.full(len(vertices) - 2, 60.0))
    return Member(visits, centre_line(shape, CHORD), 12.5)


HAIRPIN = np.array([[0.0, 0, 0], [600.0, 0, 0], [600.0, 300, 0], [0.0, 300, 0]])


@pytest.mark.parametrize(("reach", "count"), [(500.0, 1), (280.0, 1), (270.0, 0)])
def test_a_tube_from_one_leg_of_a_bend_that_meets_the_other_touches_again(
    reach: float, count: int
) -> None:
    places = np.vstack([HAIRPIN[[0, 3]], [[200.0, 0, 0]], [[200.0, reach, 0]]])
    hairpin = bent_tube(HAIRPIN, (Visit(0, "end"), Visit(2, "through"), Visit(1, "end")))

    found = touch_again(Network(places, (hairpin, straight(2, 3, places, 12.5))))

    assert len(found) == count
    if found:
        assert (found[0].members, found[0].shared) == ((0, 1), (2,))
        assert found[0].gap == pytest.approx(max(300.0 - reach, 0.0) - 25.0, abs=1e-6)


def test_of_several_touches_of_two_tubes_the_worst_is_told() -> None:
    # A straight tube over both legs of a bend: 20 above the first, 5 above the second.
    places = np.vstack([HAIRPIN[[0, 3]], [[200.0, -100, 25]], [[200.0, 400, 0]]])
    hairpin = bent_tube(HAIRPIN, (Visit(0, "end"), Visit(1, "end")))
    network = Network(places, (hairpin, straight(2, 3, places, 12.5)))

    (touch,) = touching_not_shared(network)

    # Height falls by 5 in 100: 5 over the second leg, square to the slope a little less.
    assert touch.gap == pytest.approx(5.0 * math.cos(math.atan(0.05)) - 25.0, abs=1e-9)
    assert touch.places[0] == pytest.approx((200.0, 300.0, 0.0))


def test_sharing_both_joints_is_no_second_touch() -> None:
    places = np.vstack([HAIRPIN[[0, 3]], [[200.0, 0, 0]], [[200.0, 300, 0]]])
    visits = (Visit(0, "end"), Visit(2, "through"), Visit(3, "through"), Visit(1, "end"))
    hairpin = bent_tube(HAIRPIN, visits)

    assert touch_again(Network(places, (hairpin, straight(2, 3, places, 12.5)))) == ()


@given(angle_deg=st.floats(0.5, 179.0), radius=st.floats(8.0, 30.0), bend_deg=st.floats(3, 120))
def test_a_tube_leaving_a_joint_at_any_angle_beside_a_bend_does_not_touch_again(
    angle_deg: float, radius: float, bend_deg: float
) -> None:
    # The bend turns away from the straight tube, so the gap only opens.
    turn, aside = math.radians(bend_deg), math.radians(angle_deg)
    vertices = np.array([[0.0, 0, 0], [300.0, 0, 0], [300.0, 0, 0]])
    vertices[2, :2] += 400.0 * np.array([math.cos(turn), -math.sin(turn)])
    shape = shape_from_vertices(vertices, np.array([60.0]))
    places = np.vstack(
        [vertices[[0, 2]], [[500.0 * math.cos(aside), 500.0 * math.sin(aside), 0.0]]]
    )
    bent = Member((Visit(0, "end"), Visit(1, "end")), centre_line(shape, CHORD), radius)

    assert touch_again(Network(places, (bent, straight(0, 2, places, radius)))) == ()


@pytest.mark.parametrize("angle_deg", [0.0, 30.0, 75.0, 105.0, 150.0, 180.0])
def test_a_tube_ending_on_a_bend_does_not_touch_again(angle_deg: float) -> None:
    vertices = np.array([[-400.0, 0, 0], [0.0, 0, 0], [-400.0, 400, 0]])
    shape = shape_from_vertices(vertices, np.array([60.0]))
    middle = shape.midpoints[0]
    way = np.array([math.cos(math.radians(angle_deg)), 0.0, math.sin(math.radians(angle_deg))])
    places = np.vstack([vertices[[0, 2]], middle, middle + 300.0 * way])
    bent = Member(
        (Visit(0, "end"), Visit(2, "bend"), Visit(1, "end")), centre_line(shape, CHORD), 12.5
    )

    assert touch_again(Network(places, (bent, straight(2, 3, places, 12.5)))) == ()


def test_a_tube_off_the_joint_it_shares_is_left_to_the_check_of_joints() -> None:
    places = np.vstack([HAIRPIN[[0, 3]], [[200.0, 0, 0]], [[200.0, 500, 0]]])
    hairpin = bent_tube(HAIRPIN, (Visit(0, "end"), Visit(2, "through"), Visit(1, "end")))
    stray = replace(straight(2, 3, places, 12.5), line=places[[2, 3]] + np.array([0.0, 40.0, 0.0]))

    assert touch_again(Network(places, (hairpin, stray))) == ()


ends = st.lists(st.tuples(*[st.integers(-400, 400)] * 3), min_size=4, max_size=12, unique=True).map(
    lambda rows: np.array(rows[: len(rows) // 2 * 2], dtype=np.float64)
)


def least_by_samples(network: Network) -> float:
    """Least gap of any two tubes from 200 points along each: never less than the true one."""
    shares = np.linspace(0.0, 1.0, 200)[:, None]
    lines = [m.line[0] + shares * (m.line[1] - m.line[0]) for m in network.members]
    return min(
        float(np.linalg.norm(lines[i][:, None] - lines[j][None], axis=-1).min())
        - network.members[i].radius
        - network.members[j].radius
        for i in range(len(lines))
        for j in range(i)
    )


@given(places=ends)
def test_the_least_gap_agrees_with_many_points_along_each_tube(places: Array) -> None:
    tubes = [(2 * k, 2 * k + 1, 10.0 + k) for k in range(len(places) // 2)]
    network = frame_of(places, *tubes)

    found = least_tube_gap(network)

    sampled = least_by_samples(network)
    step = 1400.0 / 199
    assert found is not None
    assert sampled - step <= found.gap <= sampled + 1e-9
    assert bool(touching_not_shared(network)) == (found.gap < 1.0)


@given(places=ends, move=st.tuples(*[st.floats(-500, 500)] * 3).map(np.array))
def test_mirroring_or_moving_the_frame_changes_no_touch(places: Array, move: Array) -> None:
    tubes = [(2 * k, 2 * k + 1, 25.0) for k in range(len(places) // 2)]

    here = touching_not_shared(frame_of(places, *tubes), touch=1.0)
    there = touching_not_shared(frame_of((places + move) * np.array([1, -1, 1]), *tubes), touch=1.0)

    near_limit = any(abs(touch.gap - 1.0) < 1e-6 for touch in (*here, *there))
    if not near_limit:
        assert [touch.members for touch in here] == [touch.members for touch in there]
        assert [touch.gap for touch in here] == pytest.approx(
            [touch.gap for touch in there], abs=1e-6
        )
