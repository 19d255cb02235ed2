"""The tyre as a ring: its outline against shapely, its gaps against points strewn on its skin."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from shapely.geometry import LinearRing, Point, Polygon

from core.clearance.ring import Ring, Wheels, least_to_ring, ring_distance, ring_of
from core.clearance.thick import ThickLines
from core.geometry.distances import point_segment
from core.geometry.types import Array

RING = ring_of(185.0, 292.5, 190.5)  # 185/55R15: 190.5 is half of 15 inches
FAR = 1e6


def outline(ring: Ring) -> list[tuple[float, float]]:
    """Corners (radius, along) from one bead over the tread to the other; the bore closes it."""
    half = [(ring.bead, ring.half_width), (ring.shoulder, ring.half_width),
            (ring.tread, ring.half_tread)]  # fmt: skip
    return half + [(radius, -along) for radius, along in reversed(half)]


@given(st.floats(0.0, 450.0), st.floats(-200.0, 200.0))
def test_distance_to_the_skin_agrees_with_shapely(radius: float, along: float) -> None:
    place = Point(radius, along)
    away = LinearRing(outline(RING)).distance(place)

    found = float(ring_distance(RING, np.array(radius), np.array(along)))

    assert abs(found) == pytest.approx(away, abs=1e-9)
    if away > 1e-6:
        assert (found < 0.0) == Polygon(outline(RING)).contains(place)


def test_sides_tread_and_shoulder_are_where_the_size_says() -> None:
    # Own values: 185 wide, 292.5 free radius; the shoulder begins 8 below the tread.
    beside = ring_distance(RING, np.array([240.0, 0.0, 310.0]), np.array([102.5, 0.0, 0.0]))

    assert beside[0] == pytest.approx(10.0)
    assert beside[2] == pytest.approx(17.5)
    assert (RING.bead, RING.shoulder, RING.half_tread) == pytest.approx((195.5, 284.5, 74.0))


def skin(ring: Ring, spacing: float) -> Array:
    """Places (n, 3) all over the skin, bore and all, the axis along y."""
    corners = np.array([*outline(ring), outline(ring)[0]])
    line = [
        a + np.linspace(0.0, 1.0, int(np.linalg.norm(b - a) / spacing) + 2)[:, None] * (b - a)
        for a, b in pairwise(corners)
    ]
    profile = np.concatenate(line)
    angles = np.linspace(0.0, 2.0 * np.pi, int(2.0 * np.pi * ring.tread / spacing), endpoint=False)
    radius, turn = profile[:, 0, None], angles[None]
    y = np.broadcast_to(profile[:, 1, None], (len(profile), len(angles)))
    places = np.stack([radius * np.cos(turn), y, radius * np.sin(turn)], axis=-1)
    return np.asarray(places.reshape(-1, 3))


def one_line(start: Array, end: Array, radius: float = 10.0) -> ThickLines:
    owners = np.zeros(1, dtype=np.intp)
    return ThickLines(start[None, None], end[None, None], np.array([radius]), owners, 1)


SKIN = skin(RING, 4.0)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6))
def test_gap_to_a_line_agrees_with_points_strewn_on_the_skin(seed: int) -> None:
    numbers = np.random.default_rng(seed)
    axis, centre = numbers.normal(size=3), numbers.uniform(-50.0, 50.0, 3)
    turn, _ = Rotation.align_vectors(axis[None], np.array([[0.0, 1.0, 0.0]]))
    start = centre + numbers.normal(size=3) * 350.0
    end = start + numbers.normal(size=3) * 200.0
    strewn = float(point_segment(turn.apply(SKIN) + centre, start, end).min()) - 10.0
    wheels = Wheels(centre[None], (axis / np.linalg.norm(axis))[None])

    found = least_to_ring(RING, wheels, one_line(start, end), FAR).gaps[0]

    if found > -10.0:  # the centre line stays outside
        near = max(strewn + 10.0, 3.0)
        assert strewn - 2.9**2 / near - 1e-6 <= found <= strewn + 1e-3
    else:
        assert strewn < 40.0


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.0, 150.0))
def test_each_thing_has_the_gap_it_has_alone_at_its_worst_position(seed: int, reach: float) -> None:
    numbers = np.random.default_rng(seed)
    centres = numbers.uniform(-40.0, 40.0, (4, 3))
    spins = np.array([0.0, 1.0, 0.0]) + numbers.normal(size=(4, 3)) * 0.3
    spins /= np.linalg.norm(spins, axis=1, keepdims=True)
    starts = numbers.normal(size=(1, 6, 3)) * 350.0
    ends = starts + numbers.normal(size=(1, 6, 3)) * 150.0
    owners = np.array([0, 0, 1, 2, 2, 3])
    lines = ThickLines(starts, ends, numbers.uniform(5.0, 20.0, 6), owners, 4)
    alone = np.array(
        [
            [
                least_to_ring(
                    RING, Wheels(centres[n : n + 1], spins[n : n + 1]),
                    one_line(starts[0, k], ends[0, k], float(lines.radii[k])), FAR,
                ).gaps[0]
                for k in range(6)
            ]
            for n in range(4)
        ]
    )  # fmt: skip
    wanted = np.array([alone[:, owners == thing].min() for thing in range(4)])

    found = least_to_ring(RING, Wheels(centres, spins), lines, reach)

    near = wanted < reach
    assert found.gaps[near] == pytest.approx(wanted[near], abs=2e-3)
    assert np.all(found.gaps[~near] >= wanted[~near] - 2e-3)


def test_a_tube_through_the_tyre_overlaps() -> None:
    wheels = Wheels(np.zeros((1, 3)), np.array([[0.0, 1.0, 0.0]]))
    through = one_line(np.array([250.0, -300.0, 0.0]), np.array([250.0, 300.0, 0.0]), 16.0)

    found = least_to_ring(RING, wheels, through, FAR)

    assert found.gaps[0] == pytest.approx(-16.0 - 42.5, abs=0.01)  # 292.5 - 250, to the tread


def test_a_size_without_a_tyre_is_refused() -> None:
    with pytest.raises(ValueError, match="no tyre"):
        ring_of(185.0, 200.0, 190.5)
