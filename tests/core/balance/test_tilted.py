"""Height of the centre of gravity by tilting: against a turned drawing, and Jazar's form.

No published set of readings was at hand: the readings are made by turning a drawing of the car with
a rotation matrix and taking moments, a way that the room does not use.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.balance.tilted import TiltedWeighing, height_by_tilting, height_doubt
from core.balance.wheels import AxleLoads

G = 9.80665


def weighed(
    height: float, behind: float, angle_deg: float, radii: tuple[float, float], base: float
) -> TiltedWeighing:
    """The readings of a car of 900 kg, by turning its drawing nose down about the rear wheels."""
    front, rear = radii
    level = AxleLoads(900.0 * behind / base, 900.0 * (1.0 - behind / base))
    phi = np.radians(angle_deg)
    turn = np.array([[np.cos(phi), np.sin(phi)], [-np.sin(phi), np.cos(phi)]])
    centre, ahead = turn @ [behind, height - rear], turn @ [base, front - rear]
    return TiltedWeighing(
        level=level,
        raised_front_kg=float(900.0 * centre[0] / ahead[0]),
        angle_deg=angle_deg,
        wheelbase=base,
        front_radius=front,
        rear_radius=rear,
    )


CARS = st.tuples(
    st.floats(330.0, 700.0),
    st.floats(700.0, 1400.0),
    st.floats(3.0, 30.0),
    st.tuples(st.floats(240.0, 320.0), st.floats(240.0, 320.0)),
    st.floats(1800.0, 2800.0),
)


@given(CARS)
def test_the_height_comes_back(
    car: tuple[float, float, float, tuple[float, float], float],
) -> None:
    assert height_by_tilting(weighed(*car)) == pytest.approx(car[0], abs=1e-6)


def test_with_equal_radii_it_is_the_published_form() -> None:
    """R. N. Jazar, Vehicle Dynamics, 2008, p. 43: h = R + (F l / W - a2) cot phi."""
    readings = weighed(480.0, 1000.0, 12.0, (290.0, 290.0), 2400.0)
    force, weight = readings.raised_front_kg * G, 900.0 * G

    wanted = 290.0 + (force * 2400.0 / weight - 1000.0) / np.tan(np.radians(12.0))

    assert height_by_tilting(readings) == pytest.approx(wanted)


def test_a_high_centre_loads_the_front_more_when_the_tail_is_up() -> None:
    low, high = (weighed(h, 1000.0, 12.0, (290.0, 290.0), 2400.0) for h in (300.0, 500.0))

    assert high.raised_front_kg > low.raised_front_kg > low.level.front


@given(CARS)
def test_slopes_of_the_doubt_are_those_of_the_height(
    car: tuple[float, float, float, tuple[float, float], float],
) -> None:
    """Against central differences of the height itself."""
    readings = weighed(*car)
    found = height_doubt(readings, 1.5, 0.2)

    def at(load: float, angle: float) -> float:
        return height_by_tilting(replace(readings, raised_front_kg=load, angle_deg=angle))

    load, angle = readings.raised_front_kg, readings.angle_deg
    per_kg = (at(load + 0.1, angle) - at(load - 0.1, angle)) / 0.2
    per_degree = (at(load, angle + 1e-4) - at(load, angle - 1e-4)) / 2e-4
    assert found.per_kg == pytest.approx(per_kg, rel=1e-6)
    assert found.per_degree == pytest.approx(per_degree, rel=1e-4, abs=1e-5)
    assert found.plus_minus == pytest.approx(np.hypot(1.5 * per_kg, 0.2 * per_degree), rel=1e-4)


@pytest.mark.parametrize(
    ("angle", "front"), [(0.0, 300.0), (90.0, 300.0), (-3.0, 300.0), (10.0, 0.0)]
)
def test_what_cannot_be_weighed_so_is_refused(angle: float, front: float) -> None:
    with pytest.raises(ValueError, match=r"above zero|between 0 and 90"):
        TiltedWeighing(
            level=AxleLoads(400.0, 500.0),
            raised_front_kg=front,
            angle_deg=angle,
            wheelbase=2400.0,
            front_radius=290.0,
            rear_radius=290.0,
        )
