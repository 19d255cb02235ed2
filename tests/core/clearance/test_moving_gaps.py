"""Gaps of moving thick lines against measuring everything, and against a collision library."""

from importlib import import_module
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from core.clearance.moving import least_between, least_to_still, nearest_places
from core.clearance.thick import ThickLines
from core.geometry.distances import segment_segment
from core.geometry.types import Array

fcl: Any = import_module("fcl")

LIBRARY = 1e-3
"""mm: the library closes in on capsules by steps (GJK) and stops at about a millionth of size."""

FAR = 1e6


def some_lines(seed: int, positions: int, lines: int, things: int, spread: float) -> ThickLines:
    """Rods that swing and shift from one position to the next, strewn over half a metre."""
    numbers = np.random.default_rng(seed)
    start = numbers.uniform(-250.0, 250.0, (1, lines, 3))
    end = start + numbers.normal(size=(1, lines, 3)) * 150.0
    shares = np.linspace(-1.0, 1.0, positions)[:, None, None]
    drift = [numbers.normal(size=(1, lines, 3)) * spread for _ in range(3)]
    return ThickLines(
        start + shares * drift[0],
        end + shares * drift[1] + shares**2 * drift[2],
        numbers.uniform(5.0, 30.0, lines),
        np.sort(numbers.integers(0, things, lines)),
        things,
    )


def everything(moving: ThickLines, still: ThickLines) -> Array:
    """The gap (positions, lines, pieces) of every line to every piece."""
    centre = segment_segment(
        moving.starts[:, :, None], moving.ends[:, :, None], still.starts[:, None],
        still.ends[:, None],
    )  # fmt: skip
    return np.asarray(centre - moving.radii[:, None] - still.radii)


def by_things(gaps: Array, moving: ThickLines, still: ThickLines) -> Array:
    least = np.full((moving.count, still.count), np.inf)
    for line, owner in enumerate(moving.owners):
        for piece, other in enumerate(still.owners):
            least[owner, other] = min(least[owner, other], gaps[:, line, piece].min())
    return least


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 45), st.floats(0.0, 120.0))
def test_leaving_out_what_cannot_be_least_changes_no_gap(
    seed: int, positions: int, spread: float
) -> None:
    moving = some_lines(seed, positions, 6, 4, spread)
    still = some_lines(seed + 1, 1, 40, 9, 0.0)

    found = least_to_still(moving, still, FAR)

    assert found.gaps == pytest.approx(by_things(everything(moving, still), moving, still))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.floats(-20.0, 200.0))
def test_a_gap_within_reach_is_found_and_one_beyond_is_never_understated(
    seed: int, reach: float
) -> None:
    moving, still = some_lines(seed, 25, 5, 5, 60.0), some_lines(seed + 1, 1, 30, 8, 0.0)
    wanted = by_things(everything(moving, still), moving, still)

    found = least_to_still(moving, still, reach).gaps

    assert found[wanted <= reach] == pytest.approx(wanted[wanted <= reach])
    assert np.all(found[wanted > reach] >= wanted[wanted > reach] - 1e-9)


@given(st.integers(0, 10**6))
def test_the_position_and_the_lines_told_are_those_of_the_gap(seed: int) -> None:
    moving, still = some_lines(seed, 20, 5, 3, 50.0), some_lines(seed + 1, 1, 12, 4, 0.0)
    gaps = everything(moving, still)

    found = least_to_still(moving, still, FAR)

    seen = np.isfinite(found.gaps)
    at = (found.positions[seen], found.lines[seen], found.others[seen])
    assert gaps[at] == pytest.approx(found.gaps[seen])
    assert np.array_equal(moving.owners[at[1]], np.nonzero(seen)[0])
    assert np.array_equal(still.owners[at[2]], np.nonzero(seen)[1])


@pytest.mark.parametrize("seed", range(12))
def test_gaps_agree_with_capsules_of_a_collision_library(seed: int) -> None:
    moving, still = some_lines(seed, 7, 3, 3, 50.0), some_lines(seed + 100, 1, 6, 6, 0.0)
    found = least_to_still(moving, still, FAR)

    for thing, other in zip(*np.nonzero(np.isfinite(found.gaps)), strict=True):
        at = found.positions[thing, other]
        line, piece = found.lines[thing, other], found.others[thing, other]
        ours = found.gaps[thing, other]
        wanted = by_library(
            capsule(moving.starts[at, line], moving.ends[at, line], float(moving.radii[line])),
            capsule(still.starts[0, piece], still.ends[0, piece], float(still.radii[piece])),
        )
        assert max(0.0, ours) == pytest.approx(wanted, abs=LIBRARY)


