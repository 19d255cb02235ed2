"""Statics of bodies, against closed forms by hand: moments of plane figures, levers.

Closed forms are the balance of moments that any textbook of statics begins with, such as J. L.
Meriam, L. G. Kraige, Engineering Mechanics: Statics; worked out here for each figure.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.types import Array
from core.loads.statics import (
    CHASSIS,
    Action,
    Assembly,
    NotInBalanceError,
    across,
    ball,
    bearing,
    on_chassis,
    rod,
    shared_alike,
    shared_by_legs,
    solve,
    twist,
    wrench,
)

CENTRE = np.array([0.0, 700.0, 300.0])
CONTACT = np.array([0.0, 700.0, 0.0])
LOW, HIGH, OUT = 180.0, 430.0, 620.0
"""Heights of both arms, and how far out their balls are."""


def at(x: float, y: float, z: float) -> Array:
    return np.array([x, y, z], dtype=np.float64)


def leg(key: str, x: float, z: float, on: int = 0) -> tuple[Action, ...]:
    return rod(key, on, CHASSIS, at(x, 300.0, z), at(0.0, OUT, z))


TIE = rod("tie", 0, CHASSIS, at(90.0, 300.0, 250.0), at(90.0, OUT, 250.0))
UPPER = (*leg("upper front", 150.0, HIGH), *leg("upper rear", -150.0, HIGH))
LOWER = (*leg("lower front", 150.0, LOW), *leg("lower rear", -150.0, LOW))


def upright_spring(on: int = 0, y: float = OUT) -> tuple[Action, ...]:
    return rod("spring", on, CHASSIS, at(0.0, y, 600.0), at(0.0, y, LOW))


WISHBONES = Assembly(1, (*UPPER, *LOWER, *TIE, *upright_spring()))


def under(assembly: Assembly, force: Array, place: Array = CONTACT) -> "tuple[Array, Array]":
    loads = np.zeros((assembly.bodies, 1, 6))
    loads[0, 0] = wrench(force, place, CENTRE)
    return loads, CENTRE


def pull(name: str, assembly: Assembly, force: Array, place: Array = CONTACT) -> float:
    return float(solve(assembly, *under(assembly, force, place)).size(name)[0])


@pytest.mark.parametrize(("up", "left"), [(4000.0, 0.0), (0.0, -3000.0), (2500.0, 1800.0)])
def test_plane_wishbones_as_by_moments(up: float, left: float) -> None:
    """Level arms: moments about the lower ball give the upper arm, sideways sum the lower one."""
    force = at(0.0, left, up)

    found = solve(WISHBONES, *under(WISHBONES, force))

    upper = (up * (CONTACT[1] - OUT) + left * LOW) / (HIGH - LOW)  # sideways on the upright
    lower = -left - upper
    cosine = 320.0 / np.hypot(150.0, 320.0)
    for legs, sideways in (("upper", upper), ("lower", lower)):
        for end in ("front", "rear"):
            # inboard is below nought in y, and so is a pull on the upright
            assert found.size(f"{legs} {end}")[0] == pytest.approx(-sideways / 2.0 / cosine)
    assert found.size("spring")[0] == pytest.approx(-up)
    assert found.size("tie")[0] == pytest.approx(0.0, abs=1e-9)


def test_braking_turns_the_upright_about_its_arms() -> None:
    """2000 N back at the contact: lever over the arms, and steer against the tie rod's lever."""
    back = 2000.0

    found = solve(WISHBONES, *under(WISHBONES, at(-back, 0.0, 0.0)))

    tie = -float(found.size("tie")[0])  # outward on the upright where it is pushed
    # about z through the balls: back, 80 outboard, against the tie, 90 ahead
    assert 90.0 * tie == pytest.approx(-back * (CONTACT[1] - OUT))
    ahead = {
        name: sum(
            float(found.size(f"{name} {end}")[0]) * sign * 150.0 / np.hypot(150.0, 320.0)
            for end, sign in (("front", 1.0), ("rear", -1.0))
        )
        for name in ("upper", "lower")
    }
    assert ahead["upper"] == pytest.approx(-back * LOW / (HIGH - LOW))
    assert ahead["lower"] == pytest.approx(back * HIGH / (HIGH - LOW))


