"""Bent tubes from their nodes: a node on a bend is the middle of its arc, never the vertex."""

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from core.geometry.frames import mirror
from core.geometry.tubes import NoTubeShape, solve_tube
from core.geometry.types import Array

REFERENCE = json.loads(
    (Path(__file__).parents[2] / "reference" / "tubes.json").read_text(encoding="utf-8")
)
MEMBERS: list[dict[str, Any]] = REFERENCE["members"]

NODE = 1e-9
"""mm: what the solution promises at the nodes."""

SOLVED = 1e-7
"""mm: vertices and lengths of a tube of some metres solved from exact nodes; the slack of the
nodes times the few hundred that the tightest of these tubes multiplies it by."""


@dataclass(frozen=True)
class Bent:
    """A tube as a bender is fed it, and the nodes it passes."""

    straights: list[float]
    radii: list[float]
    turns: list[float]
    twists: list[float]
    nodes: Array


def feed(
    straights: Sequence[float],
    radii: Sequence[float],
    turns: Sequence[float],
    twists: Sequence[float],
    pose: Array,
) -> Bent:
    """Step a bending machine: push a straight, turn the plane, draw round the die.

    It knows neither vertices nor tangents, so it is an independent way to the middles of the arcs.
    `pose` holds a rotation vector and a place.
    """
    axes = Rotation.from_rotvec(pose[:3]).as_matrix()
    heading, inward, place = axes[:, 0], axes[:, 1], np.array(pose[3:])
    nodes = [place]
    for straight, radius, turn, twist in zip(straights, radii, turns, twists, strict=False):
        place = place + straight * heading
        inward = Rotation.from_rotvec(twist * heading).apply(inward)
        nodes.append(_round(place, heading, inward, radius, turn / 2))
        place = _round(place, heading, inward, radius, turn)
        heading, inward = (
            math.cos(turn) * heading + math.sin(turn) * inward,
            math.cos(turn) * inward - math.sin(turn) * heading,
        )
    nodes.append(place + straights[-1] * heading)
    return Bent(list(straights), list(radii), list(turns), list(twists), np.array(nodes))


def _round(place: Array, heading: Array, inward: Array, radius: float, angle: float) -> Array:
    return place + radius * (math.sin(angle) * heading + (1.0 - math.cos(angle)) * inward)


@st.composite
def fed_tubes(draw: st.DrawFn, least_turn_deg: float = 1.0) -> Bent:
    """Tubes as are built: one to five bends, straights of 60 and more beside each."""
    bends = draw(st.integers(1, 5))

    def numbers(low: float, high: float, count: int) -> list[float]:
        return draw(st.lists(st.floats(low, high), min_size=count, max_size=count))

    turns = [math.radians(turn) for turn in numbers(least_turn_deg, 120.0, bends)]
    twists = [0.0, *(math.radians(twist) for twist in numbers(-179.0, 179.0, bends - 1))]
    pose = np.array([*numbers(-3.0, 3.0, 3), *numbers(-3000.0, 3000.0, 3)])
    straights = numbers(60.0, 600.0, bends + 1)
    return feed(straights, numbers(40.0, 160.0, bends), turns, twists, pose)


@pytest.mark.parametrize("member", MEMBERS, ids=[member["name"] for member in MEMBERS])
def test_every_tube_of_two_cars_is_found_from_its_nodes(member: dict[str, Any]) -> None:
    # Nodes rounded to 0.01, lengths to 0.1, angles to 0.01: see the note in the file.
    shape = solve_tube(np.array(member["nodes"]), np.array(member["radii"], dtype=np.float64))

    assert shape.vertices == pytest.approx(np.array(member["vertices"]), abs=0.02)
    assert np.degrees(shape.turns_rad) == pytest.approx(member["turns_deg"], abs=0.02)
    assert shape.length == pytest.approx(member["length"], abs=0.06)
    if "straights" in member:
        assert shape.straights == pytest.approx(member["straights"], abs=0.06)


@given(fed_tubes())
def test_the_tube_of_a_bending_machine_is_found_from_its_nodes(fed: Bent) -> None:
    shape = solve_tube(fed.nodes, np.array(fed.radii))

    assert shape.midpoints == pytest.approx(fed.nodes[1:-1], abs=NODE)
    assert shape.straights == pytest.approx(fed.straights, abs=SOLVED)
    assert shape.turns_rad == pytest.approx(fed.turns, abs=1e-9)
    assert shape.twists_rad == pytest.approx(fed.twists, abs=1e-7)
    arcs = [radius * turn for radius, turn in zip(fed.radii, fed.turns, strict=True)]
    assert shape.length == pytest.approx(sum(fed.straights) + sum(arcs), abs=SOLVED)


@given(st.tuples(*[st.floats(-3.0, 3.0)] * 6), st.sampled_from([-1.0, 1.0]))
def test_a_bend_straight_opposite_is_twisted_by_plus_180_however_it_lies(
    pose: tuple[float, ...], way: float
) -> None:
    fed = feed([200.0] * 3, [100.0] * 2, [0.6, 0.9], [0.0, way * math.pi], np.array(pose))

    shape = solve_tube(fed.nodes, np.array(fed.radii))

    assert shape.twists_rad == pytest.approx([0.0, math.pi], abs=1e-7)


@given(fed_tubes(), st.tuples(*[st.floats(-3.0, 3.0)] * 3), st.floats(-2000.0, 2000.0))
def test_moving_and_turning_the_nodes_moves_and_turns_the_tube(
    fed: Bent, turn: tuple[float, ...], shift: float
) -> None:
    radii = np.array(fed.radii)
    axes = Rotation.from_rotvec(turn).as_matrix()
    shape = solve_tube(fed.nodes, radii)

    moved = solve_tube(fed.nodes @ axes.T + shift, radii)

    assert moved.vertices == pytest.approx(shape.vertices @ axes.T + shift, abs=SOLVED)
    assert moved.twists_rad == pytest.approx(shape.twists_rad, abs=1e-7)


