"""Speed of the gaps of what moves, as ratios to the bare distances of everything in the same run.

One corner: 117 positions, nine rods of 400 whose outer ends go 120 up and down, 25 tubes that bend,
1,000 chords in all, about them.
"""

import numpy as np
import pytest

from core.clearance.moving import least_to_still
from core.clearance.ring import Wheels, least_to_ring, ring_distance, ring_of
from core.clearance.thick import ThickLines
from core.geometry.distances import segment_segment
from core.geometry.types import Array
from tests.bench.ratios import Bound, Turns, ratio

LINES = Bound(most=1 / 40, measured=1 / 110)
"""Against every rod to every chord at every position, by the same distance of two segments."""

TYRE = Bound(most=1 / 4, measured=1 / 11)
"""Against the distance of the tyre to a ball at every 10 mm of every chord at every position."""

REACH, RING = 60.0, ring_of(185.0, 292.5, 190.5)
BUMPS = np.repeat(np.linspace(-60.0, 60.0, 13), 9)
RACKS = np.tile(np.linspace(-60.0, 60.0, 9), 13)


def rods() -> ThickLines:
    numbers = np.random.default_rng(3)
    inner: Array = numbers.uniform([-200, 300, 150], [200, 340, 450], (9, 3))
    outer = inner + np.array([0.0, 400.0, 0.0]) + numbers.normal(size=(9, 3)) * 30.0
    moved = np.zeros((117, 9, 3))
    moved[..., 2] = BUMPS[:, None]
    moved[..., 0] = 0.1 * RACKS[:, None]
    starts = inner + np.zeros((117, 9, 3))
    return ThickLines(starts, outer + moved, np.full(9, 11.0), np.arange(9), 9)


def tubes() -> ThickLines:
    numbers = np.random.default_rng(4)
    arc = np.radians(np.linspace(0.0, 38.4, 39))
    bend = 150.0 * np.stack([np.sin(arc), 1.0 - np.cos(arc), 0.0 * arc], axis=1)
    lines = []
    for _ in range(25):
        square, _ = np.linalg.qr(numbers.normal(size=(3, 3)))
        first, last = bend[0] - [400.0, 0.0, 0.0], bend[-1] + 180.0 * (bend[-1] - bend[-2])
        shape = np.concatenate([[first], bend, [last]]) @ square.T
        lines.append(shape + numbers.uniform([-700, 0, 100], [700, 300, 800]))
    counts = [len(line) - 1 for line in lines]
    starts = np.concatenate([line[:-1] for line in lines])[None]
    ends = np.concatenate([line[1:] for line in lines])[None]
    owners = np.repeat(np.arange(25), counts)
    return ThickLines(starts, ends, np.full(len(owners), 16.0), owners, 25)


def wheels() -> Wheels:
    turn = np.radians(0.4 * RACKS)
    spins = np.stack([np.sin(turn), np.cos(turn), 0.0 * turn], axis=1)
    centres = np.stack([0.0 * BUMPS, 690.0 + 0.0 * BUMPS, 282.0 + BUMPS], axis=1)
    return Wheels(centres, spins)


def every_line(moving: ThickLines, still: ThickLines) -> Array:
    """The least gap (lines, chords), one line after another so that memory does."""
    gaps = [
        segment_segment(
            moving.starts[:, k, None], moving.ends[:, k, None], still.starts, still.ends
        ).min(axis=0)
        for k in range(len(moving.radii))
    ]
    return np.stack(gaps) - moving.radii[:, None] - still.radii


def every_ball(at: Wheels, still: ThickLines) -> Array:
    """The gap (positions, balls) of the tyre."""
    runs = zip(still.starts[0], still.ends[0], strict=True)
    balls = np.concatenate(
        [a + np.arange(0.0, 1.0, 10.0 / np.maximum(np.linalg.norm(b - a), 10.0))[:, None] * (b - a)
         for a, b in runs]
    )  # fmt: skip
    off = balls - at.centres[:, None]
    along = np.einsum("nki,ni->nk", off, at.spins)
    radius = np.sqrt(np.maximum(np.einsum("nki,nki->nk", off, off) - along**2, 0.0))
    return ring_distance(RING, radius, along) - 16.0


def test_links_to_tubes_take_a_small_part_of_measuring_everything() -> None:
    moving, still = rods(), tubes()

    taken = ratio(
        lambda: least_to_still(moving, still, REACH),
        lambda: every_line(moving, still),
        LINES,
        Turns(3, 6),
    )

    found = least_to_still(moving, still, REACH).gaps
    assert np.isfinite(found).sum() > 10  # enough of them come near
    assert found.min() == pytest.approx(every_line(moving, still).min())
    assert taken.holds, taken


def test_tyre_to_tubes_takes_a_part_of_measuring_everything() -> None:
    at, still = wheels(), tubes()

    taken = ratio(
        lambda: least_to_ring(RING, at, still, REACH),
        lambda: every_ball(at, still),
        TYRE,
        Turns(5, 10),
    )

    found = least_to_ring(RING, at, still, REACH).gaps
    assert np.isfinite(found).sum() > 1  # some come near
    assert every_ball(at, still).min() - 5.0 <= found.min() <= every_ball(at, still).min() + 1e-6
    assert taken.holds, taken
