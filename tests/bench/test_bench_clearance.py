"""Speed of the gaps as a ratio to bare calls of the collision library in the same run.

A body of 100,352 triangles, 80 bent tubes of four outside diameters.
"""

import math
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any

import numpy as np
import pytest

from core.clearance.bodies import Body
from core.clearance.gaps import gaps
from core.clearance.lines import Line, LineGroup, grouped, one_by_one
from core.geometry.frames import Frame
from core.geometry.meshes import TriangleMesh
from tests.bench.ratios import Bound, ratio

TIME = Bound(most=1.3, measured=1.09)
"""Against the library itself, for each arrangement of the tubes."""

fcl: Any = import_module("fcl")
PLACE = Frame(np.array([20.0, -30.0, 10.0]), np.eye(3))


def bumpy_ball(rows: int = 224) -> TriangleMesh:
    """About 300 in radius, with bumps of a tenth; rows x rows cells of two triangles."""
    polar, around = np.meshgrid(
        np.linspace(0.0, math.pi, rows + 1),
        np.linspace(0.0, 2.0 * math.pi, rows, endpoint=False),
        indexing="ij",
    )
    radius = 300.0 * (1.0 + 0.1 * np.sin(7.0 * polar) * np.cos(9.0 * around))
    flat = np.sin(polar) * (np.arange(rows + 1)[:, None] % rows > 0)  # nought at both poles
    ball = np.stack([flat * np.cos(around), flat * np.sin(around), np.cos(polar)], axis=-1)
    number = np.arange((rows + 1) * rows, dtype=np.int32).reshape(rows + 1, rows)
    right = np.roll(number, -1, axis=1)
    cells = [
        np.stack([number[:-1], number[1:], right[:-1]], axis=-1),
        np.stack([right[:-1], number[1:], right[1:]], axis=-1),
    ]
    triangles = np.concatenate(cells).reshape(-1, 3)
    return TriangleMesh((radius[..., None] * ball).reshape(-1, 3), triangles)


def bent_tubes(count: int = 80) -> list[Line]:
    """Arcs with straight ends, strewn about the ball, between 20 and 400 off its bumps."""
    numbers = np.random.default_rng(7)
    arc = np.linspace(0.0, math.radians(60.0), 31)
    lines: list[Line] = []
    for number in range(count):
        square, _ = np.linalg.qr(numbers.normal(size=(3, 3)))
        bend = np.stack([400.0 * np.sin(arc), 400.0 * (np.cos(arc) - 1.0), 0.0 * arc], axis=1)
        straight = bend[-1] + np.array([300.0 * math.cos(arc[-1]), -300.0 * math.sin(arc[-1]), 0])
        shape = np.concatenate([[[-400.0, 0.0, 0.0]], bend, straight[None]])
        off = np.array([0.0, -350.0 - numbers.uniform(30.0, 400.0), 0.0])
        points = (shape * [1.0, -1.0, 1.0] + off) @ square.T
        lines.append(Line(points, (12.5, 16.0, 19.0, 22.5)[number % 4]))
    return lines


def bare(body: Body, groups: Sequence[LineGroup]) -> Callable[[], list[float]]:
    """The library alone: everything built and placed beforehand, only distances asked."""
    still = fcl.Transform(np.eye(3), np.zeros(3))
    mesh = fcl.CollisionObject(body.solid.tree, fcl.Transform(PLACE.axes, PLACE.origin))
    tubes = [fcl.CollisionObject(group.solid.tree, still) for group in groups]
    request = fcl.DistanceRequest(enable_nearest_points=True)
    return lambda: [fcl.distance(mesh, tube, request, fcl.DistanceResult()) for tube in tubes]


@pytest.fixture(scope="module")
def body() -> Body:
    mesh = bumpy_ball()
    return Body(mesh, np.zeros(len(mesh.triangles), dtype=np.int32))


@pytest.mark.parametrize("arrange", [grouped, one_by_one])
def test_gaps_cost_little_more_than_the_library_alone(
    body: Body, arrange: Callable[[Sequence[Line]], tuple[LineGroup, ...]]
) -> None:
    groups = arrange(bent_tubes())
    alone = bare(body, groups)

    found = [
        gap.gap + group.radius for gap, group in zip(gaps(body, PLACE, groups), groups, strict=True)
    ]
    assert found == pytest.approx(alone(), abs=1e-9)
    taken = ratio(lambda: gaps(body, PLACE, groups), alone, TIME)
    assert taken.holds, taken