def capsule(start: Array, end: Array, radius: float) -> object:
    """The library's capsule lies along z about its middle."""
    way = end - start
    turn, _ = Rotation.align_vectors(way[None], np.array([[0.0, 0.0, np.linalg.norm(way)]]))
    place = fcl.Transform(turn.as_matrix(), (start + end) / 2.0)
    return fcl.CollisionObject(fcl.Capsule(radius, float(np.linalg.norm(way))), place)


def by_library(one: object, other: object) -> float:
    """0 where they overlap."""
    distance: float = fcl.distance(one, other, fcl.DistanceRequest(), fcl.DistanceResult())
    return max(distance, 0.0)


def test_lines_that_both_move_are_measured_at_the_same_position() -> None:
    # Own values: the one rises by 10 a step, the other waits until the last step, then jumps off.
    rise = np.array([0.0, 10.0, 20.0])[:, None, None] * np.array([0.0, 0.0, 1.0])
    one = np.array([[[-50.0, 0.0, 0.0]]]) + rise
    other = np.array([[[0.0, -50.0, 30.0]]]) + np.array([0.0, 0.0, 500.0])[:, None, None]
    starts = np.concatenate([one, other], axis=1)
    ends = starts + np.array([[100.0, 0.0, 0.0], [0.0, 100.0, 0.0]])
    lines = ThickLines(starts, ends, np.array([4.0, 6.0]), np.arange(2), 2)

    found = least_between(lines, np.array([0]), np.array([1]))

    assert found.gaps == pytest.approx([10.0])  # 30 - 10 - 4 - 6
    assert found.positions.tolist() == [1]


def test_overlap_is_a_signed_figure_until_the_centre_lines_touch() -> None:
    still = ThickLines(np.zeros((1, 1, 3)), np.array([[[100.0, 0.0, 0.0]]]), np.array([20.0]),
                       np.zeros(1, dtype=np.intp), 1)  # fmt: skip
    heights = np.array([30.0, 10.0, 0.0])[:, None, None] * np.array([0.0, 0.0, 1.0])
    moving = ThickLines(
        np.array([[[50.0, -50.0, 0.0]]]) + heights, np.array([[[50.0, 50.0, 0.0]]]) + heights,
        np.array([5.0]), np.zeros(1, dtype=np.intp), 1,
    )  # fmt: skip

    for count, wanted in ((1, 5.0), (2, -15.0), (3, -25.0)):
        few = ThickLines(moving.starts[:count], moving.ends[:count], moving.radii, moving.owners, 1)
        assert least_to_still(few, still, FAR).gaps[0, 0] == pytest.approx(wanted)


places = st.tuples(*[st.integers(-3, 3)] * 3).map(lambda place: 50.0 * np.array(place, float))
"""Grid places: parallel, crossing, touching and degenerate lines are common among them."""


@given(places, places, places, places)
def test_nearest_places_lie_on_both_lines_as_far_apart_as_the_lines(
    a: Array, b: Array, c: Array, d: Array
) -> None:
    one, other = nearest_places(a, b, c, d)

    assert np.linalg.norm(one - other) == pytest.approx(segment_segment(a, b, c, d), abs=1e-6)
    for place, start, end in ((one, a, b), (other, c, d)):
        beyond = np.linalg.norm(place - start) + np.linalg.norm(place - end)
        assert beyond == pytest.approx(np.linalg.norm(end - start), abs=1e-6)


def test_nothing_that_stays_gives_no_gap() -> None:
    none = ThickLines(np.zeros((1, 0, 3)), np.zeros((1, 0, 3)), np.zeros(0),
                      np.zeros(0, dtype=np.intp), 0)  # fmt: skip

    assert least_to_still(some_lines(1, 5, 4, 4, 10.0), none, FAR).gaps.shape == (4, 0)
