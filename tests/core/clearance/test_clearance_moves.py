"""Straight moves and the lift for rolling out, against closed forms and sampled places."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.clearance.bodies import Body
from core.clearance.gaps import least_gap, swept_gap
from core.clearance.lifting import RollOut, lift_to_roll_out, lifts
from core.clearance.lines import Line, LineGroup, grouped, one_by_one, swept
from core.clearance.slabs import slab_clearance
from core.geometry.frames import Frame
from core.geometry.meshes import box_mesh, joined
from core.geometry.types import Array

EXACT = 1e-9
IN_PLACE = Frame(np.zeros(3), np.eye(3))
RADIUS = 16.0

# Two boxes, an L seen from the side: places to be missed by whoever takes the bounds.
BODY = Body(
    *joined(
        [
            box_mesh((-100.0, -50.0, 150.0), (100.0, 50.0, 200.0)),
            box_mesh((-100.0, -50.0, 200.0), (-40.0, 50.0, 300.0)),
        ]
    )
)
LOW = Body(*joined([box_mesh((-100.0, -50.0, 150.0), (100.0, 50.0, 250.0))]))


def line(*points: tuple[float, float, float], radius: float = RADIUS) -> Line:
    return Line(np.array(points), radius)


def group(*lines: Line) -> LineGroup:
    return grouped(lines)[0]


def moved(place: Frame, by: Array) -> Frame:
    return Frame(place.origin + by, place.axes)


coordinate = st.floats(-400.0, 400.0)
triple = st.tuples(coordinate, coordinate, coordinate)


@settings(max_examples=80, deadline=None)
@given(st.lists(triple, min_size=2, max_size=4), triple)
def test_swept_gap_is_the_least_of_all_places_passed(
    points: list[tuple[float, float, float]], sweep: tuple[float, float, float]
) -> None:
    tubes = group(line(*points))
    shares = np.linspace(0.0, 1.0, 101)
    sampled = [least_gap(BODY, moved(IN_PLACE, s * np.array(sweep)), tubes) for s in shares]
    assume(not any(gap.inside for gap in sampled))
    least = min(gap.gap for gap in sampled)

    found = swept_gap(BODY, IN_PLACE, tubes, sweep)

    # A distance changes by no more than the way, and no place is over half a step from a sample.
    half_step = float(np.linalg.norm(sweep)) / 200.0
    assert least - half_step - 1e-7 <= found.gap <= least + 1e-7
    then = least_gap(BODY, moved(IN_PLACE, found.travel * np.array(sweep)), tubes)
    assert then.gap == pytest.approx(found.gap, abs=1e-5)


@settings(max_examples=60)
@given(st.lists(triple, min_size=2, max_size=3), triple, st.floats(0.0, 1.0))
def test_a_longer_move_never_has_more_room(
    points: list[tuple[float, float, float]], sweep: tuple[float, float, float], share: float
) -> None:
    tubes = group(line(*points))
    part = (share * sweep[0], share * sweep[1], share * sweep[2])

    short, long = (swept_gap(BODY, IN_PLACE, tubes, way).gap for way in (part, sweep))

    assert max(long, -RADIUS) <= max(short, -RADIUS) + 1e-7


def test_a_move_of_no_length_is_rest() -> None:
    tubes = group(line((150.0, 0.0, 160.0), (300.0, 40.0, 400.0)))

    assert swept_gap(BODY, IN_PLACE, tubes, (0.0, 0.0, 0.0)) == least_gap(BODY, IN_PLACE, tubes)


@pytest.mark.parametrize("length", [1.0, 1200.0, 1e6])
def test_tube_along_the_move(length: float) -> None:
    """Its ribbon is a line; beside the face y = 50 the gap is the distance across."""
    tubes = group(line((0.0, 90.0, -500.0), (0.0, 90.0, -100.0)))

    found = swept_gap(LOW, IN_PLACE, tubes, (0.0, 0.0, -length))

    below = max(150.0 - length - -100.0, 0.0)
    assert found.gap == pytest.approx(math.hypot(40.0, below) - RADIUS, abs=1e-8)
    sunk = moved(IN_PLACE, np.array([0.0, 0.0, -length * found.travel]))
    assert least_gap(LOW, sunk, tubes).gap == pytest.approx(found.gap, abs=1e-6)
    assert -500.0 - 1e-6 <= found.on_line[2] <= -100.0 + 1e-6


def test_thin_tube_is_not_jumped_over() -> None:
    tubes = group(line((0.0, -300.0, -400.0), (0.0, 300.0, -400.0), radius=0.01))

    found = swept_gap(LOW, IN_PLACE, tubes, (0.0, 0.0, -1200.0))

    assert found.gap == -0.01


def test_blocked_move_names_where_and_when_they_meet() -> None:
    tubes = group(line((0.0, -300.0, -400.0), (0.0, 300.0, -400.0)))

    found = swept_gap(LOW, IN_PLACE, tubes, (0.0, 0.0, -1200.0))

    assert found.on_line == found.on_body
    assert found.on_line[0::2] == pytest.approx((0.0, -400.0), abs=1e-7)
    there = IN_PLACE.origin + found.travel * np.array([0.0, 0.0, -1200.0])
    own = np.array(found.on_body) - there
    low, high = LOW.bounds
    assert np.min(np.abs([own - low, own - high])) == pytest.approx(0.0, abs=1e-7)


def test_nearest_moment_of_a_clear_move_is_named() -> None:
    """The post ends abreast of the body half way down: 40 across, at share 0.5."""
    tubes = group(line((0.0, 90.0, -360.0), (0.0, 290.0, -560.0)))

    found = swept_gap(LOW, IN_PLACE, tubes, (0.0, 0.0, -1200.0))

    assert found.gap == pytest.approx(40.0 - RADIUS, abs=EXACT)
    assert found.on_line == pytest.approx((0.0, 90.0, -360.0), abs=1e-7)
    sunk = 1200.0 * found.travel
    assert 150.0 - sunk - 1e-7 <= -360.0 <= 250.0 - sunk + 1e-7


def test_points_given_twice_change_nothing() -> None:
    once = group(line((0.0, 90.0, -360.0), (0.0, 290.0, -560.0)))
    twice = group(line(*[(0.0, 90.0, -360.0)] * 2, *[(0.0, 290.0, -560.0)] * 3))

    for sweep in ((0.0, 0.0, 0.0), (0.0, 0.0, -1200.0), (7.0, 0.0, -90.0)):
        one, other = (swept_gap(LOW, IN_PLACE, tubes, sweep) for tubes in (once, twice))
        assert other.gap == pytest.approx(one.gap, abs=EXACT)


def test_tube_carried_inside_from_the_start_is_an_overlap() -> None:
    tubes = group(line((-20.0, 0.0, 210.0), (20.0, 0.0, 210.0)))

    found = swept_gap(LOW, IN_PLACE, tubes, (0.0, 0.0, -20.0))

    assert found.inside
    # Sinking by 20 brings the skin above from 40 to 20 away.
    assert found.gap == pytest.approx(-(RADIUS + 20.0), abs=EXACT)


def test_a_swept_group_is_not_swept_again() -> None:
    tubes = swept(group(line((0.0, 90.0, 0.0), (0.0, 90.0, 9.0))), (0.0, 0.0, -5.0))

    with pytest.raises(ValueError, match="swept already"):
        swept_gap(LOW, IN_PLACE, tubes, (1.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="swept already"):
        lift_to_roll_out(LOW, IN_PLACE, [tubes], WAY)


WAY = RollOut(dolly_height=100.0, wanted_gap=20.0)
ROOM = RADIUS + 20.0
TOP = 200.0
"""Upper side of the body 100 high on its dolly of 100."""


def height(*lines: Line, body: Body = LOW, way: RollOut = WAY) -> float:
    return lift_to_roll_out(body, IN_PLACE, grouped(lines), way).height


@pytest.mark.parametrize("x", [-600.0, -100.0, 0.0])
def test_cross_tube_behind_is_lifted_over_the_top(x: float) -> None:
    """Least lift = top of the body - (axis height - r) + wanted gap."""
    found = height(line((x, -400.0, 120.0), (x, 400.0, 120.0)))

    assert found == pytest.approx(TOP - (120.0 - RADIUS) + 20.0, abs=2e-6)


def test_rail_beside_asks_less_than_one_over_the_middle() -> None:
    """30 beside the edge: the room is a hypotenuse, sqrt(room2 - 30^2) high."""
    found = height(line((-700.0, 80.0, 120.0), (200.0, 80.0, 120.0)))

    assert found == pytest.approx(TOP + math.sqrt(ROOM**2 - 30.0**2) - 120.0, abs=2e-6)


def test_tube_ahead_of_the_body_does_not_count() -> None:
    assert height(line((137.0, -400.0, 120.0), (137.0, 400.0, 120.0))) == 0.0


def test_tube_high_enough_asks_no_lift() -> None:
    found = lift_to_roll_out(
        LOW, IN_PLACE, [group(line((0.0, -9.0, 300.0), (0.0, 9.0, 300.0)))], WAY
    )

    assert (found.height, found.governed_by) == (0.0, None)


@pytest.mark.parametrize("spare", [1e-3, 1e-4, 3.0])
def test_posts_close_beside_with_room_ask_no_lift(spare: float) -> None:
    """Each lowering by the room left would be `spare` long: the search must not creep."""
    y = 50.0 + ROOM + spare

    assert height(line((-300.0, y, 0.0), (-300.0, y, 900.0))) == 0.0


@pytest.mark.parametrize("short", [1e-3, 0.1, 10.0, ROOM])
def test_posts_close_beside_without_room_must_be_lifted_over(short: float) -> None:
    """The foot of the post goes over the edge of the body with `room` to it."""
    y = 50.0 + ROOM - short

    found = height(line((-300.0, y, 60.0), (-300.0, y, 900.0)))

    assert found == pytest.approx(TOP + math.sqrt(ROOM**2 - (ROOM - short) ** 2) - 60.0, abs=2e-6)


def test_forward_way_out_minds_the_tubes_ahead() -> None:
    way = RollOut(100.0, 20.0, (2.0, 0.0, 0.0))
    tube = line((600.0, -400.0, 120.0), (600.0, 400.0, 120.0))

    assert height(tube, way=way) == pytest.approx(TOP - (120.0 - RADIUS) + 20.0, abs=2e-6)
    assert height(tube) == 0.0


def test_the_highest_of_several_tubes_governs_and_is_named() -> None:
    lines = [
        line((-500.0, -400.0, 150.0), (-500.0, 400.0, 150.0)),
        line((-600.0, -400.0, 120.0), (-600.0, 400.0, 120.0), radius=12.5),
        line((137.0, -400.0, 90.0), (137.0, 400.0, 90.0)),
    ]

    found = lift_to_roll_out(LOW, IN_PLACE, grouped(lines), WAY)
    alone = lifts(LOW, IN_PLACE, one_by_one(lines), WAY)

    assert found.governed_by is not None
    assert found.governed_by.line == 1
    assert found.governed_by.gap == pytest.approx(20.0, abs=2e-6)
    assert [lift.height for lift in alone] == pytest.approx([86.0, 112.5, 0.0], abs=2e-6)


@settings(max_examples=40, deadline=None)
@given(st.lists(triple, min_size=2, max_size=3))
def test_every_greater_lift_has_the_wanted_gap_and_no_smaller_one_was_overlooked(
    points: list[tuple[float, float, float]],
) -> None:
    tubes = group(line(*points))
    stood = moved(IN_PLACE, np.array([0.0, 0.0, -50.0]))
    away = (-1500.0, 0.0, 0.0)

    def room_at(lift: float) -> float:
        return swept_gap(BODY, moved(stood, np.array([0.0, 0.0, -lift])), tubes, away).gap

    found = lift_to_roll_out(BODY, IN_PLACE, [tubes], WAY)

    assert all(room_at(found.height + more) >= 20.0 - 1e-6 for more in np.linspace(0, 700, 71))
    if found.governed_by is not None:
        assert room_at(found.height) == pytest.approx(20.0, abs=1e-5)


def test_slab_counts_a_piece_it_swallows_whole() -> None:
    """A ribbon sinking 500 passes a small body that none of its faces touches."""
    small = Body(*joined([box_mesh((-1.0, -1.0, -1.0), (1.0, 1.0, 1.0))]))
    ribbon = swept(group(line((200.0, -50.0, 200.0), (200.0, 50.0, 200.0))), (900.0, 0.0, 0.0))
    away = swept(group(line((-900.0, -50.0, 200.0), (-900.0, 50.0, 200.0))), (-900.0, 0.0, 0.0))

    assert slab_clearance(small, IN_PLACE, ribbon, 500.0) == 0.0
    assert slab_clearance(small, IN_PLACE, ribbon, 150.0) == pytest.approx(49.0, abs=EXACT)
    above = Frame(np.array([0.0, 0.0, 250.0]), np.eye(3))
    assert slab_clearance(small, above, ribbon, 500.0) == pytest.approx(49.0, abs=EXACT)
    beside = Frame(np.array([-1000.0, 80.0, 0.0]), np.eye(3))
    assert slab_clearance(small, beside, away, 500.0) == pytest.approx(math.hypot(99.0, 29.0))