def arm_with_eye(eye_y: float) -> Assembly:
    """The lower arm as a body, the spring standing on it."""
    inner = at(150.0, 300.0, LOW), at(-150.0, 300.0, LOW)
    outer = at(0.0, OUT, LOW)
    arm = (
        *ball("ball", 0, 1, outer),
        *ball("front", 1, CHASSIS, inner[0]),
        *ball("rear", 1, CHASSIS, inner[1]),
    )
    tie = shared_by_legs("front", "rear", "ball", (*inner, outer))
    return Assembly(2, (*UPPER, *TIE, *arm, *upright_spring(1, eye_y)), (tie,))


@pytest.mark.parametrize("eye_y", [380.0, 460.0, 540.0])
def test_a_spring_on_an_arm_has_its_lever(eye_y: float) -> None:
    """The ball pushes 320 from the hinge, the spring at its own lever; the hinge has the rest."""
    assembly, up = arm_with_eye(eye_y), 3000.0

    found = solve(assembly, *under(assembly, at(0.0, 0.0, up)))

    assert found.size("spring")[0] == pytest.approx(-up * 320.0 / (eye_y - 300.0))
    down = [found.force(key)[0][2] for key in ("front", "rear")]
    assert down == pytest.approx([(up * 320.0 / (eye_y - 300.0) - up) / 2.0] * 2)


@given(
    force=st.tuples(*[st.floats(-5000.0, 5000.0)] * 3),
    eye=st.floats(0.3, 1.0),
)
def test_an_arm_that_carries_its_spring_at_the_ball_is_two_rods(
    force: tuple[float, float, float], eye: float
) -> None:
    """With an upright spring nothing of it runs along the hinge, wherever it stands."""
    plain = solve(WISHBONES, *under(WISHBONES, np.array(force)))
    assembly = arm_with_eye(300.0 + 320.0 * eye)

    found = solve(assembly, *under(assembly, np.array(force)))

    for key, name in (("front", "lower front"), ("rear", "lower rear")):
        way = WISHBONES.actions[2 if key == "front" else 3].direction
        rod_force = plain.size(name)[0] * way
        assert found.force(key)[0][:2] == pytest.approx(rod_force[:2], abs=1e-6)
    assert found.size("tie")[0] == pytest.approx(plain.size("tie")[0], abs=1e-6)


def test_a_rocker_is_a_lever() -> None:
    """A rod 80 from the pivot against a damper 50 from it, both square to their levers."""
    pivot = at(0.0, 400.0, 600.0)
    rocker = (
        *bearing("pivot", 1, CHASSIS, pivot, at(1.0, 0.0, 0.0)),
        *rod("rod", 0, 1, pivot + at(0.0, 80.0, 0.0), at(0.0, 480.0, 300.0)),
        *rod("damper", 1, CHASSIS, pivot + at(0.0, -200.0, 50.0), pivot + at(0.0, 0.0, 50.0)),
    )
    assembly = Assembly(2, (*UPPER, *LOWER, *TIE, *rocker))

    found = solve(assembly, *under(assembly, at(0.0, 0.0, 1000.0)))

    assert found.size("rod")[0] == pytest.approx(-1000.0)
    assert found.size("damper")[0] == pytest.approx(-1000.0 * 80.0 / 50.0)
    # the rod turns about a line 0 from the pivot's plane: no couple there
    assert found.couple("pivot")[0] == pytest.approx(np.zeros(3), abs=1e-6)
    assert found.force("pivot")[0] == pytest.approx(at(0.0, -1600.0, -1000.0))


