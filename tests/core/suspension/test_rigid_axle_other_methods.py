"""Rigid axles against a general solver on another model, and slopes against differences."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.geometry.frames import mirror
from core.geometry.types import Array, unit
from core.suspension.aim import way_to
from core.suspension.constraints import Guide, Held, Rod, Slide, Slot, Watt
from core.suspension.damper import DamperAtDesign, damper_length, damper_per_wheel_travel
from core.suspension.linkage import Side
from core.suspension.rigid_axle_poses import AxlePoses, Drive
from core.suspension.rigid_axle_read import (
    axle_steer_deg,
    heave,
    heave_steer_slope,
    nose_up_deg,
    roll_deg,
    roll_steer_slope,
    stretch,
    wind_up_slope,
)
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_springs import axle_rates, damper_per_heave, damper_per_roll_deg
from core.suspension.rigid_axle_travel import (
    AxleTravel,
    axle_on_road,
    heave_and_roll,
    wheels_at,
)
from core.suspension.slopes import evaluate
from core.suspension.turning import turned
from core.suspension.wheel import (
    bump_steer_slope,
    camber_deg,
    camber_slope,
    toe_in_deg,
)
from tests.core.suspension.axles import (
    AXLE_X,
    BALL,
    HALF,
    HEAVES,
    LEFT,
    NAMES,
    PANHARD,
    RADIUS,
    RIGHT,
    Y,
    Z,
    axle,
    endless,
    kinds,
    plain,
    shaken,
    triangulated,
)
from tests.core.suspension.corners import vec


@pytest.mark.parametrize("name", NAMES[:5])
def test_poses_agree_with_a_general_solver(name: str) -> None:
    drawn = kinds()[name]
    heights = np.array([(60.0, 60.0), (-70.0, -50.0), (55.0, -55.0), (-20.0, 75.0)])

    poses = solve_axle(drawn, wheels_at(heights[:, 0], heights[:, 1]))

    other = plain(drawn)
    for k, (left, right) in enumerate(heights):
        unknowns = other.solved(left, right)
        for place in (LEFT.centre, RIGHT.centre, BALL):
            expected = other.placed(unknowns, place)
            assert poses.at(place)[k] == pytest.approx(expected, abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000), rise=st.floats(-70.0, 70.0), roll=st.floats(-6.0, 6.0))
def test_axles_drawn_at_random_agree_with_a_general_solver(
    seed: int, rise: float, roll: float
) -> None:
    drawn = shaken(seed, 25.0)
    travel = heave_and_roll(drawn, rise, roll)

    poses = solve_axle(drawn, travel)

    assert bool(poses.is_reached)
    assert float(poses.error) < 1e-10
    other = plain(drawn)
    unknowns = other.solved(float(travel.left), float(travel.right), 30)
    assert poses.at(drawn.left.centre) == pytest.approx(
        other.placed(unknowns, drawn.left.centre), abs=1e-6
    )
    assert float(heave(poses)) == pytest.approx(rise, abs=1e-9)
    assert float(roll_deg(poses)) == pytest.approx(roll, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_every_rod_keeps_its_length_and_every_ball_its_place(name: str) -> None:
    drawn = kinds()[name]

    poses = solve_axle(drawn, heave_and_roll(drawn, HEAVES[:, None], np.linspace(-6.0, 6.0, 5)))

    assert poses.is_reached.all()
    assert (poses.error < 1e-10).all()
    exact = poses.smallest_singular_value()
    assert (poses.margin <= exact * (1.0 + 1e-12)).all()
    for held in drawn.constraints:
        match held:
            case Rod():
                assert np.abs(stretch(poses, held)).max() < 1e-9
            case Held(_, place):
                assert np.abs(poses.at(place) - place).max() < 1e-9
            case Guide(_, point, direction):
                assert np.abs(np.cross(poses.at(point) - point, direction)).max() < 1e-9
            case Slide(_, lower, top):
                along = unit(poses.at(top) - poses.at(lower))
                assert np.abs(np.cross(poses.at(lower) - top, along)).max() < 1e-8
            case _:
                assert isinstance(held, Watt)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("travel", [wheels_at(vec(20.0), vec(-9.0)), axle_on_road(vec(3.0))])
def test_slopes_of_every_condition_are_those_of_differences(name: str, travel: AxleTravel) -> None:
    rows = kinds()[name].rows.flat((1,))
    numbers = np.random.default_rng(4)
    shift = numbers.uniform(-20.0, 20.0, (1, 3))
    rotation = turned(np.eye(3)[None], numbers.uniform(-30.0, 30.0, (1, 3)))
    aim = way_to(rows, travel, (RADIUS, 290.0), (1,)).finish

    slopes = evaluate(rows, aim, shift, rotation)[1][0]

    for column in range(6):
        step = np.zeros((1, 6))
        step[0, column] = 1e-3
        ahead, behind = (
            evaluate(rows, aim, shift + s * step[:, :3], turned(rotation, s * step[:, 3:]))[0]
            for s in (1.0, -1.0)
        )
        assert slopes[:, column] == pytest.approx((ahead - behind)[0] / 2e-3, abs=2e-8)


@pytest.mark.parametrize("name", NAMES)
def test_motions_and_their_readings_are_those_of_differences(name: str) -> None:
    drawn, step = kinds()[name], 0.01
    here = solve_axle(drawn, heave_and_roll(drawn, 25.0, 2.0))

    for motion, ways in (
        (here.per_heave, ((25.0 + step, 2.0), (25.0 - step, 2.0))),
        (here.per_roll, ((25.0, 2.0 + step), (25.0, 2.0 - step))),
    ):
        one, other = (solve_axle(drawn, heave_and_roll(drawn, *way)) for way in ways)
        for place in (LEFT.centre, PANHARD.outer):
            rate = (one.at(place) - other.at(place)) / (2.0 * step)
            assert motion.at(here.at(place)) == pytest.approx(rate, abs=2e-5)
        steer = (axle_steer_deg(one) - axle_steer_deg(other)) / (2.0 * step)
        slope = heave_steer_slope(here) if motion is here.per_heave else roll_steer_slope(here)
        assert float(slope) == pytest.approx(float(steer), abs=1e-7)
        if motion is here.per_heave:
            nose = (nose_up_deg(one) - nose_up_deg(other)) / (2.0 * step)
            assert float(wind_up_slope(here)) == pytest.approx(float(nose), abs=1e-7)


def driven(drive: Drive, side: Side, step: float) -> AxleTravel:
    """A little from 20 and -15 mm, as one wheel rises by a step."""
    other = {"alone": 0.0, "heave": step, "roll": -step}[drive]
    left, right = (step, other) if side == "left" else (other, step)
    return wheels_at(20.0 + left, -15.0 + right)


@pytest.mark.parametrize("drive", ["alone", "heave", "roll"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_what_a_wheel_reads_as_it_rises_is_that_of_differences(drive: Drive, side: Side) -> None:
    drawn = shaken(3, 25.0)
    damper = DamperAtDesign(vec(AXLE_X, 400.0, 240.0), vec(AXLE_X + 60.0, 330.0, 560.0))
    here = solve_axle(drawn, driven(drive, side, 0.0)).wheel(side, drive)

    one, other = (solve_axle(drawn, driven(drive, side, s)).wheel(side) for s in (0.01, -0.01))

    def rate(read: Callable[..., Array], *more: object) -> float:
        return float((read(one, *more) - read(other, *more)) / 0.02)

    assert float(here.per_bump.velocity[2]) == pytest.approx(1.0, abs=1e-12)
    assert float(camber_slope(here)) == pytest.approx(rate(camber_deg), abs=1e-8)
    assert float(bump_steer_slope(here)) == pytest.approx(rate(toe_in_deg), abs=1e-8)
    ratio = float(damper_per_wheel_travel(here, damper))
    assert ratio == pytest.approx(-rate(damper_length, damper), abs=1e-7)
    assert here.centre == pytest.approx(0.5 * (one.centre + other.centre), abs=1e-4)


def test_on_a_road_slopes_are_still_those_of_wheel_height() -> None:
    drawn = shaken(5, 25.0)
    on_road = solve_axle(drawn, axle_on_road(4.0))
    left, right = (
        float((on_road.wheel(side).centre - drawn.wheel(side).centre)[2])
        for side in ("left", "right")
    )

    by_height = solve_axle(drawn, wheels_at(left, right))

    assert on_road.rotation == pytest.approx(by_height.rotation, abs=1e-9)
    assert on_road.by_wheel == pytest.approx(by_height.by_wheel, abs=1e-8)
    assert float(roll_steer_slope(on_road)) == pytest.approx(
        float(roll_steer_slope(by_height)), abs=1e-10
    )


@given(base=st.floats(200.0, 1300.0), rate=st.floats(10.0, 60.0))
def test_upright_springs_give_less_in_roll_than_in_heave(base: float, rate: float) -> None:
    """Roll stiffness k s^2 / 2: Gillespie 1992, chapter 6 (from memory)."""
    drawn = axle(*endless(), Slot("peg", vec(AXLE_X, 0.0, 250.0), Y))
    springs = tuple(
        (DamperAtDesign(foot, foot + 320.0 * Z), rate)
        for foot in (vec(AXLE_X, 0.5 * base, 250.0), vec(AXLE_X, -0.5 * base, 250.0))
    )

    rates = axle_rates(solve_axle(drawn, wheels_at()), springs)

    track = 2.0 * HALF
    assert float(rates.heave) == pytest.approx(rate, rel=1e-9)
    assert float(rates.roll) == pytest.approx(rate * (base / track) ** 2, rel=1e-9)
    stiffness = 0.5 * rate * base**2 * math.pi / 180.0 / 1000.0
    assert float(rates.roll_stiffness) == pytest.approx(stiffness, rel=1e-9)


def test_ratios_per_heave_and_per_roll_are_those_of_differences() -> None:
    drawn, step = triangulated(), 0.01
    damper = DamperAtDesign(vec(AXLE_X - 90.0, 380.0, 220.0), vec(AXLE_X - 40.0, 300.0, 560.0))
    here = solve_axle(drawn, heave_and_roll(drawn, 20.0, 3.0))

    def length(rise: float, roll: float) -> float:
        eye = solve_axle(drawn, heave_and_roll(drawn, rise, roll)).at(damper.lower)
        return float(np.linalg.norm(eye - damper.upper))

    per_heave = (length(20.0 - step, 3.0) - length(20.0 + step, 3.0)) / (2.0 * step)
    per_roll = (length(20.0, 3.0 - step) - length(20.0, 3.0 + step)) / (2.0 * step)
    assert float(damper_per_heave(here, damper)) == pytest.approx(per_heave, abs=1e-7)
    assert float(damper_per_roll_deg(here, damper)) == pytest.approx(per_roll, abs=1e-6)


def test_the_roll_stiffness_is_that_of_the_energy_of_springs_free_at_the_position() -> None:
    """Second difference of the energy over roll, springs unloaded where it is read."""
    drawn, step = triangulated(), 0.05
    damper = DamperAtDesign(vec(AXLE_X - 90.0, 380.0, 220.0), vec(AXLE_X - 40.0, 300.0, 560.0))
    other = DamperAtDesign(mirror(damper.lower), mirror(damper.upper))
    springs = ((damper, 25.0), (other, 25.0))

    rates = axle_rates(solve_axle(drawn, wheels_at()), springs)

    def energy(poses: AxlePoses) -> float:
        return sum(
            0.5 * rate * float(np.linalg.norm(poses.at(s.lower) - s.upper) - s.drawn_length) ** 2
            for s, rate in springs
        )

    one, two = (solve_axle(drawn, heave_and_roll(drawn, 0.0, s)) for s in (step, -step))
    stiffness = (energy(one) + energy(two)) / math.radians(step) ** 2 * math.pi / 180.0 / 1000.0
    assert float(rates.roll_stiffness) == pytest.approx(stiffness, rel=1e-4)
