"""Speed of the poses as a ratio to Newton's method with nothing around it, in the same run."""

import math

import numpy as np
import pytest
from scipy.optimize import root
from scipy.spatial.transform import Rotation

from core.geometry.types import Array
from core.suspension.built_cars import BuiltCars, build_cars, tolerances_of
from core.suspension.changes import points_of
from core.suspension.constraints import Rod
from core.suspension.linkage import Linkage, WheelAtDesign
from core.suspension.makers import Arm, TrackRod, double_wishbone
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import wheels_at
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.bench.ratios import Bound, Turns, ratio

BARE = Bound(most=1.25, measured=1.14)
"""Against the bare method at the same positions."""

LOOP = Bound(most=1 / 15, measured=1 / 21)
"""Against a loop of a general root finder: ours is many times faster."""

MANY = Bound(most=5.0, measured=3.6)
"""10,000 corners of different geometry against the bare method on the same ones. Ours includes
what is worked out once for each geometry: its rows, how it is held at design, its first motion."""

BUILT = Bound(most=2.5, measured=1.75)
"""10,000 built cars at three heights, every point off, read and with slopes of every tolerance,
against the bare method on as many positions of different geometry."""

AXLE = Bound(most=1.3, measured=1.07)
"""A rigid axle on four rods against a corner on five, at as many positions."""

OFF_NOUGHT = 10.0
BUMPS = np.linspace(-60.0, 60.0, 41)
CENTRE = np.array([0.0, 690.0, 282.0])
INNER = np.array(
    [
        [145.0, 320.0, 175.0],
        [-150.0, 320.0, 175.0],
        [140.0, 345.0, 392.0],
        [-145.0, 345.0, 392.0],
        [122.0, 335.0, 208.0],
    ]
)
OUTER = np.array(
    [
        [8.0, 620.0, 185.0],
        [8.0, 620.0, 185.0],
        [-20.0, 590.0, 425.0],
        [-20.0, 590.0, 425.0],
        [122.0, 628.0, 222.0],
    ]
)


def corner(moved: Array | float = 0.0) -> Linkage:
    """Two wishbones and a track rod; `moved` (..., 5, 3) shifts the chassis ends."""
    inner = INNER + moved
    ends = [inner[..., k, :] for k in range(5)]
    return double_wishbone(
        Arm(ends[0], ends[1], OUTER[0]),
        Arm(ends[2], ends[3], OUTER[2]),
        TrackRod(ends[4], OUTER[4]),
        WheelAtDesign(CENTRE, np.array([0.0, 1.0, 0.0]), 282.0),
    )


def bare(bumps: Array, moved: Array | float = 0.0) -> tuple[Array, Array]:
    """Newton's method on five rods and the wheel height, from design lifted; nothing else.

    `moved` as in `corner`, one geometry for each position.
    """
    arms, ends, count = OUTER - CENTRE, INNER - CENTRE + moved, len(bumps)
    lengths = np.linalg.norm(arms - ends, axis=-1)
    shift = np.zeros((count, 3))
    shift[:, 2] = bumps
    rotation = np.tile(np.eye(3), (count, 1, 1))
    slopes, errors = np.zeros((count, 6, 6)), np.zeros((count, 6))
    slopes[:, 5, 2] = 1.0
    longest = math.inf
    while longest > 1e-9:
        r = arms @ rotation.swapaxes(1, 2)
        u = r - ends + shift[:, None]
        length = np.sqrt(np.einsum("nki,nki->nk", u, u))
        u /= length[..., None]
        slopes[:, :5, :3] = u
        slopes[:, :5, 3] = r[..., 1] * u[..., 2] - r[..., 2] * u[..., 1]
        slopes[:, :5, 4] = r[..., 2] * u[..., 0] - r[..., 0] * u[..., 2]
        slopes[:, :5, 5] = r[..., 0] * u[..., 1] - r[..., 1] * u[..., 0]
        errors[:, :5] = lengths - length
        errors[:, 5] = bumps - shift[:, 2]
        step: Array = np.asarray(np.linalg.solve(slopes, errors[..., None])[..., 0], np.float64)
        shift += step[:, :3]
        rotation = turned(rotation, step[:, 3:])
        longest = max(np.abs(step[:, :3]).max(), 400.0 * np.abs(step[:, 3:]).max())
    return shift + CENTRE, rotation


