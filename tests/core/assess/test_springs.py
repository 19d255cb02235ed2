"""Springs at the wheel: statics by virtual work from the places in the document alone.

The energy of the spring is worked out from the damper's length, which comes from the rods by scipy,
from a circle, or from the car laid out anew at each height; its slope by finite differences is the
load. Nothing of it uses a ratio.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.assess.dampers import damper_travel
from core.assess.spring_parts import damper_ratio, springs_of
from core.assess.springs import LENGTHS, LOAD, rates_at_design, rates_over_travel, ride
from core.assess.weights import sprung_load
from core.document.links import BumpStop, TorsionBar
from core.document.project import Document
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.engine.overlay import with_numbers
from core.geometry.types import Array
from core.suspension.ride import ride_frequency_hz
from tests.cars.neutral import HERE, read_neutral
from tests.cars.stored import demo, expected, ref, second
from tests.core.assess.made_corners import (
    ACROSS,
    ARM,
    Made,
    level_h_arm,
    made,
    made_up_wishbones,
    swinging_arm,
)
from tests.core.assess.sprung_cars import (
    KG,
    RATE,
    SPRUNG,
    UNSPRUNG,
    on_torsion_bar,
    pushrod,
    sprung,
)
from tests.oracles.five_rods import FiveRods, of_neutral

G = 9.80665  # m/s2, standard
PER_RAD = 1000.0 * 180.0 / np.pi
CARS = [(car, end) for car in ("demo-car", "second-car") for end in ("front", "rear")]


def drawn(car: str) -> Document:
    return (demo if car == "demo-car" else second)().drawn


def of(document: Document, end: str, side: str = "left") -> Any:  # noqa: ANN401
    return ref(document, f"{end} corner {side}")


@pytest.mark.parametrize(("car", "end"), CARS)
def test_rate_and_frequency_as_the_makers_own_check_reckons_them(car: str, end: str) -> None:
    """Spring rate times ratio squared, without tyre: mean load of both wheels, printed to 0.01."""
    document, wanted = drawn(car), expected(car)["mass"][end]
    pair = [of(document, end, side) for side in ("left", "right")]

    plain = compute(document, {}, rates_at_design, pair[0]).plain
    kg = sum(compute(document, {}, sprung_load, each) for each in pair) / G / 2.0

    assert plain == pytest.approx(wanted["wheel_rate_N_per_mm"], rel=2e-3)
    hz = float(ride_frequency_hz(np.array(plain), kg))
    assert hz == pytest.approx(wanted["ride_frequency_Hz"], abs=5.1e-3)


# --- virtual work ---------------------------------------------------------------------------------


def differences(energy: Callable[[float], float], at: float, step: float) -> tuple[float, float]:
    """First and second derivative of fourth order. Source: Abramowitz and Stegun, table 25.2."""
    a, b, c, d, e = (energy(at + n * step) for n in (-2, -1, 0, 1, 2))
    return (a - 8 * b + 8 * d - e) / (12 * step), (-a + 16 * b - 30 * c + 16 * d - e) / (
        12 * step**2
    )


def demo_length(end: str) -> Callable[[float], float]:
    """Length of the demo car's left damper, from its neutral file by scipy."""
    car = read_neutral(HERE / "demo-car.json")
    rods, places = of_neutral(car, end), car["suspension"][end]["hardpoints_left"]
    lower, upper = (np.array(places[f"damper_{name}"], float) for name in ("lower", "upper"))

    def length(bump: float) -> float:
        return float(np.linalg.norm(_eye(rods, places, lower, end, bump) - upper))

    return length


def _eye(rods: FiveRods, places: dict[str, Any], lower: Array, end: str, bump: float) -> Array:
    if end == "rear":
        return rods.at(lower, bump)
    hinge, other, ball = (
        np.array(places[name], float)
        for name in ("lower_inner_front", "lower_inner_rear", "lower_outer")
    )
    return rods.on_arm(lower, (hinge, other), ball, bump)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_the_demo_cars_load_and_rate_are_the_slopes_of_the_energy_in_its_spring(end: str) -> None:
    document, length = demo().drawn, demo_length(end)
    damper = next(c for c in document.corners if c.name == f"{end} corner").damper
    assert damper is not None
    free, seats, rate = damper.spring_free_length, damper.spring_seats, damper.spring_rate
    assert free is not None
    assert seats is not None
    assert rate is not None

    def energy(bump: float) -> float:
        return 0.5 * rate * (free - length(bump) + seats) ** 2

    found = compute(document, {}, rates_over_travel, of(document, end))

    assert found.load is not None
    for at in (4, 14, 20, 28):  # below the bump stop, which has a test of its own
        load, slope = differences(energy, float(found.bump[at]), 2.0)
        assert found.load[at] == pytest.approx(load, rel=1e-6)
        assert found.rate[at] == pytest.approx(slope, rel=1e-5)


