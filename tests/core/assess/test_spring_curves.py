"""Wheel rate and load among what is read over travel: from the spring's lengths, at every drag."""

import numpy as np
import pytest

from core.assess.axle_curves import curves_of_axle
from core.assess.curves import OF_DAMPER, sprung_curves, travel_curves
from core.assess.springs import rates_over_travel
from core.engine.assess import compute
from tests.cars.stored import demo, ref, second
from tests.core.assess.made_corners import made, swinging_arm
from tests.core.assess.sprung_cars import RATE, sprung

KEYS = ("wheel_rate", "wheel_load")


def test_the_demo_cars_curves_are_those_of_its_springs() -> None:
    document = demo().drawn
    corner = ref(document, "rear corner right")

    curves = compute(document, {}, sprung_curves, corner)
    whole = compute(document, {}, rates_over_travel, corner)

    assert whole.load is not None
    assert curves.of("wheel_rate") == pytest.approx(whole.rate, rel=1e-12)
    assert curves.of("wheel_load") == pytest.approx(whole.load, rel=1e-12)
    assert set(KEYS) < set(OF_DAMPER)


def test_without_the_lengths_of_the_spring_the_rate_is_by_its_ratio_and_no_load_is_known() -> None:
    document = second().drawn
    corner = ref(document, "front corner left")

    curves = compute(document, {}, sprung_curves, corner)

    ratio = curves.of("damper_ratio")
    assert curves.of("wheel_rate") == pytest.approx(17.0 * ratio**2, rel=1e-9)
    assert "wheel_load" not in curves.keys


def test_the_load_is_what_the_rate_adds_up_to() -> None:
    car = sprung(swinging_arm(), spring_free_length=290.0, spring_seats=90.0)
    curves = compute(car.document, {}, sprung_curves, car.corner)

    rate, load = curves.of("wheel_rate"), curves.of("wheel_load")
    summed = np.sum((rate[1:] + rate[:-1]) / 2.0 * np.diff(curves.along))
    assert summed == pytest.approx(load[-1] - load[0], rel=1e-3)
    assert load[20] == pytest.approx(RATE * (290.0 - 210.0), rel=1e-9)


def test_a_corner_without_a_spring_has_all_its_other_curves() -> None:
    car = made(swinging_arm())

    curves = compute(car.document, {}, sprung_curves, car.corner)

    assert curves.keys == compute(car.document, {}, travel_curves, car.corner).keys
    assert not set(KEYS) & set(curves.keys)


def test_an_axles_curves_have_them_on_both_sides() -> None:
    found = compute(demo().drawn, {}, curves_of_axle, "front", "travel", "springs")

    assert all(set(KEYS) <= set(curves.keys) for curves in found.curves.values())
