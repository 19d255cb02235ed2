"""Load paths by geometry: two clean cars, seeded faults, and small frames by hand."""

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.frame.joints import Apart, apart, loose_nodes, mid_tube_tees, unmet_bends
from core.frame.network import Member, Network, Visit, VisitKind
from tests.core.frame.two_frames import CarFrame, load, straight

PLACES = np.array([[0.0, 0, 0], [500.0, 0, 0], [1000.0, 0, 0], [500.0, 400, 0], [500.0, -400, 0]])
RAIL = straight(0, 2, PLACES, 19.0, 1)
NONE = Network(np.zeros((0, 3)), ())


def seat_cross_tube(frame: CarFrame) -> Network:
    """A seat tube teed into both sills half-way along."""
    new = np.array([[-1030.0, 560.0, 130.0], [-1030.0, -560.0, 130.0]])
    places = np.vstack([frame.network.places, new])
    left, right = len(places) - 2, len(places) - 1
    members = list(frame.network.members)
    for name, node in (("M26_sill_L", left), ("M26_sill_R", right)):
        k = frame.member(name)
        members[k] = replace(members[k], visits=(*members[k].visits, Visit(node, "through")))
    return Network(places, (*members, straight(left, right, places, 12.5)))


@pytest.mark.parametrize("car", ["demo", "second"])
def test_the_cars_are_clean(car: str) -> None:
    network = load(car).network

    assert unmet_bends(network) == ()
    assert mid_tube_tees(network) == ()
    assert loose_nodes(network) == ()
    assert apart(network) == ()


@pytest.mark.parametrize("car", ["demo", "second"])
def test_what_the_cars_carry_stands_on_joints_that_hold(car: str) -> None:
    frame = load(car)

    assert mid_tube_tees(frame.network, {frame.node(node) for _, _, node, _ in frame.carried}) == ()


def test_no_tubes_have_no_faults() -> None:
    assert unmet_bends(NONE) == ()
    assert mid_tube_tees(NONE) == ()
    assert loose_nodes(NONE) == ()
    assert apart(NONE) == ()


def test_one_tube_alone_is_loose_at_both_ends() -> None:
    network = Network(PLACES, (RAIL,))

    assert [(loose.node, loose.kind) for loose in loose_nodes(network)] == [(0, "end"), (2, "end")]
    assert mid_tube_tees(network) == ()


def test_the_screen_header_left_out_leaves_two_unmet_and_loose_bends() -> None:
    frame = load("demo")

    network = frame.without("M20_screen_header")

    expected = [frame.node("W_L"), frame.node("W_R")]
    assert [bend.node for bend in unmet_bends(network)] == expected
    assert [(loose.node, loose.kind) for loose in loose_nodes(network)] == [
        (node, "bend") for node in expected
    ]
    rails = (frame.member("M03_roof_rail_L"),), (frame.member("M03_roof_rail_R"),)
    assert tuple(bend.bending for bend in unmet_bends(network)) == rails
    assert unmet_bends(network)[0].place == tuple(frame.network.places[expected[0]])
    assert mid_tube_tees(network) == ()


def test_a_seat_tube_teed_into_both_sills_is_two_tees() -> None:
    frame = load("demo")

    network = seat_cross_tube(frame)

    tees = mid_tube_tees(network)
    assert [tee.place for tee in tees] == [(-1030.0, 560.0, 130.0), (-1030.0, -560.0, 130.0)]
    assert [tee.passing for tee in tees] == [
        (frame.member("M26_sill_L"),),
        (frame.member("M26_sill_R"),),
    ]
    assert {(tee.cause, tee.ending) for tee in tees} == {("one end", (len(network.members) - 1,))}
    assert unmet_bends(network) == ()
    assert loose_nodes(network) == ()
    assert apart(network) == ()


def test_two_ends_hold_a_passing_tube_and_one_does_not() -> None:
    one = Network(PLACES, (RAIL, straight(3, 1, PLACES, 12.5)))
    two = Network(PLACES, (*one.members, straight(1, 4, PLACES, 12.5)))

    assert [tee.node for tee in mid_tube_tees(one)] == [1]
    assert mid_tube_tees(two) == ()


def test_a_mere_mark_is_harmless_until_something_stands_on_it() -> None:
    network = Network(PLACES, (RAIL,))

    assert mid_tube_tees(network) == ()
    assert [(tee.node, tee.cause) for tee in mid_tube_tees(network, {1})] == [(1, "carried")]


def test_two_tubes_crossing_bend_each_other() -> None:
    network = Network(PLACES, (RAIL, straight(3, 4, PLACES, 12.5, 1)))

    found = mid_tube_tees(network)

    assert [(tee.node, tee.passing, tee.cause) for tee in found] == [(1, (0, 1), "crossing")]


def test_a_bend_holds_a_passing_tube_as_two_ends_do() -> None:
    bent = Member((Visit(3, "end"), Visit(1, "bend"), Visit(4, "end")), PLACES[[3, 1, 4]], 12.5)

    assert mid_tube_tees(Network(PLACES, (RAIL, bent, straight(3, 1, PLACES, 12.5)))) == ()