def length_at(car: Made, height: float) -> float:
    """Damper length with the travel of the document laid out to just that height."""
    ends = {"bump": max(height, 0.0), "droop": max(-height, 0.0)}
    numbers = [(Address(car.corner, path), value) for path, value in ends.items()]
    found = compute(with_numbers(numbers)(car.document), {}, damper_travel, car.corner)
    return found.shortest if height > 0.0 else found.longest


@pytest.mark.parametrize("height", [-36.0, 0.0, 39.0])
def test_a_damper_on_a_rocker_carries_by_the_slope_of_its_energy(height: float) -> None:
    car = pushrod(spring_free_length=300.0, spring_seats=60.0)
    own = length_at(car, 1e-9)

    def energy(bump: float) -> float:
        return 0.5 * RATE * (300.0 - (length_at(car, bump) - 60.0)) ** 2

    found = compute(car.document, {}, rates_over_travel, car.corner)
    load, slope = differences(energy, height, 2.0)

    assert found.load is not None
    assert 60.0 < own - 60.0 < 300.0
    (at,) = np.flatnonzero(np.abs(found.bump - height) < 1e-6)
    assert found.load[at] == pytest.approx(load, rel=1e-6)
    assert found.rate[at] == pytest.approx(slope, rel=1e-5)


def test_a_damper_on_a_rocker_carries_the_load_of_its_wheel_on_either_side() -> None:
    car = pushrod()

    left, right = (
        compute(car.document, {}, rates_at_design, each)
        for each in (car.corner, car.corner.mirrored())
    )

    assert left.by == LOAD
    assert left.load == pytest.approx(SPRUNG, rel=1e-12)
    assert (right.rate, right.load) == pytest.approx((left.rate, left.load), rel=1e-9)
    assert abs(left.rate - left.plain) > 0.01


def swung(bump: Array | float) -> tuple[Any, Any]:
    """Height of the swinging arm's eye and its place fore and aft, behind the hinge."""
    turn = np.arcsin(np.asarray(bump) / ARM)
    ahead = ARM - ARM * np.cos(turn) + 20.0 * np.sin(turn)
    return 300.0 + ARM * np.sin(turn) + 20.0 * np.cos(turn), ahead