def test_a_torsion_bar_holds_an_arm_by_its_moment() -> None:
    assembly = Assembly(
        2,
        (
            *(each for each in arm_with_eye(400.0).actions if each.key != "spring"),
            *twist("bar", 1, CHASSIS, at(150.0, 300.0, LOW), at(300.0, 0.0, 0.0)),
        ),
        arm_with_eye(400.0).ties,
    )

    found = solve(assembly, *under(assembly, at(0.0, 0.0, 3000.0)))

    assert found.size("bar")[0] == pytest.approx(-3000.0 * 320.0)  # N mm, about x


def test_what_slides_takes_nothing_along() -> None:
    pillar = (
        *across("low", 0, CHASSIS, at(0.0, 600.0, 150.0), at(0.0, 0.0, 1.0)),
        *across("high", 0, CHASSIS, at(0.0, 600.0, 450.0), at(0.0, 0.0, 1.0)),
        *TIE,
        *rod("spring", 0, CHASSIS, at(0.0, 600.0, 700.0), at(0.0, 600.0, 450.0)),
    )
    assembly = Assembly(1, pillar)

    found = solve(assembly, *under(assembly, at(0.0, 0.0, 3000.0)))

    assert found.force("high")[0] == pytest.approx(at(0.0, 3000.0 * 100.0 / 300.0, 0.0))
    assert found.force("low")[0] == pytest.approx(at(0.0, -1000.0, 0.0))


coordinate = st.floats(-400.0, 400.0)


@given(
    force=st.tuples(*[st.floats(-5000.0, 5000.0)] * 3),
    place=st.tuples(coordinate, coordinate, coordinate),
)
def test_the_chassis_gets_what_the_road_gives(
    force: tuple[float, float, float], place: tuple[float, float, float]
) -> None:
    """Sum and moment about anywhere of all that is on the chassis, against what comes in."""
    assembly, given_force = arm_with_eye(450.0), np.array(force)
    where = CONTACT + np.array(place)

    found = solve(assembly, *under(assembly, given_force, where))

    seats = {each.key: each.place for each in assembly.actions if each.by == CHASSIS}
    total = np.sum(
        [wrench(on_chassis(found, [key])[0], seat, where) for key, seat in seats.items()], axis=0
    )
    assert total[:3] == pytest.approx(given_force, abs=1e-6)
    assert total[3:] == pytest.approx(np.zeros(3), abs=1e-3)


def test_a_hinge_shares_alike_along_itself() -> None:
    first, second = at(300.0, 400.0, 300.0), at(300.0, 600.0, 300.0)
    hinge = (*ball("first", 0, CHASSIS, first), *ball("second", 0, CHASSIS, second))
    spring = rod("spring", 0, CHASSIS, at(0.0, 600.0, 700.0), at(0.0, 600.0, 300.0))
    tie = shared_alike("first", "second", second - first)
    assembly = Assembly(1, (*hinge, *spring), (tie,))

    found = solve(assembly, *under(assembly, at(0.0, 900.0, 0.0)))

    assert [found.force(key)[0][1] for key in ("first", "second")] == pytest.approx([-450.0] * 2)


def test_too_few_forces_are_refused() -> None:
    lacking = Assembly(1, (*UPPER, *LOWER, *TIE))

    with pytest.raises(NotInBalanceError, match=r"5 forces are not known and 6 conditions"):
        solve(lacking, *under(lacking, at(0.0, 0.0, 1.0)))


def test_what_is_not_held_is_refused() -> None:
    """A spring that lies level along the arms does not hold the wheel up."""
    flat = rod("spring", 0, CHASSIS, at(0.0, 200.0, LOW), at(0.0, OUT, LOW))
    loose = Assembly(1, (*UPPER, *LOWER, *TIE, *flat))

    with pytest.raises(NotInBalanceError, match="gives way"):
        solve(loose, *under(loose, at(0.0, 0.0, 1.0)))