def turned(rotation: Array, turn: Array) -> Array:
    """Rodrigues' formula."""
    angle = np.sqrt(np.einsum("ni,ni->n", turn, turn) + 1e-300)[:, None, None]
    skew = np.zeros((len(turn), 3, 3))
    skew[:, 2, 1], skew[:, 0, 2], skew[:, 1, 0] = turn.T
    skew -= skew.swapaxes(1, 2)
    once = skew @ rotation
    half = np.sin(0.5 * angle) / angle
    return np.asarray(rotation + np.sin(angle) / angle * once + 2.0 * half**2 * (skew @ once))


def loop(bumps: Array) -> Array:
    """A general root finder, one position after another, each from the one before.

    Its slopes come from steps that are a share of each unknown; `OFF_NOUGHT` keeps the unknowns
    away from nought, where such a step would vanish and it would stay where it is.
    """
    arms, ends = OUTER - CENTRE, INNER - CENTRE
    lengths = np.linalg.norm(arms - ends, axis=1)

    def errors(unknowns: Array, bump: float) -> Array:
        pose = unknowns - OFF_NOUGHT
        places = arms @ Rotation.from_rotvec(pose[3:] / 400.0).as_matrix().T + pose[:3]
        missed = np.linalg.norm(places - ends, axis=1) - lengths
        return np.append(missed, pose[2] - bump)

    found, unknowns = [], np.full(6, OFF_NOUGHT)
    for bump in bumps:
        unknowns = root(errors, unknowns, args=(bump,)).x
        found.append(unknowns[:3] - OFF_NOUGHT + CENTRE)
    return np.array(found)


def test_poses_cost_little_more_than_the_bare_method() -> None:
    linkage, travel = corner(), at(BUMPS)

    taken = ratio(lambda: solve(linkage, travel), lambda: bare(BUMPS), BARE, Turns(40, 300))

    assert solve(linkage, travel).centre == pytest.approx(bare(BUMPS)[0], abs=1e-8)
    assert taken.holds, taken


def test_poses_are_many_times_faster_than_a_loop_of_a_general_root_finder() -> None:
    linkage, travel = corner(), at(BUMPS)

    taken = ratio(lambda: solve(linkage, travel), lambda: loop(BUMPS), LOOP, Turns(5, 10))

    assert solve(linkage, travel).centre == pytest.approx(loop(BUMPS), abs=1e-6)
    assert taken.holds, taken


def test_ten_thousand_corners_of_different_geometry_cost_some_times_the_bare_method() -> None:
    moved = np.random.default_rng(5).uniform(-3.0, 3.0, (10_000, 5, 3))
    bumps = np.linspace(-60.0, 60.0, 10_000)

    taken = ratio(
        lambda: solve(corner(moved), at(bumps)), lambda: bare(bumps, moved), MANY, Turns(3, 6)
    )

    assert solve(corner(moved), at(bumps)).centre == pytest.approx(bare(bumps, moved)[0], abs=1e-8)
    assert taken.holds, taken


def test_ten_thousand_built_cars_cost_some_times_the_bare_method() -> None:
    linkage = corner()
    tolerances, ends = tolerances_of(points_of(linkage), 0.5), np.array([-40.0, 40.0])
    moved = np.random.default_rng(5).normal(0.0, 0.5, (30_000, 5, 3))
    bumps = np.tile([0.0, -40.0, 40.0], 10_000)

    def cars() -> BuiltCars:
        return build_cars(linkage, tolerances, ends, 10_000, np.random.default_rng(5))

    taken = ratio(cars, lambda: bare(bumps, moved), BUILT, Turns(3, 6))

    assert cars().is_reached.all()
    assert taken.holds, taken


def rigid_axle() -> RigidAxle:
    """Three links along the car and one across."""
    left = WheelAtDesign(CENTRE, np.array([0.0, 1.0, 0.0]), 282.0)
    right = WheelAtDesign(CENTRE * [1, -1, 1], np.array([0.0, -1.0, 0.0]), 282.0, "right")
    ends = ((480.0, 180.0), (-480.0, 180.0), (0.0, 420.0))
    rods = [
        Rod(f"link {k}", np.array([500.0, y, z + 10.0]), np.array([0.0, y, z]))
        for k, (y, z) in enumerate(ends)
    ]
    across = Rod("across", np.array([-60.0, 480.0, 250.0]), np.array([-60.0, -430.0, 240.0]))
    return RigidAxle((*rods, across), left, right)


def test_an_axle_costs_as_much_as_a_corner() -> None:
    axle, linkage, travel = rigid_axle(), corner(), at(BUMPS)
    wanted = wheels_at(BUMPS, 0.5 * BUMPS)

    taken = ratio(lambda: solve_axle(axle, wanted), lambda: solve(linkage, travel), AXLE)

    assert solve_axle(axle, wanted).is_reached.all()
    assert taken.holds, taken