@given(kg=st.floats(80.0, 400.0), rate=st.floats(8.0, 120.0))
@settings(max_examples=15, deadline=None)
def test_a_swinging_arm_carries_by_its_levers(kg: float, rate: float) -> None:
    """Moments about the hinge: load times arm is force times the lever of the damper's line."""
    car = sprung(swinging_arm(), kg=kg, spring_rate=rate)
    found = compute(car.document, {}, rates_over_travel, car.corner)
    up, ahead = swung(found.bump)

    eye = np.stack([ahead, up], axis=-1)
    along = np.array([0.0, 620.0]) - eye  # pushes the eye down and back
    length = np.linalg.norm(along, axis=-1)
    from_hinge = eye - np.array([ARM, 300.0])
    lever = (from_hinge[:, 0] * along[:, 1] - from_hinge[:, 1] * along[:, 0]) / length
    lever = -lever
    reach = ARM * np.cos(np.arcsin(found.bump / ARM))
    design = (kg - UNSPRUNG) * G * ARM / lever[20]
    force = np.maximum(design + rate * (300.0 - length), 0.0)

    assert found.load is not None
    assert found.load == pytest.approx(force * lever / reach, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("turn", [-8.0, 0.0, 6.0])
def test_a_torsion_bar_on_a_level_arm_carries_by_its_torque(turn: float) -> None:
    """The level arm's wheel goes round with it: torque is load times the arm's reach across."""
    bar = 40.0
    car = on_torsion_bar(sprung(level_h_arm()), bar)
    found = compute(car.document, {}, rates_over_travel, car.corner)

    torque = SPRUNG * ACROSS + bar * PER_RAD * np.radians(turn)
    height, reach = ACROSS * np.sin(np.radians(turn)), ACROSS * np.cos(np.radians(turn))

    assert found.load is not None
    assert np.interp(height, found.bump, found.load) == pytest.approx(torque / reach, rel=2e-4)
    assert found.plain[20] == pytest.approx(bar * PER_RAD / ACROSS**2, rel=1e-9)


def test_a_coil_beside_a_torsion_bar_leaves_it_the_rest_of_the_load() -> None:
    bar = TorsionBar(on="lower arm", rate_nm_per_deg=15.0)
    both = sprung(level_h_arm(), spring_free_length=300.0, spring_seats=150.0)
    both = both.changed(both.corner, "torsion_bar", bar)
    unsaid = both.changed(both.corner, "damper.spring_seats", None)

    known = compute(both.document, {}, rates_at_design, both.corner)
    unknown = compute(unsaid.document, {}, rates_at_design, unsaid.corner)

    ratio = compute(both.document, {}, damper_ratio, both.corner)
    coil_and_bar = RATE * ratio**2 + 15.0 * PER_RAD / ACROSS**2
    assert known.load == pytest.approx(SPRUNG, rel=1e-9)
    assert (unknown.load, unknown.by) == (None, "")
    assert unknown.rate == unknown.plain == pytest.approx(coil_and_bar, rel=1e-9)


def test_a_bar_that_a_rocker_twists_carries_the_load_too() -> None:
    car = on_torsion_bar(pushrod(), 25.0, "rocker")

    found = compute(car.document, {}, rates_at_design, car.corner)

    assert found.load == pytest.approx(SPRUNG, rel=1e-12)
    assert found.plain > 0.0


# --- what is known, and by what -------------------------------------------------------------------


def test_without_a_load_the_rate_is_that_of_the_spring_by_its_ratio_and_says_so() -> None:
    car = sprung(made_up_wishbones(), kg=None)

    found = compute(car.document, {}, rates_at_design, car.corner)
    ratio = compute(car.document, {}, damper_ratio, car.corner)

    assert (found.by, found.load) == ("", None)
    assert found.rate == found.plain == pytest.approx(RATE * ratio**2, rel=1e-12)


def test_lengths_of_the_spring_say_its_force_before_the_load_does() -> None:
    car = sprung(swinging_arm(), spring_free_length=280.0, spring_seats=100.0)

    found = compute(car.document, {}, rates_at_design, car.corner)

    assert found.by == LENGTHS
    assert found.load == pytest.approx(RATE * (280.0 - 200.0), rel=1e-9)  # the eye rises as much


@pytest.mark.parametrize(("free", "higher"), [(280.0, True), (220.0, False)])
def test_a_spring_too_long_makes_the_car_stand_high(free: float, higher: bool) -> None:  # noqa: FBT001
    car = sprung(swinging_arm(), spring_free_length=free, spring_seats=100.0)

    found = compute(car.document, {}, ride, car.corner)

    assert found.sits_off is not None
    assert found.sits_off * found.at.rate == pytest.approx(RATE * (free - 200.0) - SPRUNG)
    assert (found.sits_off > 0.0) is higher


def test_a_spring_that_is_loose_as_drawn_is_told_and_not_reckoned_with() -> None:
    car = sprung(swinging_arm(), spring_free_length=190.0, spring_seats=100.0)

    with pytest.raises(NotComputedError, match="lies 10.0 loose at design"):
        compute(car.document, {}, rates_at_design, car.corner)


def test_a_tyre_in_series_lowers_the_frequency_and_one_of_unknown_rate_leaves_it_unknown() -> None:
    car = sprung(swinging_arm())
    tyre = car.document.tyres[0]
    stiff = car.changed(ref(car.document, tyre.name), "vertical_stiffness", 180.0)

    bare, on_tyre = (compute(each.document, {}, ride, each.corner) for each in (car, stiff))

    rate = bare.at.rate
    assert bare.road_hz is None
    assert on_tyre.springs_hz == bare.springs_hz
    both = 1000.0 / (1.0 / rate + 1.0 / 180.0)  # springs one upon the other
    assert on_tyre.road_hz == pytest.approx(np.sqrt(both / (KG - UNSPRUNG)) / (2.0 * np.pi))


def test_a_bump_stop_adds_its_rate_once_it_is_met() -> None:
    """The eye of the level arm 200 of 300 out: the damper closes by less than the wheel rises."""
    soft = sprung(level_h_arm(), closed_length=380.0)
    car = soft.changed(soft.corner, "damper.bump_stop", BumpStop(length=30.0, rate=50.0))

    with_stop, without = (
        compute(each.document, {}, rates_over_travel, each.corner) for each in (car, soft)
    )

    assert with_stop.load is not None
    assert without.load is not None
    more = with_stop.load - without.load
    assert more[0] == 0.0
    first = int(np.argmax(more > 0.0))
    assert 0 < first < 40
    lengths = [length_at(car, float(h)) for h in with_stop.bump[[first - 1, first]]]
    assert lengths[0] > 410.0 > lengths[1]


def why(car: Made) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, ride, car.corner)
    return str(raised.value)


def test_what_is_lacking_is_named() -> None:
    car = sprung(swinging_arm())

    bare = made(swinging_arm())
    unsprung = car.changed(car.corner, "unsprung_mass_kg", None)
    heavy = car.changed(car.corner, "unsprung_mass_kg", 400.0)
    with pytest.raises(NotComputedError, match="the spring rate of corner left is not known"):
        compute(bare.document, {}, springs_of, bare.corner)
    undamped = bare.changed(bare.corner, "damper", None)
    with pytest.raises(NotComputedError, match="neither a damper nor a torsion bar is entered"):
        compute(undamped.document, {}, springs_of, undamped.corner)
    assert why(unsprung) == "the unsprung mass of corner left is not known"
    assert "more than all its wheel carries" in why(heavy)


def test_a_wheel_that_nothing_holds_has_no_rate_and_says_why() -> None:
    car = sprung(swinging_arm())
    loose = car.changed(car.corner, "points", ())

    assert "has no point in the role" in why(loose)
