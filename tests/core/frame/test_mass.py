"""Weight and centre of gravity of tubes: closed forms, summed pieces, and two whole frames."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.frame.mass import TubeMass, total, tube_mass
from core.geometry.tubes import TubeShape, centre_line, shape_from_vertices
from tests.core.frame.two_frames import load


@pytest.mark.parametrize("car", ["demo", "second"])
def test_the_tubes_of_a_car_weigh_what_a_separate_program_found(car: str) -> None:
    frame = load(car)

    whole = total(
        tube_mass(shape, section.mass_kg_per_m)
        for shape, section in zip(frame.shapes, frame.sections, strict=True)
    )

    assert whole is not None
    assert whole.mass_kg == pytest.approx(frame.expected["tube_mass_kg"], abs=0.0501)
    assert whole.length / 1000 == pytest.approx(frame.expected["tube_length_m"], abs=0.00501)
    assert whole.centre == pytest.approx(frame.expected["tube_cg"], abs=0.0501)


def test_a_straight_tube_balances_in_its_middle() -> None:
    shape = shape_from_vertices(np.array([[0.0, 0, 0], [1000.0, 200, 0]]), np.zeros(0))

    tube = tube_mass(shape, 2.0)

    assert tube.length == pytest.approx(math.hypot(1000, 200))
    assert tube.mass_kg == pytest.approx(2.0 * math.hypot(1000, 200) / 1000)
    assert tube.centre == pytest.approx((500.0, 100.0, 0.0))


def test_a_quarter_bend_balances_where_the_handbook_says() -> None:
    # Quarter circle of radius R: centroid 2R/pi from the centre along each leg.
    radius, straight = 100.0, 1e-3
    corner = radius + straight
    shape = shape_from_vertices(
        np.array([[-corner, 0, 0], [0.0, 0, 0], [0.0, corner, 0]]), np.array([radius])
    )

    tube = tube_mass(shape, 1.0)

    inside = 2.0 * radius / math.pi
    assert tube.centre == pytest.approx((-radius + inside, radius - inside, 0.0), abs=1e-3)
    assert tube.length == pytest.approx(math.pi / 2 * radius + 2 * straight)


def summed(shape: TubeShape) -> tuple[float, list[float]]:
    """Length and centroid by adding up 20 000 or so chords."""
    line = centre_line(shape, math.radians(0.02))
    sizes = np.linalg.norm(np.diff(line, axis=0), axis=1)
    middles = (line[1:] + line[:-1]) / 2
    return float(sizes.sum()), (sizes @ middles / sizes.sum()).tolist()


@given(
    first_turn=st.floats(0.01, 2.4),
    second_turn=st.floats(0.01, 2.4),
    twist=st.floats(-3.1, 3.1),
    radius=st.floats(40.0, 200.0),
    straight=st.floats(1.0, 400.0),
)
def test_closed_form_agrees_with_the_sum_of_many_pieces(
    first_turn: float, second_turn: float, twist: float, radius: float, straight: float
) -> None:
    ahead = np.array([math.cos(first_turn), math.sin(first_turn), 0.0])
    aside = np.array([-math.sin(first_turn), math.cos(first_turn), 0.0])
    sideways = math.cos(twist) * aside + math.sin(twist) * np.array([0.0, 0.0, 1.0])
    last = math.cos(second_turn) * ahead + math.sin(second_turn) * sideways
    tangents = [radius * math.tan(turn / 2) for turn in (first_turn, second_turn)]
    legs = np.array([tangents[0], sum(tangents), tangents[1]]) + straight
    directions = np.array([[1.0, 0.0, 0.0], ahead, last])
    vertices = np.vstack([np.zeros(3), np.cumsum(legs[:, None] * directions, axis=0)])
    shape = shape_from_vertices(vertices, np.array([radius, radius]))

    tube = tube_mass(shape, 1.0)

    length, centre = summed(shape)
    assert tube.length == pytest.approx(length, rel=1e-6)
    assert tube.centre == pytest.approx(centre, abs=1e-3)


def test_two_tubes_balance_by_weight_and_none_weigh_nothing() -> None:
    both = total([TubeMass(1.0, 3.0, (0.0, 0.0, 0.0)), TubeMass(2.0, 1.0, (4.0, -8.0, 0.0))])

    assert both == TubeMass(3.0, 4.0, (1.0, -2.0, 0.0))
    assert total([]) is None


@pytest.mark.parametrize("kg_per_m", [0.0, -1.0, math.nan, math.inf])
def test_a_weight_that_is_no_weight_is_refused(kg_per_m: float) -> None:
    shape = shape_from_vertices(np.array([[0.0, 0, 0], [1.0, 0, 0]]), np.zeros(0))

    with pytest.raises(ValueError, match="mass"):
        tube_mass(shape, kg_per_m)