def test_a_tube_passing_through_does_not_meet_a_bend() -> None:
    bent = Member((Visit(3, "end"), Visit(1, "bend"), Visit(4, "end")), PLACES[[3, 1, 4]], 12.5)

    network = Network(PLACES, (bent, RAIL))

    assert [bend.node for bend in unmet_bends(network)] == [1]
    # Two tubes are there, so the joint is not loose.
    assert 1 not in [loose.node for loose in loose_nodes(network)]


def test_a_tube_does_not_meet_its_own_bend() -> None:
    loop = Member((Visit(1, "end"), Visit(1, "bend"), Visit(4, "end")), PLACES[[1, 3, 4]], 12.5)

    assert [bend.bending for bend in unmet_bends(Network(PLACES, (loop,)))] == [(0,)]


def test_a_joint_off_the_tube_that_claims_it_is_apart_by_its_distance() -> None:
    places = PLACES + np.array([[0.0, 0, 0], [0, 3, 4], [0, 0, 0], [0, 0, 0], [0, 0, 0]])

    found = apart(Network(places, (RAIL, straight(1, 3, places, 12.5))))

    assert found == (
        Apart(1, 0, "through", 5.0, place=(500.0, 3.0, 4.0), nearest=(500.0, 0.0, 0.0)),
    )


@pytest.mark.parametrize(("off", "count"), [(0.49, 0), (0.51, 1)])
def test_half_a_millimetre_is_the_limit(off: float, count: int) -> None:
    places = PLACES.copy()
    places[1, 2] = off

    assert len(apart(Network(places, (RAIL,)))) == count


@pytest.mark.parametrize("car", ["demo", "second"])
def test_joints_of_the_cars_lie_on_their_tubes_within_what_chords_take(car: str) -> None:
    # Printed: worst 0.01 mm. Chords of 5 deg lie up to R (1 - cos 2.5 deg) = 0.13 mm inside.
    sagitta = 135.0 * (1 - math.cos(math.radians(2.5)))

    assert apart(load(car).network, tolerance=0.02 + sagitta) == ()


@pytest.mark.parametrize(
    ("line", "radius", "node"),
    [
        (np.zeros((1, 3)), 10.0, 0),
        (np.zeros((2, 2)), 10.0, 0),
        (np.array([[0.0, 0, 0], [math.nan, 0, 0]]), 10.0, 0),
        (np.array([[0.0, 0, 0], [1.0, 0, 0]]), 0.0, 0),
        (np.array([[0.0, 0, 0], [1.0, 0, 0]]), 10.0, 5),
        (np.array([[0.0, 0, 0], [1.0, 0, 0]]), 10.0, -1),
    ],
)
def test_a_tube_that_is_none_is_refused(line: np.ndarray, radius: float, node: int) -> None:
    with pytest.raises(ValueError, match="centre line|radius|joint"):
        Network(PLACES, (Member((Visit(node, "end"),), line, radius),))


@pytest.mark.parametrize("places", [np.zeros((2, 2)), np.array([[math.inf, 0.0, 0.0]])])
def test_joints_without_a_place_are_refused(places: np.ndarray) -> None:
    with pytest.raises(ValueError, match="joint"):
        Network(places, ())


kinds: st.SearchStrategy[VisitKind] = st.sampled_from(["end", "bend", "through"])
visit_lists = st.lists(
    st.lists(st.builds(Visit, st.integers(0, 4), kinds), max_size=5, unique_by=lambda v: v.node),
    max_size=6,
)


@given(lists=visit_lists)
def test_random_frames_agree_with_a_plain_count(lists: list[list[Visit]]) -> None:
    network = Network(PLACES, tuple(Member(tuple(v), PLACES[[0, 2]], 10.0) for v in lists))
    count = Counter((visit.node, visit.kind) for visits in lists for visit in visits)
    tubes = Counter(visit.node for visits in lists for visit in visits)

    unmet = {n for n in range(5) if count[n, "bend"] and not count[n, "end"]}
    teed = {
        n
        for n in range(5)
        if count[n, "through"]
        and not count[n, "bend"]
        and (count[n, "end"] == 1 or (not count[n, "end"] and count[n, "through"] > 1))
    }
    loose = {n for n in range(5) if tubes[n] == 1 and not count[n, "through"]}

    assert {bend.node for bend in unmet_bends(network)} == unmet
    assert {tee.node for tee in mid_tube_tees(network)} == teed
    assert {found.node for found in loose_nodes(network)} == loose


@given(lists=visit_lists, order=st.permutations(range(6)))
def test_the_order_of_the_tubes_does_not_matter(lists: list[list[Visit]], order: list[int]) -> None:
    members = [Member(tuple(visits), PLACES[[0, 2]], 10.0) for visits in lists]
    shuffled = [members[k] for k in order if k < len(members)]

    here, there = Network(PLACES, tuple(members)), Network(PLACES, tuple(shuffled))

    for check in (unmet_bends, mid_tube_tees, loose_nodes):
        assert [found.node for found in check(here)] == [found.node for found in check(there)]