@given(fed_tubes())
def test_mirroring_and_reversing_the_nodes_mirrors_and_reverses_the_tube(fed: Bent) -> None:
    radii = np.array(fed.radii)
    shape = solve_tube(fed.nodes, radii)

    across = solve_tube(mirror(fed.nodes), radii)
    back = solve_tube(fed.nodes[::-1], radii[::-1])

    assert across.vertices == pytest.approx(mirror(shape.vertices), abs=SOLVED)
    assert across.twists_rad[1:] == pytest.approx(-shape.twists_rad[1:], abs=1e-7)
    assert back.vertices == pytest.approx(shape.vertices[::-1], abs=SOLVED)
    assert back.twists_rad[1:] == pytest.approx(shape.twists_rad[:0:-1], abs=1e-7)
    assert back.length == pytest.approx(shape.length, abs=SOLVED)


@pytest.mark.parametrize("turn_deg", [1.0, 67.7, 90.0, 160.0, 174.0])
@pytest.mark.parametrize("leg", [1.01, 1.5, 4.0])
def test_one_even_bend_meets_the_closed_form(turn_deg: float, leg: float) -> None:
    # The middle of the arc lies R / cos(A/2) - R from the vertex, on the line to the arc centre.
    half, radius = math.radians(turn_deg) / 2, 110.0
    foot, rise = leg * radius * math.sin(half), leg * radius * math.sin(half) * math.tan(half)
    middle = rise - radius * (1.0 / math.cos(half) - 1.0)
    nodes = np.array([[-foot, 0.0, 0.0], [0.0, 0.0, middle], [foot, 0.0, 0.0]])

    shape = solve_tube(nodes, np.array([radius]))

    assert shape.vertices[1] == pytest.approx([0.0, 0.0, rise], abs=1e-6)
    assert np.degrees(shape.turns_rad) == pytest.approx([turn_deg], abs=1e-6)


def test_the_slightest_bend_keeps_its_digits() -> None:
    # Half a bend of 0.01 deg rises 400 tan(0.005 deg); its arc runs R (1/cos - 1) below.
    half = math.radians(0.005)
    rise = 400.0 * math.tan(half)
    middle = rise - 110.0 * 2.0 * math.sin(half / 2) ** 2 / math.cos(half)
    nodes = np.array([[-400.0, 0.0, 0.0], [0.0, 0.0, middle], [400.0, 0.0, 0.0]])

    shape = solve_tube(nodes, np.array([110.0]))

    assert shape.vertices[1, 2] == pytest.approx(rise, abs=1e-12)
    assert shape.turns_rad == pytest.approx([2 * half], rel=1e-9)


def test_a_node_on_the_straight_line_lets_the_tube_go_straight_through() -> None:
    nodes = np.array([[0.0, 0.0, 0.0], [300.0, 0.0, 0.0], [900.0, 0.0, 0.0]])

    shape = solve_tube(nodes, np.array([100.0]))

    assert shape.vertices.tolist() == nodes.tolist()
    assert (shape.turns_rad[0], shape.arcs[0], shape.length) == (0.0, 0.0, 900.0)


def test_a_straight_tube_has_no_bends() -> None:
    shape = solve_tube(np.array([[0.0, 0.0, 0.0], [300.0, 400.0, 0.0]]), np.array([]))

    assert shape.length == 500.0
    assert shape.midpoints.shape == (0, 3)
    assert not shape.vertices.flags.writeable


CORNER = [[-400.0, 0.0, 0.0], [0.0, 0.0, 300.0], [400.0, 0.0, 0.0]]


@pytest.mark.parametrize(
    ("points", "radii", "words"),
    [
        ([[0, 0, 0], [5, 5, 5], [5, 5, 5], [9, 0, 0]], [2.0, 2.0], "Points 2 and 3 .* same place"),
        (CORNER, [0.0], "Bend 1 has a radius of 0: it must be above zero"),
        (CORNER, [-100.0], "above zero"),
        (CORNER, [math.nan], "above zero"),
        (CORNER, [math.inf], "above zero"),
        ([[0, 0, 0], [math.nan, 5, 5], [9, 0, 0]], [2.0], "not a number"),
        ([[0, 0, 0], [300, 0, 0], [100, 0, 0]], [50.0], "back on itself"),
        ([[0, 0, 0], [300, 0, 30], [0, 0, 60]], [500.0], "No tube with these radii .* no room"),
        (CORNER, [5000.0], "No tube with these radii"),
        (
            [[-800, 0, 0], [0, 0, 100], [150, 0, 0]],
            [400.0],
            r"leg from bend 1 to the end is \d+\.\d+ mm too short",
        ),
    ],
)
def test_what_can_be_no_tube_is_refused_in_words(
    points: list[list[float]], radii: list[float], words: str
) -> None:
    with pytest.raises(NoTubeShape, match=words) as caught:
        solve_tube(np.array(points, dtype=np.float64), np.array(radii))

    assert caught.value.reason == str(caught.value)


@pytest.mark.parametrize(("count", "radii"), [(1, 0), (3, 2), (2, 1)])
def test_arrays_that_do_not_belong_together_are_a_fault_of_the_caller(
    count: int, radii: int
) -> None:
    with pytest.raises(ValueError, match="need"):
        solve_tube(np.eye(3)[:count], np.ones(radii))
